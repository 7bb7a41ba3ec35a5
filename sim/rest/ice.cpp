#include "sim/rest/ice.h"

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/rest/statics.h"

namespace sidehill {
namespace {

bool on_axle(const Model& model, std::size_t axle) {
  return model.wheels[2 * axle].ice || model.wheels[2 * axle + 1].ice;
}

bool any_ice(const Model& model) { return on_axle(model, 0) || on_axle(model, 1); }

using Turns = std::array<double, 2>;  // front, rear [rad]

// Of what follows mean + a cos + b sin of a turn, from three values `step` apart: how much lower than the middle one it
// comes, and by which turn from there [rad].
struct Lowest {
  double gain = 0, turn = 0;
};
Lowest worst_beside(double behind, double here, double before, double step) {
  const double a = (before + behind - 2 * here) / (2 * (std::cos(step) - 1));
  const double b = (before - behind) / (2 * std::sin(step));
  return {a + std::hypot(a, b), std::atan2(-b, -a)};
}

// The turns of front and rear ice at which the least load is least on this slope, from those `near` and places `step`
// to either side. Each load is mean + a cos + b sin of a turn, or nearly: tyres give. Both wheels of an axle hold their
// ice on the same body, so that the same place is worst for both.
std::optional<Turns> worst_turns(const Model& model, double slope, const Turns& near, double step,
                                 const std::stop_token& stop) {
  const auto here = loads_at(with_ice_turned(model, near), slope, stop);
  if (!here) return std::nullopt;
  std::array<double, kWheels> least = *here;
  std::array<Turns, kWheels> turns{near, near, near, near};
  for (std::size_t axle = 0; axle < 2; ++axle) {
    if (!on_axle(model, axle)) continue;
    Turns back = near, forth = near;
    back[axle] -= step, forth[axle] += step;
    const auto behind = loads_at(with_ice_turned(model, back), slope, stop);
    const auto before = loads_at(with_ice_turned(model, forth), slope, stop);
    if (!behind || !before) return std::nullopt;
    for (std::size_t w = 0; w < kWheels; ++w) {
      const Lowest lowest = worst_beside((*behind)[w], (*here)[w], (*before)[w], step);
      least[w] -= lowest.gain;
      turns[w][axle] += lowest.turn;
    }
  }
  return turns[static_cast<std::size_t>(std::min_element(least.begin(), least.end()) - least.begin())];
}

constexpr double kWide = 2 * kPi / 3, kClose = kPi / 6;  // steps that see all round, and that see exactly [rad]

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

std::optional<Model> with_ice_at_its_worst(const Model& model, const std::stop_token& stop) {
  if (!any_ice(model)) return std::nullopt;
  constexpr int kMostRounds = 8;
  constexpr double kGain = 1e-3 * kDegree;  // of the slope; what one more look may still bring
  Turns at{};
  LiftOff lifts = first_lift_off(with_ice_turned(model, at), stop);
  // Gives how much sooner it lifts there, 0 where it does not.
  const auto go = [&](const Turns& turns) {
    const LiftOff there = first_lift_off(with_ice_turned(model, turns), stop);
    if (!there.slope || *there.slope >= *lifts.slope) return 0.0;
    const double gain = *lifts.slope - *there.slope;
    at = turns;
    lifts = there;
    return gain;
  };
  for (int round = 0; round < kMostRounds && lifts.slope && *lifts.slope > 0; ++round) {
    // The first look is all round; where a place of it stands on this slope no more, lower down it does.
    std::optional<Turns> turns;
    for (double share = 1; !turns && share > 0.6; share -= 0.1)
      turns = worst_turns(model, share * *lifts.slope, at, round == 0 ? kWide : kClose, stop);
    if (!turns || go(*turns) < kGain) break;
  }
  // The loads are those of tyres that hold sideways even as they lift; the slope itself has the last word.
  for (int round = 0; round < kMostRounds && lifts.slope && *lifts.slope > 0; ++round) {
    double gain = 0;
    for (std::size_t axle = 0; axle < 2; ++axle) {
      if (!on_axle(model, axle)) continue;
      const double here = *lifts.slope;
      Turns back = at, forth = at;
      back[axle] -= kClose, forth[axle] += kClose;
      const LiftOff behind = first_lift_off(with_ice_turned(model, back), stop);
      const LiftOff before = first_lift_off(with_ice_turned(model, forth), stop);
      if (!behind.slope || !before.slope) continue;
      Turns best = at;
      best[axle] += worst_beside(*behind.slope, here, *before.slope, kClose).turn;
      gain += go(best);
    }
    if (gain < kGain) break;
  }
  return with_ice_turned(model, at);
}

std::optional<Model> with_ice_at_its_worst_at(const Model& model, double slope, const std::stop_token& stop) {
  if (!any_ice(model)) return std::nullopt;
  Turns at{};
  for (double step : {kWide, kClose, kClose, kClose}) {
    const auto turns = worst_turns(model, slope, at, step, stop);
    if (!turns) continue;
    const bool settled = std::abs((*turns)[0] - at[0]) + std::abs((*turns)[1] - at[1]) < kDegree;
    at = *turns;
    if (settled) break;
  }
  return with_ice_turned(model, at);
}

}  // namespace sidehill
