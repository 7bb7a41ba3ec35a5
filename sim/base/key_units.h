// The unit of a number by the suffix of its key ("_m", "_kpa"), for files, JSON, --set and the screen alike. Knows
// nothing else.
#pragma once
#include <string_view>

#include "sim/base/constants.h"

namespace sidehill {

// What a number is of. `number` has no dimension; `share` is a part of a whole, read in per cent.
enum class Quantity {
  number,
  share,
  angle,
  turning_rate,
  time,
  hours,  // of a year
  mass,
  force,         // a pull or a push
  load,          // what a wheel or an axle carries, as a force; read as a weight, beside masses
  length,        // of a machine: metres; feet and inches
  small_length,  // of a gap: millimetres; inches
  speed,
  slow_speed,  // m/s; ft/s
  acceleration,
  pressure,
  volume,
  temperature,
  power,
  energy,
  mass_per_power,
  density,
  inertia,
  stiffness,
  damping,
  turning_stiffness,
  turning_damping,
  cost,   // EUR is also how it is kept
  price,  // of a liquid; EUR a litre is also how it is kept
  area,
};

struct KeyUnit {
  std::string_view suffix;  // with its underscore; empty if the key has none that is known
  std::string_view name;    // as messages and lists write it, "kN/m"; empty for a pure number
  Quantity quantity = Quantity::number;
  double to_si = 1, offset = 0;  // SI = file's * to_si + offset
};

// Where one ends with another, the longer stands first.
inline constexpr KeyUnit kKeyUnits[] = {
    {"_kn_per_m", "kN/m", Quantity::stiffness, 1e3},
    {"_kns_per_m", "kN s/m", Quantity::damping, 1e3},
    {"_knm_per_rad", "kN m/rad", Quantity::turning_stiffness, 1e3},
    {"_knms_per_rad", "kN m s/rad", Quantity::turning_damping, 1e3},
    {"_m_per_s2", "m/s2", Quantity::acceleration},
    {"_m_per_s", "m/s", Quantity::slow_speed},
    {"_deg_per_s", "deg/s", Quantity::turning_rate, kDegree},
    {"_deg", "deg", Quantity::angle, kDegree},
    {"_kgm2", "kg m2", Quantity::inertia},
    {"_kg", "kg", Quantity::mass},
    {"_kpa", "kPa", Quantity::pressure, 1e3},
    {"_kmh", "km/h", Quantity::speed, 1 / 3.6},
    {"_kw", "kW", Quantity::power, 1e3},
    {"_kj", "kJ", Quantity::energy, 1e3},
    {"_j", "J", Quantity::energy},
    {"_kn", "kN", Quantity::force, 1e3},
    {"_n", "N", Quantity::force},
    {"_eur_per_l", "EUR/L", Quantity::price},
    {"_eur", "EUR", Quantity::cost},
    {"_kg_per_m3", "kg/m3", Quantity::density},
    {"_fraction", "", Quantity::share},
    {"_l", "L", Quantity::volume, 1e-3},
    {"_c", "C", Quantity::temperature, 1, kZeroCelsius},
    {"_mm", "mm", Quantity::small_length, 1e-3},
    {"_s", "s", Quantity::time},
    {"_h", "h", Quantity::hours, 3600},
    {"_m", "m", Quantity::length},
};

constexpr KeyUnit key_unit(std::string_view key) {
  for (const KeyUnit& unit : kKeyUnits)
    if (key.ends_with(unit.suffix)) return unit;
  return {};
}

}  // namespace sidehill
