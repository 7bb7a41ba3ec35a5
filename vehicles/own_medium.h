// A medium that the library does not know: its numbers as they stand on a data sheet. Knows no tyre, no file, no time.
#pragma once
#include <optional>
#include <string>

#include "sim/base/constants.h"
#include "vehicles/price.h"

namespace sidehill {

// In files this temperature stands for "not known": no tyre medium starts to freeze at it [C].
inline constexpr double kNotKnownCelsius = 100;

struct OwnMedium {
  std::string name;                                    // empty = "own medium"
  double density = 0;                                  // as on the sheet [kg/m3]; 0 = not given
  double density_temperature = kZeroCelsius + 20;      // for which the sheet gives it [K]
  double first_ice = kZeroCelsius + kNotKnownCelsius;  // first ice below it [K]; see first_ice_of
  double solid = kZeroCelsius + kNotKnownCelsius;      // nothing liquid is left below it [K]; see solid_of
  std::string rust;                                    // what it does to rims; empty = not known
  std::string poison;                                  // what it does to people and animals; empty = not known
  PriceRange price;                                    // as pumped [EUR/L]; 0 = not given
};

inline std::optional<double> if_known(double kelvin) {
  return kelvin < kZeroCelsius + kNotKnownCelsius - 0.5 ? std::optional(kelvin) : std::nullopt;
}
inline std::optional<double> first_ice_of(const OwnMedium& own) { return if_known(own.first_ice); }  // [K], if given
inline std::optional<double> solid_of(const OwnMedium& own) { return if_known(own.solid); }          // [K], if given

// Of a data sheet's density, one standard deviation over it [-], and of its temperatures [K]. Our estimates: a sheet
// gives a typical value, for one temperature; 1 % covers both what deliveries differ by and 20 K of warming or cooling.
inline constexpr double kOwnDensityUncertainty = 0.01, kOwnFrostUncertainty = 2;

// What a density may be on a sheet [kg/m3]: lighter and heavier is a slip of the unit.
inline constexpr double kLeastOwnDensity = 500, kMostOwnDensity = 2500;

}  // namespace sidehill
