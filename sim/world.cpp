// Bullet's btMultiBody, double precision, stepped by its articulated-body algorithm directly: no collision world, own
// tyre, stop, hull and driver forces. Bullet's frame is G, the ground's; a slope turns gravity there. Every link's
// frame sits at its centre of mass along its principal axes, as btMultiBody wants it.
#include "sim/world.h"

#include <BulletDynamics/Featherstone/btMultiBody.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "sim/hull_force.h"
#include "sim/scene_file.h"
#include "sim/tyre_force.h"

static_assert(sizeof(btScalar) == 8, "link Bullet's double-precision libraries (pkg-config bullet-float64)");

namespace sidehill {
namespace {

constexpr double kBrakeRate = 400;      // natural frequency of a held wheel on its brake [rad/s]
constexpr double kBoomRate = 60;        // of the loader boom on its rams [rad/s]
constexpr double kSloshDamping = 0.05;  // share of critical, our estimate [-]
constexpr double kSpeedGain = 2.0;      // driver's correction of a wrong speed [1/s]

btVector3 bt(const Vec3& v) { return {v.x, v.y, v.z}; }
Vec3 from(const btVector3& v) { return {v.x(), v.y(), v.z()}; }
btQuaternion bt(const Mat3& R) {
  const Quat q = glm::quat_cast(R);
  return {q.x, q.y, q.z, q.w};
}

// A fill as a pendulum about the axle that swings as fast as the liquid; about the other axes it is taken along by the
// tyre, with the inertia of where it lies.
MassProperties liquid_body(const LiquidLump& liquid) {
  const double spin = liquid.mass * std::max(liquid.gyration_squared - liquid.depth * liquid.depth, 1e-3);
  return {liquid.mass, Vec3(0, 0, -liquid.depth),
          Mat3(liquid.inertia[0][0], 0, 0, 0, spin, 0, 0, 0, liquid.inertia[2][2])};
}

}  // namespace

struct World::Impl {
  Model model;
  std::unique_ptr<btMultiBody> body;
  btAlignedObjectArray<btScalar> scratch_r;
  btAlignedObjectArray<btVector3> scratch_v;
  btAlignedObjectArray<btMatrix3x3> scratch_m;

  // Link numbers; -1 = not a body of its own.
  int axle_link = -1, boom_link = -1;
  std::array<int, kWheels> wheel_link{-1, -1, -1, -1}, liquid_link{-1, -1, -1, -1};

  MassProperties base;  // in V: chassis and whatever is fixed to it
  MassProperties axle;  // in A: beam and what is fixed to it; pivoting only
  Mat3 R_VB{1.0};       // base principal axes
  Mat3 R_AL{1.0};       // axle's principal axes
  double mass = 0, boom_inertia = 0, boom_goal = 0;
  std::array<Bristle, kWheels> bristle;
  std::array<TyreContact, kWheels> contact;
  std::array<TyreForce, kWheels> force;
  std::array<double, kWheels> brake_anchor{};
  bool held = false;
  std::vector<HullContact> hull;
  double hull_ceiling = 0.1;  // no ground is higher than this [m]
  bool hull_touches = false, frame_touches = false, on_stop = false;
  double time = 0, slope = 0;
  long steps = 0;
  mutable State state;
  mutable bool stale = true;

  // Poses and motion of the parts now.
  struct Motion {
    Pose X_GV, X_GA;
    Vec3 v_V{0.0}, w_V{0.0}, v_A{0.0}, w_A{0.0};  // of V's and A's origins, and their turning, in G
    double axle_angle = 0, axle_rate = 0;
  };

  Motion motion() const {
    Motion m;
    const btTransform X = body->getBaseWorldTransform();
    const btMatrix3x3& b = X.getBasis();
    const Mat3 R_GB(b[0][0], b[1][0], b[2][0], b[0][1], b[1][1], b[2][1], b[0][2], b[1][2], b[2][2]);
    m.X_GV.R = R_GB * glm::transpose(R_VB);
    m.X_GV.p = from(X.getOrigin()) - m.X_GV.R * base.com;
    m.w_V = from(body->getBaseOmega());
    m.v_V = from(body->getBaseVel()) - glm::cross(m.w_V, m.X_GV.R * base.com);
    if (axle_link >= 0) {
      m.axle_angle = body->getJointPos(axle_link);
      m.axle_rate = body->getJointVel(axle_link);
    }
    m.X_GA = m.X_GV * Pose{about_x(m.axle_angle), model.pin};
    m.w_A = m.w_V + m.axle_rate * m.X_GV.R[0];
    m.v_A = m.v_V + glm::cross(m.w_V, m.X_GA.p - m.X_GV.p);
    return m;
  }

  struct Hub {
    Vec3 centre, axle, v, w;  // in G; motion of the carrier, not of the spinning wheel
  };
  Hub hub(const Motion& m, std::size_t i) const {
    const bool front = i < 2;
    const Pose& X = front ? m.X_GA : m.X_GV;
    const Vec3 p = front ? model.wheels[i].centre - model.pin : model.wheels[i].centre;
    Hub h;
    h.centre = X * p;
    h.axle = X.R[1];
    h.w = front ? m.w_A : m.w_V;
    h.v = (front ? m.v_A : m.v_V) + glm::cross(h.w, h.centre - X.p);
    return h;
  }

  Pose boom_pose(const Motion& m) const {
    return m.X_GV * Pose{about_y(boom_link >= 0 ? -body->getJointPos(boom_link) : 0.0), model.loader.pivot};
  }

  double spin_rate(std::size_t i) const { return wheel_link[i] >= 0 ? body->getJointVel(wheel_link[i]) : 0.0; }
  double spin_angle(std::size_t i) const { return wheel_link[i] >= 0 ? body->getJointPos(wheel_link[i]) : 0.0; }

  Vec3 gravity_G() const { return {0, -model.gravity * std::sin(slope), -model.gravity * std::cos(slope)}; }

  // Force at a point on the part that carries a wheel (or on the wheel itself).
  void push(int link, const Vec3& com_G, const Vec3& at_G, const Vec3& f_G) {
    const Vec3 torque = glm::cross(at_G - com_G, f_G);
    if (link < 0) {
      body->addBaseForce(bt(f_G));
      body->addBaseTorque(bt(torque));
    } else {
      body->addLinkForce(link, bt(f_G));
      body->addLinkTorque(link, bt(torque));
    }
  }

  void build_bodies(const Pose& X_GV, double axle_angle);
  double brake_stiffness(std::size_t i) const;  // [N m/rad]
  void settle(const Rest& rest);
  void apply_gravity(const Motion& m);
  void apply_tyres(const Motion& m, const Input& input);
  void apply_stop(const Motion& m);
  void apply_driver(const Motion& m, const Input& input);
  void apply_boom(const Motion& m, const Input& input);
  void apply_hull(const Motion& m);
  void check_finite() const;
  void fill_state() const;
  Vec3 liquid_centroid(const Hub& h, std::size_t i, double swing, const Pose& X_carrier, Vec3& hanging) const;
  template <class Visit>
  void each_body(const Motion& m, Visit&& visit) const;
  Vec3 centre_of_gravity(const Motion& m) const;
  double kinetic_energy(const Motion& m) const;
};

void World::Impl::build_bodies(const Pose& X_GV, double axle_angle) {
  const Model& m = model;
  for (const WheelModel& wheel : m.wheels)
    if (wheel.tyre.rigid || wheel.tyre.laterally_rigid)
      throw InputError(
          "vehicle.rear.tyre.rigid = true: a rigid tyre is for the answer at rest; a moving machine needs rigid = "
          "false and laterally_rigid = false");
  base = m.chassis;
  const bool pivoting = m.axle_kind == AxleKind::pivoting;
  const auto to_base = [&](const MassProperties& props, const Vec3& at) {
    if (props.mass > 0) base = combine(base, {props.mass, props.com + at, props.inertia});
  };
  axle = m.axle;
  int links = 0;
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (m.wheels[i].dry.mass > 0) ++links;
    if (m.wheels[i].liquid.mass > 0) ++links;
  }
  if (!pivoting) to_base(m.axle, m.pin);
  if (pivoting) {
    ++links;
    // A joint needs inertia about its axis; wheels alone carry some, a beam most.
    double about_pin = axle.inertia[0][0] + axle.mass * (axle.com.y * axle.com.y + axle.com.z * axle.com.z);
    for (std::size_t i = 0; i < 2; ++i)
      about_pin += m.wheels[i].dry.mass * glm::dot(m.wheels[i].centre - m.pin, m.wheels[i].centre - m.pin);
    if (!(axle.mass > 0) || !(about_pin > 1))
      throw InputError(
          "vehicle.front_axle.mass_kg = 0: a pivoting axle without mass is for the answer at rest; a moving machine "
          "needs at least 1 kg");
  }
  if (m.loader.fitted && m.loader.boom.mass > 0) ++links;
  if (!(base.mass > 0)) throw InputError("vehicle.chassis.mass_kg = 0: a moving machine needs a chassis with mass");
  if (!(std::min({base.inertia[0][0], base.inertia[1][1], base.inertia[2][2]}) > 1))
    throw InputError("vehicle.chassis.inertia_kgm2 = 0: a moving machine needs a moment of inertia about each axis");

  const PrincipalInertia p = principal(base.inertia);
  R_VB = p.R;
  body = std::make_unique<btMultiBody>(links, base.mass, bt(p.moments), false, false);
  body->setLinearDamping(0);
  body->setAngularDamping(0);
  body->setMaxCoordinateVelocity(1e6);
  body->setMaxAppliedImpulse(1e12);
  int next = 0;
  Mat3 R_VL(1.0);
  if (pivoting) {
    axle_link = next++;
    const PrincipalInertia a = principal(axle.inertia);
    R_AL = R_VL = a.R;
    body->setupRevolute(axle_link, axle.mass, bt(a.moments), -1, bt(glm::transpose(R_AL) * R_VB),
                        bt(glm::transpose(R_AL) * Vec3(1, 0, 0)), bt(glm::transpose(R_VB) * (m.pin - base.com)),
                        bt(glm::transpose(R_AL) * axle.com), true);
  }
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& wheel = m.wheels[i];
    const bool on_axle = pivoting && i < 2;
    const int parent = on_axle ? axle_link : -1;
    const Mat3 R_parent = on_axle ? R_AL : R_VB;
    const Vec3 from_com = on_axle ? wheel.centre - m.pin - axle.com : wheel.centre - base.com;
    const auto hang = [&](const MassProperties& props, const Vec3& com) {
      const int link = next++;
      const Vec3 moments(props.inertia[0][0], props.inertia[1][1], props.inertia[2][2]);
      body->setupRevolute(link, props.mass, bt(moments), parent, bt(R_parent), {0, 1, 0},
                          bt(glm::transpose(R_parent) * from_com), bt(com), true);
      return link;
    };
    if (wheel.dry.mass > 0) wheel_link[i] = hang(wheel.dry, wheel.dry.com);
    if (wheel.liquid.mass > 0) {
      const MassProperties lump = liquid_body(wheel.liquid);
      liquid_link[i] = hang(lump, lump.com);
    }
  }
  if (m.loader.fitted && m.loader.boom.mass > 0) {
    boom_link = next++;
    const PrincipalInertia b = principal(m.loader.boom.inertia);
    const Vec3& com = m.loader.boom.com;
    boom_inertia = m.loader.boom.inertia[1][1] + m.loader.boom.mass * (com.x * com.x + com.z * com.z);
    body->setupRevolute(boom_link, m.loader.boom.mass, bt(b.moments), -1, bt(glm::transpose(b.R) * R_VB),
                        bt(glm::transpose(b.R) * Vec3(0, -1, 0)),
                        bt(glm::transpose(R_VB) * (m.loader.pivot - base.com)), bt(glm::transpose(b.R) * com), true);
    boom_goal = m.loader.angle;
  }
  body->finalizeMultiDof();
  btTransform X;
  X.setOrigin(bt(X_GV * base.com));
  X.setRotation(bt(X_GV.R * R_VB));
  body->setBaseWorldTransform(X);
  if (axle_link >= 0) body->setJointPos(axle_link, axle_angle);
  mass = base.mass + (pivoting ? axle.mass : 0) + m.loader.boom.mass;
  for (const WheelModel& wheel : m.wheels) mass += wheel.dry.mass + wheel.liquid.mass;
  hull.resize(m.hull.size());
  for (const Feature& feature : m.terrain.features)
    hull_ceiling += 2 * std::abs(feature.height);  // rough strips reach beyond theirs
}

Vec3 World::Impl::liquid_centroid(const Hub& h, std::size_t i, double swing, const Pose& X_carrier,
                                  Vec3& hanging) const {
  // Where the pendulum's mass is, and where the liquid's centroid truly is: moved to the low side as the wheel leans.
  const LiquidLump& liquid = model.wheels[i].liquid;
  const Vec3 straight = X_carrier.R * (about_y(swing) * Vec3(0, 0, -1));
  hanging = h.centre + liquid.depth * straight;
  const double along = glm::dot(h.axle, gravity_G()) / std::max(model.gravity, 1e-9);
  const LiquidPlace place = lookup(liquid.table, std::asin(std::clamp(std::abs(along), 0.0, 1.0)));
  return h.centre - place.z * straight + std::copysign(place.y, along) * h.axle;
}

void World::Impl::apply_gravity(const Motion& m) {
  const Vec3 g = gravity_G();
  body->addBaseForce(bt(base.mass * g));
  for (int k = 0; k < body->getNumLinks(); ++k) body->addLinkForce(k, bt(body->getLinkMass(k) * g));
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (liquid_link[i] < 0) continue;
    const Hub h = hub(m, i);
    const Pose& X = i < 2 ? m.X_GA : m.X_GV;
    Vec3 hanging;
    const Vec3 truly = liquid_centroid(h, i, body->getJointPos(liquid_link[i]), X, hanging);
    const LiquidLump& liquid = model.wheels[i].liquid;
    body->addLinkTorque(liquid_link[i], bt(glm::cross(truly - hanging, liquid.mass * g)));
    const double about_axle = liquid.mass * liquid.gyration_squared;
    const double rate = std::sqrt(model.gravity * liquid.depth / std::max(liquid.gyration_squared, 1e-6));
    // Losses inside the liquid; a tyre turning around it drags it along far less.
    body->addJointTorque(liquid_link[i], -2 * kSloshDamping * rate * about_axle * body->getJointVel(liquid_link[i]));
  }
}

void World::Impl::apply_tyres(const Motion& m, const Input& input) {
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& wheel = model.wheels[i];
    const Hub h = hub(m, i);
    contact[i] = tyre_contact(model.terrain, h.centre, h.axle, wheel.tyre.radius, input.ground_lift[i]);
    TyreContact& c = contact[i];
    if (i < 2 && input.steer != 0) {
      // A steered wheel rolls another way; the turn of its disc is too small to move the contact.
      const Vec3 forward = std::cos(input.steer) * c.forward_G + std::sin(input.steer) * c.left_G;
      c.left_G = std::cos(input.steer) * c.left_G - std::sin(input.steer) * c.forward_G;
      c.forward_G = forward;
    }
    const Vec3 v = h.v + glm::cross(h.w, c.lowest_G - h.centre);
    ContactMotion motion_there;
    motion_there.closing = -glm::dot(v, c.normal_G) + input.ground_lift_rate[i] * c.normal_G.z;
    motion_there.forward = glm::dot(v, c.forward_G);
    motion_there.left = glm::dot(v, c.left_G);
    motion_there.rim_speed = spin_rate(i) * (wheel.tyre.radius - std::max(0.0, c.penetration));
    force[i] = tyre_force(wheel.tyre, model.terrain.soil, c, motion_there, model.time_step, bristle[i]);
    if (force[i].load <= 0 && force[i].along == 0 && force[i].across == 0) continue;
    if (wheel.tyre.pressure_offset > 0) {
      const double lean = glm::dot(h.axle, gravity_G()) / (model.gravity * std::sin(0.1745));
      c.point_G += wheel.tyre.pressure_offset * std::clamp(lean, -1.0, 1.0) * c.left_G;
    }
    const Vec3 f = force[i].load * c.normal_G + force[i].along * c.forward_G + force[i].across * c.left_G;
    const bool on_axle = axle_link >= 0 && i < 2;
    if (wheel_link[i] >= 0) {
      push(wheel_link[i], h.centre, c.point_G, f);
      // Rolling resistance turns against the spin; smooth through standstill so that a parked wheel feels none.
      const double resistance = model.terrain.soil.rolling_resistance * force[i].load * wheel.tyre.radius;
      body->addJointTorque(wheel_link[i], -resistance * std::tanh(motion_there.rim_speed / 0.05));
    } else {
      const Vec3 com = on_axle ? m.X_GA * axle.com : m.X_GV * base.com;
      push(on_axle ? axle_link : -1, com, c.point_G, f);
    }
  }
}

void World::Impl::apply_stop(const Motion& m) {
  if (axle_link < 0) return;
  const double beyond = std::abs(m.axle_angle) - model.stop_angle;
  on_stop = beyond > 0;
  if (!on_stop) return;
  const double side = m.axle_angle > 0 ? 1 : -1;
  // The stop pushes, never pulls.
  const double torque = std::max(0.0, model.stop_stiffness * beyond + model.stop_damping * side * m.axle_rate);
  body->addJointTorque(axle_link, -side * torque);
}

double World::Impl::brake_stiffness(std::size_t i) const {
  const MassProperties& wheel = model.wheels[i].dry;  // about its axle, a frozen fill out of the middle included
  const double inertia = wheel.inertia[1][1] + wheel.mass * (wheel.com.x * wheel.com.x + wheel.com.z * wheel.com.z);
  const double rate = std::min(kBrakeRate, 0.5 / model.time_step);  // stable with damping for any legal step
  return inertia * rate * rate;
}

void World::Impl::settle(const Rest& rest) {
  const Motion m = motion();
  for (std::size_t i = 0; i < kWheels; ++i) {
    const TyreLaw& tyre = model.wheels[i].tyre;
    const Hub h = hub(m, i);
    const TyreContact c = tyre_contact(model.terrain, h.centre, h.axle, tyre.radius);
    const Vec3& f = rest.force_G[i];
    const double lengthwise = tyre.longitudinal_stiffness * std::max(0.0, rest.load[i]) / tyre.reference_load;
    bristle[i].across = -glm::dot(f, c.left_G) / tyre.lateral_stiffness;
    bristle[i].along = lengthwise > 1 ? -glm::dot(f, c.forward_G) / lengthwise : 0;
    if (wheel_link[i] >= 0 && i >= kRearLeft) {
      // What the ground does to the wheel about its axle, the brake holds.
      const double by_ground = glm::dot(glm::cross(c.point_G - h.centre, f), h.axle);
      brake_anchor[i] = spin_angle(i) - by_ground / brake_stiffness(i);
    }
    if (liquid_link[i] >= 0) {
      const Vec3 down = glm::transpose((i < 2 ? m.X_GA : m.X_GV).R) * gravity_G();
      body->setJointPos(liquid_link[i], std::atan2(-down.x, -down.z));
    }
  }
  held = true;
  stale = true;
}

void World::Impl::apply_driver(const Motion& m, const Input& input) {
  for (std::size_t i : {std::size_t{kRearLeft}, std::size_t{kRearRight}}) {
    if (wheel_link[i] < 0) continue;
    const double spin = spin_rate(i);
    if (input.hold) {
      if (!held) brake_anchor[i] = spin_angle(i);
      const double stiffness = brake_stiffness(i), rate = std::min(kBrakeRate, 0.5 / model.time_step);
      body->addJointTorque(wheel_link[i],
                           -stiffness * (spin_angle(i) - brake_anchor[i]) - 2 * 0.7 * stiffness / rate * spin);
    } else {
      const double radius = model.wheels[i].tyre.radius;
      const double speed = glm::dot(m.v_V, m.X_GV.R[0]);
      const double pull = std::clamp(kSpeedGain * mass * (input.target_speed - speed), -0.4 * mass * model.gravity,
                                     0.4 * mass * model.gravity);
      // A wheel that spins much faster than wanted has lost its grip: the driver eases off.
      const double over = std::abs(spin) * radius - std::abs(input.target_speed) - 1.0;
      body->addJointTorque(wheel_link[i], 0.5 * pull * radius * std::clamp(1 - over, 0.0, 1.0));
    }
  }
  held = input.hold;
}

void World::Impl::apply_boom(const Motion& m, const Input& input) {
  if (boom_link < 0) return;
  const LoaderModel& loader = model.loader;
  const double wanted =
      std::clamp(input.boom_angle, std::min(loader.min_angle, loader.angle), std::max(loader.max_angle, loader.angle));
  const double most = loader.lift_rate * model.time_step;
  boom_goal += std::clamp(wanted - boom_goal, -most, most);
  const double angle = loader.angle + body->getJointPos(boom_link), rate = body->getJointVel(boom_link);
  // The rams carry the weight as it hangs now; the spring only corrects, so the boom does not sag.
  const Pose X_GBoom = boom_pose(m);
  const Vec3 weight_moment = glm::cross(X_GBoom * loader.boom.com - X_GBoom.p, loader.boom.mass * gravity_G());
  const double carried = glm::dot(weight_moment, m.X_GV.R[1]);
  body->addJointTorque(
      boom_link, carried + boom_inertia * (kBoomRate * kBoomRate * (boom_goal - angle) - 2 * 0.7 * kBoomRate * rate));
}

void World::Impl::apply_hull(const Motion& m) {
  hull_touches = frame_touches = false;
  const Vec3 com = m.X_GV * base.com;
  for (std::size_t k = 0; k < hull.size(); ++k) {
    const Vec3 p = m.X_GV * model.hull[k].place;
    if (p.z > hull_ceiling) {
      hull[k].touching = false;
      continue;
    }
    const Vec3 v = m.v_V + glm::cross(m.w_V, p - m.X_GV.p);
    const std::optional<Vec3> force_there = hull_force(model.terrain, p, v, hull[k]);
    if (!force_there) continue;
    push(-1, com, p, *force_there);
    hull_touches = true;
    frame_touches = frame_touches || model.hull[k].frame;
  }
}

void World::Impl::check_finite() const {
  const auto bad = [](double x) { return !(std::abs(x) < 1e5); };
  const Vec3 v = from(body->getBaseVel()), w = from(body->getBaseOmega());
  const char* part = nullptr;
  double value = 0;
  const char* quantity = "speed";
  for (int k = 0; k < 3; ++k) {
    if (bad(v[k])) part = "chassis", value = v[k];
    if (bad(w[k])) part = "chassis", value = w[k], quantity = "turning rate";
  }
  for (int k = 0; k < body->getNumLinks(); ++k) {
    if (!bad(body->getJointVel(k))) continue;
    value = body->getJointVel(k);
    quantity = "turning rate";
    part = k == axle_link ? "front axle" : k == boom_link ? "loader boom" : "wheel";
    for (std::size_t i = 0; i < kWheels; ++i)
      if (k == liquid_link[i]) part = "liquid in a tyre";
  }
  if (part) throw Diverged(fmt::format("diverged: {} {} is {:.3g} at {:.3f} s", part, quantity, value, time));
}

// Visits every body with its mass properties, its pose and the motion of its own origin.
template <class Visit>
void World::Impl::each_body(const Motion& m, Visit&& visit) const {
  visit(base, m.X_GV, m.v_V, m.w_V);
  if (axle_link >= 0) visit(axle, m.X_GA, m.v_A, m.w_A);
  for (std::size_t i = 0; i < kWheels; ++i) {
    const Hub h = hub(m, i);
    const Mat3& R = i < 2 ? m.X_GA.R : m.X_GV.R;
    if (wheel_link[i] >= 0)  // a frozen fill turns with it, out of the middle
      visit(model.wheels[i].dry, Pose{R * about_y(body->getJointPos(wheel_link[i])), h.centre}, h.v,
            h.w + spin_rate(i) * h.axle);
    if (liquid_link[i] >= 0) {
      const LiquidLump& liquid = model.wheels[i].liquid;
      visit(liquid_body(liquid), Pose{R * about_y(body->getJointPos(liquid_link[i])), h.centre}, h.v,
            h.w + body->getJointVel(liquid_link[i]) * h.axle);
    }
  }
  if (boom_link >= 0) {
    const Pose X = boom_pose(m);
    visit(model.loader.boom, X, m.v_V + glm::cross(m.w_V, X.p - m.X_GV.p),
          m.w_V - body->getJointVel(boom_link) * m.X_GV.R[1]);
  }
}

Vec3 World::Impl::centre_of_gravity(const Motion& m) const {
  Vec3 sum_of(0.0);
  each_body(m, [&](const MassProperties& props, const Pose& X, const Vec3&, const Vec3&) {
    sum_of += props.mass * (X * props.com);
  });
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (liquid_link[i] < 0) continue;
    Vec3 hanging;
    const Vec3 truly =
        liquid_centroid(hub(m, i), i, body->getJointPos(liquid_link[i]), i < 2 ? m.X_GA : m.X_GV, hanging);
    sum_of += model.wheels[i].liquid.mass * (truly - hanging);
  }
  return sum_of / mass;
}

double World::Impl::kinetic_energy(const Motion& m) const {
  double energy = 0;
  each_body(m, [&](const MassProperties& props, const Pose& X, const Vec3& v, const Vec3& w) {
    const Vec3 v_com = v + glm::cross(w, X.R * props.com);
    const Vec3 w_body = glm::transpose(X.R) * w;
    energy += 0.5 * props.mass * glm::dot(v_com, v_com) + 0.5 * glm::dot(w_body, props.inertia * w_body);
  });
  return energy;
}

void World::Impl::fill_state() const {
  const Motion m = motion();
  State& s = state;
  s.time = time;
  s.slope = slope;
  s.X_GV = m.X_GV;
  s.v_G = m.v_V;
  s.w_G = m.w_V;
  s.axle_angle = m.axle_angle;
  s.axle_rate = m.axle_rate;
  s.boom_angle = model.loader.fitted ? model.loader.angle + (boom_link >= 0 ? body->getJointPos(boom_link) : 0.0) : 0.0;
  for (std::size_t i = 0; i < kWheels; ++i) {
    const Hub h = hub(m, i);
    WheelState& w = s.wheels[i];
    w.centre_G = h.centre;
    w.axle_G = h.axle;
    w.spin_angle = spin_angle(i);
    w.spin_rate = spin_rate(i);
    w.load = force[i].load;
    w.contact_G = contact[i].point_G;
    w.force_G = force[i].load * contact[i].normal_G + force[i].along * contact[i].forward_G +
                force[i].across * contact[i].left_G;
    w.sliding = force[i].sliding;
    w.liquid_swing = liquid_link[i] >= 0 ? body->getJointPos(liquid_link[i]) : 0.0;
    w.liquid_G = h.centre;
    if (liquid_link[i] >= 0) {
      Vec3 hanging;
      w.liquid_G = liquid_centroid(h, i, w.liquid_swing, i < 2 ? m.X_GA : m.X_GV, hanging);
    }
  }
  s.centre_of_gravity_G = centre_of_gravity(m);
  s.on_stop = on_stop;
  s.hull_touches = hull_touches;
  s.frame_touches = frame_touches;
  s.kinetic_energy = kinetic_energy(m);
  stale = false;
}

World::World(const Model& model, const Pose& X_GV, double axle_angle) : impl_(std::make_unique<Impl>()) {
  impl_->model = model;
  impl_->slope = model.terrain.slope;
  impl_->build_bodies(X_GV, axle_angle);
  // The contacts of the first picture, before any step.
  const Impl::Motion m = impl_->motion();
  for (std::size_t i = 0; i < kWheels; ++i) {
    const Impl::Hub h = impl_->hub(m, i);
    impl_->contact[i] = tyre_contact(model.terrain, h.centre, h.axle, model.wheels[i].tyre.radius);
    impl_->force[i].load = std::max(0.0, model.wheels[i].tyre.vertical_stiffness * impl_->contact[i].penetration);
  }
}

World::~World() = default;
World::World(World&&) noexcept = default;
World& World::operator=(World&&) noexcept = default;

void World::settle(const Rest& rest) { impl_->settle(rest); }

void World::step(const Input& input) {
  Impl& w = *impl_;
  w.slope = input.slope;
  w.body->clearForcesAndTorques();
  const Impl::Motion m = w.motion();
  w.apply_gravity(m);
  w.apply_tyres(m, input);
  w.apply_stop(m);
  w.apply_driver(m, input);
  w.apply_boom(m, input);
  w.apply_hull(m);
  w.body->computeAccelerationsArticulatedBodyAlgorithmMultiDof(w.model.time_step, w.scratch_r, w.scratch_v, w.scratch_m,
                                                               false, false, false);
  w.body->stepPositionsMultiDof(w.model.time_step);
  w.time = static_cast<double>(++w.steps) * w.model.time_step;
  w.stale = true;
  w.check_finite();
}

const State& World::state() const {
  if (impl_->stale) impl_->fill_state();
  return impl_->state;
}

double World::potential_energy() const {
  const Impl& w = *impl_;
  const State& s = state();
  double energy = -w.mass * glm::dot(w.gravity_G(), s.centre_of_gravity_G);
  for (std::size_t i = 0; i < kWheels; ++i) {
    const TyreLaw& tyre = w.model.wheels[i].tyre;
    energy += radial_energy(tyre, w.contact[i].penetration) +
              0.5 * tyre.lateral_stiffness * w.bristle[i].across * w.bristle[i].across;
  }
  const double beyond = std::max(0.0, std::abs(s.axle_angle) - w.model.stop_angle);
  return energy + 0.5 * w.model.stop_stiffness * beyond * beyond;
}

void World::set_velocity(Vec3 v_G, Vec3 w_G) {
  Impl& w = *impl_;
  const Impl::Motion m = w.motion();
  w.body->setBaseOmega(bt(w_G));
  w.body->setBaseVel(bt(v_G + glm::cross(w_G, m.X_GV.R * w.base.com)));
  w.stale = true;
}

}  // namespace sidehill
