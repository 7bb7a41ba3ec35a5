// Grounds people know by name, with typical grip and rolling resistance to start from. Knows no machine, no file.
// Nobody can look these numbers up for one field on one day: each says what it rests on, and the range that has been
// published for it, so that a person can judge.
#pragma once
#include <optional>
#include <span>
#include <string>

#include "terrain/soil.h"

namespace sidehill {

struct SoilPreset {
  const char* name;           // in plain words, also the soil's name in a scene
  double adhesion;            // [-]
  double adhesion_low;        // span to expect, published or our estimate [-]
  double adhesion_high;       // [-]
  double rolling_resistance;  // [-]
  const char* source;         // for people: where the numbers come from, "our estimate" where from nobody
};

// From the grippiest to the slipperiest.
std::span<const SoilPreset> soil_presets();

// The soil with the preset's name, grip and rolling resistance; what a preset does not say (grip without limit, grip
// across the wheel) is the default's.
Soil soil_of(const SoilPreset& preset);

// Index of the preset with exactly these numbers, whatever the soil is called; empty if there is none.
std::optional<int> preset_of(const Soil& soil);

}  // namespace sidehill
