#include "sim/codes/rolling_mechanics.h"

#include <algorithm>
#include <cmath>

namespace sidehill {
namespace {

// Leans uphill of the vertical over the contact by this much [rad]; negative = past it. The centre of gravity at (x,
// z); the listing's ATN(X / Z) is the same as long as it lies above the slope, z > 0.
double lean_uphill(const Turning& turning, double x, double z) { return -std::atan2(x, z) - turning.slope; }

}  // namespace

RollingStage climb(const Turning& turning, double x, double z, double velocity) {
  RollingStage stage;
  stage.kind = RollingStageKind::climb;
  stage.before = stage.after = velocity;
  stage.inertia_before = stage.inertia = turning.inertia(x, z);
  stage.at_hand = stage.inertia * velocity * velocity / 2;
  const double lean = lean_uphill(turning, x, z);
  if (lean <= 0) return stage;
  stage.needed = turning.mass * kRollingGravity * std::hypot(x, z) * (1 - std::cos(lean));
  stage.passed = stage.needed <= stage.at_hand;
  stage.after = stage.passed ? std::sqrt(std::max(0.0, 2 * (stage.at_hand - stage.needed) / stage.inertia)) : 0;
  return stage;
}

RollingStage fall(const Turning& turning, const Vec3& from, const Vec3& to, double velocity) {
  RollingStage stage;
  stage.before = velocity;
  stage.inertia_before = stage.inertia = turning.inertia(from.x, from.z);
  stage.at_hand = stage.inertia * velocity * velocity / 2;
  const double radius = std::hypot(from.x, from.z);
  const double lost =
      radius * (std::cos(lean_uphill(turning, from.x, from.z)) - std::cos(lean_uphill(turning, to.x, to.z)));
  stage.gained = turning.mass * kRollingGravity * lost;
  const double energy = stage.at_hand + stage.gained;
  stage.passed = energy >= 0;
  stage.after = stage.passed ? std::sqrt(2 * energy / stage.inertia) : 0;
  return stage;
}

RollingStage impact(const Turning& turning, const Vec3& cog, double x_new, double depth, double velocity,
                    double restitution) {
  RollingStage stage;
  stage.kind = RollingStageKind::impact;
  stage.before = velocity;
  stage.inertia_before = turning.inertia(cog.x, cog.z);
  const double back = x_new - cog.x, up = cog.z + depth;  // centre of gravity from the new contact: (-back, up)
  stage.inertia = turning.inertia(back, up);
  const double momentum = turning.inertia_cog + turning.mass * (cog.z * up - cog.x * back);  // per unit of velocity
  const double rebound = restitution * x_new * velocity;
  stage.after = (momentum * velocity - turning.mass * back * rebound) / stage.inertia;
  stage.at_hand = stage.inertia_before * velocity * velocity / 2;
  stage.gained = stage.inertia * stage.after * stage.after / 2 +
                 turning.mass * rebound * (rebound / 2 + stage.after * back) - stage.at_hand;
  return stage;
}

RollingStage along_new_axis(double angle, double velocity) {
  RollingStage stage;
  stage.kind = RollingStageKind::new_axis;
  stage.before = velocity;
  stage.after = velocity * std::cos(angle);
  return stage;
}

const char* to_string(RollingStageKind kind) {
  switch (kind) {
    case RollingStageKind::fall:
      return "fall";
    case RollingStageKind::impact:
      return "impact";
    case RollingStageKind::new_axis:
      return "new_axis";
    case RollingStageKind::climb:
      break;
  }
  return "climb";
}

}  // namespace sidehill
