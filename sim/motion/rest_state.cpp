#include "sim/motion/rest_state.h"

#include <algorithm>
#include <cmath>

#include "sim/base/attitude.h"
#include "sim/model/placed.h"

namespace sidehill {
namespace {

// What hangs, straight down.
void place_hanging(const Model& model, State& state) {
  const Vec3 down = down_G(state.slope);
  state.hanging_G = model.rope_load.mass > 0 ? rope_load_place(model.rope_load, state.X_GV, down) : state.X_GV.p;
  state.tank_G = model.tank_liquid.mass > 0 ? tank_liquid_place(model.tank_liquid, state.X_GV, down) : state.X_GV.p;
}

// Wheel centres and axles from chassis pose and axle angle.
void place_wheels(const Model& model, State& state) {
  const PlacedMachine at = placed(model, state.X_GV, state.axle_angle, state.articulation);
  for (std::size_t i = 0; i < kWheels; ++i) {
    state.wheels[i].centre_G = at.X_GH[i].p;
    state.wheels[i].axle_G = at.X_GH[i].R[1];
  }
}

}  // namespace

State rest_state(const Model& model, const Rest& rest) {
  State state;
  state.slope = rest.slope;
  state.X_GV = rest.X_GV;
  state.axle_angle = rest.axle_angle;
  state.articulation = model.articulation;
  state.boom_angle = model.loader.angle;
  state.centre_of_gravity_G = rest.centre_of_gravity_G;
  state.on_stop = beyond_stop(model, rest.axle_angle) != 0;
  place_wheels(model, state);
  place_hanging(model, state);
  for (std::size_t i = 0; i < kWheels; ++i) {
    WheelState& wheel = state.wheels[i];
    wheel.load = rest.load[i];
    wheel.contact_G = rest.contact_G[i];
    wheel.force_G = rest.force_G[i];
    wheel.spin_angle = rest.turned[i];
    wheel.liquid_G = wheel.centre_G;
    if (model.wheels[i].liquid.mass > 0) {
      wheel.liquid_G = rest.liquid_G[i];
      // Turning about the axle (pointing left) is positive rolling forward: straight down (0, 0, -1) goes to (-sin, 0,
      // -cos).
      const Vec3 hangs_V = glm::transpose(state.X_GV.R) * (wheel.liquid_G - wheel.centre_G);
      wheel.liquid_swing = std::atan2(-hangs_V.x, -hangs_V.z);
    }
  }
  return state;
}

State placed_state(const Model& model) {
  State state;
  state.slope = model.terrain.slope;
  state.X_GV.R = R_GV_at(model.start.heading);
  const double radius = model.wheels[kRearLeft].tyre.radius;
  const double ground = ground_at(model.terrain, {model.start.x, model.start.y}).height;
  state.X_GV.p = Vec3(model.start.x, model.start.y, ground + radius);
  state.boom_angle = model.loader.angle;
  state.articulation = model.articulation;
  place_wheels(model, state);
  place_hanging(model, state);
  state.centre_of_gravity_G = state.X_GV * (centre_of_gravity(model) - Vec3(0, 0, radius));
  for (std::size_t i = 0; i < kWheels; ++i) {
    WheelState& wheel = state.wheels[i];
    wheel.contact_G = wheel.centre_G - Vec3(0, 0, model.wheels[i].tyre.radius);
    wheel.liquid_G = wheel.centre_G + state.X_GV.R * Vec3(0, 0, -model.wheels[i].liquid.depth);
  }
  return state;
}

}  // namespace sidehill
