#include "sim/rest/load_check.h"

#include <algorithm>
#include <cmath>

#include "sim/model/placed.h"
#include "sim/model/tyre_contact.h"
#include "sim/rest/mass_sums.h"
#include "vehicles/tyre_library.h"

namespace sidehill {
namespace {

constexpr double kReferencePressure = 1.6e5;  // of the star-marked radials most common behind; our estimate [Pa]

// A trailer, an implement at work, a rope to a stake and a dropped clutch ask for torque.
bool pulls(const Scene& scene) {
  const auto asks = [](const Action& action) {
    return action.what == ActionKind::tie || action.what == ActionKind::drop_clutch || action.what == ActionKind::stuck;
  };
  return scene.ballast.trailer.mass > 0 || scene.ballast.implement.mass > 0 ||
         std::ranges::any_of(scene.programme.actions, asks);
}

// A size says what a tyre is made for; of words in place of a size nothing is known.
TyreUse use_of(const Scene& scene, const std::optional<TyreSize>& size, bool front) {
  if (!size) return TyreUse::plain;
  const bool loader = scene.vehicle.loader.fitted;
  if (size->flexion != Flexion::standard) return loader ? TyreUse::improved_with_loader : TyreUse::plain;
  const bool ribbed = size->series == SizeSeries::narrow_front || size->series == SizeSeries::low_section;
  if (ribbed) return front && loader ? TyreUse::steering_with_loader : TyreUse::plain;
  if (size->series != SizeSeries::drive && !(size->series == SizeSeries::aspect && size->radial)) return TyreUse::plain;
  return pulls(scene) ? TyreUse::drive_high_torque : TyreUse::drive_low_torque;
}

// What a tyre of this axle is and is made for; the same on both sides.
struct AxleTyre {
  std::optional<TyreSize> size;
  TyreUse use = TyreUse::plain;
  TyreCheck check;  // as far as it needs no wheel
};

AxleTyre axle_tyre(const Scene& scene, bool front) {
  const Tyre& tyre = (front ? scene.vehicle.front : scene.vehicle.rear).tyre;
  AxleTyre out;
  out.size = read_tyre_size(tyre.size);
  const LibraryTyre* known = out.size ? find_tyre(*out.size) : nullptr;
  out.use = use_of(scene, out.size, front);
  TyreCheck& check = out.check;
  check.radial = out.size && out.size->radial;
  check.reference_pressure = rated_pressure(tyre);
  check.rating = Rating::stated;
  if (!tyre.service.empty()) {
    check.service = parse_service(tyre.service);
  } else if (out.size && out.size->service) {
    check.service = out.size->service;
  } else if (known) {
    check.service = parse_service(known->service);
    check.rating = Rating::typical;
  } else {
    check.rating = Rating::not_known;
  }
  return out;
}

TyreCheck check_wheel(const AxleTyre& tyre, const TyreLaw& law, int tyres, double load, double speed, double slope,
                      double fuller) {
  TyreCheck check = tyre.check;
  check.tyres = tyres;
  check.fuller = tyres > 1 ? std::clamp(fuller, 1.0 / tyres, 1.0) : 1;
  check.margin.load = load;
  if (!check.service) return check;
  check.at_index = load_margin(load, *check.service, speed).capacity;
  check.multiple = load_multiple(tyre.use, tyre.size && !tyre.size->radial, *check.service, speed, slope);
  const double reference = check.reference_pressure > 0 ? check.reference_pressure : kReferencePressure;
  check.single = check.multiple.factor * rule_of_thumb_load(law.pressure, check.at_index, reference);
  const double together = tyres * side_by_side(tyres), until_one_is_full = 1 / check.fuller;
  check.by_one = tyres > 1 && until_one_is_full < together;
  check.margin = load_margin(load, check.single * std::min(together, until_one_is_full));
  return check;
}

// On the level. A model with no features is not copied.
std::optional<std::array<double, kWheels>> loads_without_features(const Model& model,
                                                                  const std::stop_token& stop = {}) {
  if (model.terrain.features.empty()) return loads_at(model, 0, stop);
  Model even = model;
  even.terrain.features.clear();
  return loads_at(even, 0, stop);
}

}  // namespace

double asked_speed(const Scene& scene) {
  double most =
      std::max({std::abs(scene.programme.speed), scene.manoeuvre.speed, scene.job.working_speed, scene.job.road_speed});
  for (const Action& action : scene.programme.actions)
    if (action.what == ActionKind::drive || action.what == ActionKind::drop_clutch)
      most = std::max(most, std::abs(action.speed));
  return most;
}

LoadCheck check_loads(const Scene& scene, const Model& model, const std::array<double, kWheels>& load,
                      std::optional<double> slope, const std::array<double, kWheels>& fuller) {
  LoadCheck check;
  check.speed = asked_speed(scene);
  check.slope = slope.value_or(scene.terrain.slope);
  const std::array<AxleTyre, 2> tyres{axle_tyre(scene, true), axle_tyre(scene, false)};
  for (std::size_t i = 0; i < kWheels; ++i)
    check.tyres[i] = check_wheel(tyres[i / 2], model.wheels[i].tyre, model.wheels[i].dual > 0 ? 2 : 1,
                                 load[i] / scene.settings.gravity, check.speed, check.slope, fuller[i]);
  for (std::size_t axle = 0; axle < 2; ++axle)
    check.axles[axle] = load_margin((load[2 * axle] + load[2 * axle + 1]) / scene.settings.gravity,
                                    axle == 0 ? scene.vehicle.front.capacity : scene.vehicle.rear.capacity);
  return check;
}

LoadCheck check_loads(const Scene& scene, const Model& model, const Rest& rest) {
  return check_loads(scene, model, rest.load, rest.slope, fuller_shares(model, rest));
}

std::optional<LoadCheck> check_loads(const Scene& scene, const Model& model, const StaticSolution& statics,
                                     const std::stop_token& stop) {
  if (statics.rest) return check_loads(scene, model, *statics.rest);
  const auto load = loads_without_features(model, stop);
  if (!load) return std::nullopt;
  LoadCheck check = check_loads(scene, model, *load);
  check.level = true;
  return check;
}

std::array<double, kWheels> fuller_shares(const Model& model, const Rest& rest) {
  std::array<double, kWheels> shares;
  shares.fill(1);
  const PlacedMachine at = placed(model, rest.X_GV, rest.axle_angle);
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& wheel = model.wheels[i];
    if (!(wheel.dual > 0)) continue;
    const double carrying = hub_contact(model.terrain, at.X_GH[i].p, at.X_GH[i].R[1], wheel.tyre.radius,
                                        is_left(static_cast<int>(i)) ? wheel.dual : -wheel.dual)
                                .carrying;
    shares[i] = 1 / carrying;  // the fuller one counts as one whole, the other as the rest
  }
  return shares;
}

bool any_duals(const Model& model) {
  return std::ranges::any_of(model.wheels, [](const WheelModel& wheel) { return wheel.dual > 0; });
}

std::array<double, kWheels> level_loads(const Model& model) {
  const AxleShare axles = axle_share(model);
  const auto balanced = loads_without_features(model);
  std::array<double, kWheels> load;
  for (std::size_t i = 0; i < kWheels; ++i) {
    const std::size_t other = i % 2 == 0 ? i + 1 : i - 1;
    const double sum = balanced ? (*balanced)[i] + (*balanced)[other] : 0;
    load[i] = (i < 2 ? axles.front : axles.rear) * model.gravity * (sum > 0 ? (*balanced)[i] / sum : 0.5);
  }
  return load;
}

}  // namespace sidehill
