#include "vehicles/air_spring.h"

#include <algorithm>
#include <cmath>

#include "vehicles/load_index.h"
#include "vehicles/tyre_cavity.h"

namespace sidehill {

namespace {

constexpr double kFullest = 0.97;  // a full tyre is held at this fill [-]
constexpr double kAirShare = 0.8;  // of a tyre's stiffness that is the air's; our estimate

// `exponent` 1 = isothermal, 1.4 = too quick to lose heat.
double stiffening(double cavity, double fill_fraction, double pressure, double stiffness, double load,
                  double exponent) {
  if (!(cavity > 0) || !(stiffness > 0) || !(load > 0)) return 1;
  const double p = std::max(pressure, 2e4);  // a flat tyre stands on its carcass; the estimate does not reach there
  const double displaced = 0.5 * (load / p) * (load / stiffness);
  const auto loaded_pressure = [&](double fill) {
    const double air = (1 - std::min(fill, kFullest)) * cavity;
    const double squeezed = air / std::max(air - displaced, 0.2 * air);
    return (p + kStandardAtmosphere) * (exponent == 1 ? squeezed : std::pow(squeezed, exponent)) - kStandardAtmosphere;
  };
  return std::max(1.0, loaded_pressure(fill_fraction) / loaded_pressure(0));
}

}  // namespace

double stiffening_by_liquid(double cavity, double fill_fraction, double pressure, double stiffness, double load) {
  return stiffening(cavity, fill_fraction, pressure, stiffness, load, 1);
}

double stiffening_uncertainty(double cavity, double fill_fraction, double pressure, double stiffness, double load) {
  const double slow = stiffening(cavity, fill_fraction, pressure, stiffness, load, 1);
  const double quick = stiffening(cavity, fill_fraction, pressure, stiffness, load, 1.4);
  return std::max(0.5 * (slow - 1), quick - slow);
}

double pressure_with_liquid(double cavity, Medium medium, double concentration, double fill_fraction, double pressure,
                            double set_temperature, double temperature) {
  return pressure_with_liquid(cavity, Mix{medium, concentration, nullptr}, fill_fraction, pressure, set_temperature,
                              temperature);
}
double pressure_with_liquid(double cavity, const Mix& mix, double fill_fraction, double pressure,
                            double set_temperature, double temperature) {
  if (info(mix.medium).turns_with_wheel && fill_fraction > 0) return pressure;
  const double fill = fill_fraction > 0 ? std::min(fill_fraction, kFullest) : 0.0;
  if (!(cavity > 0)) return pressure;
  const double grown = fill * expansion(mix, set_temperature, temperature);
  const double ratio = std::max((1 - fill - grown) / (1 - fill), 0.05);
  return pressure_at_temperature(pressure, set_temperature, temperature, ratio);
}

double stiffness_at_pressure(double stiffness, double reference_pressure, double pressure) {
  if (!(reference_pressure > 0)) return stiffness;
  return stiffness * std::max(1 - kAirShare + kAirShare * pressure / reference_pressure, 1 - kAirShare);
}

Tyre pumped(const Tyre& given, const Tyre& now, double pressure) {
  const auto alike = [](double a, double b) { return std::abs(a - b) <= 1e-9 * std::max(std::abs(a), std::abs(b)); };
  // Each step from the tyre as given: pumped up and let down again it is as it was.
  const double stands = stiffness_at_pressure(given.vertical_stiffness, given.pressure, now.pressure);
  const bool as_given = alike(stands, now.vertical_stiffness) && given.pressure > 0;
  const Tyre& from = as_given ? given : now;
  const double share = stiffness_at_pressure(1, from.pressure, pressure);
  Tyre out = now;
  out.pressure = pressure;
  out.vertical_stiffness = from.vertical_stiffness * share;
  out.lateral_stiffness = from.lateral_stiffness * share;
  out.longitudinal_stiffness = from.longitudinal_stiffness * share;
  return out;
}

TyreStiffness stiffness_now(const Tyre& tyre, const TyreFill& fill, double fill_now, double pressure, double load) {
  const double air = stiffness_at_pressure(tyre.vertical_stiffness, tyre.pressure, pressure);
  // +-10 % for half the pressure or twice: in proportion to the octaves between.
  const double octaves = tyre.pressure > 0 && pressure > 0 ? std::abs(std::log2(pressure / tyre.pressure)) : 0;
  const double by_pressure = 0.1 * std::min(octaves, 3.0);
  if (fill_now > 0 && info(fill.medium).turns_with_wheel) return {1.5 * air, 0.5 * air};
  const double volume = cavity_volume(cavity_of(tyre));
  const double factor = stiffening_by_liquid(volume, fill_now, pressure, air, load);
  const double by_fill = fill_now > 0 ? stiffening_uncertainty(volume, fill_now, pressure, air, load) : 0;
  return {air * factor, air * std::hypot(factor * by_pressure, by_fill)};
}

}  // namespace sidehill
