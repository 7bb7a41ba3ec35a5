#include "sim/scene/scene_checks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <tuple>

#include "sim/base/steps.h"
#include "sim/scene/scene_fields.h"
#include "vehicles/load_index.h"
#include "vehicles/loader_tool.h"
#include "vehicles/tyre_size.h"

namespace sidehill {
namespace {

std::optional<Conflict> axle_conflict(const Axle& axle, const std::string& name) {
  if (axle.tyre.rim_radius >= axle.tyre.free_radius)
    return Conflict{"vehicle." + name + ".tyre.rim_radius_m",
                    fmt::format("{:g} does not fit into the tyre, allowed less than free_radius_m = {:g} m",
                                axle.tyre.rim_radius, axle.tyre.free_radius)};
  if (axle.dual_spacing > 0 && axle.dual_spacing < axle.tyre.section_width)
    return Conflict{
        "vehicle." + name + ".dual_spacing_m",
        fmt::format("{:g} puts the outer tyre into the inner one, allowed 0 or at least section_width_m = {:g} m",
                    axle.dual_spacing, axle.tyre.section_width)};
  if (axle.tyre.section_width >= axle.track)
    return Conflict{"vehicle." + name + ".track_m",
                    fmt::format("{:g} lets the two tyres overlap, allowed more than section_width_m = {:g} m",
                                axle.track, axle.tyre.section_width)};
  return {};
}

// No body's moment of inertia about one axis exceeds the sum of the other two; all zero is a body for statics only.
std::optional<Conflict> inertia_conflict(const Vec3& inertia) {
  constexpr const char* kAxes[] = {"roll", "pitch", "yaw"};
  for (int k = 0; k < 3; ++k) {
    const double others = inertia[(k + 1) % 3] + inertia[(k + 2) % 3];
    if (inertia[k] > others * (1 + 1e-9))
      return Conflict{
          fmt::format("vehicle.chassis.{}_inertia_kgm2", kAxes[k]),
          fmt::format("{:g} is more than any body has, allowed at most the sum of the other two, {:g} kg m2",
                      inertia[k], others)};
  }
  return {};
}

// More weights than a mount carries are answered, with a caution; weights without a place for them are an error.
std::optional<Conflict> weights_conflict(double mass, double most, const std::string& key, const std::string& place) {
  if (mass == 0 || most > 0) return {};
  return Conflict{key, "this machine has no " + place + ", allowed 0 kg"};
}

// A service description that cannot be read is a slip; an empty one is looked up or left open.
std::optional<Conflict> service_conflict(const Tyre& tyre, const std::string& name) {
  if (tyre.service.empty()) return {};
  try {
    parse_service(tyre.service);
  } catch (const std::invalid_argument& error) {
    return Conflict{"vehicle." + name + ".tyre.service",
                    fmt::format("\"{}\" is not understood, allowed empty or {}", tyre.service, error.what())};
  }
  return {};
}

// The pressure cannot leave the tyre.
std::optional<Conflict> pressure_offset_conflict(const Tyre& tyre, const std::string& name) {
  const double most = 0.5 * tyre.section_width;
  if (tyre.pressure_offset <= most) return {};
  return Conflict{"vehicle." + name + ".tyre.pressure_offset_m",
                  fmt::format("{:g} lies beyond the edge of the tyre, allowed 0 to half of section_width_m = {:g} m",
                              tyre.pressure_offset, most)};
}

std::optional<Conflict> price_conflict(const PriceRange& price, const std::string& name) {
  if (price.high > 0 && price.low > price.high)
    return Conflict{"ballast." + name + ".price_low_eur_per_l",
                    fmt::format("{:g} is above the highest price, allowed up to price_high_eur_per_l = {:g} EUR/L",
                                price.low, price.high)};
  return {};
}

std::optional<Conflict> fill_conflict(const TyreFill& fill, const std::string& name) {
  if (info(fill.medium).turns_with_wheel && fill.fill_fraction > 0 && fill.fill_fraction < 1)
    return Conflict{"ballast." + name + ".fill_fraction",
                    fmt::format("{:g} leaves room, {} fills the whole tyre, allowed 0 or 1", fill.fill_fraction,
                                info(fill.medium).name)};
  return price_conflict(fill.price, name);
}

// A data sheet in g/cm3 is a slip of the unit, and a filling without a density has no mass.
std::optional<Conflict> own_medium_conflict(const BallastPlan& ballast) {
  const OwnMedium& own = ballast.own_medium;
  for (const TyreFill& fill : ballast.fill)
    if (fill.medium == Medium::own && fill.fill_fraction > 0 && !(own.density >= kLeastOwnDensity))
      return Conflict{"ballast.own_medium.density_kg_per_m3",
                      fmt::format("{}, a tyre holds this medium, allowed {:g} to {:g} kg/m3, as on its data sheet",
                                  own.density > 0 ? fmt::format("{:g} is too light", own.density) : "is not given",
                                  kLeastOwnDensity, kMostOwnDensity)};
  const auto first_ice = first_ice_of(own), solid = solid_of(own);
  if (first_ice && solid && *solid > *first_ice)
    return Conflict{"ballast.own_medium.solid_c",
                    fmt::format("{:g} is above its first ice, allowed up to first_ice_c = {:g} C",
                                *solid - kZeroCelsius, *first_ice - kZeroCelsius)};
  return price_conflict(own.price, "own_medium");
}

// Only a number can be known better or worse.
std::optional<Conflict> tolerance_conflict(const std::vector<Tolerance>& tolerances) {
  for (const Tolerance& tolerance : tolerances) {
    const auto known = targets_of(tolerance.key);
    if (known.empty())
      return Conflict{"tolerance[].key",
                      fmt::format("\"{}\" is no number's key, allowed the keys of numbers in `sidehill "
                                  "list keys`",
                                  tolerance.key)};
  }
  return {};
}

// A strength where the medium has none, or one that does not dissolve, is a slip and must not be cut off in silence.
std::optional<Conflict> strength_conflict(const TyreFill& fill, const std::string& name) {
  if (fill.concentration == 0) return {};
  const StrengthRange range = strength_range(fill.medium);
  const std::string key = "ballast." + name + ".concentration", what(info(fill.medium).name);
  if (range.max == 0)
    return Conflict{key, fmt::format("{:g} cannot be set, {} comes as it is, allowed 0", fill.concentration, what)};
  if (fill.concentration < range.min || fill.concentration > range.max)
    return Conflict{key, fmt::format("{:g} is no {}, allowed {:g} to {:g}, or 0 for the usual strength",
                                     fill.concentration, what, range.min, range.max)};
  return {};
}

std::optional<Conflict> no_loader_conflict(const BallastPlan& ballast) {
  if (ballast.loader_payload > 0)
    return Conflict{"ballast.loader_payload_kg",
                    "this machine has no loader, allowed 0 kg (vehicle.loader.fitted = true adds one)"};
  if (ballast.loader_tool != LoaderTool::bucket)
    return Conflict{
        "ballast.loader_tool",
        fmt::format("{}: this machine has no loader, allowed bucket (vehicle.loader.fitted = true adds one)",
                    words_of(ballast.loader_tool).key)};
  for (const auto& [key, unit, value] : {std::tuple{"loader_tool_mass_kg", "kg", ballast.loader_tool_mass},
                                         {"loader_load_ahead_m", "m", ballast.loader_load_ahead},
                                         {"bale.diameter_m", "m", ballast.bale.diameter},
                                         {"bale.width_m", "m", ballast.bale.width},
                                         {"bale.height_m", "m", ballast.bale.height}})
    if (value > 0)
      return Conflict{
          std::string("ballast.") + key,
          fmt::format("this machine has no loader, allowed 0 {} (vehicle.loader.fitted = true adds one)", unit)};
  if (ballast.hanging_mass > 0)
    return Conflict{"ballast.hanging_mass_kg", "this machine has no loader to hang it from, allowed 0 kg"};
  for (const PointMass& mass : ballast.point_masses)
    if (mass.on == Carrier::boom)
      return Conflict{"ballast.point_mass[].on", "this machine has no loader boom, allowed chassis, front_axle"};
  return {};
}

// A bale is round or square, whole, and the only load.
std::optional<Conflict> bale_conflict(const BallastPlan& ballast) {
  const Bale& bale = ballast.bale;
  if (bale.diameter > 0 && (bale.width > 0 || bale.height > 0))
    return Conflict{
        "ballast.bale.diameter_m",
        fmt::format("{:g} is of a round bale, width_m and height_m are of a square one, allowed 0 m", bale.diameter)};
  if (bale.width > 0 && !(bale.height > 0))
    return Conflict{"ballast.bale.height_m", "0 beside a width_m is no bale, allowed more than 0 m"};
  if (bale.height > 0 && !(bale.width > 0))
    return Conflict{"ballast.bale.width_m", "0 beside a height_m is no bale, allowed more than 0 m"};
  if (bale.count != std::floor(bale.count))
    return Conflict{"ballast.bale.count", fmt::format("{:g} is no whole number, allowed 1 to 20", bale.count)};
  if (has_bale(bale) && ballast.loader_payload > 0)
    return Conflict{"ballast.loader_payload_kg",
                    fmt::format("{:g} beside a bale, whose {:.0f} kg follow from its size and density, allowed 0 kg",
                                ballast.loader_payload, bale_mass(bale))};
  return {};
}

std::optional<Conflict> loader_conflict(const Loader& loader, const BallastPlan& ballast) {
  if (!loader.fitted) return no_loader_conflict(ballast);
  if (auto conflict = bale_conflict(ballast)) return conflict;
  if (ballast.hanging_mass > 0 && !(loader.boom_mass + tool_mass(loader, ballast) > 0))
    return Conflict{"ballast.hanging_mass_kg", "a boom and bucket without mass carry nothing, allowed 0 kg"};
  if (ballast.hanging_mass > 0 && ballast.hanging_rope >= ballast.loader_pin_height)
    return Conflict{"ballast.hanging_rope_m",
                    fmt::format("{:g} reaches into the ground from a bucket pin at {:g} m, allowed less than that",
                                ballast.hanging_rope, ballast.loader_pin_height)};
  if (loader.min_pin_height >= loader.max_pin_height)
    return Conflict{"vehicle.loader.min_pin_height_m",
                    fmt::format("{:g} is not below max_pin_height_m, allowed less than {:g} m", loader.min_pin_height,
                                loader.max_pin_height)};
  if (ballast.loader_pin_height < loader.min_pin_height || ballast.loader_pin_height > loader.max_pin_height)
    return Conflict{"ballast.loader_pin_height_m",
                    fmt::format("{:g} is out of this loader's reach, allowed {:g} to {:g} m", ballast.loader_pin_height,
                                loader.min_pin_height, loader.max_pin_height)};
  const double lowest = lowest_pin_height(loader, ballast);
  if (lowest > loader.max_pin_height)
    return Conflict{"ballast.bale",
                    fmt::format("this loader lifts its pin to {:g} m, and the bale needs {:.3g} m to clear "
                                "the ground, allowed smaller or fewer bales",
                                loader.max_pin_height, lowest)};
  if (ballast.loader_pin_height < lowest - 1e-9)
    return Conflict{"ballast.loader_pin_height_m",
                    fmt::format("{:g} leaves the bale in the ground, allowed {:g} to {:g} m", ballast.loader_pin_height,
                                whole_steps_above(lowest, 0.01), loader.max_pin_height)};
  return {};
}

std::optional<Conflict> trailed_conflict(const BallastPlan& ballast) {
  if (ballast.trailer.drawbar_load > ballast.trailer.mass)
    return Conflict{"ballast.trailer.drawbar_load_kg",
                    fmt::format("{:g} is more than the trailer weighs, allowed 0 to mass_kg = {:g} kg",
                                ballast.trailer.drawbar_load, ballast.trailer.mass)};
  return {};
}

std::optional<Conflict> action_conflict(const Scene& scene) {
  const Vehicle& vehicle = scene.vehicle;
  if (scene.programme.front_drive && !vehicle.front_drive)
    return Conflict{"programme.front_drive", "this machine's front axle cannot be driven, allowed false"};
  double last = 0;
  for (const Action& action : scene.programme.actions) {
    if (action.at < last)
      return Conflict{
          "programme.action[].at_s",
          fmt::format("{:g} is earlier than the action before it, allowed {:g} s or later", action.at, last)};
    last = action.at;
    if (action.what == ActionKind::front_drive && !vehicle.front_drive)
      return Conflict{"programme.action[].what",
                      "front_drive: this machine's front axle cannot be driven, allowed others"};
    if (action.what != ActionKind::loader) continue;
    if (!vehicle.loader.fitted)
      return Conflict{"programme.action[].what", "loader: this machine has no loader, allowed others"};
    const double lowest = lowest_pin_height(vehicle.loader, scene.ballast);
    if (action.pin_height < lowest - 1e-9 || action.pin_height > vehicle.loader.max_pin_height)
      return Conflict{"programme.action[].pin_height_m",
                      fmt::format("{:g} is out of this loader's reach, allowed {:g} to {:g} m", action.pin_height,
                                  lowest, vehicle.loader.max_pin_height)};
  }
  return {};
}

std::optional<Conflict> front_half_conflict(const Vehicle& vehicle) {
  if (vehicle.front_axle.kind != AxleKind::articulated) return {};
  if (vehicle.loader.fitted)
    return Conflict{"vehicle.loader.fitted", "a loader on an articulated machine cannot be calculated, allowed false"};
  if (vehicle.front_axle.joint_x <= 0 || vehicle.front_axle.joint_x >= vehicle.wheelbase)
    return Conflict{"vehicle.front_axle.joint_x_m",
                    fmt::format("{:g} is not between the axles, allowed more than 0, less than wheelbase_m = {:g} m",
                                vehicle.front_axle.joint_x, vehicle.wheelbase)};
  return {};
}

// Casters follow; whatever needs a front wheel that leads is refused.
std::optional<Conflict> casters_conflict(const Scene& scene) {
  const Vehicle& vehicle = scene.vehicle;
  if (!vehicle.front_axle.casters) return {};
  if (vehicle.front_axle.kind == AxleKind::articulated)
    return Conflict{"vehicle.front_axle.casters", "the front half of an articulated machine has none, allowed false"};
  if (vehicle.front_drive) return Conflict{"vehicle.front_drive", "casters cannot be driven, allowed false"};
  for (const Action& action : scene.programme.actions)
    if (action.what == ActionKind::curve)
      return Conflict{"programme.action[].what", "curve: casters cannot be steered, allowed others"};
  return {};
}

// Whether they fit a machine is for a plan to see: a job knows none.
std::optional<Conflict> wheels_conflict(const WheelsOnHand& wheels) {
  const auto no = [](const char* key, std::string why) {
    return Conflict{std::string("job.wheels[].") + key, std::move(why)};
  };
  if (wheels.fit == WheelsFit::beside) {
    if (!(wheels.dual_spacing > 0))
      return no("dual_spacing_m", "0 leaves no room beside the wheels on the axle, allowed more than a tyre's width");
    if (!wheels.size.empty() || !wheels.service.empty() || wheels.wheel_mass > 0 || wheels.rim_capacity > 0)
      return no("fit",
                "beside: dual wheels are as those on the axle, allowed only name, axle, dual_spacing_m, price_eur");
    return {};
  }
  if (wheels.dual_spacing > 0) return no("dual_spacing_m", "wheels that go on instead are single, allowed 0");
  if (!(wheels.wheel_mass > 0)) return no("wheel_mass_kg", "0 weighs nothing, allowed more than 0 to 3000 kg");
  try {
    parse_tyre_size(wheels.size);
  } catch (const std::invalid_argument& error) {
    return no("tyre_size", error.what());
  }
  try {
    if (!wheels.service.empty()) parse_service(wheels.service);
  } catch (const std::invalid_argument& error) {
    return no("tyre_service", error.what());
  }
  return {};
}

std::optional<Conflict> job_conflict(const Job& job) {
  constexpr double kYear = 8760 * 3600.0;
  if (job.implement_mass > 0 && job.hitch == JobHitch::none)
    return Conflict{
        "job.implement_mass_kg",
        fmt::format("{:g} hangs on nothing, allowed 0 kg, or job.hitch = drawbar or linkage", job.implement_mass)};
  if (job.pull > 0 && job.hitch == JobHitch::none)
    return Conflict{"job.pull_kn", fmt::format("{:g} pulls on nothing, allowed 0 kN, or job.hitch = drawbar or linkage",
                                               job.pull / 1e3)};
  if (job.working_time + job.road_time > kYear)
    return Conflict{"job.road_time_h",
                    fmt::format("{:g} and working_time_h = {:g} are more than a year, allowed 8760 h together",
                                job.road_time / 3600, job.working_time / 3600)};
  for (const MediumOnHand& medium : job.media) {
    // Two entries of one medium would share a name; a plan could not tell them apart.
    if (std::ranges::count(job.media, medium.medium, &MediumOnHand::medium) > 1)
      return Conflict{"job.medium[].medium", fmt::format("{} is listed twice, allowed once", info(medium.medium).key)};
    if (medium.price.high > 0 && medium.price.low > medium.price.high)
      return Conflict{"job.medium[].price_low_eur_per_l",
                      fmt::format("{:g} is above the highest price, allowed up to price_high_eur_per_l = {:g} EUR/L",
                                  medium.price.low, medium.price.high)};
  }
  for (const WheelsOnHand& wheels : job.wheels)
    if (auto conflict = wheels_conflict(wheels)) return conflict;
  for (const WeightOnHand& weight : job.weights)
    if (weight.pieces != std::floor(weight.pieces))
      return Conflict{"job.weight[].pieces", fmt::format("{:g} is no whole number, allowed 1 to 200", weight.pieces)};
  return {};
}

}  // namespace

std::optional<Conflict> find_conflict(const Scene& scene) {
  const Vehicle& vehicle = scene.vehicle;
  const BallastPlan& ballast = scene.ballast;
  if (auto conflict = inertia_conflict(vehicle.chassis.inertia)) return conflict;
  if (auto conflict = axle_conflict(vehicle.front, "front")) return conflict;
  if (auto conflict = axle_conflict(vehicle.rear, "rear")) return conflict;
  if (auto conflict = pressure_offset_conflict(vehicle.front.tyre, "front")) return conflict;
  if (auto conflict = pressure_offset_conflict(vehicle.rear.tyre, "rear")) return conflict;
  if (auto conflict = service_conflict(vehicle.front.tyre, "front")) return conflict;
  if (auto conflict = service_conflict(vehicle.rear.tyre, "rear")) return conflict;
  if (vehicle.frame.kind == FrameKind::cab && vehicle.frame.x_rear >= vehicle.frame.x_front)
    return Conflict{"vehicle.frame.x_rear_m",
                    fmt::format("{:g} is not behind the front posts, allowed less than x_front_m = {:g} m",
                                vehicle.frame.x_rear, vehicle.frame.x_front)};
  for (std::size_t i = 0; i < ballast.fill.size(); ++i)
    if (auto conflict = strength_conflict(ballast.fill[i], std::string(kWheelWords[i].key))) return conflict;
  for (std::size_t i = 0; i < ballast.fill.size(); ++i)
    if (auto conflict = fill_conflict(ballast.fill[i], std::string(kWheelWords[i].key))) return conflict;
  if (auto conflict = own_medium_conflict(ballast)) return conflict;
  if (auto conflict = tolerance_conflict(scene.tolerances)) return conflict;
  if (auto conflict = loader_conflict(vehicle.loader, ballast)) return conflict;
  if (auto conflict = trailed_conflict(ballast)) return conflict;
  if (auto conflict = action_conflict(scene)) return conflict;
  if (auto conflict = front_half_conflict(vehicle)) return conflict;
  if (auto conflict = casters_conflict(scene)) return conflict;
  if (auto conflict = job_conflict(scene.job)) return conflict;
  if (auto conflict = weights_conflict(ballast.front_weights, vehicle.front_mount.max_mass, "ballast.front_weights_kg",
                                       "front mount"))
    return conflict;
  if (auto conflict =
          weights_conflict(ballast.rear_weights, vehicle.rear_mount.max_mass, "ballast.rear_weights_kg", "rear mount"))
    return conflict;
  return weights_conflict(ballast.rear_wheel_weights, vehicle.max_wheel_weights, "ballast.rear_wheel_weights_kg",
                          "place for weights on a rear wheel");
}

}  // namespace sidehill
