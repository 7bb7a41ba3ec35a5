// Algebra of mass properties (see mass.h). Source: parallel axes theorem (Steiner), any mechanics text.
#include "vehicles/mass.h"

#include <cmath>
#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

namespace sidehill {
namespace {

// Inertia of a point mass at d about the origin.
Mat3 spread(double mass, const Vec3& d) { return mass * (glm::dot(d, d) * Mat3(1.0) - glm::outerProduct(d, d)); }

}  // namespace

MassProperties combine(const MassProperties& a, const MassProperties& b) {
  MassProperties result;
  result.mass = a.mass + b.mass;
  if (result.mass <= 0) {  // two massless lumps: keep a place, so that nothing is divided by zero
    result.com = a.com;
    result.inertia = a.inertia + b.inertia;
    return result;
  }
  const Vec3 apart = b.com - a.com;
  result.com = a.com + apart * (b.mass / result.mass);
  result.inertia = a.inertia + b.inertia + spread(a.mass * b.mass / result.mass, apart);
  return result;
}

MassProperties moved(const MassProperties& props, const Pose& X_EF) {
  return {props.mass, X_EF * props.com, X_EF.R * props.inertia * glm::transpose(X_EF.R)};
}

MassProperties point_mass(double mass, Vec3 place) { return {mass, place, Mat3(0.0)}; }

MassProperties solid_box(double mass, Vec3 centre, Vec3 size) {
  const double xx = size.x * size.x, yy = size.y * size.y, zz = size.z * size.z;
  Mat3 inertia(0.0);
  inertia[0][0] = mass / 12 * (yy + zz);
  inertia[1][1] = mass / 12 * (xx + zz);
  inertia[2][2] = mass / 12 * (xx + yy);
  return {mass, centre, inertia};
}

MassProperties sum(std::span<const LedgerLine> lines) {
  MassProperties total;
  for (const LedgerLine& line : lines) total = combine(total, line.props);
  return total;
}

PrincipalInertia principal(const Mat3& inertia) {
  Mat3 a = 0.5 * (inertia + glm::transpose(inertia));
  Mat3 R(1.0);
  constexpr int kPairs[3][2] = {{0, 1}, {0, 2}, {1, 2}};
  for (int sweep = 0; sweep < 50; ++sweep) {
    const double off = std::abs(a[0][1]) + std::abs(a[0][2]) + std::abs(a[1][2]);
    const double diagonal = std::abs(a[0][0]) + std::abs(a[1][1]) + std::abs(a[2][2]);
    if (!(off > 1e-16 * diagonal)) break;
    for (const auto& pair : kPairs) {
      const int p = pair[0], q = pair[1];
      if (a[q][p] == 0) continue;
      // The smaller of the two angles that zero the element, so that axes turn no further than they must.
      const double theta = (a[q][q] - a[p][p]) / (2 * a[q][p]);
      const double t = std::copysign(1.0, theta) / (std::abs(theta) + std::hypot(theta, 1.0));
      const double c = 1 / std::hypot(t, 1.0), s = t * c;
      Mat3 J(1.0);
      J[p][p] = c;
      J[q][q] = c;
      J[q][p] = s;
      J[p][q] = -s;
      a = glm::transpose(J) * a * J;
      R = R * J;
    }
  }
  return {Vec3(a[0][0], a[1][1], a[2][2]), R};
}

}  // namespace sidehill
