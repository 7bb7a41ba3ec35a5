// What is pumped into tyres: density by temperature. Knows no tyre, no file, no time.
#pragma once
#include <span>
#include <string_view>

namespace sidehill {

// Calcium chloride mixes are named by the trade's measure: pounds of 77 % flake per US gallon of water.
enum class Medium { water, calcium_chloride_3_5 };

struct MediumInfo {
  Medium medium;
  std::string_view key;      // in files: "water", "calcium_chloride_3_5"
  std::string_view name;     // for people
  double mass_fraction;      // dissolved salt over solution [-]
  double slush_free;         // first ice forms below this [K]
  std::string_view caution;  // one sentence
  std::string_view source;
};

std::span<const MediumInfo> media();
const MediumInfo& info(Medium medium);

// Density [kg/m3] at `temperature` [K], valid 273 to 313 K, clamped outside (a liquid colder than that is a matter for
// `slush_free`, not for the third digit of its density).
double density(Medium medium, double temperature);

// Density of air-free water [kg/m3] at `temperature` [K], 273 to 313 K, clamped outside.
// Source: Kell 1975, J. Chem. Eng. Data 20(1):97, eq. 16, as in the CRC Handbook F-6, with the denominator
// 1 + 16.879850e-3 t (many copies print 16.897850e-3, which is wrong).
double water_density(double temperature);

// Calcium chloride in water: density [kg/m3] at `temperature` [K] (273 to 313 K, clamped) and temperature at which the
// first ice forms [K]; `mass_fraction` of anhydrous salt over solution 0 to 0.30, clamped (checked here from 0.05).
// Source: Melinder 2010, Properties of Secondary Working Fluids for Indirect Systems (IIR), polynomials.
double calcium_chloride_density(double mass_fraction, double temperature);
double calcium_chloride_slush_free(double mass_fraction);

}  // namespace sidehill
