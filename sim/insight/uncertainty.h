// How far an answer may be off: what is not known exactly, moved one by one. Knows no file, no time.
#pragma once
#include <array>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "sim/rest/statics.h"
#include "sim/scene/scene_fields.h"

namespace sidehill {

// How well a datum is known if the scene does not say, +- at two standard deviations, in the field's unit. By the kind
// of datum: what a tape measure, a weighbridge or a look at a gauge gives. 0 where it moves nothing at rest. Source:
// our estimates.
double default_tolerance(const Field& field, const Scene& scene);

// Where a value lies nineteen times in twenty; not symmetric. `open`: at one end of some tolerance there is no value.
struct Interval {
  double low = 0, high = 0;
  bool open = false;
};

// One thing that is not known exactly, and what it does.
struct Doubt {
  std::string key;  // of the datum, an alias where both sides move together, or words for what has no key
  std::string unit;
  double tolerance = 0;      // +- in that unit
  double per_unit = 0;       // of first lift-off, central difference over the tolerance [rad per unit]; 0 if not known
  double low = 0, high = 0;  // change of first lift-off [rad], at whichever end
};

// What two answers are compared by. Loads mean nothing without a rest.
struct Facts {
  std::optional<double> first_lift_off, tip_over, slide, rigid_lift_off, margin;  // [rad]; none = never
  std::array<double, kWheels> load{};                                             // [N]
  bool rests = false;
  double mass = 0;   // [kg]
  Vec3 centre{0.0};  // measuring frame, level ground [m]
};

// The answers with one cause moved to its lower and its upper end; none = that end is not there.
struct Moved {
  std::string key;       // as in Doubt
  double tolerance = 0;  // as in Doubt
  std::array<std::optional<Facts>, 2> ends;
};

struct Uncertainty {
  std::optional<Interval> first_lift_off, tip_over, slide, rigid_lift_off, margin;  // [rad]; none = never
  std::array<Interval, kWheels> load{};                                             // [N]; meaningless without a rest
  Interval mass;                                                                    // [kg]
  std::array<Interval, 3> centre_of_gravity{};                                      // measuring frame, level ground [m]
  std::vector<Doubt> doubts;  // largest effect on first lift-off first
  Facts middle;               // on even ground, nothing moved
  std::vector<Moved> moved;   // every cause that widens the intervals, in the order they were moved
};

// Every number's tolerance (the scene's, which holds its machine file's, else the default), the room in the tyres, the
// density of what is in them, the stiffening by liquid and temperature, where the load acts under a tyre, and how the
// tyres share the side force. Two effects move the load's place, in opposite ways: a leaning tyre's pressure goes to
// its downhill edge (0 to an eighth of the width, later lift-off), a tyre that bends sideways leaves it behind (share 0
// to 1, earlier). Each cause is moved to both ends; differences of the answer itself, up and down added as squares
// apart (k = 2). Even slope only: features are left out. Some hundred answers: 0.1 to 0.3 s. Once `stop` is
// requested it comes back within an answer or two, and what it gives then means nothing.
Uncertainty uncertainty(const Scene& scene, const Model& model, const StaticSolution& statics,
                        const std::stop_token& stop = {});

// What the doubt about the tyres' stiffening (by liquid, by cold or warmth) alone does to the slope of first lift-off,
// +- at two standard deviations [rad]: front and rear axle moved apart, differences added as squares. 0 without fill at
// the temperature of filling; nothing where no wheel ever lifts, or once `stop` is requested. Source: differences of
// the answer itself.
std::optional<double> stiffening_doubt(const Model& model, const std::stop_token& stop = {});

}  // namespace sidehill
