#include "sim/codes/lateral_stability.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

#include "sim/base/pose.h"

namespace sidehill {
namespace {

// `v` turned about the unit vector `axis`, right-handed (Rodrigues).
Vec3 turned(const Vec3& v, const Vec3& axis, double angle) {
  return v * std::cos(angle) + glm::cross(axis, v) * std::sin(angle) +
         axis * (glm::dot(axis, v) * (1 - std::cos(angle)));
}

// Turn about `axis` that brings `v` to `up`, both seen along it.
double angle_to(const Vec3& v, const Vec3& up, const Vec3& axis) {
  return std::atan2(glm::dot(axis, glm::cross(v, up)), glm::dot(v, up) - glm::dot(axis, v) * glm::dot(axis, up));
}

}  // namespace

LateralStability lateral_stability(const RollingTractor& t) {
  const double wheelbase = t.L3 + t.L2, half_track = t.S / 2;
  LateralStability result;

  // From the downhill rear contact, x forward, y inward (uphill), z up.
  const Vec3 cog(t.L3, half_track, t.H1), pivot(wheelbase, half_track, t.H0), up(0, 0, 1);

  // Across a slope gravity has no part lengthwise. Its moment about the line contact - pivot is nought at this tangent.
  const double above_line = t.H1 * wheelbase - t.H0 * t.L3;
  if (above_line > 0) result.table_tip_three_point = std::atan(half_track * t.L2 / above_line);
  result.table_tip_rigid = std::atan2(half_track, t.H1);

  // On level ground the front axle stays on both its wheels while the chassis turns about the line rear contact -
  // pivot, to balance or to the stop. As in B4 the swing D0 counts about that line.
  const Vec3 line = glm::normalize(pivot);
  const double to_balance = std::max(0.0, angle_to(cog, up, line));
  result.stop_reached = t.D0 < to_balance;
  const double turn = std::min(t.D0, to_balance);
  const Vec3 raised = turned(cog, line, turn);
  result.height_on_stop = raised.z;
  result.lateral_on_stop = raised.y;

  // On the stop it goes on as one piece about the line of the downhill contacts, which is level and lengthwise.
  const double on_stop = result.stop_reached ? std::max(0.0, std::atan2(raised.y, raised.z)) : 0;
  const Vec3 rear_axle = turned(turned(Vec3(0, 1, 0), line, turn), Vec3(1, 0, 0), on_stop);
  result.balance_tilt = std::atan2(rear_axle.z, std::copysign(std::hypot(rear_axle.x, rear_axle.y), rear_axle.y));
  return result;
}

}  // namespace sidehill
