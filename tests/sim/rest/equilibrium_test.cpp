// The Newton iteration against a method that shares nothing with it: on level ground a machine rests where its energy
// is least, found by minimising an energy written out here.
#include "sim/rest/equilibrium.h"

#include <doctest/doctest.h>

#include <Eigen/Dense>
#include <cmath>
#include <random>

#include "sim/base/constants.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

// Unknowns: place across and up, roll, pitch, yaw (small turns about x, y, z of G), the axle's angle. The place along
// the heading is held, as the brakes hold it. Heading -90: facing +x of G.
using Six = Eigen::Matrix<double, 6, 1>;

Mat3 rotation(double roll, double pitch, double yaw) {
  return glm::mat3_cast(glm::angleAxis(yaw, Vec3(0, 0, 1)) * glm::angleAxis(pitch, Vec3(0, 1, 0)) *
                        glm::angleAxis(roll, Vec3(1, 0, 0)));
}

struct Tyres {
  std::array<double, kWheels> load{};
};

// Of gravity, of one-sided tyres upwards and sideways, of one-sided stops; level ground at z = 0.
double energy(const Model& m, const Six& q, Tyres* tyres = nullptr) {
  const Pose X{rotation(q[2], q[3], q[4]), Vec3(0, q[0], m.wheels[kRearLeft].tyre.radius + q[1])};
  const Pose X_A = X * Pose{rotation(q[5], 0, 0), m.pin};
  double sum = m.gravity * (m.chassis.mass * (X * m.chassis.com).z + m.axle.mass * (X_A * m.axle.com).z);
  if (m.loader.fitted) sum += m.gravity * m.loader.boom.mass * (X * (m.loader.pivot + m.loader.boom.com)).z;
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& wheel = m.wheels[i];
    const bool front = i < 2;
    const Vec3 centre = front ? X_A * (wheel.centre - m.pin) : X * wheel.centre;
    const Vec3 axle = front ? X_A.R[1] : X.R[1];
    sum += m.gravity * wheel.dry.mass * centre.z;
    const double steep = std::hypot(axle.x, axle.y);  // of the disc's plane: 1 when upright
    const Vec3 lowest = centre - wheel.tyre.radius * (Vec3(0, 0, 1) - axle.z * axle) / steep;
    const double depth = std::max(0.0, -lowest.z);
    sum += 0.5 * wheel.tyre.vertical_stiffness * depth * depth;
    if (tyres) tyres->load[i] = wheel.tyre.vertical_stiffness * depth;
    if (depth > 0) {
      const Vec3 left(axle.x / steep, axle.y / steep, 0), stood(wheel.centre.x, wheel.centre.y, 0);
      const double aside = glm::dot(Vec3(lowest.x, lowest.y, 0) - stood, left);
      sum += 0.5 * wheel.tyre.lateral_stiffness * aside * aside;
    }
  }
  const double beyond = std::max(0.0, std::abs(q[5]) - m.stop_angle);
  return sum + 0.5 * m.stop_stiffness * beyond * beyond;
}

// Damped Newton with differences: the Hessian shifted until it is positive, the step halved until it gains.
Six least_energy(const Model& m, Six q) {
  constexpr double kDifference = 1e-4;
  for (int iteration = 0; iteration < 200; ++iteration) {
    const double here = energy(m, q);
    Six gradient;
    Eigen::Matrix<double, 6, 6> hessian;
    const auto at = [&](int i, double a, int j, double b) {
      Six moved = q;
      moved[i] += a;
      moved[j] += b;
      return energy(m, moved);
    };
    const double d = kDifference;
    for (int i = 0; i < 6; ++i) {
      gradient[i] = (at(i, d, i, 0) - at(i, -d, i, 0)) / (2 * d);
      for (int j = 0; j < 6; ++j)
        hessian(i, j) = (at(i, d, j, d) - at(i, d, j, -d) - at(i, -d, j, d) + at(i, -d, j, -d)) / (4 * d * d);
    }
    Six step = Six::Zero();
    for (double shift = 1; shift < 1e9; shift *= 10) {
      const Eigen::LLT<Eigen::Matrix<double, 6, 6>> factor(hessian + shift * Eigen::Matrix<double, 6, 6>::Identity());
      if (factor.info() != Eigen::Success) continue;
      step = -factor.solve(gradient);
      break;
    }
    const double length = step.lpNorm<Eigen::Infinity>();
    if (length > 0.05) step *= 0.05 / length;
    while (step.lpNorm<Eigen::Infinity>() > 1e-12 && energy(m, q + step) > here + 1e-9) step *= 0.5;
    q += step;
    if (step.lpNorm<Eigen::Infinity>() < 1e-9) break;
  }
  return q;
}

}  // namespace

TEST_CASE("on level ground a lopsided machine rests where its energy is least") {
  std::mt19937 random(23);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  int lifted = 0, on_stop = 0;
  for (const char* machine : kMachines) {
    for (int k = 0; k < 4; ++k) {
      Scene scene = test_machine(machine, {"ballast.rear.fill_fraction=0"});
      // The held wheels' lengthwise couple grows with their load and so has no energy: left out.
      scene.vehicle.rear.tyre.longitudinal_stiffness = 1;
      // An outrigger with up to half the machine's mass; the last of the four puts the axle on its stop and a wheel
      // in the air.
      PointMass outrigger;
      outrigger.mass = (k == 3 ? 0.45 : between(0.1, 0.5)) * total_mass(build(scene));
      outrigger.place = {between(-0.5, 2.5), (k % 2 ? 1 : -1) * (k == 3 ? 1.5 : between(0.1, 0.9)), between(0.4, 1.5)};
      scene.ballast.point_masses.push_back(outrigger);
      if (k == 3) scene.vehicle.front_axle.stop_angle = 2 * kDegree;
      const Model m = build(scene);
      const EquilibriumSystem system = make_system(m);
      TrialPose trial = start_trial(system);
      const NewtonResult found = balance_one_sided(system, pose_at_slope(), trial);
      INFO(std::string(machine) << ", case " << k << ", " << outrigger.mass << " kg at " << outrigger.place.x << ", "
                                << outrigger.place.y);
      if (!found.converged) continue;  // over it goes: no least energy near
      // Both from their own start: Newton from the undeflected machine, the minimiser from a lowered and turned one.
      Six start;
      start << 0.01, -0.05, 0.01, -0.005, 0.003, 0.01;
      const Six q = least_energy(m, start);
      Tyres tyres;
      energy(m, q, &tyres);
      const Rest rest = rest_of(system, trial);
      const double weight = total_mass(m) * m.gravity;
      // Side forces act at ground level, a deflection above the disc's lowest point, which no energy says: 4e-4.
      for (std::size_t i = 0; i < kWheels; ++i) CHECK_NEAR(tyres.load[i] / weight, rest.load[i] / weight, 5e-4);
      CHECK_NEAR(q[5], rest.axle_angle, 5e-4);
      CHECK_NEAR(m.wheels[kRearLeft].tyre.radius + q[1], rest.X_GV.p.z, 1e-4);
      for (const double load : rest.load)
        if (load <= 0) ++lifted;
      if (trial.stop != 0) ++on_stop;
    }
  }
  MESSAGE(lifted, " wheels up, ", on_stop, " on the stop");
  CHECK(lifted > 0);
}

TEST_CASE("tyres press only: what is balanced one-sided neither pulls nor hovers") {
  // The uphill wheel of a machine on its stop, from first touch of the stop to the end: loads never negative, untouched
  // means unloaded, and the axle a hair beyond its stop.
  Scene scene = test_machine("compact_26kw", {"ballast.rear.fill_fraction=0"});
  scene.vehicle.front_axle.stop_angle = 4 * kDegree;
  const Model m = build(scene);
  const StaticSolution limits = solve_statics(m);
  REQUIRE(limits.first_lift_off);
  REQUIRE(limits.tip_over);
  int up = 0;
  for (const double share : {-0.9, -0.5, -0.1, -0.01, 0.1, 0.5, 0.95}) {  // of the way to lift-off, and on to the end
    const double slope = *limits.first_lift_off +
                         share * (share < 0 ? *limits.first_lift_off : *limits.tip_over - *limits.first_lift_off);
    const std::optional<Rest> rest = rest_at(m, slope);
    INFO("slope " << slope / kDegree);
    REQUIRE(rest);
    for (const double load : rest->load) CHECK(load >= -1e-6 * total_mass(m) * m.gravity);
    const bool lifted = rest->load[static_cast<std::size_t>(limits.first_wheel)] <= 0;
    CHECK(lifted == (slope > *limits.first_lift_off));
    if (lifted) CHECK(std::abs(rest->axle_angle) > m.stop_angle);
    CHECK(std::abs(rest->axle_angle) < m.stop_angle + 0.02);
    up += lifted;
  }
  CHECK(up == 3);
}
