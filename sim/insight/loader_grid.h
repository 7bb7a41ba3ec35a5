// What height and load of the bucket do together. Knows no file, no time.
#pragma once
#include <optional>
#include <vector>

#include "sim/model/model.h"
#include "sim/rest/load_check.h"

namespace sidehill {

struct LoaderCell {
  double pin_height = 0, payload = 0;    // [m], [kg]
  std::optional<double> first_lift_off;  // at the scene's heading, even slope [rad]; none = never, or no balance
  std::optional<double> slide;           // the tyres no longer hold there, at the scene's heading [rad]
  std::optional<double> worst_lift_off;  // at the worst of all headings tried [rad]
  double worst_heading = 0;              // [rad]
  double front_used = 0;       // of what the more loaded front tyre may carry, level ground [-]; 0 = not known
  double front_axle_used = 0;  // of the maker's figure for the front axle, level ground [-]; 0 = not known
  double mass = 0;             // of the whole machine [kg]
  double rear_axle = 0;        // on the rear axle, level ground [kg]; nothing or less: it tips forward
  // Least mass on the rear mount, in all, with which the rear axle keeps 20 % of the gross mass on level ground [kg];
  // none = no mass there does. What the front axle carries with just that much [kg]. Source: EN 12525 + A2
  // (sim/job/ballast_formulas.h).
  std::optional<double> counterweight;
  double counterweight_front = 0;
};

// Heights from the lowest pin, with which a bale hangs free, to the loader's highest, loads from none to its rated
// payload, `steps` of each (2 to 20), in the place of the scene's load; rows of one height after the other. `headings`
// tried for the worst, every 5 degrees by default, closed in between. Features are left out. Empty without a loader.
std::vector<LoaderCell> loader_grid(const Scene& scene, int steps, int headings = 72);

}  // namespace sidehill
