// The end of what can rest on the axle's stop, found a second time without the tip path: from many guesses a rest on
// the stop is looked for at given slopes, and from there the slope is raised as long as the machine still rests. What
// rests: one-sided balance, stop bearing, a least of the energy over place, attitude and axle angle, and a hand has to
// push to turn it.
#include <doctest/doctest.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include "sim/base/constants.h"
#include "sim/insight/trial.h"
#include "sim/rest/equilibrium.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"

using namespace sidehill;

namespace {

using V6 = Eigen::Matrix<double, 6, 1>;  // across, up [m], three turns, axle [rad]
using M6 = Eigen::Matrix<double, 6, 6>;

bool bears(const EquilibriumSystem& system, const TrialPose& trial) {
  return trial.stop != 0 && trial.stop * trial.axle_angle >= system.model->stop_angle - 1e-9 && trial.X_GV.R[2].z > 0.5;
}

// All eigenvalues of the energy's curvature are positive. Tangential springs have a potential only nearly (see
// energy_route_test.cpp); the eigenvalues that decide are far from nothing.
bool is_bowl(const EquilibriumSystem& system, const TrialPose& trial) {
  constexpr double kStep = 1e-4;
  const auto energy = [&](const V6& d) {
    TrialPose moved = trial;
    moved.X_GV.p += d[0] * system.R_start[1] + Vec3(0, 0, d[1]);
    const Vec3 turn(d[2], d[3], d[4]);
    const double angle = glm::length(turn);
    if (angle > 0) moved.X_GV.R = about(turn / angle, angle) * moved.X_GV.R;
    moved.axle_angle += d[5];
    return potential_energy(system, moved);
  };
  const auto bend = [&](const V6& a) { return energy(kStep * a) + energy(-kStep * a) - 2 * energy(V6::Zero()); };
  M6 curve;
  for (int i = 0; i < 6; ++i) curve(i, i) = bend(V6::Unit(i));
  for (int i = 0; i < 6; ++i)
    for (int k = 0; k < i; ++k)
      curve(i, k) = curve(k, i) = 0.5 * (bend(V6::Unit(i) + V6::Unit(k)) - curve(i, i) - curve(k, k));
  return Eigen::SelfAdjointEigenSolver<M6>(curve).eigenvalues()[0] > 0;
}

bool hand_must_push(const EquilibriumSystem& system, const TrialPose& trial) {
  const TiltAxis contour{trial.X_GV.R};
  for (const double way : {-1.0, 1.0}) {
    TrialPose pushed = trial;
    const Question held = at_tilt(Sought::moment_at_tilt, contour, way * 2e-5 * kDegree);
    pushed.X_GV.R = about(contour.axis_G, held.tilt) * pushed.X_GV.R;
    pushed.moment = 0;
    if (!balance_one_sided(system, held, pushed).converged || !(way * pushed.moment > 0)) return false;
  }
  return true;
}

bool rests(const EquilibriumSystem& system, TrialPose& trial) {
  return balance_one_sided(system, pose_at_slope(), trial, false).converged && bears(system, trial) &&
         is_bowl(system, trial) && hand_must_push(system, trial);
}

// From a rest, raised until there is none any more [rad].
double raised(const EquilibriumSystem& system, TrialPose at) {
  for (double step = 0.25 * kDegree; step > 1e-7;) {
    TrialPose next = at;
    next.slope += step;
    if (rests(system, next) && glm::length(next.X_GV.p - at.X_GV.p) < 0.1)
      at = next;
    else
      step *= 0.5;
  }
  return at.slope;
}

// Which stop comes to bear once that wheel has lifted: the chassis leans downhill over its axle, or the axle tips over
// its own downhill wheel, which turns the joint the other way.
int stop_to_come(const Model& m, int first_wheel) {
  const int leaning = std::sin(m.start.heading) < 0 ? -1 : 1;  // downhill to the right: its left side goes up
  return is_front(first_wheel) ? -leaning : leaning;
}

// The steepest slope of a rest on that stop [rad]; negative: none. Guesses are looked for from steep to gentle.
double steepest_rest_on(const Model& m, int stop) {
  const EquilibriumSystem system = make_system(m);
  double best = -1;
  for (double slope = 75 * kDegree; slope > 0 && best < 0; slope -= 1 * kDegree)
    for (const double lean : {0.7, 1.0, 1.5})
      for (int up = -1; up < static_cast<int>(kWheels); ++up) {
        TrialPose guess = start_trial(system);
        guess.slope = slope;
        guess.stop = stop;
        guess.axle_angle = stop * m.stop_angle;
        const double roll = -stop * lean * m.stop_angle;
        guess.X_GV.R = guess.X_GV.R * about_x(roll);
        guess.X_GV.p.z += 0.8 * std::abs(roll);
        if (up >= 0) guess.touching[static_cast<std::size_t>(up)] = false;
        if (rests(system, guess) && guess.slope > best) best = raised(system, guess);
      }
  return best;
}

// Any machine of the library as a person could load it, askew on an even slope with grip without limit.
Scene askew(int number) {
  std::mt19937_64 random(1000 + static_cast<std::uint64_t>(number));
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  Scene scene = random_scene(static_cast<std::uint64_t>(number));
  scene.terrain.features.clear();
  scene.terrain.soil.adhesion_unlimited = true;
  scene.terrain.slope = 0;
  scene.programme = {};
  const double quarter = std::floor(between(0, 4)) * 90;
  scene.start.heading = (quarter + between(20, 70) - 180) * kDegree;
  return scene;
}

}  // namespace

TEST_CASE("the end on the stop is the steepest slope at which a search without the tip path finds a rest there") {
  int compared = 0, on_stop = 0, agree = 0;
  for (int number = 0; compared < 60 / kShare; ++number) {
    const Scene scene = askew(number);
    const Model m = build(scene);
    const StaticSolution s = solve_statics(m);
    if (m.axle_kind == AxleKind::fixed || !s.first_lift_off || *s.first_lift_off <= 0) continue;
    ++compared;
    INFO("machine ", number);
    CHECK(*s.tip_over >= *s.first_lift_off);  // a tyre that lets go may lead to gentler balances only
    const double other = steepest_rest_on(m, stop_to_come(m, s.first_wheel)) / kDegree;
    const double ours = s.tip_on_stop ? *s.tip_on_stop / kDegree : -1;
    if (ours > 0) ++on_stop;
    const bool alike = s.tip_on_stop ? std::abs(ours - other) < 0.05 : other < 0;
    agree += alike;
    // Only a heavy front that faces downhill: both rear wheels lift at once there.
    if (!alike) CHECK(!s.tip_on_stop);
    if (!alike) CHECK(std::cos(m.start.heading) < -0.8);
    if (!alike)
      MESSAGE("machine ", number, ", ", scene.vehicle.name, ", heading ", m.start.heading / kDegree, ": ", ours,
              " deg, by the search ", other);
  }
  MESSAGE(on_stop, " of ", compared, " end on the stop");
  CHECK(on_stop >= 30 / kShare);
  // Not all: where both wheels of an axle lift at once the tip path ends, and yet a machine set down may rest there.
  CHECK(agree >= 56 / kShare);
}

TEST_CASE("the harder the tyres, the nearer the end on the stop to that on rigid ones") {
  for (const char* axle : {"front", "rear"}) {
    const std::string tyre = std::string("vehicle.") + axle + ".tyre.";
    const auto end = [&](const std::string& stiffness) {
      const StaticSolution s = solve_statics(build(test_scene("first_slope", {tyre + stiffness})));
      INFO(tyre, stiffness);
      REQUIRE(s.tip_on_stop);
      return *s.tip_on_stop / kDegree;
    };
    const double rigid = end("rigid=true");
    CHECK_NEAR(end("vertical_stiffness_kn_per_m=1e5"), rigid, 0.02);
    CHECK_NEAR(end("vertical_stiffness_kn_per_m=1e6"), rigid, 0.002);
    CHECK_NEAR(end("vertical_stiffness_kn_per_m=1e9"), rigid, 1e-6);  // counts as rigid: no more than rounding is left
  }
}

// Machine R on rigid tyres, heading kept: the axle lies level, the chassis has turned until joint and stop meet. The
// uphill front wheel lets go when gravity points along the plane through the centre of gravity and the contacts of the
// downhill wheels.
TEST_CASE("askew too, rigid machine R ends on its stop where the closed form says") {
  const Vec3 centre(0.9, 0, 0.85), pin(2.2, 0, 0.55), hub(0, -0.8, 0.75);
  for (const double stop_deg : {4.0, 8.0, 11.0}) {
    // Pitch from the heights, roll from the joint; both by halving.
    double roll = 0, pitch = 0;
    const auto attitude = [](double lean, double nose_up) {
      return glm::mat3_cast(glm::angleAxis(nose_up, Vec3(0, -1, 0)) * glm::angleAxis(lean, Vec3(1, 0, 0)));
    };
    for (double low = 0, high = 0.5; high - low > 1e-13;) {
      roll = 0.5 * (low + high);
      for (double down = -0.5, up = 0.5; up - down > 1e-13;) {
        pitch = 0.5 * (down + up);
        const Mat3 R = attitude(roll, pitch);
        const double rear_height = 0.75 * std::sqrt(1 - R[1].z * R[1].z);
        ((R * (pin - hub)).z < 0.55 - rear_height ? down : up) = pitch;
      }
      const Mat3 R = attitude(roll, pitch);
      (std::atan2(R[1].z, R[2].z) < stop_deg * kDegree ? low : high) = roll;
    }
    const Mat3 R = attitude(roll, pitch);
    // The lowest points of the leaning rear disc and of the upright front one, from the chassis's origin.
    const Vec3 down = glm::normalize(Vec3(0, 0, -1) + R[1].z * R[1]);
    const Vec3 across = glm::normalize(glm::cross(Vec3(0, 0, 1), R[0]));
    const Vec3 rear = R * hub + 0.75 * down, front = R * pin - 0.75 * across - Vec3(0, 0, 0.55);
    for (const double heading_deg : {-90.0, -70.0, -50.0, -110.0, -130.0}) {
      const double heading = heading_deg * kDegree;
      // Gravity: its part along the slope points downhill, in the machine's axes x ahead, y left.
      const Vec3 downhill(-std::cos(heading), std::sin(heading), 0);
      const Vec3 line = front - rear, arm = R * centre - rear;
      const double end =
          std::atan2(-glm::dot(line, glm::cross(arm, Vec3(0, 0, -1))), glm::dot(line, glm::cross(arm, downhill)));
      Scene scene = machine_r();
      scene.vehicle.front_axle.stop_angle = stop_deg * kDegree;
      scene.start.heading = heading;
      const StaticSolution s = solve_statics(build(scene));
      INFO("stop ", stop_deg, " deg, heading ", heading_deg, " deg, first wheel ", s.first_wheel);
      REQUIRE(s.tip_on_stop);
      CHECK_NEAR(*s.tip_on_stop / kDegree, end / kDegree, 0.02);
    }
  }
}
