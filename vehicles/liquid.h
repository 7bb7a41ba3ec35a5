// What is pumped into tyres: density by temperature. Knows no tyre, no file, no time.
#pragma once
#include <span>
#include <string_view>

namespace sidehill {

// Calcium chloride mixes are named by the trade's measure: pounds of 77 % flake per US gallon of water.
enum class Medium { water, calcium_chloride_3_5 };

struct MediumInfo {
  Medium medium;
  std::string_view key;            // in files: "water", "calcium_chloride_3_5"
  std::string_view name;           // for people
  double mass_fraction;            // dissolved salt over solution [-]
  double slush_free;               // first ice forms below this [K]
  std::string_view caution;        // one sentence
  std::string_view source;
};

std::span<const MediumInfo> media();
const MediumInfo& info(Medium medium);

// Density [kg/m3] at `temperature` [K], valid 273 to 313 K, clamped outside. Source: Kell 1975 (water, with the
// denominator 1 + 16.879850e-3 T); Melinder 2010 (calcium chloride).
double density(Medium medium, double temperature);

}  // namespace sidehill
