// A machine set down at rest and driven by the programme of its scene as Runner drives it, step by step from outside,
// so that anybody may move the bodies. tests/whole/witness_test.cpp holds it to Runner bit for bit.
#pragma once
#include <stdexcept>

#include "sim/motion/run.h"
#include "sim/motion/world.h"
#include "sim/rest/statics.h"

namespace sidehill {

inline World set_down(const Model& model) {
  const std::optional<Rest> rest = solve_statics(model).rest;
  if (!rest) throw std::runtime_error("the machine does not stand");
  World world(model, rest->X_GV, rest->axle_angle);
  world.settle(*rest);
  return world;
}

// One step with the bodies moved by `witness`, a MujocoTree or an OdeTree.
template <class Witness>
void step_by(Witness& witness, World& world, const Input& input, double time_step) {
  TreeMotion moved = world.moment().motion;
  witness.step(world.forces(input), time_step, moved);
  world.finish(moved);
}

}  // namespace sidehill
