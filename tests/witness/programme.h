// A machine set down at rest and driven by the programme of its scene as Runner drives it, step by step from outside,
// so that anybody may move the bodies. tests/witness_test.cpp holds it to Runner bit for bit.
#pragma once
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "sim/run.h"
#include "sim/statics.h"
#include "sim/world.h"

namespace sidehill {

inline World set_down(const Model& model) {
  const std::optional<Rest> rest = solve_statics(model).rest;
  if (!rest) throw std::runtime_error("the machine does not stand");
  World world(model, rest->X_GV, rest->axle_angle);
  world.settle(*rest);
  return world;
}

// As Runner's driver: eases off, keeps to the line the machine started on.
inline Input programme_input(const Model& model, const State& state) {
  const Programme& programme = model.programme;
  Input input;
  input.boom_angle = model.loader.angle;
  input.slope = slope_at(model, state.time);
  input.hold = programme.speed == 0 || state.time < programme.drive_from;
  if (input.hold) return input;
  input.target_speed = std::copysign(
      std::min(std::abs(programme.speed), std::max(0.0, state.time - programme.drive_from)), programme.speed);
  if (programme.speed < 0) return input;
  const Vec3 forward(-std::sin(model.start.heading), std::cos(model.start.heading), 0), left(-forward.y, forward.x, 0);
  const double aside = glm::dot(state.X_GV.p - Vec3(model.start.x, model.start.y, 0), left);
  const double turned = std::atan2(glm::dot(state.X_GV.R[0], left), glm::dot(state.X_GV.R[0], forward));
  input.steer = std::clamp(-0.35 * aside - 1.4 * turned, -0.6, 0.6);
  return input;
}

// One step with the bodies moved by `witness`, a MujocoTree or an OdeTree.
template <class Witness>
void step_by(Witness& witness, World& world, const Input& input, double time_step) {
  TreeMotion moved = world.moment().motion;
  witness.step(world.forces(input), time_step, moved);
  world.finish(moved);
}

}  // namespace sidehill
