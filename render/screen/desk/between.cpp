#include "render/screen/desk/between.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>
#include <glm/gtc/quaternion.hpp>

#include "sim/base/constants.h"

namespace sidehill::screen {
namespace {

double mixed(double a, double b, double s) { return a + s * (b - a); }
Vec3 mixed(const Vec3& a, const Vec3& b, double s) { return a + s * (b - a); }

// The short way round.
double mixed_angle(double a, double b, double s) { return a + s * std::remainder(b - a, kTwoPi); }

Mat3 mixed(const Mat3& a, const Mat3& b, double s) {
  return glm::mat3_cast(glm::slerp(glm::quat_cast(a), glm::quat_cast(b), s));
}

}  // namespace

State between(const State& a, const State& b, double share) {
  const double s = std::clamp(std::isfinite(share) ? share : 0.0, 0.0, 1.0);
  if (s == 0) return a;
  if (s == 1) return b;
  State out = a;
  out.time = mixed(a.time, b.time, s);
  out.slope = mixed(a.slope, b.slope, s);
  out.X_GV = {mixed(a.X_GV.R, b.X_GV.R, s), mixed(a.X_GV.p, b.X_GV.p, s)};
  out.axle_angle = mixed(a.axle_angle, b.axle_angle, s);
  out.boom_angle = mixed(a.boom_angle, b.boom_angle, s);
  out.bucket_angle = mixed(a.bucket_angle, b.bucket_angle, s);
  out.steer = mixed(a.steer, b.steer, s);
  out.articulation = mixed(a.articulation, b.articulation, s);
  out.hanging_G = mixed(a.hanging_G, b.hanging_G, s);
  out.tank_G = mixed(a.tank_G, b.tank_G, s);
  out.hitch_G = mixed(a.hitch_G, b.hitch_G, s);
  out.centre_of_gravity_G = mixed(a.centre_of_gravity_G, b.centre_of_gravity_G, s);
  for (std::size_t i = 0; i < out.wheels.size(); ++i) {
    const WheelState &from = a.wheels[i], &to = b.wheels[i];
    WheelState& wheel = out.wheels[i];
    wheel.centre_G = mixed(from.centre_G, to.centre_G, s);
    const Vec3 axle = mixed(from.axle_G, to.axle_G, s);
    if (glm::length(axle) > 1e-6) wheel.axle_G = glm::normalize(axle);
    wheel.spin_angle = mixed(from.spin_angle, to.spin_angle, s);
    wheel.penetration = mixed(from.penetration, to.penetration, s);
    wheel.contact_G = mixed(from.contact_G, to.contact_G, s);
    wheel.liquid_swing = mixed_angle(from.liquid_swing, to.liquid_swing, s);
    wheel.liquid_G = mixed(from.liquid_G, to.liquid_G, s);
  }
  return out;
}

}  // namespace sidehill::screen
