// What one unit more of each datum does to the slope of first lift-off. Knows no file, no time.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "sim/scene/scene.h"

namespace sidehill {

struct Sensitivity {
  std::string key;   // of the datum, or an alias where both sides move together
  std::string unit;  // of the file
  double value = 0;  // now, in that unit
  std::optional<double>
      per_unit;  // of first lift-off [rad per unit]; none: nothing given, no machine, or it never lifts
};

// Every number of the scene by a small central difference (a thousandth of its value), one-sided at the end of its
// range, on the even slope: features are left out. Largest effect of a hundredth of the value first. Some ten
// milliseconds.
std::vector<Sensitivity> sensitivities(const Scene& scene);

}  // namespace sidehill
