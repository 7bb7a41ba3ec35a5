#include "sim/motion/driving.h"

#include <algorithm>
#include <cmath>

#include "sim/base/attitude.h"

namespace sidehill {
namespace {

constexpr double kSteepest = 1.5533;       // 89 deg: a tilting ground stops there [rad]
constexpr double kGently = 1.0;            // a clutch let in gently: the wanted speed grows by so much a second [m/s2]
constexpr double kDropTime = 0.15;         // a clutch dropped is in after this [s]
constexpr double kSlowestGearAsked = 0.5;  // [m/s]
// A calm driver; our estimates.
constexpr double kPerMetre = 0.35, kPerRadian = 1.4, kLock = 0.6;  // [rad/m], [-], [rad]

void take_line(const State& state, Driving& driving) {
  const Vec3 flat(state.X_GV.R[0].x, state.X_GV.R[0].y, 0);
  driving.line_from = state.X_GV.p;
  if (glm::length(flat) > 1e-6) driving.line_along = glm::normalize(flat);
  driving.keeps_line = true;
}

double eased(const Driving& driving, double time) {
  const double change = driving.speed - driving.eased_from;
  return driving.eased_from +
         std::copysign(std::min(std::abs(change), kGently * std::max(0.0, time - driving.since)), change);
}

void set_off(Driving& driving, const State& state, double speed, double time, bool dropped) {
  // From a standstill, from the speed wanted until now, or from the one it rolls at out of gear.
  driving.eased_from = !driving.moves     ? 0
                       : driving.coasting ? glm::dot(state.v_G, state.X_GV.R[0])
                                          : eased(driving, time);
  driving.moves = true;
  driving.speed = speed;
  driving.since = time;
  driving.dropped = dropped;
  driving.coasting = false;
  driving.brake = 0;
}

void act(const Model& model, const Action& action, const State& state, Driving& driving) {
  const bool steers = action.what == ActionKind::curve || action.what == ActionKind::line;
  if ((steers && driving.deaf_to_steering) || (action.what == ActionKind::loader && driving.deaf_to_loader)) return;
  switch (action.what) {
    case ActionKind::drive:
    case ActionKind::drop_clutch:
      set_off(driving, state, action.speed, state.time, action.what == ActionKind::drop_clutch);
      break;
    case ActionKind::coast:
      driving.moves = driving.coasting = true;
      driving.brake = 0;
      break;
    case ActionKind::brake:
      driving.moves = driving.coasting = true;
      driving.brake = action.pedal;
      break;
    case ActionKind::curve:
      driving.keeps_line = false;
      driving.radius = action.radius;
      break;
    case ActionKind::line:
      take_line(state, driving);
      break;
    case ActionKind::loader:
      driving.boom_angle = boom_angle_at(model, action.pin_height);
      break;
    case ActionKind::front_drive:
      driving.front_drive = action.pedal > 0;
      break;
    case ActionKind::stuck:
      driving.stuck = true;
      break;
    case ActionKind::tie:
      driving.rope = action.rope;
      break;
  }
}

// Steers against how far it has drifted off its line and how it is turned.
double steer_to_line(const Driving& driving, const State& state) {
  const Vec3 left(-driving.line_along.y, driving.line_along.x, 0);
  const double aside = glm::dot(state.X_GV.p - driving.line_from, left);
  const double turned = std::atan2(glm::dot(state.X_GV.R[0], left), glm::dot(state.X_GV.R[0], driving.line_along));
  return std::clamp(-kPerMetre * aside - kPerRadian * turned, -kLock, kLock);
}

// Steers for a bend and against what slip and slope take from it.
double steer_to_radius(const Model& model, double radius, const State& state) {
  if (radius == 0) return 0;
  const double speed = glm::dot(state.v_G, state.X_GV.R[0]), wanted = speed / radius;
  const double missing = wanted - glm::dot(state.w_G, state.X_GV.R[2]), way = speed < 0 ? -1 : 1;
  return std::atan(model.wheelbase / radius) + way * 0.5 * model.wheelbase * missing / std::max(std::abs(speed), 1.0);
}

// The gear of the speed wanted, or still of the one it is coming down from. To stop, a driver steps on clutch and
// brake.
void choose_gear(const State& state, const Driving& driving, Input& input) {
  constexpr double kGentlyBraking = 0.3, kFirmer = 2;  // of the pedal, and per m/s too fast; our estimates
  input.gear_speed = std::max({std::abs(driving.speed), std::abs(input.target_speed), kSlowestGearAsked});
  if (driving.speed != 0 || driving.coasting) return;
  input.clutch = 0;
  const double too_fast = std::abs(glm::dot(state.v_G, state.X_GV.R[0])) - std::abs(input.target_speed);
  input.brake = std::max(input.brake, std::clamp(kGentlyBraking + kFirmer * too_fast, kGentlyBraking, 1.0));
}

}  // namespace

double slope_at(const Model& model, double time) {
  const Programme& p = model.programme;
  return std::clamp(model.terrain.slope + p.tilt_rate * std::max(0.0, time - p.drive_from), -kSteepest, kSteepest);
}

double boom_angle_at(const Model& model, double pin_height) {
  const double pivot = model.loader.pivot.z + model.wheels[kRearLeft].tyre.radius;
  return std::asin(std::clamp((pin_height - pivot) / std::max(model.loader.length, 1e-6), -1.0, 1.0));
}

Driving driving_at_start(const Model& model, const State& state) {
  Driving driving;
  driving.front_drive = model.programme.front_drive;
  driving.boom_angle = model.loader.angle;
  take_line(state, driving);
  driving.line_from = {model.start.x, model.start.y, 0};
  driving.line_along = forward_G(model.start.heading);
  return driving;
}

Input drive(const Model& model, const State& state, Driving& driving) {
  const Programme& programme = model.programme;
  const double now = state.time + 0.5 * model.time_step;  // a moment that falls on a step begins with it
  if (!driving.moves && programme.speed != 0 && now >= programme.drive_from && !driving.hand)
    set_off(driving, state, programme.speed, programme.drive_from, false);
  while (driving.next < programme.actions.size() && now >= programme.actions[driving.next].at)
    act(model, programme.actions[driving.next++], state, driving);

  Input input;
  input.slope = slope_at(model, state.time);
  input.boom_angle = driving.boom_angle;
  input.front_drive = driving.front_drive;
  input.stuck = driving.stuck;
  input.rope = driving.rope;
  if (driving.hand) {
    const ByHand& hand = *driving.hand;
    if (hand.speed != driving.speed || !driving.moves) set_off(driving, state, hand.speed, state.time, false);
    if (hand.brake > 0) {  // off the brake, the clutch is let in gently at the speed it has by then
      driving.eased_from = glm::dot(state.v_G, state.X_GV.R[0]);
      driving.since = state.time;
    }
    if (hand.boom_angle) input.boom_angle = *hand.boom_angle;
    const bool stands = hand.speed == 0 && hand.brake == 0 && std::abs(glm::dot(state.v_G, state.X_GV.R[0])) < 0.1;
    input.hold = stands;
    input.steers = true;
    input.steer = hand.steer * model.drive.most_steer;
    input.brake = hand.brake;
    input.clutch = hand.brake > 0 ? 0 : 1;
    input.target_speed = eased(driving, state.time);
    choose_gear(state, driving, input);
    return input;
  }
  // Parked: not yet asked to move, or asked to stop and standing.
  const bool stands = std::abs(glm::dot(state.v_G, state.X_GV.R[0])) < 0.1;
  input.hold = !driving.moves || (driving.speed == 0 && !driving.coasting && stands);
  if (input.hold) return input;
  input.steers = true;
  const bool wheels_straight = glm::dot(state.v_G, state.X_GV.R[0]) < -0.1 && driving.keeps_line;
  input.steer = wheels_straight      ? 0
                : driving.keeps_line ? steer_to_line(driving, state)
                                     : steer_to_radius(model, driving.radius, state);
  input.brake = driving.brake;
  input.target_speed = driving.dropped ? driving.speed : eased(driving, state.time);
  input.clutch = driving.coasting  ? 0
                 : driving.dropped ? std::clamp((state.time - driving.since) / kDropTime, 0.0, 1.0)
                                   : 1;
  choose_gear(state, driving, input);
  return input;
}

}  // namespace sidehill
