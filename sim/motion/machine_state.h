// The machine between two steps as plain values, and what is done to it during one. Knows the Model and the tree of
// bodies; no force, no engine, no file.
#pragma once
#include <array>

#include "sim/model/tyre_force.h"
#include "sim/motion/hull_force.h"
#include "sim/motion/machine_tree.h"

namespace sidehill {

// What the driver and a test rig do during one step.
struct Input {
  bool hold = true;          // parked: rear wheels held, engine out; what follows up to `brake` is then not used
  double target_speed = 0;   // of the driven wheels, forward [m/s]
  double gear_speed = 0;     // that the engine gives at its rated speed in the gear chosen, > 0 [m/s]
  double clutch = 1;         // 0 out (or out of gear), 1 in
  double brake = 0;          // pedal, 0 to 1
  bool front_drive = false;  // geared to the rear axle
  bool stuck = false;        // rear wheels stuck in the ground
  double steer = 0;          // wanted: of the front wheels on average, or of the joint; left positive [rad]
  bool steers = false;       // hands on the wheel: `steer` is followed; else it stays as it is
  double boom_angle = 0;     // wanted [rad]
  double rope = -1;          // >= 0: tied, since the first such step, to a stake so far behind the hitch [m]
  double slope = 0;          // of the ground [rad]
  std::array<double, kWheels> ground_lift{};       // test rigs: ground under each wheel raised along its normal [m]
  std::array<double, kWheels> ground_lift_rate{};  // [m/s]
};

constexpr std::size_t kMaxHull = 32;

// Copyable; the future depends on it and the Input alone. A new member needs its place in
// sim/motion/machine_state_words.cpp.
struct MachineState {
  long steps = 0;
  double slope = 0;  // of the ground [rad]
  TreeMotion motion;
  std::array<Bristle, std::size_t{2} * kWheels> bristle;  // of each wheel, then of the outer tyres of dual wheels
  std::array<double, kWheels> brake_anchor{};             // where each braked wheel took hold [rad]
  std::array<double, kWheels> stuck_wind{};               // turned since it was stuck [rad]
  double engine_rate = 0;                     // of the engine, as the wheels see it through the gears [rad/s]
  double clutch_wind = 0, front_wind = 0;     // twist of the driveline to the rear, to the front axle [rad]
  double boom_goal = 0;                       // where the rams are going to [rad]
  double steer = 0;                           // as it is [rad]
  double trailer_speed = 0, trailer_gap = 0;  // forward; how far the drawbar is stretched [m/s], [m]
  double specific_force = 0;  // of the ground on it over its weight, in the last step: 1 standing, 0 in the air
  bool tied = false;
  Vec3 stake_G{0.0};
  double rope_length = 0;
  std::array<HullContact, kMaxHull> hull;
  // Of the last step, for pictures and events.
  std::array<TyreContact, kWheels> contact;
  std::array<TyreForce, kWheels> force;
  bool hull_touches = false, frame_touches = false, on_stop = false;
  double hull_ago = 0, frame_ago = 0;  // how long before that step's start a corner first touched; not recorded [s]
  double pull = 0;                     // of trailer or rope on the hitch, backwards positive [N]
  Vec3 hitch_force{0.0};               // all they do to the machine there, in G [N]
};

// Where a fill is: its pendulum's mass, and its centroid, moved to the low side as the wheel leans [m].
struct LiquidNow {
  Vec3 hanging{0.0}, truly{0.0};
};

// Places and speeds that follow from a MachineState.
struct MachineNow {
  TreeNow bodies;
  std::array<LiquidNow, kWheels> liquid;
};

void look(const Model& model, const MachineTree& machine, const MachineState& moment, MachineNow& now);

// A wheel's hub: motion of what carries it, not of the spinning wheel. `axle`: of the wheel, steered if it is.
struct Hub {
  Vec3 centre, axle, v, w;  // in G
};
Hub hub_of(const Model& model, const MachineTree& machine, const MachineState& moment, const MachineNow& now,
           std::size_t wheel);

Vec3 gravity_in_G(const Model& model, double slope);  // [m/s2]

}  // namespace sidehill
