#include "sim/landing.h"

#include <algorithm>
#include <cmath>

namespace sidehill {
namespace {

constexpr double kStep = 0.03;     // how far the hand lets it move at once [m]
constexpr double kTouch = 0.002;   // how far a tyre that comes down is pressed in at first, at most [m]
constexpr double kSoftest = 1e-5;  // a hand softer than this holds nothing [weights/m]
constexpr double kStiffest = 1e5;  // one stiffer than this moves nothing [weights/m]
constexpr double kUpright = 0.5;   // cosine of its lean against the ground: beyond, it has gone over
constexpr int kMostSteps = 150;

// How far the machine has moved between two poses [m]: of its centre of gravity, or of a point a metre from it.
double moved(const EquilibriumSystem& system, const Trial& a, const Trial& b) {
  const Mat3 turned = b.X_GV.R * glm::transpose(a.X_GV.R);
  const double sine =
      0.5 * glm::length(Vec3(turned[1][2] - turned[2][1], turned[2][0] - turned[0][2], turned[0][1] - turned[1][0]));
  return std::max(glm::length(centre_at(system, b) - centre_at(system, a)), sine);
}

// The start pose, raised or lowered until the first tyre just touches.
Trial just_touching(const EquilibriumSystem& system, double slope) {
  Trial trial = start_trial(system);
  trial.slope = slope;
  for (int i = 0; i < 8; ++i) {
    double deepest = -1e9;
    for (const WheelAt& wheel : wheels_at(system, trial))
      deepest = std::max(deepest, wheel.penetration / std::max(0.3, wheel.normal_G.z));
    trial.X_GV.p.z += deepest;
    if (std::abs(deepest) < 1e-9) break;
  }
  return trial;
}

// How deep the deepest of those tyres is pressed in that had not come down before [m].
double pressed_anew(const EquilibriumSystem& system, const std::array<WheelAt, kWheels>& now) {
  double deepest = 0;
  for (std::size_t i = 0; i < kWheels; ++i)
    if (!system.took_hold[i]) deepest = std::max(deepest, now[i].penetration);
  return deepest;
}

// Tyres that came down on the way take hold where they met the ground; those that left it let go; those that slid take
// hold anew, bent as far as they can hold. Returns whether any came or went.
bool take_hold(EquilibriumSystem& system, const std::array<WheelAt, kWheels>& before,
               const std::array<WheelAt, kWheels>& now) {
  bool changed = false;
  for (std::size_t i = 0; i < kWheels; ++i) {
    const bool down = now[i].penetration > 0;
    changed = changed || down != system.took_hold[i];
    if (down && !system.took_hold[i]) {
      const double fell = now[i].penetration - before[i].penetration;
      const double share = fell > 1e-12 ? std::clamp(-before[i].penetration / fell, 0.0, 1.0) : 0.0;
      system.reference[i] = before[i].lowest_G + share * (now[i].lowest_G - before[i].lowest_G);
      system.held_at[i] = before[i].centre_G + share * (now[i].centre_G - before[i].centre_G);
    } else if (down) {
      system.reference[i] += (now[i].aside - now[i].bend) * now[i].left_G;
    }
    system.took_hold[i] = down;
  }
  return changed;
}

}  // namespace

Landing land(EquilibriumSystem& system, double slope, Trial& trial) {
  system.one_sided = system.within_adhesion = true;
  system.took_hold = {};
  trial = just_touching(system, slope);
  auto wheels = wheels_at(system, trial);
  // What touches now has come down here.
  for (std::size_t i = 0; i < kWheels; ++i) {
    system.reference[i] = wheels[i].lowest_G;
    system.held_at[i] = wheels[i].centre_G;
    system.took_hold[i] = wheels[i].penetration > -1e-9;
  }
  Hand& hand = system.hand;
  hand.stiffness = 1 / kStep;
  Landing how = Landing::lost;
  for (int i = 0; i < kMostSteps; ++i) {
    hand.centre_G = centre_at(system, trial);
    hand.R_GV = trial.X_GV.R;
    hand.axle_angle = trial.axle_angle;
    Trial next = trial;
    if (!balance(system, Question::pose_at_slope, next).converged) {
      hand.stiffness *= 4;
      if (hand.stiffness > kStiffest) break;
      continue;
    }
    const double step = moved(system, trial, next);
    if (step > 2 * kStep) {
      hand.stiffness *= 2;
      if (hand.stiffness > kStiffest) break;
      continue;
    }
    const auto now = wheels_at(system, next);
    // A tyre that comes down holds nothing sideways before the next step, so it must not come far.
    if (pressed_anew(system, now) > kTouch && hand.stiffness < kStiffest / 4) {
      hand.stiffness *= 3;
      continue;
    }
    const bool changed = take_hold(system, wheels, now);
    trial = next;
    wheels = now;
    if (trial.X_GV.R[2].z < kUpright) {
      how = Landing::tips;
      break;
    }
    if (!changed && hand.stiffness < kSoftest && step < 1e-6) {
      how = Landing::rests;
      break;
    }
    if (!changed && step < 0.5 * kStep) hand.stiffness *= step < 0.1 * kStep ? 0.05 : 0.3;
    hand.stiffness = std::max(hand.stiffness, 1e-6);
  }
  system.hand = {};
  system.one_sided = system.within_adhesion = false;
  if (how != Landing::rests) return how;
  // The same contacts for balances that keep their set.
  trial.stop = stop_borne(*system.model, trial.axle_angle);
  for (std::size_t i = 0; i < kWheels; ++i) trial.touching[i] = wheels[i].penetration > 0;
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (system.took_hold[i]) continue;
    system.reference[i] = wheels[i].lowest_G;
    system.held_at[i] = wheels[i].centre_G;
    system.took_hold[i] = true;
  }
  return how;
}

}  // namespace sidehill
