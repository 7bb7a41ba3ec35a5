// The machine between two steps as plain values, what is done to it during one, and the forces that follow. Knows the
// Model and the tree of bodies; no engine, no file.
#pragma once
#include <array>
#include <type_traits>

#include "sim/hull_force.h"
#include "sim/machine_tree.h"
#include "sim/statics.h"
#include "sim/tyre_force.h"

namespace sidehill {

// What the driver and a test rig do during one step.
struct Input {
  double target_speed = 0;                         // forward [m/s]; with `hold` false
  bool hold = true;                                // rear wheels held
  double steer = 0;                                // of the front wheels, to the left positive [rad]
  double boom_angle = 0;                           // wanted [rad]
  double slope = 0;                                // of the ground [rad]
  std::array<double, kWheels> ground_lift{};       // test rigs: ground under each wheel raised along its normal [m]
  std::array<double, kWheels> ground_lift_rate{};  // [m/s]
};

constexpr std::size_t kMaxHull = 32;

// Copyable; the future depends on it and the Input alone.
struct Moment {
  long steps = 0;
  double slope = 0;  // of the ground [rad]
  TreeMotion motion;
  std::array<Bristle, kWheels> bristle;
  std::array<double, kWheels> brake_anchor{};  // where each held wheel took hold [rad]
  bool held = false;
  double boom_goal = 0;  // where the rams are going to [rad]
  std::array<HullContact, kMaxHull> hull;
  // Of the last step, for pictures and events.
  std::array<TyreContact, kWheels> contact;
  std::array<TyreForce, kWheels> force;
  bool hull_touches = false, frame_touches = false, on_stop = false;
};
static_assert(std::is_trivially_copyable_v<Moment>);  // it is stored as bytes (sim/recording_file.h)

// Where a fill is: its pendulum's mass, and its centroid, moved to the low side as the wheel leans [m].
struct LiquidNow {
  Vec3 hanging{0.0}, truly{0.0};
};

// Places and speeds that follow from a Moment.
struct MachineNow {
  TreeNow bodies;
  std::array<LiquidNow, kWheels> liquid;
};

void look(const Model& model, const MachineTree& machine, const Moment& moment, MachineNow& now);

// A wheel's hub: motion of what carries it, not of the spinning wheel.
struct Hub {
  Vec3 centre, axle, v, w;  // in G
};
Hub hub_of(const Model& model, const MachineTree& machine, const MachineNow& now, std::size_t wheel);

Vec3 gravity_in_G(const Model& model, double slope);  // [m/s2]

// Stiffness of the brake that holds a wheel [N m/rad].
double brake_stiffness(const Model& model, std::size_t wheel);

// Everything that acts during the step that starts now; moves the memory in `moment` on (bristles, anchors, rams).
void machine_forces(const Model& model, const MachineTree& machine, const MachineNow& now, const Input& input,
                    Moment& moment, TreeForces& out);

// Set down at rest, see World::settle.
void settle(const Model& model, const MachineTree& machine, const Rest& rest, Moment& moment);

}  // namespace sidehill
