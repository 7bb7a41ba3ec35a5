// The one thing that hides state: owns the physics engine, takes a Model, steps, hands out States. The engine (Bullet's
// btMultiBody, double precision) is included by world.cpp and nowhere else.
#pragma once
#include <memory>
#include <stdexcept>

#include "sim/model.h"
#include "sim/state.h"
#include "sim/statics.h"

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

// The numbers ran away; names body, quantity and time.
struct Diverged : std::runtime_error {
  using std::runtime_error::runtime_error;
};

class World {
 public:
  // Machine placed at `X_GV`, at rest. Throws InputError for what cannot move (rigid tyres, a pivoting axle without
  // mass). A wheel without mass does not turn: such a body is for standing still and for test rigs.
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

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill
