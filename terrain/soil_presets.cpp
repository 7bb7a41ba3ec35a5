#include "terrain/soil_presets.h"

#include <array>

namespace sidehill {
namespace {

// Sources named below. Noon: R. K. Noon, Engineering Analysis of Vehicular Accidents, CRC Press 1994 (values read
// second-hand, of road tyres). Moyer: rolling resistance of pneumatic tyres in Marks' Standard Handbook for Mechanical
// Engineers. D497: ASABE D497.7, motion resistance without slip = 1 / Bn + 0.04, wheel number Bn = 80 hard, 55 firm, 40
// tilled, 20 soft ground (quoted from memory). Snow and ice: braking and side force of trucks and cars at -6 degrees C,
// winter tests of 1993 and 1994 (abstract). Field ranges: a published table of wheeled machines (dry earth road 0.5 to
// 0.6, broken wet one 0.3 to 0.5, mown meadow dry 0.2 to 0.4 and wet 0.1 to 0.3, ploughed 0.25 to 0.4). What a lugged
// tyre does better than the tyres measured there is our estimate throughout.
constexpr std::array kPresets = {
    SoilPreset{"asphalt or concrete, dry", 0.75, 0.65, 0.9, 0.02,
               "Typical. Grip 0.65 to 0.75 for road tyres (Noon 1994), up to 0.9 elsewhere. Rolling: 0.008 for smooth "
               "tyres (Moyer); lugs roll harder, our estimate."},
    SoilPreset{"firm grassland", 0.6, 0.4, 0.8, 0.06,
               "Typical, our estimate, for lugs that bite into dry, dense sod. Rolling: 0.058 on firm ground (ASABE "
               "D497.7, from memory)."},
    SoilPreset{
        "bare soil, firm and dry", 0.55, 0.5, 0.65, 0.058,
        "Typical. Grip 0.5 to 0.6 on a dry earth road (published table). Rolling: ASABE D497.7, firm ground, from "
        "memory."},
    SoilPreset{
        "gravel, firm", 0.5, 0.35, 0.7, 0.02,
        "Typical. Grip 0.35 (Noon 1994) to 0.7 (other tables). Rolling: 0.012 on dry packed gravel (Moyer); lugs "
        "roll harder, our estimate."},
    SoilPreset{"tilled soil", 0.4, 0.25, 0.6, 0.065,
               "Typical. Grip 0.25 to 0.4 for wheeled machines on ploughed land (published table), more on moist loose "
               "ground (Noon 1994). Rolling: ASABE D497.7, tilled ground, from memory."},
    SoilPreset{"gravel, loose and wet", 0.35, 0.3, 0.5, 0.06,
               "Typical, our estimate. Rolling: 0.06 on wet loose gravel (Moyer)."},
    SoilPreset{
        "bare soil, wet", 0.35, 0.15, 0.5, 0.09,
        "Typical, our estimate; 0.3 to 0.5 on a broken wet earth road (published table), half of that where lugs "
        "are smeared full. Rolling: ASABE D497.7, soft ground, from memory."},
    SoilPreset{
        "wet grass", 0.3, 0.1, 0.5, 0.065,
        "Typical, our estimate for lugged tyres; road tyres on a wet grassy field 0.20 (Noon 1994), wet meadow 0.1 "
        "to 0.3 (published table). Rolling: our estimate."},
    SoilPreset{
        "packed snow", 0.25, 0.2, 0.35, 0.03,
        "Typical. Grip 0.23 braking to 0.35 sideways for a truck at -6 °C (tests of 1993 and 1994), 0.20 to 0.25 "
        "(Noon 1994). Rolling: our estimate."},
    SoilPreset{"ice", 0.08, 0.05, 0.15, 0.02,
               "Typical. Grip 0.06 to 0.09 at -6 °C (tests of 1993 and 1994), 0.10 to 0.15 (Noon 1994); less when it "
               "thaws. Rolling: our estimate."},
};

}  // namespace

std::span<const SoilPreset> soil_presets() { return kPresets; }

Soil soil_of(const SoilPreset& preset) {
  Soil soil;
  soil.name = preset.name;
  soil.adhesion = preset.adhesion;
  soil.rolling_resistance = preset.rolling_resistance;
  return soil;
}

std::optional<int> preset_of(const Soil& soil) {
  for (std::size_t i = 0; i < kPresets.size(); ++i) {
    const Soil typical = soil_of(kPresets[i]);
    if (soil.adhesion == typical.adhesion && soil.rolling_resistance == typical.rolling_resistance &&
        soil.adhesion_unlimited == typical.adhesion_unlimited &&
        soil.adhesion_across_ratio == typical.adhesion_across_ratio)
      return static_cast<int>(i);
  }
  return {};
}

}  // namespace sidehill
