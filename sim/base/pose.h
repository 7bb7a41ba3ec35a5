// A place and an attitude: X_AB takes coordinates in B to coordinates in A. Knows nothing else.
#pragma once
#include <cmath>
#include <glm/gtc/quaternion.hpp>
#include <glm/mat3x3.hpp>
#include <glm/vec3.hpp>

namespace sidehill {

using Vec3 = glm::dvec3;
using Mat3 = glm::dmat3;
using Quat = glm::dquat;

// Right-handed turns about x, y and z [rad].
inline Mat3 about_x(double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  return Mat3(1, 0, 0, 0, c, s, 0, -s, c);
}
inline Mat3 about_y(double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  return Mat3(c, 0, -s, 0, 1, 0, s, 0, c);
}
inline Mat3 about_z(double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  return Mat3(c, s, 0, -s, c, 0, 0, 0, 1);
}

// About any axis of unit length.
inline Mat3 about(const Vec3& axis, double angle) { return glm::mat3_cast(glm::angleAxis(angle, axis)); }

struct Pose {
  Mat3 R{1.0};  // R_AB, columns are B's axes in A
  Vec3 p{0.0};  // p_AB, B's origin in A [m]
};

inline Vec3 operator*(const Pose& X_AB, const Vec3& p_B) { return X_AB.p + X_AB.R * p_B; }
inline Pose operator*(const Pose& X_AB, const Pose& X_BC) { return {X_AB.R * X_BC.R, X_AB * X_BC.p}; }
inline Pose inverse(const Pose& X_AB) {
  const Mat3 R_BA = glm::transpose(X_AB.R);
  return {R_BA, -(R_BA * X_AB.p)};
}

}  // namespace sidehill
