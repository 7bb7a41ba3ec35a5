#include "sim/moment.h"

#include <algorithm>
#include <cmath>

namespace sidehill {
namespace {

constexpr double kBrakeRate = 400;      // natural frequency of a held wheel on its brake [rad/s]
constexpr double kBoomRate = 60;        // of the loader boom on its rams [rad/s]
constexpr double kSloshDamping = 0.05;  // share of critical, our estimate [-]
constexpr double kSpeedGain = 2.0;      // driver's correction of a wrong speed [1/s]

double held_rate(const Model& model) {
  return std::min(kBrakeRate, 0.5 / model.time_step);  // stable with damping for any legal step
}

// Everything a part of the forces may read, and where it adds its own.
struct Acting {
  const Model& model;
  const MachineTree& machine;
  const MachineNow& now;
  const Input& input;
  Moment& moment;
  TreeForces& out;

  const BodyNow& body(int number) const { return now.bodies[static_cast<std::size_t>(number)]; }
  double rate(int number) const { return moment.motion.rate[static_cast<std::size_t>(number)]; }
  double angle(int number) const { return moment.motion.angle[static_cast<std::size_t>(number)]; }
  double& torque(int number) { return out.torque[static_cast<std::size_t>(number)]; }
};

void liquids(Acting& a) {
  for (std::size_t i = 0; i < kWheels; ++i) {
    const int body = a.machine.liquid[i];
    if (body < 0) continue;
    const LiquidLump& liquid = a.model.wheels[i].liquid;
    const LiquidNow& place = a.now.liquid[i];
    a.out.moment[static_cast<std::size_t>(body)] +=
        glm::cross(place.truly - place.hanging, liquid.mass * a.out.gravity);
    const double about_axle = liquid.mass * liquid.gyration_squared;
    const double rate = std::sqrt(a.model.gravity * liquid.depth / std::max(liquid.gyration_squared, 1e-6));
    // Losses inside the liquid; a tyre turning around it drags it along far less.
    a.torque(body) -= 2 * kSloshDamping * rate * about_axle * a.rate(body);
  }
}

void tyres(Acting& a) {
  const Model& model = a.model;
  const double down = model.gravity * std::sin(0.1745);  // pressure is at the edge from 10 deg of lean on
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& wheel = model.wheels[i];
    const Hub h = hub_of(model, a.machine, a.now, i);
    TyreContact& c = a.moment.contact[i];
    c = tyre_contact(model.terrain, h.centre, h.axle, wheel.tyre.radius, a.input.ground_lift[i]);
    if (i < 2 && a.input.steer != 0) {
      // A steered wheel rolls another way; the turn of its disc is too small to move the contact.
      const Vec3 forward = std::cos(a.input.steer) * c.forward_G + std::sin(a.input.steer) * c.left_G;
      c.left_G = std::cos(a.input.steer) * c.left_G - std::sin(a.input.steer) * c.forward_G;
      c.forward_G = forward;
    }
    const int spinning = a.machine.wheel[i];
    const Vec3 v = h.v + glm::cross(h.w, c.lowest_G - h.centre);
    ContactMotion there;
    there.closing = -glm::dot(v, c.normal_G) + a.input.ground_lift_rate[i] * c.normal_G.z;
    there.forward = glm::dot(v, c.forward_G);
    there.left = glm::dot(v, c.left_G);
    there.rim_speed = (spinning >= 0 ? a.rate(spinning) : 0) * (wheel.tyre.radius - std::max(0.0, c.penetration));
    TyreForce& force = a.moment.force[i];
    force = tyre_force(wheel.tyre, model.terrain.soil, c, there, model.time_step, a.moment.bristle[i]);
    if (force.load <= 0 && force.along == 0 && force.across == 0) continue;
    if (wheel.tyre.pressure_offset > 0)
      c.point_G +=
          wheel.tyre.pressure_offset * std::clamp(glm::dot(h.axle, a.out.gravity) / down, -1.0, 1.0) * c.left_G;
    const Vec3 f = force.load * c.normal_G + force.along * c.forward_G + force.across * c.left_G;
    a.out.push(spinning >= 0 ? spinning : carrier(a.machine, i), c.point_G, f);
    if (spinning < 0) continue;
    // Rolling resistance turns against the spin; smooth through standstill so that a parked wheel feels none.
    const double resistance = model.terrain.soil.rolling_resistance * force.load * wheel.tyre.radius;
    a.torque(spinning) -= resistance * std::tanh(there.rim_speed / 0.05);
  }
}

void axle_stop(Acting& a) {
  const int axle = a.machine.axle;
  if (axle < 0) return;
  const double beyond = std::abs(a.angle(axle)) - a.model.stop_angle;
  a.moment.on_stop = beyond > 0;
  if (!a.moment.on_stop) return;
  const double side = a.angle(axle) > 0 ? 1 : -1;
  // The stop pushes, never pulls.
  a.torque(axle) -= side * std::max(0.0, a.model.stop_stiffness * beyond + a.model.stop_damping * side * a.rate(axle));
}

void driver(Acting& a) {
  const Model& model = a.model;
  const double mass = tree_mass(a.machine.tree);
  for (std::size_t i : {std::size_t{kRearLeft}, std::size_t{kRearRight}}) {
    const int wheel = a.machine.wheel[i];
    if (wheel < 0) continue;
    const double spin = a.rate(wheel);
    if (a.input.hold) {
      if (!a.moment.held) a.moment.brake_anchor[i] = a.angle(wheel);
      const double stiffness = brake_stiffness(model, i);
      a.torque(wheel) -=
          stiffness * (a.angle(wheel) - a.moment.brake_anchor[i]) + 2 * 0.7 * stiffness / held_rate(model) * spin;
    } else {
      const BodyNow& chassis = a.body(kChassis);
      const double radius = model.wheels[i].tyre.radius;
      const double speed = glm::dot(chassis.v, chassis.R[0]);
      const double pull = std::clamp(kSpeedGain * mass * (a.input.target_speed - speed), -0.4 * mass * model.gravity,
                                     0.4 * mass * model.gravity);
      // A wheel that spins much faster than wanted has lost its grip: the driver eases off.
      const double over = std::abs(spin) * radius - std::abs(a.input.target_speed) - 1.0;
      a.torque(wheel) += 0.5 * pull * radius * std::clamp(1 - over, 0.0, 1.0);
    }
  }
  a.moment.held = a.input.hold;
}

void boom(Acting& a) {
  const int body = a.machine.boom;
  if (body < 0) return;
  const LoaderModel& loader = a.model.loader;
  const double wanted = std::clamp(a.input.boom_angle, std::min(loader.min_angle, loader.angle),
                                   std::max(loader.max_angle, loader.angle));
  const double most = loader.lift_rate * a.model.time_step;
  a.moment.boom_goal += std::clamp(wanted - a.moment.boom_goal, -most, most);
  const double angle = loader.angle + a.angle(body), rate = a.rate(body);
  // The rams carry the weight as it hangs now; the spring only corrects, so the boom does not sag.
  const BodyNow& b = a.body(body);
  const double carried = glm::dot(glm::cross(b.com - b.p, loader.boom.mass * a.out.gravity), a.body(kChassis).R[1]);
  const Vec3& com = loader.boom.com;
  const double inertia = loader.boom.inertia[1][1] + loader.boom.mass * (com.x * com.x + com.z * com.z);
  a.torque(body) +=
      carried + inertia * (kBoomRate * kBoomRate * (a.moment.boom_goal - angle) - 2 * 0.7 * kBoomRate * rate);
}

void hull(Acting& a) {
  Moment& moment = a.moment;
  moment.hull_touches = moment.frame_touches = false;
  double ceiling = 0.1;  // no ground is higher than this [m]
  for (const Feature& feature : a.model.terrain.features)
    ceiling += 2 * std::abs(feature.height);  // rough strips reach beyond theirs
  const BodyNow& chassis = a.body(kChassis);
  const Vec3 up(chassis.R[0].z, chassis.R[1].z, chassis.R[2].z);
  for (std::size_t k = 0; k < a.model.hull.size(); ++k) {
    const HullPoint& point = a.model.hull[k];
    if (chassis.p.z + glm::dot(up, point.place) > ceiling) {
      moment.hull[k].touching = false;
      continue;
    }
    const Vec3 p = chassis.p + chassis.R * point.place;
    const Vec3 v = chassis.v + glm::cross(chassis.w, p - chassis.p);
    const std::optional<Vec3> force_there = hull_force(a.model.terrain, p, v, moment.hull[k]);
    if (!force_there) continue;
    a.out.push(kChassis, p, *force_there);
    moment.hull_touches = true;
    moment.frame_touches = moment.frame_touches || point.frame;
  }
}

}  // namespace

Vec3 gravity_in_G(const Model& model, double slope) {
  return {0, -model.gravity * std::sin(slope), -model.gravity * std::cos(slope)};
}

double brake_stiffness(const Model& model, std::size_t wheel) {
  return spin_inertia(model.wheels[wheel]) * held_rate(model) * held_rate(model);
}

Hub hub_of(const Model& model, const MachineTree& machine, const MachineNow& now, std::size_t wheel) {
  const BodyNow& on = now.bodies[static_cast<std::size_t>(carrier(machine, wheel))];
  const Vec3 place =
      carrier(machine, wheel) == kChassis ? model.wheels[wheel].centre : model.wheels[wheel].centre - model.pin;
  const Vec3 out = on.R * place;
  return {on.p + out, on.R[1], on.v + glm::cross(on.w, out), on.w};
}

void look(const Model& model, const MachineTree& machine, const Moment& moment, MachineNow& now) {
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

void machine_forces(const Model& model, const MachineTree& machine, const MachineNow& now, const Input& input,
                    Moment& moment, TreeForces& out) {
  out = TreeForces{};
  out.about = moment.motion.com;
  out.gravity = gravity_in_G(model, moment.slope);
  Acting a{model, machine, now, input, moment, out};
  liquids(a);
  tyres(a);
  axle_stop(a);
  driver(a);
  boom(a);
  hull(a);
}

void settle(const Model& model, const MachineTree& machine, const Rest& rest, Moment& moment) {
  MachineNow now;
  look(model, machine, moment, now);
  const Vec3 gravity = gravity_in_G(model, moment.slope);
  for (std::size_t i = 0; i < kWheels; ++i) {
    const TyreLaw& tyre = model.wheels[i].tyre;
    const Hub h = hub_of(model, machine, now, i);
    const TyreContact c = tyre_contact(model.terrain, h.centre, h.axle, tyre.radius);
    const Vec3& f = rest.force_G[i];
    const double lengthwise = tyre.longitudinal_stiffness * std::max(0.0, rest.load[i]) / tyre.reference_load;
    moment.bristle[i].across = -glm::dot(f, c.left_G) / tyre.lateral_stiffness;
    moment.bristle[i].along = lengthwise > 1 ? -glm::dot(f, c.forward_G) / lengthwise : 0;
    if (machine.wheel[i] >= 0 && i >= kRearLeft) {
      // What the ground does to the wheel about its axle, the brake holds.
      const double by_ground = glm::dot(glm::cross(c.point_G - h.centre, f), h.axle);
      moment.brake_anchor[i] =
          moment.motion.angle[static_cast<std::size_t>(machine.wheel[i])] - by_ground / brake_stiffness(model, i);
    }
    if (machine.liquid[i] >= 0) {
      const Mat3& R = now.bodies[static_cast<std::size_t>(carrier(machine, i))].R;
      const Vec3 down = glm::transpose(R) * gravity;
      moment.motion.angle[static_cast<std::size_t>(machine.liquid[i])] = std::atan2(-down.x, -down.z);
    }
  }
  moment.held = true;
}

}  // namespace sidehill
