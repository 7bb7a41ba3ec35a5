// What must not change an answer: mirroring, turning by a whole circle, moving a kilometre, scaling every mass and
// stiffness.
#include <doctest/doctest.h>

#include <cmath>

#include "sim/base/constants.h"
#include "sim/motion/run.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

double lift(const Scene& scene) {
  const LiftOff out = first_lift_off(build(scene));
  REQUIRE(out.slope);
  return *out.slope / kDegree;
}

}  // namespace

TEST_CASE("the mirrored machine lifts the mirrored wheel at the same slope") {
  for (const char* machine : kMachines) {
    for (double heading : {-90.0, -60.0, -130.0}) {
      Scene scene = test_machine(machine, {"ballast.point_mass+={mass_kg=150, x_m=0.5, y_m=0.3, z_m=0.8}"});
      scene.start.heading = heading * kDegree;
      const LiftOff one = first_lift_off(build(scene));
      scene.start.heading = -heading * kDegree;
      scene.ballast.point_masses[0].place.y *= -1;
      const LiftOff other = first_lift_off(build(scene));
      REQUIRE(one.slope.has_value() == other.slope.has_value());
      if (!one.slope) continue;
      CHECK_NEAR(*one.slope / kDegree, *other.slope / kDegree, 1e-6);
      CHECK(one.wheel / 2 == other.wheel / 2);
      CHECK(one.wheel != other.wheel);
    }
  }
}

TEST_CASE("found from the heading beside it or from level ground, a lift-off is the same") {
  for (const char* machine : kMachines) {
    for (const char* fill : {"0", "0.75"}) {
      const std::string which = std::string(machine) + " " + fill;
      INFO(which);
      const Model model = build(test_machine(machine, {std::string("ballast.rear.fill_fraction=") + fill}));
      for (const EnvelopePoint& point : envelope(model, 72)) {
        Model turned = model;
        turned.start.heading = point.heading;
        const LiftOff alone = first_lift_off(turned);
        REQUIRE(alone.slope);
        REQUIRE(point.first_lift_off);
        CHECK_NEAR(*point.first_lift_off, *alone.slope, 1e-6);
      }
    }
  }
}

TEST_CASE("every heading of every machine has an answer, and the mirrored one the same") {
  for (const char* machine : kMachines) {
    for (const char* fill : {"0", "0.75"}) {
      INFO(machine << " " << fill);
      const Model model = build(test_machine(machine, {std::string("ballast.rear.fill_fraction=") + fill}));
      const std::vector<EnvelopePoint> points = envelope(model, 72);
      for (std::size_t i = 1; i < points.size(); ++i) {
        CHECK_FALSE(points[i].failed);
        REQUIRE(points[i].first_lift_off);
        CHECK_NEAR(*points[i].first_lift_off / kDegree, *points[72 - i].first_lift_off / kDegree, 1e-3);
        // No spikes: a neighbour five degrees of heading away lies near, but for the corners where another wheel goes
        // first.
        CHECK(std::abs(*points[i].first_lift_off - *points[i - 1].first_lift_off) / kDegree < 12);
      }
    }
  }
}

TEST_CASE("a whole turn and a kilometre away change nothing") {
  Scene scene = test_machine("utility_75kw");
  scene.start.heading = -1.2;
  const double here = lift(scene);
  scene.start.heading += 2 * 3.14159265358979323846;
  CHECK_NEAR(lift(scene), here, 1e-9);
  scene.start.x = 1000, scene.start.y = -1000;
  CHECK_NEAR(lift(scene), here, 1e-6);
  Scene moved = test_scene("first_slope", {"programme.duration_s=3"}), there = moved;
  there.start.x = 1000;
  const State a = run(moved).states.back(), b = run(there).states.back();
  CHECK_NEAR(b.X_GV.p.x - a.X_GV.p.x, 1000, 1e-3);
  for (std::size_t i = 0; i < kWheels; ++i) CHECK_NEAR(a.wheels[i].load, b.wheels[i].load, 5);
}

TEST_CASE("all masses and stiffnesses times three leave every angle alone") {
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0", "ballast.front_weights_kg=200",
                                              "ballast.loader_payload_kg=300"});
  const StaticSolution before = solve_statics(build(scene));
  Vehicle& v = scene.vehicle;
  constexpr double k = 3;
  for (double* mass : {&v.chassis.mass, &v.front_axle.mass, &v.front.wheel_mass, &v.rear.wheel_mass, &v.driver.mass,
                       &v.loader.mast_mass, &v.loader.boom_mass, &v.loader.bucket_mass, &scene.ballast.front_weights,
                       &scene.ballast.loader_payload, &v.front.tyre.vertical_stiffness, &v.rear.tyre.vertical_stiffness,
                       &v.front.tyre.lateral_stiffness, &v.rear.tyre.lateral_stiffness,
                       &v.rear.tyre.longitudinal_stiffness, &v.front_axle.stop_stiffness})
    *mass *= k;
  v.tank.density *= k;
  v.chassis.inertia *= k;
  v.front.spin_inertia *= k, v.rear.spin_inertia *= k;
  const StaticSolution after = solve_statics(build(scene));
  CHECK_NEAR(*after.first_lift_off / kDegree, *before.first_lift_off / kDegree, 1e-4);
  CHECK_NEAR(*after.rigid_lift_off / kDegree, *before.rigid_lift_off / kDegree, 1e-4);
  REQUIRE(before.tip_on_stop);
  CHECK_NEAR(*after.tip_on_stop / kDegree, *before.tip_on_stop / kDegree, 0.01);
}

TEST_CASE("liquid and weights in the front wheels leave the rigid first lift-off alone") {
  const Scene plain = test_machine("utility_75kw");
  Scene heavy = plain;
  heavy.ballast.fill[kFrontLeft].fill_fraction = heavy.ballast.fill[kFrontRight].fill_fraction = 0.75;
  heavy.ballast.front_wheel_weights = 100;
  const StaticSolution a = solve_statics(build(plain)), b = solve_statics(build(heavy));
  CHECK_NEAR(*b.rigid_lift_off / kDegree, *a.rigid_lift_off / kDegree, 0.01);
}

TEST_CASE("twice the gravity on twice the stiffness: the same angles, twice the loads") {
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0", "terrain.slope_deg=12"});
  const StaticSolution before = solve_statics(build(scene));
  constexpr double k = 2;
  Vehicle& v = scene.vehicle;
  scene.settings.gravity *= k;
  for (Axle* axle : {&v.front, &v.rear}) {
    axle->tyre.vertical_stiffness *= k;
    axle->tyre.lateral_stiffness *= k;
    axle->tyre.longitudinal_stiffness *= k;
  }
  v.front_axle.stop_stiffness *= k;
  const StaticSolution after = solve_statics(build(scene));
  CHECK_NEAR(*after.first_lift_off / kDegree, *before.first_lift_off / kDegree, 1e-4);
  CHECK_NEAR(*after.tip_over / kDegree, *before.tip_over / kDegree, 0.01);
  REQUIRE(after.rest);
  REQUIRE(before.rest);
  for (std::size_t i = 0; i < kWheels; ++i)
    CHECK_NEAR(after.rest->load[i], k * before.rest->load[i], 1e-5 * k * before.rest->load[i]);
}

TEST_CASE("in time as well: the mirrored machine lands and settles as the mirror image") {
  Scene scene = test_machine("utility_75kw", {"terrain.slope_deg=15", "programme.drop_height_m=0.1",
                                              "programme.duration_s=3", "ballast.rear.fill_fraction=0.75"});
  PointMass lopsided;
  lopsided.mass = 200;
  lopsided.place = {0.5, 0.4, 1};
  scene.ballast.point_masses.push_back(lopsided);
  const Recording right = run(scene);
  scene.start.heading = -scene.start.heading;
  scene.ballast.point_masses[0].place.y *= -1;
  const Recording left = run(scene);
  REQUIRE(right.states.size() == left.states.size());
  for (std::size_t k = 0; k < right.states.size(); k += 10) {
    const State &a = right.states[k], &b = left.states[k];
    CHECK_NEAR(a.X_GV.p.x, -b.X_GV.p.x, 1e-6);
    CHECK_NEAR(a.X_GV.p.y, b.X_GV.p.y, 1e-6);
    CHECK_NEAR(a.X_GV.p.z, b.X_GV.p.z, 1e-6);
    CHECK_NEAR(a.axle_angle, -b.axle_angle, 1e-6);
    for (std::size_t i = 0; i < kWheels; ++i) CHECK_NEAR(a.wheels[i].load, b.wheels[i ^ 1].load, 1);
  }
}

TEST_CASE("in time as well: every mass, spring and damper times three moves alike") {
  Scene scene =
      test_machine("two_wheel_45kw", {"ballast.rear.fill_fraction=0", "vehicle.loader.fitted=false",
                                      "terrain.slope_deg=15", "programme.drop_height_m=0.1", "programme.duration_s=2"});
  const State before = run(scene).states.back();
  Vehicle& v = scene.vehicle;
  constexpr double k = 3;
  for (double* value :
       {&v.chassis.mass, &v.front_axle.mass, &v.driver.mass, &v.front_axle.stop_stiffness, &v.front_axle.stop_damping})
    *value *= k;
  v.tank.density *= k;
  v.chassis.inertia *= k;
  for (Axle* axle : {&v.front, &v.rear}) {
    axle->wheel_mass *= k, axle->spin_inertia *= k;
    Tyre& tyre = axle->tyre;
    tyre.vertical_stiffness *= k, tyre.lateral_stiffness *= k, tyre.longitudinal_stiffness *= k;
    tyre.vertical_damping *= k, tyre.lateral_damping *= k;
  }
  const State after = run(scene).states.back();
  CHECK_NEAR(glm::length(after.X_GV.p - before.X_GV.p), 0, 1e-6);
  for (std::size_t i = 0; i < kWheels; ++i) CHECK_NEAR(after.wheels[i].load, k * before.wheels[i].load, 3);
}
