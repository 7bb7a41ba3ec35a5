// Numbers cut to whole steps, for the ends of a track or an axis. Knows nothing else.
#pragma once
#include <cmath>

namespace sidehill {

// The nearest whole number of steps that is not above, and not below; a value a rounding error off a step counts as on
// it.
inline double whole_steps_below(double value, double step) { return std::floor(value / step + 1e-9) * step; }
inline double whole_steps_above(double value, double step) { return std::ceil(value / step - 1e-9) * step; }

}  // namespace sidehill
