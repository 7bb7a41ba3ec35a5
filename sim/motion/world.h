// The machine under way: takes a Model, steps, hands out States. Between two steps it is a MachineState, plain values
// that can be kept, put back and stepped on from. One step: forces of ground, driver and rams from the MachineState as
// it is, then the bodies moved on by the engine. Knows no file, no scene, no programme.
#pragma once
#include <memory>
#include <stdexcept>

#include "sim/motion/machine_forces.h"
#include "sim/motion/state.h"
#include "sim/rest/statics.h"

namespace sidehill {

// The numbers ran away; names body, quantity and time.
struct Diverged : std::runtime_error {
  using std::runtime_error::runtime_error;
};

class World {
 public:
  // Machine placed at `X_GV`, at rest. Throws InputError for what cannot move: see machine_tree.
  World(const Model& model, const Pose& X_GV, double axle_angle);
  ~World();
  World(World&&) noexcept;
  World& operator=(World&&) noexcept;

  // Set down at rest: bristles bent, liquid plumb and brakes wound up as the balance has them, so that nothing jolts.
  // The machine must be where `rest` has it.
  void settle(const Rest& rest);
  void step(const Input& input);    // one time step of the model; throws Diverged
  const State& state() const;       // after the last step
  double potential_energy() const;  // gravity, tyres, stop [J]
  // Test rigs: sets the velocity of the chassis (all parts move with it).
  void set_velocity(Vec3 v_G, Vec3 w_G);

  // All it is now; put back, the same steps follow bit for bit.
  const MachineState& moment() const;
  void restore(const MachineState& moment);

  // The two halves of a step, for another engine to move the bodies: forces() and then finish() is step().
  const TreeForces& forces(const Input& input);
  void finish(const TreeMotion& moved);
  const MachineTree& machine() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill
