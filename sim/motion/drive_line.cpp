// Engine, clutch, shafts and brakes. An engine with a governor turns a clutch that slips above its capacity; behind it
// a shaft and an open differential to the rear wheels; the front axle, when it is in, is geared to the rear one and an
// open differential of its own. Brakes act on the rear wheels, and so on the front ones when those are geared to them.
// Speeds and torques as the rear wheels see them through the gears. Source: our own, the simplest that has each part;
// numbers marked below.
#include <algorithm>
#include <cmath>

#include "sim/motion/acting.h"

namespace sidehill {
namespace {

constexpr double kShaftRate = 60;     // of wheels against their shaft [rad/s]; our estimate
constexpr double kDroop = 0.05;       // loss of speed from no load to full; common practice
constexpr double kReserve = 1.25;     // most torque over that at rated power; typical
constexpr double kDrag = 0.25;        // of the engine when driven, over its rated torque; our estimate
constexpr double kStored = 430;       // energy of the turning engine and flywheel per rated power [J/kW]; our estimate
constexpr double kSlowestGear = 0.4;  // [m/s]
constexpr double kSteerRate = 0.8;    // how fast a driver turns the wheels [rad/s]; our estimate
constexpr std::size_t kRear[] = {kRearLeft, kRearRight}, kFront[] = {kFrontLeft, kFrontRight};

// Twist that a torque may not exceed: what slips takes the twist along.
double slipping(double& twist, double stiffness, double damping, double rate, double most) {
  const double torque = stiffness * twist + damping * rate;
  if (std::abs(torque) <= most) return torque;
  const double limited = std::copysign(most, torque);
  twist = stiffness > 0 ? limited / stiffness : 0;
  return limited;
}

bool have_wheels(const Acting& a, const std::size_t (&pair)[2]) {
  return a.machine.wheel[pair[0]] >= 0 && a.machine.wheel[pair[1]] >= 0;
}

double mean_rate(const Acting& a, const std::size_t (&pair)[2]) {
  return 0.5 * (a.rate(a.machine.wheel[pair[0]]) + a.rate(a.machine.wheel[pair[1]]));
}

double shaft_stiffness(const Model& model, std::size_t wheel) {
  return 2 * spin_inertia(model.wheels[wheel]) * kShaftRate * kShaftRate;
}

void engine_and_clutch(Acting& a) {
  const Model& model = a.model;
  const TyreLaw& tyre = model.wheels[kRearLeft].tyre;
  const double radius = tyre.radius - tyre.reference_load / tyre.vertical_stiffness;  // as it rolls, on level ground
  const double axle = mean_rate(a, kRear);
  MachineState& m = a.moment;
  if (a.input.hold) {
    m.engine_rate = axle;
    m.clutch_wind = 0;
    return;
  }
  const double rated = std::max(a.input.gear_speed, kSlowestGear) / radius;  // wheel speed at rated engine speed
  const double rated_torque = model.engine_power / rated;
  const double inertia = 2 * kStored * model.engine_power / 1000 / (rated * rated);
  const double wanted = a.input.target_speed / radius;
  if (!(a.input.clutch > 0)) {  // the engine runs by itself
    m.clutch_wind = 0;
    m.engine_rate = wanted;
    return;
  }
  const double stiffness = shaft_stiffness(model, kRearLeft), twisting = m.engine_rate - axle;
  m.clutch_wind += twisting * model.time_step;
  const double capacity = a.input.clutch * model.drive.clutch_capacity * rated_torque;
  const double through = slipping(m.clutch_wind, stiffness, 2 * 0.7 * stiffness / kShaftRate, twisting, capacity);
  // Forwards and backwards alike: drives the way that is wanted, drags against it.
  const double way = (wanted != 0 ? wanted : m.engine_rate) < 0 ? -1 : 1;
  const double governed = rated_torque / (kDroop * rated) * (wanted - m.engine_rate);
  // Turned backwards it has stalled, and only drags.
  const bool stalled = way * m.engine_rate < -kDroop * rated;
  const double most = (stalled ? kDrag : kReserve) * rated_torque;
  const double engine = way * std::clamp(way * governed, -kDrag * rated_torque, most);
  m.engine_rate += (engine - through) / inertia * model.time_step;
  for (std::size_t i : kRear) a.torque(a.machine.wheel[i]) += 0.5 * through;
}

void front_shaft(Acting& a) {
  MachineState& m = a.moment;
  if (!a.input.front_drive || a.input.hold || !have_wheels(a, kFront)) {
    m.front_wind = 0;
    return;
  }
  const double ratio = a.model.wheels[kRearLeft].tyre.radius / a.model.wheels[kFrontLeft].tyre.radius;
  const double stiffness = shaft_stiffness(a.model, kFrontLeft),
               twisting = ratio * mean_rate(a, kRear) - mean_rate(a, kFront);
  m.front_wind += twisting * a.model.time_step;
  const double through = stiffness * m.front_wind + 2 * 0.7 * stiffness / kShaftRate * twisting;
  for (std::size_t i : kFront) a.torque(a.machine.wheel[i]) += 0.5 * through;
  for (std::size_t i : kRear) a.torque(a.machine.wheel[i]) -= 0.5 * ratio * through;
}

void brakes(Acting& a) {
  const double mass = tree_mass(a.machine.tree);
  for (std::size_t i : kRear) {
    const int wheel = a.machine.wheel[i];
    double most = 1e18;
    if (!a.input.hold) most = a.input.brake * a.model.drive.braking * mass * a.model.wheels[i].tyre.radius / 2;
    double twist = a.moment.brake_anchor[i] - a.angle(wheel);
    if (!(most > 0)) twist = 0;
    if (twist != 0 || most > 0) {
      const double stiffness = brake_stiffness(a.model, i);
      a.torque(wheel) += slipping(twist, stiffness, 2 * 0.7 * stiffness / held_rate(a.model), -a.rate(wheel), most);
    }
    a.moment.brake_anchor[i] = twist + a.angle(wheel);
  }
}

void stuck_wheels(Acting& a) {
  for (std::size_t i : kRear) {
    double& wound = a.moment.stuck_wind[i];
    const int wheel = a.machine.wheel[i];
    // Stuck in the ground only while it is in it, or just out of it.
    if (!a.input.stuck || !(a.moment.contact[i].penetration > -0.05) || std::abs(a.body(wheel).axis.z) > 0.5) {
      wound = 0;
      continue;
    }
    const Vec3& axle = a.body(wheel).axis;
    const double turning = glm::dot(a.body(wheel).w, axle), stiffness = brake_stiffness(a.model, i);
    wound += turning * a.model.time_step;
    a.out.moment[static_cast<std::size_t>(wheel)] -=
        (stiffness * wound + 2 * 0.7 * stiffness / held_rate(a.model) * turning) * axle;
  }
}

}  // namespace

void drive_line(Acting& a) {
  if (!have_wheels(a, kRear)) return;
  engine_and_clutch(a);
  front_shaft(a);
  brakes(a);
  stuck_wheels(a);
}

void steering(Acting& a) {
  const double most = a.model.drive.most_steer, step = kSteerRate * a.model.time_step;
  if (a.input.steers)
    a.moment.steer += std::clamp(std::clamp(a.input.steer, -most, most) - a.moment.steer, -step, step);
  if (a.model.axle_kind != AxleKind::articulated) return;
  // Rams hold the joint where it is steered to, from where it stood at the start.
  const double rate = std::min(120.0, 0.3 / a.model.time_step);  // [rad/s]
  const int front = a.machine.front;
  const MassProperties& half = a.model.axle;
  double inertia = half.inertia[2][2] + half.mass * (half.com.x * half.com.x + half.com.y * half.com.y);
  for (std::size_t i : kFront) {
    const Vec3 out = a.model.wheels[i].centre - a.model.pin;
    inertia += (a.model.wheels[i].dry.mass + a.model.wheels[i].liquid.mass) * (out.x * out.x + out.y * out.y);
  }
  a.torque(front) += inertia * (rate * rate * (a.moment.steer - a.angle(front)) - 2 * 0.7 * rate * a.rate(front));
}

}  // namespace sidehill
