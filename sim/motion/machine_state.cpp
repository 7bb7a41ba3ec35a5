#include "sim/motion/machine_state.h"

#include <algorithm>
#include <cmath>

#include "sim/base/attitude.h"

namespace sidehill {

Vec3 gravity_in_G(const Model& model, double slope) { return model.gravity * down_G(slope); }

namespace {

// Of one front wheel, so that both roll about one point on the line of the rear axle (Ackermann).
double steer_of(const Model& model, double steer, std::size_t wheel) {
  const double tangent = std::tan(steer), aside = model.wheels[wheel].centre.y;
  return std::atan(tangent / std::max(1 - aside * tangent / model.wheelbase, 0.1));
}

}  // namespace

Hub hub_of(const Model& model, const MachineTree& machine, const MachineState& moment, const MachineNow& now,
           std::size_t wheel) {
  const int on = carrier(machine, wheel);
  const BodyNow& body = now.bodies[static_cast<std::size_t>(on)];
  const Vec3 out = body.R * (on == kChassis ? model.wheels[wheel].centre : model.wheels[wheel].centre - model.pin);
  Hub hub{body.p + out, body.R[1], body.v + glm::cross(body.w, out), body.w};
  if (model.wheels[wheel].steered && moment.steer != 0) {
    const double angle = steer_of(model, moment.steer, wheel);
    hub.axle = std::cos(angle) * body.R[1] - std::sin(angle) * body.R[0];
  }
  return hub;
}

void look(const Model& model, const MachineTree& machine, const MachineState& moment, MachineNow& now) {
  look(machine.tree, moment.motion, now.bodies);
  const Vec3 down = gravity_in_G(model, moment.slope) / std::max(model.gravity, 1e-9);
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (machine.liquid[i] < 0) continue;
    const LiquidLump& liquid = model.wheels[i].liquid;
    const BodyNow& body = now.bodies[static_cast<std::size_t>(machine.liquid[i])];
    const Vec3 straight = -body.R[2];
    const double along = glm::dot(body.axis, down);
    const LiquidPlace place = lookup(liquid.table, std::asin(std::clamp(std::abs(along), 0.0, 1.0)));
    now.liquid[i].hanging = body.p + liquid.depth * straight;
    now.liquid[i].truly = body.p - place.z * straight + std::copysign(place.y, along) * body.axis;
  }
}

}  // namespace sidehill
