// How far an answer may be off because of what was only estimated. Knows no file, no time.
#pragma once
#include <optional>

#include "sim/model.h"

namespace sidehill {

// What the doubt about the tyres' stiffening (by liquid, by cold or warmth) does to the slope of first lift-off, +- at
// two standard deviations [rad]: front and rear axle moved apart, differences added as squares. 0 without fill at the
// temperature of filling; nothing where no wheel ever lifts. Source: differences of the answer itself.
std::optional<double> stiffening_doubt(const Model& model);

}  // namespace sidehill
