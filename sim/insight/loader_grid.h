// What height and load of the bucket do together. Knows no file, no time.
#pragma once
#include <optional>
#include <stop_token>
#include <vector>

#include "sim/insight/uncertainty.h"
#include "sim/model/model.h"
#include "sim/rest/load_check.h"

namespace sidehill {

struct LoaderCell {
  double pin_height = 0, payload = 0;    // [m], [kg]
  std::optional<double> first_lift_off;  // at the scene's heading, even slope [rad]; none = never, or no balance
  std::optional<double> slide;           // the tyres no longer hold there, at the scene's heading [rad]
  std::optional<double> tip_over;        // it truly goes over there, raised slowly, at the scene's heading [rad]
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

// One cell: the scene with its bucket pin at that height [m] and that load [kg], on even ground. `like`: any model of
// this machine; it lends the liquid's tables. Throws InputError for an impossible machine. Once `stop` is requested it
// comes back within milliseconds, and what it gives then means nothing.
LoaderCell loader_cell(const Scene& scene, const Model& like, double pin_height, double payload, int headings = 72,
                       const std::stop_token& stop = {});
// The scene of that cell.
Scene with_loader(const Scene& scene, double pin_height, double payload);
// Heights [m] and loads [kg] of the grid below; empty without a loader.
struct LoaderAxes {
  std::vector<double> heights, loads;
};
LoaderAxes loader_axes(const Scene& scene, int steps);

// Of the angles of a cell, nineteen times in twenty; none = that never happens. Some hundred answers.
struct LoaderDoubt {
  std::optional<Interval> first_lift_off, slide, tip_over;  // [rad]
};
LoaderDoubt loader_doubt(const Scene& scene, const Model& like, double pin_height, double payload,
                         const std::stop_token& stop = {});

// What gives way first as the ground is tilted at this heading: the least of the three, and which; none = never.
enum class LoaderCause { nothing, slides, lifts, goes_over };
struct LoaderFirst {
  LoaderCause cause = LoaderCause::nothing;
  std::optional<double> slope;  // [rad]
};
LoaderFirst first_to_give_way(const LoaderCell& cell);

// Heights from the lowest pin, with which a bale hangs free, to the loader's highest, loads from none to its rated
// payload, `steps` of each (2 to 20), in the place of the scene's load; rows of one height after the other. `headings`
// tried for the worst, every 5 degrees by default, closed in between. Features are left out. Empty without a loader.
std::vector<LoaderCell> loader_grid(const Scene& scene, int steps, int headings = 72);

}  // namespace sidehill
