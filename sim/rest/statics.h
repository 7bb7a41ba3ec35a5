// The machine at rest on the ground, without time: pose, wheel loads, margins, what gives way first and at what angle.
// Ice in a tyre comes to every place round the axle as the wheel turns: it is taken where it harms most, which is where
// the first wheel lifts soonest at this heading (sim/rest/ice.h). Knows the Model only; no time step, no Bullet, no
// file.
#pragma once
#include <array>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "sim/model/model.h"

namespace sidehill {

// A resting pose in the ground's frame G.
struct Rest {
  Pose X_GV;                              // chassis
  double axle_angle = 0;                  // joint angle about the pin, left side up positive [rad]
  double slope = 0;                       // of the even slope [rad]
  std::array<double, kWheels> load{};     // along the ground's normal under each wheel [N]
  std::array<Vec3, kWheels> contact_G{};  // where the tyre meets the ground [m]
  std::array<Vec3, kWheels> force_G{};    // of the ground on each wheel [N]
  std::array<Vec3, kWheels> liquid_G{};   // centroid of each fill [m]
  std::array<double, kWheels> turned{};   // of a wheel with ice in it since that froze, about its axle, forward [rad]
  Vec3 centre_of_gravity_G{0.0};          // of everything, liquid moved [m]
};

// `unsolved`: the iteration found no balance where there may be one (very uneven ground); nothing it says is an answer
// then.
enum class RestStatus { stands, wheel_up, on_stop, slides, tipped, unsolved };

struct StaticSolution {
  RestStatus status = RestStatus::stands;
  std::optional<Rest> rest;              // at the scene's slope; empty once tipped
  std::optional<double> first_lift_off;  // slope at which the first wheel's load vanishes [rad]; empty = never
  int first_wheel = -1;                  // enum Wheel; -1 = none
  std::optional<double> tip_on_stop;     // end of the static branch on the axle stop [rad]
  std::optional<double> tip_over;        // slope, raised slowly, at which it truly goes over [rad]
  std::optional<double> rigid_lift_off;  // first lift-off of rigid_variant(model) [rad]
  std::optional<double>
      slide;  // slope at which an axle's adhesion gives out, also beyond lift-off [rad]; empty = none up to 85 deg
  std::optional<double> margin;  // first_lift_off - slope [rad]
};

// Pure. All slope angles are of the whole ground tilted about the horizontal line that keeps this heading. Once `stop`
// is requested it comes back within milliseconds, and what it gives then means nothing; likewise below.
StaticSolution solve_statics(const Model& model, const std::stop_token& stop = {});

// Slope at which the first wheel's load vanishes, at the model's heading. The fast inner piece of solve_statics.
struct LiftOff {
  std::optional<double> slope;  // [rad]; empty = never, unless `failed`
  int wheel = -1;
  bool failed = false;  // no balance was found on the way
};
LiftOff first_lift_off(const Model& model, const std::stop_token& stop = {});

// The four loads at a slope, with tyres that also pull [N], ice where the model has it. Empty if no balance was found.
std::optional<std::array<double, kWheels>> loads_at(const Model& model, double slope, const std::stop_token& stop = {});

// As StaticSolution::slide, without the rest of the answer.
std::optional<double> slide_slope(const Model& model, const std::stop_token& stop = {});

// The least of the four loads at a slope, with tyres that also pull: negative [N] once a wheel has lifted. Ice is
// where it makes that least at this slope. Empty if no balance was found.
std::optional<double> least_load_at(const Model& model, double slope, const std::stop_token& stop = {});

// Resting pose at a slope, features tilting along; empty if it cannot rest there (tipped). One-sided tyres.
std::optional<Rest> rest_at(const Model& model, double slope);

// Margin by heading.
struct EnvelopePoint {
  double heading = 0;                    // [rad]
  std::optional<double> first_lift_off;  // [rad]
  int wheel = -1;
  bool failed = false;             // no balance was found on the way: not the same as "never"
  std::optional<double> tip_over;  // slope, raised slowly, at which it truly goes over; even ground only [rad]
  std::optional<double> slide;     // slope at which the tyres no longer hold [rad]
  // The earlier of slide and lift-off; empty where neither comes [rad].
  std::optional<double> gives_way() const {
    if (!slide || !first_lift_off) return slide ? slide : first_lift_off;
    return *slide < *first_lift_off ? slide : first_lift_off;
  }
};
// Of one heading, without tip-over; the ice is placed once for lift-off and slide.
EnvelopePoint point_at_heading(const Model& model, double heading, const std::stop_token& stop = {});
// Equally spaced from -pi; `with_tip_over`, which looks for the slide as well, takes some three times as long.
std::vector<EnvelopePoint> envelope(const Model& model, int headings, bool with_tip_over = false,
                                    const std::stop_token& stop = {});

// The heading at which the first wheel lifts soonest, closed in between the points of an envelope to 0.01 deg of
// heading (on features: the least of the points). A machine alike left and right has two; the one on the side of
// `preferred_heading` [rad] is named. Empty if no wheel lifts at any of the points.
std::optional<EnvelopePoint> worst_heading(const Model& model, const std::vector<EnvelopePoint>& points,
                                           double preferred_heading = -1.5707963267948966,
                                           const std::stop_token& stop = {});

// The heading at which the least slope is enough for a slide or a lift: the point that slides soonest, where that comes
// before `lifts`, which is worst_heading's. Empty if nothing gives way at any.
std::optional<EnvelopePoint> weakest_heading(const std::vector<EnvelopePoint>& points,
                                             const std::optional<EnvelopePoint>& lifts);

}  // namespace sidehill
