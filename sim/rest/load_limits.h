// The slopes at which loads reach their limits while all wheels still stand: steering gone, a tyre overloaded. Knows no
// file, no time.
#pragma once
#include <optional>
#include <stop_token>

#include "sim/rest/statics.h"
#include "sim/scene/scene.h"

namespace sidehill {

struct LoadLimits {
  std::optional<double> steering_gone;  // front axle under 20 % of the unladen mass from here on [rad]; none = not
                                        // before lift-off
  std::optional<double> tyre_overload;  // the first tyre is over what it may carry from here on [rad]; none likewise
  int overloaded_wheel = -1;            // which; -1 = none
  bool overload_stated = false;         // by a stated rating; false: by what is typical of its size
};

// Raised slowly at the scene's heading, up to first lift-off. Unladen: the machine's own lines and a tank as it is.
// Capacities at this speed, pressure and slope as sim/rest/load_check: at a crawl more is allowed up to a slope of 20
// %, so that a tyre may be over from there on. Even slope only: features are left out. Once `stop` is
// requested it comes back soon, and what it gives then means nothing. Source: 20 % by Regulation (EU) 2015/208 Annex
// XXII 2.2, on level ground; carried to slopes here.
LoadLimits load_limits(const Scene& scene, const Model& model, std::optional<double> first_lift_off,
                       const std::stop_token& stop = {});

}  // namespace sidehill
