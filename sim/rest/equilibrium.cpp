#include <algorithm>
#include <cmath>

#include "sim/base/attitude.h"
#include "sim/model/placed.h"
#include "sim/model/tyre_force.h"
#include "sim/rest/equilibrium_parts.h"

namespace sidehill {

double stiffness_at_rest(const TyreLaw& tyre) { return std::min(tyre.vertical_stiffness, 1e10); }

namespace {

// A pivoting axle whose wheels both hang free has no preferred angle; this much spring [N m/rad] gives it one and is
// far below any real moment.
constexpr double kAxleCentring = 1.0;

// Shares of an axle's lengthwise or side force, in proportion to load and smooth while a load passes zero. A touching
// wheel counts as carrying a ten-millionth of the weight more than it does, so that the shares stay defined while
// all of an axle's load vanishes.
std::array<double, 2> shares(double weight, const std::array<double, 2>& load, const std::array<bool, 2>& touching) {
  const double least = 1e-7 * weight;
  std::array<double, 2> part{};
  for (std::size_t i = 0; i < 2; ++i) part[i] = touching[i] ? load[i] + least : 0;
  const double sum = part[0] + part[1];
  if (std::abs(sum) < 1e-9 * weight) return {0.5, 0.5};
  return {part[0] / sum, part[1] / sum};
}

Mat3 turn(const Vec3& w) {
  const double angle = glm::length(w);
  if (angle < 1e-14) return Mat3(1.0) + Mat3(0, w.z, -w.y, -w.z, 0, w.x, w.y, -w.x, 0);
  return glm::mat3_cast(glm::angleAxis(angle, w / angle));
}

Vec3 turn_vector(const Mat3& R) {  // inverse of turn()
  const Quat q = glm::quat_cast(R);
  const Vec3 v(q.x, q.y, q.z);
  const double s = glm::length(v);
  if (s < 1e-14) return 2.0 * v;
  return v / s * 2.0 * std::atan2(q.w < 0 ? -s : s, std::abs(q.w));
}

// Place of a tyre's liquid for the hub's attitude: hanging towards gravity, moved to the lower side as the wheel leans.
Vec3 liquid_place_G(const LiquidLump& liquid, const Vec3& centre_G, const Vec3& axle_G, const Vec3& down_G) {
  const double along = glm::dot(axle_G, down_G);
  const Vec3 in_plane = down_G - along * axle_G;
  const double length = glm::length(in_plane);
  const LiquidPlace place = lookup(liquid.table, std::asin(std::min(1.0, std::abs(along))));
  const Vec3 plane_down = length > 1e-9 ? in_plane / length : Vec3(0.0);
  return centre_G - place.z * plane_down + std::copysign(place.y, along) * axle_G;
}

bool on_casters(const EquilibriumSystem& system) { return system.model->wheels[kFrontLeft].tyre.swivels; }

// Lengthwise force of the held rear wheels: in proportion to load, plus the couple a yawed machine feels because each
// tyre's lengthwise stiffness grows with its load. Where tyres hold evenly that stiffness is one whatever the load.
void share_hold(const EquilibriumSystem& system, const TrialPose& trial, std::array<WheelForces, kWheels>& wheels) {
  WheelForces* const pair[] = {&wheels[kRearLeft], &wheels[kRearRight]};
  auto part = shares(system.weight, {pair[0]->load, pair[1]->load}, {pair[0]->touches, pair[1]->touches});
  const bool evenly = system.model->wheels[kRearLeft].tyre.holds_evenly;
  if (evenly && pair[0]->touches && pair[1]->touches) part = {0.5, 0.5};
  if (on_casters(system)) {
    // The front holds nothing sideways, so the rear wheels' couple keeps the heading. Beyond the slope that slides it
    // is held all the same, as everything is, down to the last load and past it; not before both have come down.
    const double stiffness = system.model->wheels[kRearLeft].tyre.longitudinal_stiffness;
    const bool down = system.took_hold[kRearLeft] && system.took_hold[kRearRight];
    const double bent = down ? 0.5 * stiffness * (pair[0]->along - pair[1]->along) : 0;
    const double couple = system.laterally_rigid ? trial.side[0] : bent;
    pair[0]->held = trial.hold * part[0] - couple;
    pair[1]->held = trial.hold * part[1] + couple;
    return;
  }
  double moved = 0;
  for (std::size_t i = 0; i < 2; ++i) moved += part[i] * pair[i]->along;
  for (std::size_t i = 0; i < 2; ++i) {
    const TyreLaw& tyre = system.model->wheels[kRearLeft + i].tyre;
    const double bearing = evenly ? (pair[i]->touches ? 1.0 : 0.0) : pair[i]->load / tyre.reference_load;
    pair[i]->held = trial.hold * part[i] - tyre.longitudinal_stiffness * bearing * (pair[i]->along - moved);
  }
}

// Ground that is taken to hold without limit.
bool endless(const EquilibriumSystem& system) {
  return system.model->terrain.soil.adhesion_unlimited || system.endless_grip;
}

// The most a tyre holds along the ground [N]: its adhesion. On ground that holds without limit a touching tyre holds
// whatever its load, or next to nothing once its load is gone.
double most_held(const EquilibriumSystem& system, const WheelForces& wheel) {
  constexpr double kEndless = 10;  // force over load: far above any soil, and gone with the load
  const Soil& soil = system.model->terrain.soil;
  const double adhesion = endless(system) ? kEndless : std::max(system.grip, soil.adhesion);
  return adhesion * std::max(0.0, wheel.load);
}

// Cuts a tyre's force along the ground back to what it can hold; returns the lengthwise part that is lost [N].
double cut_to(double most, double ratio, WheelForces& wheel, double& room) {
  const double wanted = std::hypot(wheel.held, wheel.across / ratio);
  const double part = wanted > most ? most / wanted : 1.0, lost = (1 - part) * wheel.held;
  room = most - part * wanted;
  wheel.held *= part;
  wheel.across *= part;
  return lost;
}

// Side force of each tyre by its bend since it took hold. Within adhesion: along and across together no more than each
// tyre can hold; what one rear tyre cannot hold lengthwise the other has to. On casters the rear tyre that is nearer to
// its limit is cut first: what it does not hold of the couple its neighbour does not feel.
void bend_sideways(const EquilibriumSystem& system, std::array<WheelForces, kWheels>& wheels) {
  const double ratio = system.model->terrain.soil.adhesion_across_ratio;
  std::array<double, kWheels> room{}, stiffness{};
  for (std::size_t i = 0; i < kWheels; ++i) {
    WheelForces& wheel = wheels[i];
    const TyreLaw& tyre = system.model->wheels[i].tyre;
    if (!wheel.touches || !system.took_hold[i] || tyre.swivels) continue;
    stiffness[i] = wheel.carrying * tyre.lateral_stiffness;
    if (tyre.holds_by_load) stiffness[i] *= std::max(1e-3, wheel.load / (wheel.carrying * tyre.reference_load));
    wheel.across = -stiffness[i] * wheel.aside;
  }
  double left_over = 0;
  if (system.within_adhesion) {
    const bool pair = on_casters(system) && stiffness[kRearLeft] > 0 && stiffness[kRearRight] > 0;
    const auto over = [&](std::size_t i) {
      return std::hypot(wheels[i].held, wheels[i].across / ratio) / std::max(1.0, most_held(system, wheels[i]));
    };
    std::array<std::size_t, kWheels> order{0, 1, 2, 3};
    if (pair && over(kRearRight) > over(kRearLeft)) std::swap(order[2], order[3]);
    for (std::size_t i : order) {
      if (!(stiffness[i] > 0)) continue;
      if (on_casters(system) && endless(system)) {  // its heading is held as well
        const double held = wheels[i].held;
        cut_to(most_held(system, wheels[i]), ratio, wheels[i], room[i]);
        wheels[i].held = held;
        continue;
      }
      const double lost = cut_to(most_held(system, wheels[i]), ratio, wheels[i], room[i]);
      (pair && i == order[2] ? wheels[order[3]].held : left_over) += lost;
    }
  }
  for (std::size_t i = 0; i < kWheels; ++i)
    if (stiffness[i] > 0) wheels[i].bend = -wheels[i].across / stiffness[i];
  if (left_over == 0) return;
  const double both = room[kRearLeft] + room[kRearRight];
  for (std::size_t i : {std::size_t{kRearLeft}, std::size_t{kRearRight}})
    wheels[i].held += left_over * (both > 0 ? room[i] / both : 0.5);
}

// Side force of each axle, in proportion to load (on even ground the sharing makes no difference: one line of action).
void share_side(const EquilibriumSystem& system, const TrialPose& trial, std::array<WheelForces, kWheels>& wheels) {
  for (std::size_t axle = on_casters(system) ? 1 : 0; axle < 2; ++axle) {
    WheelForces &left = wheels[2 * axle], &right = wheels[2 * axle + 1];
    const auto part = shares(system.weight, {left.load, right.load}, {left.touches, right.touches});
    left.across = trial.side[axle] * part[0];
    right.across = trial.side[axle] * part[1];
  }
}

// Squared radii of gyration about the chassis' own axes, as of a usual tractor, and of the front axle, spread over the
// whole weight; they only shape the way down [m2].
const Vec3 kGyration(0.45, 1.0, 1.0);
constexpr double kAxleGyration = 0.05;

// The hand's part: a force at the centre of gravity, and a moment.
void support(const EquilibriumSystem& system, const TrialPose& trial, Forces& out) {
  const double stiffness = system.hand.stiffness * system.weight;
  const Vec3 force = -stiffness * (out.com - system.hand.centre_G);
  const Vec3 turned = glm::transpose(system.R_start) * turn_vector(trial.X_GV.R * glm::transpose(system.hand.R_GV));
  out.sum += force;
  out.joint -= kAxleGyration * stiffness * (trial.axle_angle - system.hand.axle_angle);
  out.moment += glm::cross(out.com - trial.X_GV.p, force) - stiffness * (system.R_start * (kGyration * turned));
}

// The contact of a wheel that has moved a little, on the plane that touches the ground there.
HubContact on_its_plane(const WheelForces& before, const WheelForces& now, double radius) {
  const auto rim = [&](const WheelForces& wheel) {  // the disc's point farthest towards the plane
    const Vec3& n = before.hub.contact.normal_G;
    const Vec3 up = n - glm::dot(n, wheel.axle_G) * wheel.axle_G;
    return wheel.centre_G - radius / std::max(1e-6, glm::length(up)) * up;
  };
  HubContact hub = before.hub;
  TyreContact& contact = hub.contact;
  const Vec3 shift = rim(now) - rim(before);
  contact.penetration -= glm::dot(shift, contact.normal_G);
  contact.lowest_G += shift;
  hub.middle_G += shift;
  contact.point_G = contact.lowest_G + contact.penetration * contact.normal_G;
  set_directions(contact, now.axle_G);
  return hub;
}

}  // namespace

Forces forces_at(const EquilibriumSystem& system, const TrialPose& trial, const Known& known) {
  const Model& m = *system.model;
  Forces out;
  const Vec3 g = m.gravity * down_G(trial.slope) + system.inertial_G;
  const Vec3 down = g / glm::length(g);  // what the liquid takes for down
  const Mat3& R = trial.X_GV.R;
  const PlacedMachine machine = placed(m, trial.X_GV, trial.axle_angle);
  const Vec3& pin = machine.X_GA.p;
  const Vec3 pin_axis = R[0];
  double mass = 0;
  const auto weigh = [&](double lump, const Vec3& at, bool on_axle) {
    if (lump <= 0) return;
    const Vec3 f = lump * g;
    out.sum += f;
    out.moment += glm::cross(at - trial.X_GV.p, f);
    out.com += lump * at;
    out.energy -= glm::dot(f, at);
    mass += lump;
    if (on_axle) out.joint += glm::dot(glm::cross(at - pin, f), pin_axis);
  };
  weigh(system.chassis_mass, trial.X_GV * system.chassis_com, false);
  weigh(system.axle_mass, pin + machine.X_GA.R * system.axle_com, true);
  if (m.rope_load.mass > 0) weigh(m.rope_load.mass, rope_load_place(m.rope_load, trial.X_GV, down), false);
  if (m.tank_liquid.mass > 0) weigh(m.tank_liquid.mass, tank_liquid_place(m.tank_liquid, trial.X_GV, down), false);
  if (m.trailer.mass > 0) {
    const Vec3 f = trailer_pull(m, R, g), hitch = trial.X_GV * m.hitch;
    out.sum += f;
    out.moment += glm::cross(hitch - trial.X_GV.p, f);
    out.energy -= glm::dot(f, hitch);
  }
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& model = m.wheels[i];
    WheelForces& wheel = out.wheels[i];
    wheel.centre_G = machine.X_GH[i].p;
    wheel.axle_G = machine.X_GH[i].R[1];
    if (known.wheel[i] && known.moved[i])
      wheel.hub = on_its_plane(*known.wheel[i], wheel, model.tyre.radius);
    else if (known.wheel[i])
      wheel.hub = known.wheel[i]->hub;
    else
      wheel.hub = hub_contact(m.terrain, wheel.centre_G, wheel.axle_G, model.tyre.radius,
                              is_left(static_cast<int>(i)) ? model.dual : -model.dual,
                              system.uneven[i] ? Footprint::sampled : Footprint::automatic);
    wheel.contact = wheel.hub.contact;
    TyreContact& contact = wheel.contact;
    wheel.carrying = wheel.hub.carrying;
    wheel.touches = system.one_sided ? contact.penetration > 0 : trial.touching[i];
    if (wheel.touches) wheel.load = stiffness_at_rest(model.tyre) * contact.penetration;
    wheel.along = glm::dot(wheel.centre_G - system.held_at[i], contact.forward_G);
    wheel.aside = glm::dot(wheel.hub.middle_G - system.reference[i], contact.left_G);
    if (model.liquid.mass > 0) {
      wheel.liquid_G = liquid_place_G(model.liquid, wheel.centre_G, wheel.axle_G, down);
      weigh(model.liquid.mass, wheel.liquid_G, model.on_axle);
    }
  }
  share_hold(system, trial, out.wheels);
  if (system.laterally_rigid)
    share_side(system, trial, out.wheels);
  else
    bend_sideways(system, out.wheels);
  for (std::size_t i = 0; i < kWheels; ++i) {
    WheelForces& wheel = out.wheels[i];
    TyreContact& contact = wheel.contact;
    const TyreLaw& tyre = m.wheels[i].tyre;
    wheel.force_G = wheel.load * contact.normal_G + wheel.across * contact.left_G + wheel.held * contact.forward_G;
    if (wheel.touches) out.energy += 0.5 * wheel.load * contact.penetration - 0.5 * wheel.across * wheel.bend;
    // Bending is measured where the tyre touches; where its load acts across the width only moves the force.
    contact.point_G += load_moved(tyre, wheel.bend, wheel.axle_G, down) * contact.left_G;
    out.sum += wheel.force_G;
    out.moment += glm::cross(contact.point_G - trial.X_GV.p, wheel.force_G);
    if (m.wheels[i].on_axle) out.joint += glm::dot(glm::cross(contact.point_G - pin, wheel.force_G), pin_axis);
  }
  double beyond = trial.stop != 0 ? trial.axle_angle - trial.stop * m.stop_angle : 0;
  if (system.one_sided) beyond = beyond_stop(m, trial.axle_angle);
  out.joint -= m.stop_stiffness * beyond + kAxleCentring * trial.axle_angle;
  out.energy += 0.5 * m.stop_stiffness * beyond * beyond;
  out.moment += trial.moment * trial.moment_axis;
  if (mass > 0) out.com /= mass;
  if (system.hand.stiffness > 0) support(system, trial, out);
  return out;
}

double slack(const EquilibriumSystem& system, const TrialPose& trial, const Forces& f, const ContactChange& change) {
  const Model& m = *system.model;
  if (change.stop != 0) return (trial.stop == change.stop ? -1 : 1) * (m.stop_angle - change.stop * trial.axle_angle);
  const WheelForces& wheel = f.wheels[change.wheel];
  return (trial.touching[change.wheel] ? wheel.load
                                       : -wheel.contact.penetration * stiffness_at_rest(m.wheels[change.wheel].tyre)) /
         system.weight;
}

// Scaled so that every entry is of order one. `f`: the forces at `trial`.
Vector residual(const EquilibriumSystem& system, const Question& question, const TrialPose& trial, const Forces& f) {
  Vector r;
  r << f.sum.x, f.sum.y, f.sum.z, f.moment.x, f.moment.y, f.moment.z, f.joint, 0;
  r /= system.weight;
  if (system.model->axle_kind == AxleKind::fixed) r[6] = trial.axle_angle;
  if (question.sought == Sought::slope_at_change)
    r[7] = slack(system, trial, f, question.change);
  else if (question.sought != Sought::pose_at_slope)
    r[7] = tilt_of(question.about, trial) - question.tilt;
  return r;
}

// Steps: across and up [m], three turns [rad], axle [rad], hold [weight], slope [rad] or moment [weight x m]; laterally
// rigid: the axles' side forces [weight] in place of "across" and of the turn about z.
TrialPose stepped(const EquilibriumSystem& system, const Question& question, const TrialPose& trial, const Vector& d) {
  TrialPose next = trial;
  next.X_GV.p.z += d[1];
  if (system.laterally_rigid) {
    next.side[0] += d[0] * system.weight;
    next.side[1] += d[4] * system.weight;
    next.X_GV.R = turn({d[2], d[3], 0}) * trial.X_GV.R;
    // Two turns about level axes leave a little of a third behind; the heading stays put.
    const Vec3 &was = system.R_start[0], &now = next.X_GV.R[0];
    next.X_GV.R = about_z(-std::atan2(was.x * now.y - was.y * now.x, was.x * now.x + was.y * now.y)) * next.X_GV.R;
  } else {
    next.X_GV.p += d[0] * system.R_start[1];
    next.X_GV.R = turn({d[2], d[3], d[4]}) * trial.X_GV.R;
  }
  next.axle_angle += d[5];
  next.hold += d[6] * system.weight;
  if (question.sought != Sought::pose_at_slope && question.sought != Sought::moment_at_tilt) next.slope += d[7];
  if (question.sought == Sought::moment_at_tilt) next.moment += d[7] * system.weight;
  return next;
}

// What a hand of stiffness 1 [weights/m] adds to the slopes of the residual: see support. The liquid's flow is left
// out.
Matrix slopes_of_hand(const EquilibriumSystem& system, const TrialPose& trial, const Forces& f) {
  Matrix slopes = Matrix::Zero();
  const Vec3 lever = f.com - trial.X_GV.p;
  const auto column = [&](int k, const Vec3& moves, const Vec3& turns) {
    const Vec3 moment =
        glm::cross(lever, moves) + system.R_start * (kGyration * (glm::transpose(system.R_start) * turns));
    for (int i = 0; i < 3; ++i) {
      slopes(i, k) = -moves[i];
      slopes(i + 3, k) = -moment[i];
    }
  };
  if (!system.laterally_rigid) column(0, system.R_start[1], Vec3(0.0));
  column(1, {0, 0, 1}, Vec3(0.0));
  for (int axis = 0; axis < (system.laterally_rigid ? 2 : 3); ++axis) {
    Vec3 turns(0.0);
    turns[axis] = 1;
    column(2 + axis, glm::cross(turns, lever), turns);
  }
  if (system.model->axle_kind != AxleKind::fixed) slopes(6, 5) = -kAxleGyration;
  return slopes;
}

EquilibriumSystem make_system(const Model& m, const std::stop_token& unwanted) {
  EquilibriumSystem s;
  s.model = &m;
  s.unwanted = unwanted;
  MassProperties chassis = m.chassis, axle = m.axle;
  const auto add = [](MassProperties& to, const MassProperties& props, const Vec3& at) {
    if (props.mass > 0) to = combine(to, {props.mass, props.com + at, props.inertia});
  };
  if (m.loader.fitted) add(chassis, m.loader.boom, m.loader.pivot);
  double mass = m.rope_load.mass + m.tank_liquid.mass + std::min(m.trailer.drawbar_load, m.trailer.mass);
  s.laterally_rigid = true;
  for (std::size_t i = 0; i < kWheels; ++i) {
    s.laterally_rigid = s.laterally_rigid && m.wheels[i].tyre.laterally_rigid;
    const WheelModel& wheel = m.wheels[i];
    add(wheel.on_axle ? axle : chassis, wheel.dry, wheel.centre - (wheel.on_axle ? m.pin : Vec3(0.0)));
    mass += m.wheels[i].liquid.mass;
  }
  s.chassis_mass = chassis.mass;
  s.chassis_com = chassis.com;
  s.axle_mass = axle.mass;
  s.axle_com = axle.com;
  s.weight = (mass + chassis.mass + axle.mass) * m.gravity;
  for (const WheelModel& wheel : m.wheels)
    s.difference = std::min(s.difference, 1e-4 * s.weight / stiffness_at_rest(wheel.tyre));
  s.R_start = R_GV_at(m.start.heading);
  s.inertial_G = s.R_start * m.inertial_acceleration;
  const TrialPose start = start_trial(s);
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& wheel = m.wheels[i];
    const Vec3 hub = wheel.on_axle ? m.pin + axle_turn(m, 0) * (wheel.centre - m.pin) : wheel.centre;
    const Vec3 at =
        start.X_GV * (hub + Vec3(0, is_left(static_cast<int>(i)) ? 0.5 * wheel.dual : -0.5 * wheel.dual, 0));
    s.reference[i] = {at.x, at.y, 0};
    s.held_at[i] = start.X_GV * hub;
    s.uneven[i] = uneven_near(m.terrain, {at.x, at.y}, m.wheels[i].tyre.radius + 0.25);
  }
  return s;
}

TrialPose start_trial(const EquilibriumSystem& s) {
  TrialPose trial;
  const Model& m = *s.model;
  trial.X_GV = {s.R_start, {m.start.x, m.start.y, m.wheels[kRearLeft].tyre.radius}};
  return trial;
}

TrialPose on_the_line(const TrialPose& a, const TrialPose& b, double share) {
  TrialPose next = b;
  Quat between = glm::quat_cast(b.X_GV.R * glm::transpose(a.X_GV.R));
  if (between.w < 0) between = -between;
  const Vec3 v(between.x, between.y, between.z);
  const double length = glm::length(v), k = share - 1;
  if (length > 1e-14)
    next.X_GV.R = glm::mat3_cast(glm::angleAxis(2 * k * std::atan2(length, between.w), v / length)) * b.X_GV.R;
  next.X_GV.p += k * (b.X_GV.p - a.X_GV.p);
  next.axle_angle += k * (b.axle_angle - a.axle_angle);
  next.hold += k * (b.hold - a.hold);
  for (std::size_t i = 0; i < next.side.size(); ++i) next.side[i] += k * (b.side[i] - a.side[i]);
  next.slope += k * (b.slope - a.slope);
  return next;
}

Rest rest_of(const EquilibriumSystem& system, const TrialPose& trial) {
  const Forces f = forces_at(system, trial);
  Rest rest;
  rest.X_GV = trial.X_GV;
  rest.axle_angle = trial.axle_angle;
  rest.slope = trial.slope;
  rest.centre_of_gravity_G = f.com;
  for (std::size_t i = 0; i < kWheels; ++i) {
    rest.load[i] = f.wheels[i].load;
    rest.contact_G[i] = f.wheels[i].contact.point_G;
    rest.force_G[i] = f.wheels[i].force_G;
    rest.turned[i] = system.model->wheels[i].turned;
    rest.liquid_G[i] = system.model->wheels[i].liquid.mass > 0 ? f.wheels[i].liquid_G : f.wheels[i].centre_G;
  }
  return rest;
}

int stop_borne(const Model& model, double axle_angle) {
  const double beyond = beyond_stop(model, axle_angle);
  return beyond > 0 ? 1 : beyond < 0 ? -1 : 0;
}

std::array<WheelAt, kWheels> wheels_at(const EquilibriumSystem& system, const TrialPose& trial, Vec3* centre_G) {
  const Forces f = forces_at(system, trial);
  if (centre_G) *centre_G = f.com;
  std::array<WheelAt, kWheels> at;
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelForces& w = f.wheels[i];
    const TyreContact& c = w.contact;
    at[i] = {w.centre_G, w.hub.middle_G, c.normal_G, c.left_G, c.penetration,
             w.load,     w.across,       w.held,     w.aside,  w.bend};
  }
  return at;
}

std::array<double, kWheels + 2> contact_slacks(const EquilibriumSystem& system, const TrialPose& trial) {
  const Forces f = forces_at(system, trial);
  std::array<double, kWheels + 2> left{};
  for (std::size_t i = 0; i < left.size(); ++i) {
    const bool no_stop = kContactChanges[i].stop != 0 && system.model->axle_kind == AxleKind::fixed;
    left[i] = no_stop ? 1e9 : slack(system, trial, f, kContactChanges[i]);
  }
  return left;
}

double tilt_of(const TiltAxis& about, const TrialPose& trial) {
  return glm::dot(turn_vector(trial.X_GV.R * glm::transpose(about.R_zero)), about.axis_G);
}

double potential_energy(const EquilibriumSystem& system, const TrialPose& trial) {
  return forces_at(system, trial).energy;
}

}  // namespace sidehill
