#include "sim/ice.h"

#include <algorithm>
#include <cmath>

#include "sim/statics.h"
#include "vehicles/units.h"

namespace sidehill {
namespace {

bool on_axle(const Model& model, std::size_t axle) {
  return model.wheels[2 * axle].ice || model.wheels[2 * axle + 1].ice;
}

bool any_ice(const Model& model) { return on_axle(model, 0) || on_axle(model, 1); }

// The turns of front and rear ice at which the least load is least on this slope, all other loads counted with the ice
// that suits each. Both wheels of an axle hold their ice alike on the same body: the same place is worst for both.
std::optional<std::array<double, 2>> worst_turns(const Model& model, double slope, const std::atomic<bool>* stop) {
  constexpr double kThird = 2 * kPi / 3;
  const auto low = loads_at(with_ice_turned(model, {0, 0}), slope, stop);
  if (!low) return std::nullopt;
  std::array<double, kWheels> least = *low;
  std::array<std::array<double, 2>, kWheels> turns{};
  for (std::size_t axle = 0; axle < 2; ++axle) {
    if (!on_axle(model, axle)) continue;
    std::array<std::array<double, kWheels>, 3> load{*low, {}, {}};
    for (std::size_t k = 1; k < 3; ++k) {
      std::array<double, 2> turned{};
      turned[axle] = static_cast<double>(k) * kThird;
      const auto there = loads_at(with_ice_turned(model, turned), slope, stop);
      if (!there) return std::nullopt;
      load[k] = *there;
    }
    for (std::size_t w = 0; w < kWheels; ++w) {  // load = mean + a cos + b sin
      const double a = (2 * load[0][w] - load[1][w] - load[2][w]) / 3;
      const double b = (load[1][w] - load[2][w]) / std::sqrt(3.0);
      least[w] -= a + std::hypot(a, b);
      turns[w][axle] = std::atan2(-b, -a);
    }
  }
  return turns[static_cast<std::size_t>(std::min_element(least.begin(), least.end()) - least.begin())];
}

}  // namespace

Model with_ice_turned(const Model& model, const std::array<double, 2>& turned) {
  Model other = model;
  for (std::size_t i = 0; i < kWheels; ++i) {
    WheelModel& wheel = other.wheels[i];
    if (!wheel.ice) continue;
    wheel.turned = turned[i / 2];
    wheel.dry = moved(wheel.dry, {about_y(wheel.turned), Vec3(0.0)});
    wheel.ice = false;
  }
  return other;
}

std::optional<Model> with_ice_at_its_worst(const Model& model, const std::atomic<bool>* stop) {
  if (!any_ice(model)) return std::nullopt;
  constexpr int kMostRounds = 6;
  constexpr double kGain = 1e-4 * kDegree;  // of the slope; the turn itself is then known to a degree or so
  Model best = with_ice_turned(model, {0, 0});
  LiftOff lifts = first_lift_off(best, stop);
  for (int round = 0; round < kMostRounds && lifts.slope && *lifts.slope > 0; ++round) {
    const auto turns = worst_turns(model, *lifts.slope, stop);
    if (!turns) break;
    Model next = with_ice_turned(model, *turns);
    const LiftOff there = first_lift_off(next, stop);
    if (!there.slope || *there.slope >= *lifts.slope) break;
    const bool settled = *there.slope > *lifts.slope - kGain;
    best = std::move(next);
    lifts = there;
    if (settled) break;
  }
  return best;
}

std::optional<Model> with_ice_at_its_worst_at(const Model& model, double slope, const std::atomic<bool>* stop) {
  if (!any_ice(model)) return std::nullopt;
  const auto turns = worst_turns(model, slope, stop);
  return with_ice_turned(model, turns.value_or(std::array<double, 2>{}));
}

}  // namespace sidehill
