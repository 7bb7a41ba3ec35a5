// A second road to the resting pose: the least of the potential energy, written anew from the Model and found by Newton
// on numerical derivatives of that energy alone. Exact where every force has a potential: level across the heading, so
// that nothing holds the machine lengthwise (heading across the slope), even ground, tyres that give, all wheels
// touching.
#include <Eigen/Dense>
#include <cmath>
#include <random>

#include "sim/statics.h"
#include "tests/machines.h"
#include "tests/near.h"

using namespace sidehill;

namespace {

using V6 = Eigen::Matrix<double, 6, 1>;  // across, up, three small turns, axle angle
using M6 = Eigen::Matrix<double, 6, 6>;

struct Pool {
  const Model& m;
  double slope;
  Mat3 R0;  // heading

  struct Placed {
    Mat3 R, R_axle;
    Vec3 p;
  };
  Placed placed(const V6& q) const {
    const Vec3 w(q[2], q[3], q[4]);
    const double angle = glm::length(w);
    const Mat3 turn = angle > 0 ? glm::mat3_cast(glm::angleAxis(angle, w / angle)) : Mat3(1.0);
    Placed out;
    out.R = turn * R0;
    out.R_axle = out.R * about_x(q[5]);
    out.p = Vec3(0, 0, m.wheels[kRearLeft].tyre.radius + q[1]) + q[0] * R0[1];
    return out;
  }

  // Lowest point of a thin disc over the plane z = 0, and how deep it lies.
  static Vec3 lowest(const Vec3& centre, const Vec3& axle, double radius, double& depth) {
    Vec3 down = Vec3(0, 0, -1) + axle.z * axle;  // in the wheel plane
    down /= glm::length(down);
    const Vec3 point = centre + radius * down;
    depth = -point.z;
    return point;
  }

  double energy(const V6& q) const {
    const Placed at = placed(q);
    const Vec3 g(0, -m.gravity * std::sin(slope), -m.gravity * std::cos(slope));
    double e = 0;
    const auto weigh = [&](double mass, const Vec3& place) { e -= mass * glm::dot(g, place); };
    weigh(m.chassis.mass, at.p + at.R * m.chassis.com);
    if (m.loader.fitted) weigh(m.loader.boom.mass, at.p + at.R * (m.loader.pivot + m.loader.boom.com));
    const Vec3 pin = at.p + at.R * m.pin;
    weigh(m.axle.mass, pin + at.R_axle * m.axle.com);
    for (std::size_t i = 0; i < kWheels; ++i) {
      const WheelModel& w = m.wheels[i];
      const Mat3& R = i < 2 ? at.R_axle : at.R;
      const Vec3 centre = i < 2 ? pin + R * (w.centre - m.pin) : at.p + R * w.centre;
      weigh(w.dry.mass, centre + R * w.dry.com);
      double depth;
      const Vec3 point = lowest(centre, R[1], w.tyre.radius, depth);
      if (depth > 0) e += 0.5 * w.tyre.vertical_stiffness * depth * depth;
      // Sideways from where the undeflected tyre stood, along the ground, square to the wheel's heading.
      const Vec3 start = Vec3(0, 0, m.wheels[kRearLeft].tyre.radius) + R0 * w.centre;
      Vec3 ahead = glm::cross(R[1], Vec3(0, 0, 1));
      ahead /= glm::length(ahead);
      const Vec3 left = glm::cross(Vec3(0, 0, 1), ahead);
      // Where the disc's own line through the lowest point meets the ground.
      Vec3 up = centre - point;
      up /= glm::length(up);
      const Vec3 contact = point + up * (up.z > 0 ? depth / up.z : 0.0);
      const double aside = glm::dot(contact - Vec3(start.x, start.y, 0), left);
      e += 0.5 * w.tyre.lateral_stiffness * aside * aside;
    }
    return e;
  }

  V6 slope_of(const V6& q) const {
    V6 d;
    constexpr double h = 1e-6;
    for (int k = 0; k < 6; ++k) {
      V6 a = q, b = q;
      a[k] -= h, b[k] += h;
      d[k] = (energy(b) - energy(a)) / (2 * h);
    }
    return d;
  }
};

}  // namespace

TEST_CASE("the least of the potential energy is where the forces balance, on sixty random machines") {
  std::mt19937_64 random(17);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  int compared = 0;
  for (int round = 0; compared < 60 && round < 200; ++round) {
    Scene scene = test_machine(kMachines[round % 5], {"ballast.rear.fill_fraction=0", "ballast.front.fill_fraction=0"});
    scene.vehicle.chassis.mass *= between(0.7, 1.4);
    scene.vehicle.chassis.centre_of_gravity.z *= between(0.8, 1.1);
    scene.vehicle.chassis.centre_of_gravity.y = between(-0.04, 0.04);
    scene.vehicle.rear.track *= between(0.95, 1.2);
    scene.vehicle.front_axle.pin_height *= between(0.8, 1.2);
    for (Axle* axle : {&scene.vehicle.front, &scene.vehicle.rear}) {
      axle->tyre.vertical_stiffness *= between(0.6, 2);
      axle->tyre.lateral_stiffness *= between(0.6, 2);
      axle->tyre.longitudinal_stiffness = 1000;  // grows with load, so it has no potential: next to nothing
    }
    scene.start.heading = (round % 2 ? -90 : 90) / kDegrees;
    scene.terrain.slope = round % 3 == 0 ? 0 : between(0, 15) / kDegrees;
    const Model m = build(scene);
    const StaticSolution s = solve_statics(m);
    if (!s.rest || s.status != RestStatus::stands) continue;
    const double c = std::cos(scene.start.heading), h = std::sin(scene.start.heading);
    const Pool pool{m, scene.terrain.slope, Mat3(-h, c, 0, -c, -h, 0, 0, 0, 1)};
    V6 q = V6::Zero();
    for (int i = 0; i < 40; ++i) {
      M6 curve;
      constexpr double step = 1e-5;
      for (int k = 0; k < 6; ++k) {
        V6 a = q, b = q;
        a[k] -= step, b[k] += step;
        curve.col(k) = (pool.slope_of(b) - pool.slope_of(a)) / (2 * step);
      }
      V6 d = -curve.fullPivLu().solve(pool.slope_of(q));
      d *= std::min(1.0, 0.1 / d.lpNorm<Eigen::Infinity>());
      q += d;
      if (d.lpNorm<Eigen::Infinity>() < 1e-10) break;
    }
    INFO(round);
    // The program's side force hangs on where the tyre touches, and that place wanders as a leaning wheel sinks: it is
    // not quite the gradient of an energy. The difference is at most side force times lean; on level ground there is
    // none.
    const double weight = total_mass(m) * m.gravity;
    CHECK(pool.slope_of(q).lpNorm<Eigen::Infinity>() < 1e-4 * weight);
    const Pool::Placed at = pool.placed(q);
    const double lean = std::max(std::acos(std::min(1.0, at.R[2].z)), std::acos(std::min(1.0, at.R_axle[2].z)));
    const double enough = weight * std::sin(scene.terrain.slope) * lean + 2e-5 * weight;
    for (std::size_t i = 0; i < kWheels; ++i) {
      const WheelModel& w = m.wheels[i];
      const Mat3& R = i < 2 ? at.R_axle : at.R;
      const Vec3 centre = i < 2 ? at.p + at.R * m.pin + R * (w.centre - m.pin) : at.p + R * w.centre;
      double depth;
      Pool::lowest(centre, R[1], w.tyre.radius, depth);
      CHECK_NEAR(w.tyre.vertical_stiffness * depth, s.rest->load[i], enough);
    }
    CHECK_NEAR(q[5] * kDegrees, s.rest->axle_angle * kDegrees, enough / weight * 20);
    CHECK_NEAR(glm::length(at.R[2] - s.rest->X_GV.R[2]) * kDegrees, 0, enough / weight * 20);
    ++compared;
  }
  CHECK(compared == 60);
}
