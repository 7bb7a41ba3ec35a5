#include "sim/motion/under_way.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "sim/motion/run.h"
#include "sim/motion/world.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#if defined(SIDEHILL_SCREEN)
#include "sim/base/constants.h"
#include "sim/motion/rest_state.h"
#endif

using namespace sidehill;

// The turning is slowest at the line, where the energy that is left over is all of it. With the angle as a hyperbolic
// sine the slowness is flat there, and the midpoint rule is exact enough.
TEST_CASE("the time to the line is right however little more energy there is than the line takes") {
  const double angle = 0.4, inertia = 6000, barrier = 9000;
  for (const double over : {1e-8, 1e-6, 1e-4, 1e-2, 1.0}) {
    CAPTURE(over);
    const double moving = barrier * (1 + over), climb = barrier / (1 - std::cos(angle));
    const double width = std::sqrt(2 * over * barrier / climb), most = std::asinh(angle / width);
    constexpr int kParts = 200000;
    double time = 0;
    for (int k = 0; k < kParts; ++k) {
      const double u = most * (k + 0.5) / kParts, left = width * std::sinh(u), half = std::sin(0.5 * left);
      const double rate = std::sqrt(2 * (over * barrier + 2 * climb * half * half) / inertia);
      time += width * std::cosh(u) / rate * most / kParts;
    }
    CHECK_NEAR(time_to_line({angle, inertia, barrier, moving}), time, 1e-6 * time);
  }
}

TEST_CASE("a pull towards the line shortens the time to it, by the energy it brings") {
  const double level = time_to_line({0.3, 5000, 8000, 8200}), pulled = time_to_line({0.3, 5000, 8000, 8200, 2000});
  CHECK(pulled < level);
  // Straight on, without weight: the rate of a body that a moment alone speeds up.
  const double moment = 3000, inertia = 5000, moving = 1000, angle = 0.3;
  const double begin = std::sqrt(2 * moving / inertia), end = std::sqrt(2 * (moving + moment * angle) / inertia);
  CHECK_NEAR(time_to_line({angle, inertia, 0, moving, moment}), (end - begin) * inertia / moment, 1e-9);
}

#if defined(SIDEHILL_SCREEN)
namespace {

Scene even(const char* name) {
  Scene scene = load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/" + name + ".toml");
  scene.terrain.features.clear();
  return scene;
}

}  // namespace

TEST_CASE("at rest nothing is left at the slope of first lift-off, however the machine stands") {
  for (const char* name : {"first_slope", "bucket_up", "orchard_row"}) {
    for (double heading : {-90.0, -60.0, 90.0, 120.0}) {
      Scene scene = even(name);
      scene.start.heading = heading * kDegree;
      const LiftOff lift = first_lift_off(build(scene));
      if (!lift.slope || *lift.slope > 59 * kDegree) continue;
      INFO(name, " at ", heading, " deg, lift-off ", *lift.slope / kDegree, " deg");
      scene.terrain.slope = *lift.slope - 1e-6;  // just before, so that it surely rests
      const Model model = build(scene);
      const StaticSolution statics = solve_statics(model);
      REQUIRE(statics.rest);
      const std::optional<double> left = angle_left(model, rest_state(model, *statics.rest));
      REQUIRE(left);
      // Off the contour the pin passes on the lengthwise pull of the axle's own weight, which the measure leaves out.
      CHECK_NEAR(*left / kDegree, 0, std::abs(heading) == 90 ? 0.02 : 0.12);
    }
  }
}

TEST_CASE("a run that starts at rest shows what is left at rest from its first moment on") {
  for (const char* name : {"first_slope", "bucket_up", "pull_too_high", "orchard_row"})
    for (const double heading : {-90.0, -50.0, 20.0}) {
      Scene scene = even(name);
      scene.terrain.slope = 6 * kDegree;
      scene.start.heading = heading * kDegree;
      scene.programme = {};
      scene.programme.duration = 0.1;
      const Model model = build(scene);
      const StaticSolution statics = solve_statics(model);
      INFO(name, " at ", heading, " deg");
      REQUIRE(statics.rest);
      const Recording recording = run(scene);
      const State& first = recording.states.front();
      for (std::size_t i = 0; i < kWheels; ++i) {
        CHECK_NEAR(glm::length(first.wheels[i].force_G - statics.rest->force_G[i]), 0, 1e-6);
        CHECK_NEAR(glm::length(first.wheels[i].contact_G - statics.rest->contact_G[i]), 0, 1e-9);
      }
      const auto at_start = angle_left(model, first), next = angle_left(model, recording.states[1]);
      REQUIRE(at_start);
      REQUIRE(next);
      CHECK_NEAR(*at_start / kDegree, *next / kDegree, 0.05);
    }
}

TEST_CASE("less is left the steeper it is") {
  double before = 90;
  for (double slope : {0.0, 10.0, 20.0, 30.0}) {
    Scene scene = even("first_slope");
    scene.terrain.slope = slope * kDegree;
    const Model model = build(scene);
    const StaticSolution statics = solve_statics(model);
    REQUIRE(statics.rest);
    const double left = *angle_left(model, rest_state(model, *statics.rest)) / kDegree;
    CHECK(left < before);
    before = left;
  }
}

TEST_CASE("in the air nothing can be said") {
  const Model model = build(even("first_slope"));
  CHECK_FALSE(angle_left(model, placed_state(model)));
}
#endif  // SIDEHILL_SCREEN

namespace {

// At rest as the moving machine sees it: forces of one step, nothing moved to speak of.
struct Standing {
  Model model;
  State state;
  LineMeasure line;  // downhill
};

Standing standing(Scene scene) {
  scene.settings.engine = Engine::own;
  Standing out{build(scene), {}, {}};
  const std::optional<Rest> rest = solve_statics(out.model).rest;
  REQUIRE(rest);
  World world(out.model, rest->X_GV, rest->axle_angle);
  world.settle(*rest);
  Input input;
  input.slope = rest->slope;
  input.boom_angle = out.model.loader.angle;
  world.step(input);
  out.state = world.state();
  out.line = measures(out.model, *rest).lines[static_cast<std::size_t>(TipLine::right)];
  return out;
}

// Body V on tyres that hardly give: its masses and places, across 15 deg.
Scene body_v() {
  Scene scene = machine_p();
  for (Axle* axle : {&scene.vehicle.front, &scene.vehicle.rear}) {
    axle->tyre.vertical_stiffness = axle->tyre.lateral_stiffness = 2e8;
    axle->tyre.vertical_damping = axle->tyre.lateral_damping = 0;
  }
  scene.vehicle.tank.capacity = 0;
  scene.terrain.slope = 15 * kDegree;
  scene.settings.time_step = 1e-4;
  return scene;
}

// Of a pendulum on its head, `angle` from balance and turning towards it at `rate`: time to it, empty = falls back.
// I q'' = -m g r sin(angle to balance), by the classical fourth-order rule at 0.1 ms.
std::optional<double> time_to_balance(double stiffness, double angle, double rate) {  // stiffness = m g r / I
  double left = angle, w = -rate, time = 0;
  constexpr double h = 1e-4;
  const auto pull = [&](double q) { return stiffness * std::sin(q); };
  while (left > 0) {
    if (w >= 0) return std::nullopt;
    const double k1 = pull(left), k2 = pull(left + h / 2 * w), k3 = pull(left + h / 2 * w + h * h / 4 * k1),
                 k4 = pull(left + h * w + h * h / 2 * k2);
    const double next = left + h * w + h * h / 6 * (k1 + k2 + k3);
    if (next <= 0) return time + h * left / (left - next);
    w += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
    left = next, time += h;
  }
  return time;
}

}  // namespace

TEST_CASE("at rest as much energy is left as over the downhill line, and turning takes off its own") {
  // Source of 4094.36 J: closed form outside for the planar body V across 15 deg; the inertia 1200 + 3000 (0.8^2 +
  // 0.85^2) = 5287.5 kg m2 about its downhill contacts. Tyres give a tenth of a millimetre.
  const Standing v = standing(body_v());
  const auto still = remaining(v.model, v.state);
  REQUIRE(still);
  CHECK(still->line == TipLine::right);
  CHECK_FALSE(still->over);
  CHECK_FALSE(still->time);
  CHECK_NEAR(still->energy, 4094.3616310285033, 0.001 * 4094.3616310285033);
  CHECK_NEAR(still->energy, v.line.energy, 0.001 * v.line.energy);
  State turning = v.state;
  for (const double rate : {0.3, 0.9, 1.2, 1.3, 2.0}) {
    turning.w_G = -rate * v.line.axis;
    const auto now = remaining(v.model, turning);
    REQUIRE(now);
    CHECK_NEAR(now->energy, 4094.3616310285033 - 0.5 * 5287.5 * rate * rate, 0.001 * 4094.3616310285033);
    CHECK(now->time.has_value() == (now->energy < 0));
  }
  turning.w_G = 0.9 * v.line.axis;  // away from it: nothing gained, nothing lost
  CHECK_NEAR(remaining(v.model, turning)->energy, still->energy, 1e-6);
}

TEST_CASE("so it does for whole tractors, on a pivot and on a fixed axle, liquid and loader on") {
  for (const char* kind : {"pivoting", "fixed"})
    for (const char* name : {"utility_75kw", "orchard_60kw", "compact_26kw"}) {
      Scene scene = test_machine(name, {"ballast.rear.fill_fraction=0.6", "terrain.slope_deg=12",
                                        std::string("vehicle.front_axle.kind=\"") + kind + "\""});
      const Standing m = standing(scene);
      INFO(std::string(name), " ", std::string(kind));
      const auto still = remaining(m.model, m.state);
      REQUIRE(still);
      CHECK(still->line == TipLine::right);
      CHECK_NEAR(still->energy, m.line.energy, 1e-3 * m.line.energy);
      State turning = m.state;
      turning.w_G = -0.5 * m.line.axis;
      CHECK_NEAR(remaining(m.model, turning)->energy, m.line.energy - 0.125 * m.line.inertia, 1e-3 * m.line.energy);
    }
}

TEST_CASE("time to the point of no return is that of a pendulum on its head, and there is none when it comes back") {
  const Standing v = standing(body_v());
  const double reach = std::hypot(0.8, 0.85), stiffness = 3000 * v.model.gravity * reach / 5287.5;
  const double angle = std::atan2(0.8, 0.85) - 15 * kDegree;
  double worst = 0;
  for (const double share : {0.5, 0.9, 0.99, 1.001, 1.01, 1.05, 1.2, 1.6, 3.0}) {
    const double rate = share * 1.2444656310127695;  // of the critical one: closed form outside
    State turning = v.state;
    turning.w_G = -rate * v.line.axis;
    const auto now = remaining(v.model, turning);
    REQUIRE(now);
    const auto expected = time_to_balance(stiffness, angle, rate);
    REQUIRE(now->time.has_value() == expected.has_value());
    if (!expected) continue;
    INFO("turning at ", share, " of the critical rate");
    worst = std::max(worst, std::abs(*now->time / *expected - 1));
    CHECK_NEAR(*now->time, *expected, 0.01 * *expected);
  }
  MESSAGE("time off by at most ", worst);
}

TEST_CASE("beyond its balance it is over, however it turns") {
  // Turned about its downhill contacts beyond the angle of balance, still standing on them.
  const Standing v = standing(body_v());
  State beyond = v.state;
  const auto turn_to = [&](double angle) {
    const Vec3 axis = -v.line.axis, at = v.state.wheels[kRearRight].contact_G;
    const Mat3 R = glm::mat3_cast(glm::angleAxis(angle, axis));
    beyond.X_GV = {R * v.state.X_GV.R, at + R * (v.state.X_GV.p - at)};
    beyond.centre_of_gravity_G = at + R * (v.state.centre_of_gravity_G - at);
    for (const std::size_t w : {kFrontLeft, kRearLeft}) {
      beyond.wheels[w].centre_G = at + R * (v.state.wheels[w].centre_G - at);
      beyond.wheels[w].load = 0, beyond.wheels[w].force_G = Vec3(0.0);
    }
  };
  for (const double more : {-0.05, 0.05, 0.3}) {
    turn_to(v.line.angle + more);
    beyond.w_G = Vec3(0.0);
    const auto now = remaining(v.model, beyond);
    REQUIRE(now);
    CHECK(now->over == (more > 0));
    if (more < 0) continue;
    CHECK(now->line == TipLine::right);
    REQUIRE(now->time);
    CHECK(*now->time == 0);
    CHECK(now->energy <= 0);
  }
}
