// Forces on the machine standing on the ground and the Newton iteration that balances them: what statics is made of.
// Knows the Model; no time, no file. Everything in G, the ground's frame, where a steeper slope is a turned gravity.
//
// Unknowns: two translations and three turns of the chassis, the axle's joint angle, the lengthwise force that holds
// the machine (so that its place along its own heading stays put), and one more that depends on the question: nothing
// (slope given), or the slope or a holding moment that goes with a prescribed tilt of the chassis. Where no tyre gives
// sideways, heading and place across stay put as well, and the side forces of the two axles are unknowns in their
// stead: they follow from yaw balance. Equations: three forces, three moments about V's origin, the moment on the front
// axle about its pin, the question's own.
#pragma once
#include <array>
#include <optional>
#include <stop_token>

#include "sim/model/model.h"
#include "sim/rest/statics.h"

namespace sidehill {

// A trial pose with its unknown forces.
struct TrialPose {
  Pose X_GV;
  double axle_angle = 0;  // [rad]
  double hold = 0;        // lengthwise force of the ground on all held wheels together, forward [N]
  std::array<double, 2>
      side{};         // side force of the ground on the front and rear axle, to the left; laterally rigid only. On
                      // casters the first is the rear wheels' couple instead: right wheel forward, left one back [N]
  double slope = 0;   // [rad]
  double moment = 0;  // of a hand that holds the chassis [N m]
  Vec3 moment_axis{1, 0, 0};                                   // about this axis, in G
  std::array<bool, kWheels> touching{true, true, true, true};  // which tyres are taken to press (or pull) on the ground
  int stop = 0;  // which stop is taken to bear: 0 none, +1 at positive joint angle, -1 at negative
};

// A change of contact: of one tyre with the ground, or of the axle with a stop.
struct ContactChange {
  std::size_t wheel = 0;
  int stop = 0;  // not 0: of this stop, and no wheel
};

// What counts as a tilt of the chassis.
struct TiltAxis {
  Mat3 R_zero{1.0};      // attitude from which it is measured
  Vec3 axis_G{1, 0, 0};  // unit length; turning downhill about it is positive. The contour line unless said otherwise
};

enum class Sought {
  pose_at_slope,    // slope given
  slope_at_tilt,    // tilt given, slope unknown
  moment_at_tilt,   // tilt and slope given, holding moment unknown
  slope_at_change,  // one contact is about to change (a wheel's load is nothing, say), slope unknown
};

// What a balance is asked, and how long it may try.
struct Question {
  Sought sought = Sought::pose_at_slope;
  TiltAxis about;            // of slope_at_tilt and moment_at_tilt
  double tilt = 0;           // likewise [rad]
  ContactChange change;      // of slope_at_change
  double enough = 1e-9;      // imbalance of a balance that is good enough [weight]; rigid tyres leave 1e-10
  int most_iterations = 30;  // few for a try that need not succeed
};
inline Question pose_at_slope() { return {}; }
inline Question slope_at_change(const ContactChange& change) {
  Question question;
  question.sought = Sought::slope_at_change;
  question.change = change;
  return question;
}
inline Question at_tilt(Sought sought, const TiltAxis& about, double tilt) {
  Question question;
  question.sought = sought;
  question.about = about;
  question.tilt = tilt;
  return question;
}

// A soft hand that holds the machine near a pose while it is lowered: pulls at its centre of gravity and turns the
// chassis back.
struct Hand {
  double stiffness = 0;   // [weights/m]; 0 = none
  Vec3 centre_G{0.0};     // where it wants the centre of gravity
  Mat3 R_GV{1.0};         // how it wants the chassis turned
  double axle_angle = 0;  // and the front axle on its pin [rad]
};

// The inverse of a balance's derivatives, column by column, in its own scaled unknowns; of use to the next one nearby
// that asks the same question.
struct Slopes {
  struct Kept {
    std::array<double, 64> inverse{};
    bool valid = false;
    double hand = 0;  // stiffness of the hand they belong to [weights/m]
  };
  std::array<Kept, 4> of;  // by enum Sought
};

// The model's masses gathered for the inner loop, with the place each tyre touches while undeflected.
struct EquilibriumSystem {
  const Model* model = nullptr;
  double chassis_mass = 0, axle_mass = 0, weight = 0;  // without liquid; weight of everything [N]
  Vec3 chassis_com{0.0}, axle_com{0.0};                // in V; in A
  // Where each tyre took hold, in G: the lowest point of its disc and its wheel's centre. As they touch, undeflected,
  // at the start pose; on uneven ground where each came down (sim/rest/landing.h).
  std::array<Vec3, kWheels> reference{}, held_at{};
  std::array<bool, kWheels> took_hold{true, true, true, true};  // false: no side force yet
  bool one_sided = false;  // tyres only press and the stop only bears, by the pose; the trial's sets are not asked
  bool within_adhesion = false;  // no tyre holds more sideways than its own adhesion; without load it holds nothing
  double grip = 0;  // adhesion to hold within, in place of the soil's: where only more keeps it there; 0 = none
  bool endless_grip = false;  // so that it is held however steep; within_adhesion then only lets go with the load
  Hand hand;
  Mat3 R_start{1.0};                   // attitude at the start: the heading on the even slope
  Vec3 inertial_G{0.0};                // what a bend or braking adds to gravity [m/s2]
  double difference = 1e-7;            // step of the difference quotients [m], [rad], [weight]
  std::array<bool, kWheels> uneven{};  // a feature is near this wheel: its footprint is sampled throughout
  bool laterally_rigid = false;        // no tyre gives sideways
  Slopes* slopes = nullptr;            // carried from one balance to the next where given: balances near one another
  // Once asked to stop no balance is found any more: nobody wants the answer.
  std::stop_token unwanted;
};

EquilibriumSystem make_system(const Model& model, const std::stop_token& unwanted = {});
TrialPose start_trial(const EquilibriumSystem& system);  // undeflected, on level ground

// On the line through two trials, `share` of the way from the one to the other, between them or beyond: a guess for
// what lies there, on the contacts of `b`.
TrialPose on_the_line(const TrialPose& a, const TrialPose& b, double share);

// How far a trial is from having to change its contacts: the touching tyres' loads, the other tyres' clearances as
// loads [weights], and what is left to (or lies beyond) each stop [rad]. Negative: the contact changes. In the order of
// `kContactChanges`.
constexpr std::array<ContactChange, kWheels + 2> kContactChanges{{{0}, {1}, {2}, {3}, {0, -1}, {0, 1}}};
std::array<double, kWheels + 2> contact_slacks(const EquilibriumSystem& system, const TrialPose& trial);

// Where a wheel is and what its tyre does there.
struct WheelAt {
  Vec3 centre_G{0.0}, lowest_G{0.0}, normal_G{0, 0, 1}, left_G{0, 1, 0};  // see TyreContact; of a pair between both
  double penetration = 0;                                                 // [m]
  double load = 0, across = 0, held = 0;  // normal; sideways to the left; lengthwise forward [N]
  double aside = 0, bend = 0;             // moved from where it took hold, and bent, to the left [m]
};
// `centre_G`, if given, gets the centre of gravity of everything [m].
std::array<WheelAt, kWheels> wheels_at(const EquilibriumSystem& system, const TrialPose& trial,
                                       Vec3* centre_G = nullptr);

// Which stop bears at this joint angle [rad]: 0 none, +1 the one at positive angles, -1 the other.
int stop_borne(const Model& model, double axle_angle);

// The turn of the chassis about the axis [rad].
double tilt_of(const TiltAxis& about, const TrialPose& trial);

// Resting pose as values.
Rest rest_of(const EquilibriumSystem& system, const TrialPose& trial);
double potential_energy(const EquilibriumSystem& system, const TrialPose& trial);  // gravity, tyres, stop [J]

struct NewtonResult {
  bool converged = false;
  int iterations = 0;
  double norm = 0;  // largest remaining imbalance, in weights (and weight metres)
};
// Improves `trial` in place until forces balance to `question.enough` of the weight (1e-7 is accepted, for kinks of
// uneven ground), with its set of touching tyres and bearing stop kept: tyres of the set may then pull, which makes a
// load pass smoothly through zero. Not converged: `trial` is the last attempt.
NewtonResult balance(const EquilibriumSystem& system, const Question& question, TrialPose& trial);

// The same with a stop that bears only where the axle has come to it; the tyres of the set still pull as well as press.
NewtonResult balance_with_stop(const EquilibriumSystem& system, const Question& question, TrialPose& trial);

// The same with tyres that only press and a stop that only bears: balances, lets go what pulls, takes up what presses,
// until nothing changes. Where that fails, other sets of contacts are tried, unless the guess is too good to need it.
NewtonResult balance_one_sided(const EquilibriumSystem& system, const Question& question, TrialPose& trial,
                               bool try_others = true);

}  // namespace sidehill
