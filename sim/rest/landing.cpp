#include "sim/rest/landing.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace sidehill {
namespace {

constexpr double kStep = 0.03;       // how far the hand lets it move at once [m]
constexpr double kTouch = 0.002;     // how far a tyre that comes down is pressed in at first, at most [m]
constexpr double kSoftest = 1e-5;    // a hand softer than this holds nothing [weights/m]
constexpr double kStiffest = 1e5;    // one stiffer than this moves nothing [weights/m]
constexpr double kNearlyFree = 0.1;  // a hand that carries next to nothing [weights/m]
constexpr double kOnTheWay = 1e-4;   // imbalance that does no harm while the hand still holds [weights]
constexpr double kStill = 1e-4;      // a step that changes nothing any more [m]
constexpr double kSoft = 0.1;        // far softer than any tyre [weights/m]
constexpr double kUpright = 0.5;     // cosine of its lean against the ground: beyond, it has gone over
constexpr int kMostSteps = 150;

// How far the machine has moved between two poses [m]: of its centre of gravity, or of a point a metre from it.
double moved(const TrialPose& a, const Vec3& centre_a, const TrialPose& b, const Vec3& centre_b) {
  const Mat3 turned = b.X_GV.R * glm::transpose(a.X_GV.R);
  const double sine =
      0.5 * glm::length(Vec3(turned[1][2] - turned[2][1], turned[2][0] - turned[0][2], turned[0][1] - turned[1][0]));
  return std::max(glm::length(centre_b - centre_a), sine);
}

// The start pose, raised or lowered until the first tyre just touches.
TrialPose just_touching(const EquilibriumSystem& system, double slope) {
  TrialPose trial = start_trial(system);
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

// How much of a step may be taken so that no tyre that had not come down before is pressed in by more than kTouch; 1 =
// all of it.
double share_to_touch(const EquilibriumSystem& system, const std::array<WheelAt, kWheels>& before,
                      const std::array<WheelAt, kWheels>& now) {
  double share = 1;
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (system.took_hold[i] || now[i].penetration <= kTouch) continue;
    const double gap = std::max(0.0, -before[i].penetration);
    share = std::min(share, (gap + 0.5 * kTouch) / (gap + now[i].penetration));
  }
  return share;
}

// The stiffness of the hand, `usual` or more, with which the next tyre just comes down, if the machine goes on as from
// `before` to `now` under a hand of stiffness `was` [weights/m].
double stiff_enough(const EquilibriumSystem& system, const std::array<WheelAt, kWheels>& before,
                    const std::array<WheelAt, kWheels>& now, double was, double usual) {
  for (std::size_t i = 0; i < kWheels; ++i) {
    const double closing = now[i].penetration - before[i].penetration, gap = std::max(0.0, -now[i].penetration);
    if (system.took_hold[i] || closing * was <= (gap + kTouch) * usual) continue;
    usual = closing * was / (gap + 0.5 * kTouch);
  }
  return std::min(usual, kStiffest / 20);
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

// `careful`: every step balanced to the last digit, which finds the way where the quick way loses it.
Landing let_down(EquilibriumSystem& system, double slope, TrialPose& trial, bool careful) {
  system.one_sided = system.within_adhesion = true;
  Slopes slopes;
  Slopes* const usual_slopes = system.slopes;
  system.slopes = careful ? nullptr : &slopes;
  Question question;
  const double usual = question.enough;
  system.took_hold = {};
  trial = just_touching(system, slope);
  Vec3 centre(0.0);
  auto wheels = wheels_at(system, trial, &centre);
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
    hand.centre_G = centre;
    hand.R_GV = trial.X_GV.R;
    hand.axle_angle = trial.axle_angle;
    TrialPose next = trial;
    question.enough = hand.stiffness > kNearlyFree && !careful ? kOnTheWay : usual;
    if (!balance(system, question, next).converged) {
      hand.stiffness *= 4;
      if (hand.stiffness > kStiffest) break;
      continue;
    }
    Vec3 next_centre(0.0);
    const auto now = wheels_at(system, next, &next_centre);
    const double step = moved(trial, centre, next, next_centre);
    if (step > 2 * kStep) {
      hand.stiffness *= 2;
      if (hand.stiffness > kStiffest) break;
      continue;
    }
    // A tyre that comes down holds nothing sideways before the next step, so it must not come far.
    const double share = share_to_touch(system, wheels, now);
    if (share < 1 && hand.stiffness < kStiffest / 20) {
      hand.stiffness *= std::clamp(1 / share, 1.5, 20.0);
      continue;
    }
    const bool changed = take_hold(system, wheels, now);
    const double was = hand.stiffness;
    const auto before = std::exchange(wheels, now);
    trial = next;
    centre = next_centre;
    if (trial.X_GV.R[2].z < kUpright) {
      how = Landing::tips;
      break;
    }
    if (!changed && hand.stiffness < kSoftest && step < 1e-6) {
      how = Landing::rests;
      break;
    }
    if (!changed && step < 0.5 * kStep) hand.stiffness *= step < 0.1 * kStep ? 0.05 : 0.3;
    // Where a soft hand no longer lets it move, the hand may go.
    if (!changed && !careful && hand.stiffness < kSoft && step < kStill)
      hand.stiffness = std::min(hand.stiffness, 0.5 * kSoftest);
    hand.stiffness = std::max(stiff_enough(system, before, wheels, was, hand.stiffness), 1e-6);
  }
  system.hand = {};
  system.slopes = usual_slopes;
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

}  // namespace

Landing land(EquilibriumSystem& system, double slope, TrialPose& trial) {
  const EquilibriumSystem fresh = system;
  const Landing quick = let_down(system, slope, trial, false);
  if (quick != Landing::lost) return quick;
  system = fresh;
  return let_down(system, slope, trial, true);
}

}  // namespace sidehill
