#include "sim/motion/world.h"

#include <fmt/format.h>

#include <cmath>
#include <optional>

#include "sim/model/placed.h"
#include "sim/motion/tree_bullet.h"

namespace sidehill {

struct World::Impl {
  Model model;
  MachineTree machine;
  std::optional<BulletTree> bullet;  // empty: the bodies are moved by step() of sim/motion/tree.h
  MachineState moment;
  MachineNow now;  // of `moment`
  TreeForces forces;
  mutable State state;
  mutable bool stale = true;

  void moved() {
    look(model, machine, moment, now);
    stale = true;
  }
  void check_finite() const;
  void fill_state() const;
  Vec3 centre_of_gravity() const;
};

void World::Impl::check_finite() const {
  const auto bad = [](double x) { return !(std::abs(x) < 1e5); };
  const auto refuse = [&](int body, const char* quantity, double value) {
    throw Diverged(fmt::format("diverged: {} {} is {:.3g} at {:.3f} s", body_name(machine, body), quantity, value,
                               static_cast<double>(moment.steps) * model.time_step));
  };
  const TreeMotion& m = moment.motion;
  for (int k = 0; k < 3; ++k) {
    if (bad(m.v[k])) refuse(kChassis, "speed", m.v[k]);
    if (bad(m.w[k])) refuse(kChassis, "turning rate", m.w[k]);
  }
  for (std::size_t i = 1; i < machine.tree.bodies.size(); ++i)
    if (bad(m.rate[i])) refuse(static_cast<int>(i), "turning rate", m.rate[i]);
}

Vec3 World::Impl::centre_of_gravity() const {
  Vec3 sum_of(0.0);
  double mass = 0;
  for (std::size_t i = 0; i < machine.tree.bodies.size(); ++i) {
    const double m = machine.tree.bodies[i].props.mass;
    sum_of += m * now.bodies[i].com;
    mass += m;
  }
  for (std::size_t i = 0; i < kWheels; ++i)
    if (machine.liquid[i] >= 0) sum_of += model.wheels[i].liquid.mass * (now.liquid[i].truly - now.liquid[i].hanging);
  return sum_of / mass;
}

void World::Impl::fill_state() const {
  State& s = state;
  const TreeMotion& m = moment.motion;
  const auto angle_of = [&](int body) { return body >= 0 ? m.angle[static_cast<std::size_t>(body)] : 0.0; };
  const auto rate_of = [&](int body) { return body >= 0 ? m.rate[static_cast<std::size_t>(body)] : 0.0; };
  const BodyNow& chassis = now.bodies[kChassis];
  s.time = static_cast<double>(moment.steps) * model.time_step;
  s.slope = moment.slope;
  s.X_GV = {chassis.R, chassis.p};
  s.v_G = chassis.v;
  s.w_G = chassis.w;
  s.axle_angle = angle_of(machine.axle);
  s.axle_rate = rate_of(machine.axle);
  s.boom_angle = model.loader.fitted ? model.loader.angle + angle_of(machine.boom) : 0.0;
  s.bucket_angle = machine.bucket >= 0 ? angle_of(machine.boom) + angle_of(machine.bucket) : angle_of(machine.boom);
  const bool articulated = model.axle_kind == AxleKind::articulated;
  s.steer = articulated ? 0.0 : moment.steer;
  s.articulation = articulated ? angle_of(machine.front) : 0.0;
  s.hanging_G = machine.load >= 0 ? now.bodies[static_cast<std::size_t>(machine.load)].com : chassis.p;
  s.tank_G = machine.tank >= 0 ? now.bodies[static_cast<std::size_t>(machine.tank)].com : chassis.p;
  s.engine_speed = moment.engine_rate * model.wheels[kRearLeft].tyre.radius;
  s.tied = moment.tied;
  s.stake_G = moment.stake_G;
  s.pull = moment.pull;
  s.hitch_G = chassis.p + chassis.R * model.hitch;
  s.hitch_force_G = moment.hitch_force;
  for (std::size_t i = 0; i < kWheels; ++i) {
    const Hub h = hub_of(model, machine, moment, now, i);
    const TyreForce& force = moment.force[i];
    const TyreContact& contact = moment.contact[i];
    WheelState& w = s.wheels[i];
    w.centre_G = h.centre;
    w.axle_G = h.axle;
    w.spin_angle = angle_of(machine.wheel[i]);
    w.spin_rate = rate_of(machine.wheel[i]);
    w.load = force.load;
    w.penetration = contact.penetration;
    w.contact_G = contact.point_G;
    w.force_G = force.load * contact.normal_G + force.along * contact.forward_G + force.across * contact.left_G;
    w.sliding = force.sliding;
    w.liquid_swing = angle_of(machine.liquid[i]);
    w.liquid_G = machine.liquid[i] >= 0 ? now.liquid[i].truly : h.centre;
  }
  s.centre_of_gravity_G = centre_of_gravity();
  s.on_stop = moment.on_stop;
  s.hull_touches = moment.hull_touches;
  s.frame_touches = moment.frame_touches;
  s.hull_ago = moment.hull_ago;
  s.frame_ago = moment.frame_ago;
  s.kinetic_energy = kinetic_energy(machine.tree, now.bodies);
  stale = false;
}

World::World(const Model& model, const Pose& X_GV, double axle_angle) : impl_(std::make_unique<Impl>()) {
  Impl& w = *impl_;
  w.model = model;
  w.machine = machine_tree(model);
  if (model.engine == Engine::bullet) w.bullet.emplace(w.machine.tree);
  MachineState& moment = w.moment;
  moment.slope = model.terrain.slope;
  moment.motion.q_GB = glm::normalize(glm::quat_cast(X_GV.R));
  moment.motion.com = X_GV * w.machine.tree.bodies[kChassis].props.com;
  if (w.machine.axle >= 0) moment.motion.angle[static_cast<std::size_t>(w.machine.axle)] = axle_angle;
  moment.boom_goal = model.loader.angle;
  moment.steer = model.articulation;
  if (model.axle_kind == AxleKind::articulated)
    moment.motion.angle[static_cast<std::size_t>(w.machine.front)] = model.articulation;
  w.moved();
  // The contacts of the first picture, before any step.
  for (std::size_t i = 0; i < kWheels; ++i) {
    const Hub h = hub_of(model, w.machine, moment, w.now, i);
    moment.contact[i] = tyre_contact(model.terrain, h.centre, h.axle, model.wheels[i].tyre.radius);
    moment.force[i].load = std::max(0.0, model.wheels[i].tyre.vertical_stiffness * moment.contact[i].penetration);
  }
}

World::~World() = default;
World::World(World&&) noexcept = default;
World& World::operator=(World&&) noexcept = default;

void World::settle(const Rest& rest) {
  sidehill::settle(impl_->model, impl_->machine, rest, impl_->moment);
  impl_->moved();
}

const TreeForces& World::forces(const Input& input) {
  Impl& w = *impl_;
  w.moment.slope = input.slope;
  machine_forces(w.model, w.machine, w.now, input, w.moment, w.forces);
  return w.forces;
}

void World::finish(const TreeMotion& moved) {
  impl_->moment.motion = moved;
  ++impl_->moment.steps;
  impl_->moved();
  impl_->check_finite();
}

void World::step(const Input& input) {
  Impl& w = *impl_;
  forces(input);
  TreeMotion& motion = w.moment.motion;
  if (w.bullet)
    w.bullet->step(w.now.bodies, w.forces, w.model.time_step, motion);
  else
    sidehill::step(w.machine.tree, w.now.bodies, w.forces, w.model.time_step, motion);
  ++w.moment.steps;
  w.moved();
  w.check_finite();
}

const State& World::state() const {
  if (impl_->stale) impl_->fill_state();
  return impl_->state;
}

double World::potential_energy() const {
  const Impl& w = *impl_;
  const State& s = state();
  double energy = -tree_mass(w.machine.tree) * glm::dot(gravity_in_G(w.model, w.moment.slope), s.centre_of_gravity_G);
  for (std::size_t i = 0; i < kWheels; ++i) {
    const TyreLaw& tyre = w.model.wheels[i].tyre;
    energy += radial_energy(tyre, w.moment.contact[i].penetration) +
              0.5 * tyre.lateral_stiffness * w.moment.bristle[i].across * w.moment.bristle[i].across;
  }
  const double beyond = beyond_stop(w.model, s.axle_angle);
  return energy + 0.5 * w.model.stop_stiffness * beyond * beyond;
}

void World::set_velocity(Vec3 v_G, Vec3 w_G) {
  Impl& w = *impl_;
  const BodyNow& chassis = w.now.bodies[kChassis];
  w.moment.motion.w = w_G;
  w.moment.motion.v = v_G + glm::cross(w_G, chassis.com - chassis.p);
  w.moved();
}

const MachineState& World::moment() const { return impl_->moment; }

void World::restore(const MachineState& moment) {
  impl_->moment = moment;
  impl_->moved();
}

const MachineTree& World::machine() const { return impl_->machine; }

}  // namespace sidehill
