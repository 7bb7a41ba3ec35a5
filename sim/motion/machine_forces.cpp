#include "sim/motion/machine_forces.h"

#include <algorithm>
#include <cmath>

#include "sim/model/placed.h"
#include "sim/motion/acting.h"

namespace sidehill {
namespace {

constexpr double kBoomRate = 60, kBucketRate = 80;  // of boom and bucket on their rams [rad/s]
constexpr double kSloshDamping = 0.05;              // share of critical, our estimate [-]
constexpr double kSwingDamping = 0.01;              // of a load on a rope, our estimate [-]

void liquids(Acting& a) {
  for (std::size_t i = 0; i < kWheels; ++i) {
    const int body = a.machine.liquid[i];
    if (body < 0) continue;
    const LiquidLump& liquid = a.model.wheels[i].liquid;
    const LiquidNow& place = a.now.liquid[i];
    a.out.moment[static_cast<std::size_t>(body)] +=
        glm::cross(place.truly - place.hanging, a.moment.specific_force * liquid.mass * a.out.gravity);
    const double about_axle = liquid.mass * liquid.gyration_squared;
    const double rate = std::sqrt(a.model.gravity * liquid.depth / std::max(liquid.gyration_squared, 1e-6));
    // Losses inside the liquid; a tyre turning around it drags it along far less.
    a.torque(body) -= 2 * kSloshDamping * rate * about_axle * a.rate(body);
  }
  if (a.machine.tank >= 0) {
    const HangingMass& liquid = a.model.tank_liquid;
    const double rate = std::sqrt(a.model.gravity * liquid.length / std::max(liquid.gyration_squared, 1e-6));
    a.torque(a.machine.tank) -=
        2 * kSloshDamping * rate * liquid.mass * liquid.gyration_squared * a.rate(a.machine.tank);
  }
  if (a.machine.load >= 0) {
    const HangingMass& load = a.model.rope_load;
    const double rate = std::sqrt(a.model.gravity / load.length), about = load.mass * load.length * load.length;
    for (int body : {a.machine.rope, a.machine.load}) a.torque(body) -= 2 * kSwingDamping * rate * about * a.rate(body);
  }
}

// One tyre on the ground: its force, put on wheel and carrier.
void tyre(Acting& a, std::size_t i, const Hub& hub, double outward, Bristle& bristle, TyreContact& c,
          TyreForce& force) {
  const Model& model = a.model;
  const TyreLaw& law = model.wheels[i].tyre;
  const int spinning = a.machine.wheel[i];
  const Vec3 centre = hub.centre + outward * hub.axle;
  c = tyre_contact(model.terrain, centre, hub.axle, law.radius, a.input.ground_lift[i]);
  const Vec3 v = hub.v + glm::cross(hub.w, c.lowest_G - hub.centre);
  ContactMotion there;
  there.closing = -glm::dot(v, c.normal_G) + a.input.ground_lift_rate[i] * c.normal_G.z;
  there.forward = glm::dot(v, c.forward_G);
  there.left = glm::dot(v, c.left_G);
  if (spinning >= 0) {
    // What rolls is the wheel's turning in all, not that against a chassis which pitches about it.
    const double pitches = glm::dot(hub.w, hub.axle);
    there.forward -= glm::dot(glm::cross(pitches * hub.axle, c.lowest_G - hub.centre), c.forward_G);
    there.rim_speed = (a.rate(spinning) + pitches) * (law.radius - std::max(0.0, c.penetration));
  }
  force = tyre_force(law, model.terrain.soil, c, there, model.time_step, bristle);
  if (force.load <= 0 && force.along == 0 && force.across == 0) return;
  c.point_G += load_moved(law, bristle.across, hub.axle, a.out.gravity / model.gravity) * c.left_G;
  const Vec3 f = force.load * c.normal_G + force.along * c.forward_G + force.across * c.left_G;
  const int carries = carrier(a.machine, i);
  if (spinning < 0) {
    a.out.push(carries, c.point_G, f);
    return;
  }
  // About its own axle a tyre turns the wheel by what acts along and across, not by its load: that passes through the
  // axle of a round thing, and the arm it seems to have on a kerb or a wheel that lies is an artefact of where it is
  // said to act, which would spin a free wheel for ever. Lying, the arm is the one its rim speed is calculated with.
  // While it stands, the load's arm turns what carries the wheel, as it does at rest; so does all about the other axes.
  // A steered wheel's hinge is not turned with it, so the two are treated apart here.
  const Vec3 arm = c.point_G - hub.centre, about_hub = glm::cross(arm, f);
  constexpr double kLies = 0.7;  // sine of its lean
  const bool lies = std::abs(glm::dot(hub.axle, c.normal_G)) > kLies;
  const double spin = lies ? -force.along * (law.radius - std::max(0.0, c.penetration))
                           : glm::dot(glm::cross(arm, f - force.load * c.normal_G), hub.axle);
  a.out.push(spinning, hub.centre, f);
  a.out.moment[static_cast<std::size_t>(spinning)] += spin * a.body(spinning).axis;
  a.out.moment[static_cast<std::size_t>(carries)] +=
      about_hub - (lies ? glm::dot(about_hub, hub.axle) : spin) * hub.axle;
  // Rolling resistance turns against the rolling; smooth through standstill so that a parked wheel feels none. It is
  // the ground's, which carries ahead of the hub: nothing of it goes into the chassis.
  const double resistance = model.terrain.soil.rolling_resistance * force.load * law.radius;
  a.out.moment[static_cast<std::size_t>(spinning)] -=
      resistance * std::tanh(there.rim_speed / 0.05) * a.body(spinning).axis;
}

void tyres(Acting& a) {
  for (std::size_t i = 0; i < kWheels; ++i) {
    const Hub hub = hub_of(a.model, a.machine, a.moment, a.now, i);
    TyreContact& contact = a.moment.contact[i];
    TyreForce& force = a.moment.force[i];
    tyre(a, i, hub, 0, a.moment.bristle[i], contact, force);
    const double dual = a.model.wheels[i].dual;
    if (dual == 0) continue;
    TyreContact outer_contact;
    TyreForce outer;
    tyre(a, i, hub, is_left(static_cast<int>(i)) ? dual : -dual, a.moment.bristle[kWheels + i], outer_contact, outer);
    const double both = force.load + outer.load;
    if (both > 0) contact.point_G += outer.load / both * (outer_contact.point_G - contact.point_G);
    contact.penetration = std::max(contact.penetration, outer_contact.penetration);
    force.load = both;
    force.along += outer.along;
    force.across += outer.across;
    force.sliding = force.sliding || outer.sliding;
  }
}

// How much of its weight the ground bears; in the air the liquid has no side to move to.
void feel(Acting& a) {
  Vec3 ground(0.0);
  for (std::size_t i = 0; i < kWheels; ++i) {
    const TyreContact& c = a.moment.contact[i];
    const TyreForce& f = a.moment.force[i];
    ground += f.load * c.normal_G + f.along * c.forward_G + f.across * c.left_G;
  }
  const double weight = tree_mass(a.machine.tree) * a.model.gravity * a.model.gravity;
  a.moment.specific_force = weight > 0 ? std::clamp(-glm::dot(ground, a.out.gravity) / weight, 0.0, 1.0) : 0.0;
}

void axle_stop(Acting& a) {
  const int axle = a.machine.axle;
  if (axle < 0) return;
  const double angle = a.angle(axle), beyond = std::abs(beyond_stop(a.model, angle));
  a.moment.on_stop = beyond > 0;
  if (!a.moment.on_stop) return;
  const double side = angle > 0 ? 1 : -1;
  // The stop pushes, never pulls.
  a.torque(axle) -= side * std::max(0.0, a.model.stop_stiffness * beyond + a.model.stop_damping * side * a.rate(axle));
}

double about_y(const MassProperties& props) {
  return props.inertia[1][1] + props.mass * (props.com.x * props.com.x + props.com.z * props.com.z);
}

// The rams carry the weight as it hangs now; a spring only corrects, so that nothing sags.
void rams(Acting& a) {
  const int boom = a.machine.boom, bucket = a.machine.bucket;
  if (boom < 0) return;
  const LoaderModel& loader = a.model.loader;
  const double wanted = std::clamp(a.input.boom_angle, std::min(loader.min_angle, loader.angle),
                                   std::max(loader.max_angle, loader.angle));
  const double most = loader.lift_rate * a.model.time_step;
  double& goal = a.moment.boom_goal;
  const double onward = std::clamp(wanted - goal, -most, most), speed = onward / a.model.time_step;
  goal += onward;
  const Vec3 up_turn = -a.body(kChassis).R[1];  // the boom turns about this
  const BodyNow& b = a.body(boom);
  const auto weight_about = [&](int body, const Vec3& at) {
    const double mass = a.machine.tree.bodies[static_cast<std::size_t>(body)].props.mass;
    return glm::dot(glm::cross(a.body(body).com - at, mass * a.out.gravity), up_turn);
  };
  double carried = weight_about(boom, b.p);
  if (bucket >= 0) carried += weight_about(bucket, b.p);
  if (a.machine.load >= 0) {
    const Vec3 pin = a.body(a.machine.load).p;  // a rope pulls straight down at the pin
    carried += glm::dot(glm::cross(pin - b.p, a.model.rope_load.mass * a.out.gravity), up_turn);
  }
  a.torque(boom) += about_y(loader.boom) * (kBoomRate * kBoomRate * (goal - loader.angle - a.angle(boom)) +
                                            2 * 0.7 * kBoomRate * (speed - a.rate(boom))) -
                    carried;
  if (bucket < 0) return;
  const double level = a.angle(boom) + a.angle(bucket), turning = a.rate(boom) + a.rate(bucket);
  a.torque(bucket) -= weight_about(bucket, a.body(bucket).p) +
                      about_y(loader.bucket) * (kBucketRate * kBucketRate * level + 2 * 0.7 * kBucketRate * turning);
}

// The way the machine faces, along the ground.
Vec3 along_ground(const BodyNow& chassis) {
  const Vec3 flat(chassis.R[0].x, chassis.R[0].y, 0);
  return glm::length(flat) > 1e-6 ? glm::normalize(flat) : Vec3(1, 0, 0);
}

// No stiffer than the step bears for the lighter of the two. Our estimates.
struct Drawbar {
  double stiffness = 0, damping = 0;  // [N/m], [N s/m]
};
Drawbar drawbar(const Model& model, double machine_mass) {
  const double trailer = std::max(model.trailer.mass, 1.0), reduced = trailer * machine_mass / (trailer + machine_mass);
  const double rate = 0.3 / model.time_step;
  return {std::min(1.5e6, reduced * rate * rate), std::min(6e4, reduced * rate)};
}
constexpr double kRope = 4e5, kRopeDamping = 4e3;

void trailer(Acting& a) {
  const Trailer& t = a.model.trailer;
  if (!(t.mass > 0)) return;
  const BodyNow& chassis = a.body(kChassis);
  const Vec3 forward = along_ground(chassis), out = chassis.R * a.model.hitch;
  const double speed = glm::dot(chassis.v + glm::cross(chassis.w, out), forward);
  MachineState& m = a.moment;
  const double rolls = t.mass - t.drawbar_load;
  const double opening = speed - m.trailer_speed;
  m.trailer_gap += opening * a.model.time_step;
  const Drawbar bar = drawbar(a.model, tree_mass(a.machine.tree));
  const double pull = bar.stiffness * m.trailer_gap + bar.damping * opening;
  const Soil& soil = a.model.terrain.soil;
  const double borne = std::max(0.0, -rolls * a.out.gravity.z);  // by its own wheels
  const double braking = a.input.brake * t.braked * a.model.drive.braking * t.mass;
  const double against =
      soil.rolling_resistance * borne + (soil.adhesion_unlimited ? braking : std::min(braking, soil.adhesion * borne));
  const double gain = pull + rolls * glm::dot(a.out.gravity, forward) - against * std::tanh(m.trailer_speed / 0.05);
  m.trailer_speed += gain / std::max(t.mass, 1.0) * a.model.time_step;
  if (chassis.R[2].z < 0.3) return;  // on its side or back it has come off the hitch
  const Vec3 f = -pull * forward + t.drawbar_load * a.out.gravity;
  a.out.push(kChassis, chassis.p + out, f);
  m.pull = pull;
  m.hitch_force += f;
}

void rope(Acting& a) {
  MachineState& m = a.moment;
  if (a.input.rope < 0) {
    m.tied = false;
    return;
  }
  const BodyNow& chassis = a.body(kChassis);
  const Vec3 out = chassis.R * a.model.hitch, hitch = chassis.p + out;
  if (!m.tied) {
    const Vec3 at = hitch - a.input.rope * along_ground(chassis);
    m.stake_G = {at.x, at.y, ground_at(a.model.terrain, {at.x, at.y}).height};
    m.rope_length = glm::length(m.stake_G - hitch);
    m.tied = true;
  }
  const Vec3 to_stake = m.stake_G - hitch;
  const double length = glm::length(to_stake);
  if (!(length > m.rope_length) || !(length > 1e-6)) return;
  const Vec3 way = to_stake / length;
  const double stretching = -glm::dot(chassis.v + glm::cross(chassis.w, out), way);
  m.pull = std::max(0.0, kRope * (length - m.rope_length) + kRopeDamping * stretching);
  a.out.push(kChassis, hitch, m.pull * way);
  m.hitch_force += m.pull * way;
}

void hull(Acting& a) {
  MachineState& moment = a.moment;
  moment.hull_touches = moment.frame_touches = false;
  moment.hull_ago = moment.frame_ago = 0;
  double ceiling = 0.1;  // no ground is higher than this [m]
  for (const Feature& feature : a.model.terrain.features)
    ceiling += 2 * std::abs(feature.height);  // rough strips reach beyond theirs
  const LoaderModel& loader = a.model.loader;
  const Vec3 pin = bucket_pin(loader, loader.angle);
  for (std::size_t k = 0; k < a.model.hull.size(); ++k) {
    const HullPoint& point = a.model.hull[k];
    int on = kChassis;
    Vec3 place = point.place;
    if (point.on == HullPart::front_half && a.machine.front >= 0) {
      on = a.machine.front;
      place -= a.model.pin;
    } else if (point.on == HullPart::bucket && a.machine.boom >= 0) {
      on = a.machine.bucket >= 0 ? a.machine.bucket : a.machine.boom;
      place -= on == a.machine.bucket ? pin : a.model.loader.pivot;
    }
    const BodyNow& body = a.body(on);
    if (body.p.z + body.R[0].z * place.x + body.R[1].z * place.y + body.R[2].z * place.z > ceiling) {
      moment.hull[k].touching = false;
      continue;
    }
    const Vec3 out = body.R * place;
    const std::optional<HullForce> there =
        hull_force(a.model.terrain, body.p + out, body.v + glm::cross(body.w, out), moment.hull[k]);
    if (!there) continue;
    a.out.push(on, body.p + out, there->force_G);
    if (point.on == HullPart::bucket) continue;  // a bucket on the ground is no machine on its side
    moment.hull_touches = true;
    moment.frame_touches = moment.frame_touches || point.frame;
    if (!there->ago) continue;
    moment.hull_ago = std::max(moment.hull_ago, *there->ago);
    if (point.frame) moment.frame_ago = std::max(moment.frame_ago, *there->ago);
  }
}

}  // namespace

void machine_forces(const Model& model, const MachineTree& machine, const MachineNow& now, const Input& input,
                    MachineState& moment, TreeForces& out) {
  out = TreeForces{};
  out.about = moment.motion.com;
  out.gravity = gravity_in_G(model, moment.slope);
  Acting a{model, machine, now, input, moment, out};
  moment.pull = 0;
  moment.hitch_force = Vec3(0.0);
  steering(a);
  liquids(a);
  tyres(a);
  feel(a);
  axle_stop(a);
  drive_line(a);
  rams(a);
  trailer(a);
  rope(a);
  hull(a);
}

void settle(const Model& model, const MachineTree& machine, const Rest& rest, MachineState& moment) {
  MachineNow now;
  const Vec3 gravity = gravity_in_G(model, moment.slope), down = gravity / std::max(model.gravity, 1e-9);
  look(model, machine, moment, now);
  const auto angle = [&](int body) -> double& { return moment.motion.angle[static_cast<std::size_t>(body)]; };
  const BodyNow& chassis = now.bodies[kChassis];
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& wheel = model.wheels[i];
    const TyreLaw& tyre = wheel.tyre;
    const Hub h = hub_of(model, machine, moment, now, i);
    const double outward = is_left(static_cast<int>(i)) ? wheel.dual : -wheel.dual;
    const HubContact hub = hub_contact(model.terrain, h.centre, h.axle, tyre.radius, outward);
    const TyreContact& c = hub.contact;
    const Vec3& f = rest.force_G[i];
    const double lengthwise = tyre.longitudinal_stiffness * std::max(0.0, rest.load[i]) / tyre.reference_load;
    const double touching = hub.carrying > 1 ? 2 : 1;
    moment.bristle[i].across = -glm::dot(f, c.left_G) / (touching * tyre.lateral_stiffness);
    moment.bristle[i].along = lengthwise > 1 ? -glm::dot(f, c.forward_G) / lengthwise : 0;
    moment.bristle[kWheels + i] = moment.bristle[i];
    // What a step would leave behind: the first moment of a run is one of rest, not one without side forces.
    TyreContact& shown = moment.contact[i];
    shown.point_G = rest.contact_G[i];
    shown.normal_G = c.normal_G, shown.forward_G = c.forward_G, shown.left_G = c.left_G;
    moment.force[i] = {rest.load[i], glm::dot(f, c.forward_G), glm::dot(f, c.left_G), false};
    if (machine.wheel[i] >= 0) {
      double& turned = angle(machine.wheel[i]);
      turned = rest.turned[i];
      if (model.wheels[i].braked) {
        // What the ground and ice out of the middle do to the wheel about its axle, the brake holds.
        const Mat3 R = now.bodies[static_cast<std::size_t>(carrier(machine, i))].R * about_y(turned);
        const double by_ground = glm::dot(glm::cross(c.point_G - h.centre, f), h.axle);
        const double by_ice = glm::dot(glm::cross(R * wheel.dry.com, wheel.dry.mass * gravity), h.axle);
        moment.brake_anchor[i] = turned - (by_ground + by_ice) / brake_stiffness(model, i);
      }
    }
    if (machine.liquid[i] >= 0) {
      const Vec3 there = glm::transpose(now.bodies[static_cast<std::size_t>(carrier(machine, i))].R) * down;
      angle(machine.liquid[i]) = std::atan2(-there.x, -there.z);
    }
  }
  moment.specific_force = 1;
  if (machine.axle >= 0) moment.on_stop = beyond_stop(model, angle(machine.axle)) != 0;
  const Vec3 there = glm::transpose(chassis.R) * down;
  if (machine.tank >= 0) angle(machine.tank) = std::atan2(there.y, -there.z);
  if (machine.load >= 0) {
    angle(machine.rope) = std::atan2(there.y, -there.z);
    angle(machine.load) = std::asin(std::clamp(-there.x, -1.0, 1.0));
  }
  if (model.trailer.mass > 0) {
    const Vec3 forward = along_ground(chassis);
    const double stiffness = drawbar(model, tree_mass(machine.tree)).stiffness;
    moment.trailer_gap = -(model.trailer.mass - model.trailer.drawbar_load) * glm::dot(gravity, forward) / stiffness;
    moment.pull = stiffness * moment.trailer_gap;
    moment.hitch_force = -moment.pull * forward + model.trailer.drawbar_load * gravity;
  }
}

}  // namespace sidehill
