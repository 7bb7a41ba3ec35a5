// What the parts of the forces on a moving machine share: what they may read, and where each adds its own. For
// sim/motion/machine_forces.cpp and sim/motion/drive_line.cpp only.
#pragma once
#include <algorithm>

#include "sim/motion/machine_state.h"

namespace sidehill {

struct Acting {
  const Model& model;
  const MachineTree& machine;
  const MachineNow& now;
  const Input& input;
  MachineState& moment;
  TreeForces& out;

  const BodyNow& body(int number) const { return now.bodies[static_cast<std::size_t>(number)]; }
  double rate(int number) const { return moment.motion.rate[static_cast<std::size_t>(number)]; }
  double angle(int number) const { return moment.motion.angle[static_cast<std::size_t>(number)]; }
  double& torque(int number) { return out.torque[static_cast<std::size_t>(number)]; }
};

// Natural frequency of a held wheel on its brake, stable for any legal step [rad/s].
inline double held_rate(const Model& model) { return std::min(400.0, 0.5 / model.time_step); }

// Stiffness of the brake that holds a wheel [N m/rad].
inline double brake_stiffness(const Model& model, std::size_t wheel) {
  return spin_inertia(model.wheels[wheel]) * held_rate(model) * held_rate(model);
}

void drive_line(Acting& a);  // engine, clutch, shafts, brakes, and wheels stuck in the ground
void steering(Acting& a);

}  // namespace sidehill
