// Levels and fills of an upright wheel (see filling.h).
#include "vehicles/filling.h"

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "vehicles/cavity_moments.h"

namespace sidehill {
namespace {

double valve_height(const Cavity& cavity, double hour) {
  return cavity.inner_radius * std::cos((std::isfinite(hour) ? hour : 12.0) * kPi / 6);
}

}  // namespace

double fill_at_level(const Cavity& cavity, double level) {
  if (level <= -cavity.outer_radius) return 0;
  if (level >= cavity.outer_radius) return 1;
  return std::clamp(moments_below(cavity, lean_of(0), level).volume / cavity_volume(cavity), 0.0, 1.0);
}

double fill_at_valve(const Cavity& cavity, double hour) { return fill_at_level(cavity, valve_height(cavity, hour)); }

ValveClock valve_for_fill(const Cavity& cavity, double fill_fraction) {
  const double level = liquid_place(cavity, fill_fraction, 0).level;
  if (level >= cavity.inner_radius) return {12, level <= cavity.inner_radius * (1 + 1e-9)};
  if (level <= -cavity.inner_radius) return {6, level >= -cavity.inner_radius * (1 + 1e-9)};
  return {12 - std::acos(level / cavity.inner_radius) * 6 / kPi, true};
}

FillAnswer fill_answer(const Cavity& cavity, double free_radius, double fill_fraction) {
  const double whole = cavity_volume(cavity), fill = fill_fraction > 0 ? std::min(fill_fraction, 1.0) : 0.0;
  const LiquidPlace at = liquid_place(cavity, fill, 0);
  return {fill * whole,
          at.level,
          at.level + free_radius,
          at.level + cavity.inner_radius,
          at.level + cavity.outer_radius,
          at.z + free_radius,
          (1 - fill) * whole};
}

LoadedFill loaded_fill(const Cavity& cavity, double free_radius, double fill_fraction, double load, double stiffness,
                       double pressure) {
  LoadedFill answer;
  const FillAnswer jacked = fill_answer(cavity, free_radius, fill_fraction);
  const double whole = cavity_volume(cavity);
  if (load > 0 && stiffness > 0) {
    answer.deflection = std::min(load / stiffness, free_radius - cavity.inner_radius);
    answer.displaced = std::min(0.5 * load / std::max(pressure, 2e4) * answer.deflection, jacked.air_volume);
  }
  // The room lost lies at the bottom, under liquid: the level rises as if as much had been poured in.
  const double raised =
      liquid_place(cavity, (jacked.volume + (jacked.volume > 0 ? answer.displaced : 0)) / whole, 0).level;
  answer.rise = raised - jacked.level;
  answer.level_over_ground = raised + free_radius - answer.deflection;
  answer.fill_fraction = jacked.volume / (whole - answer.displaced);
  return answer;
}

double pump_time(double volume, double flow) { return volume > 0 && flow > 0 ? volume / flow : 0.0; }

double gauge_reading(const Cavity& cavity, double fill_fraction, double hour, double air_pressure, double density,
                     double gravity) {
  if (!(fill_fraction > 0)) return air_pressure;
  const double head = liquid_place(cavity, fill_fraction, 0).level - valve_height(cavity, hour);
  return air_pressure + density * gravity * std::max(head, 0.0);
}

}  // namespace sidehill
