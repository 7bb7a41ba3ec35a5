// Steering: the circles a machine drives against geometry, and the speed at which it lifts its inner wheel in a bend
// against the answer at rest under the same pull.
#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "sim/motion/world.h"
#include "sim/rest/manoeuvre.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

World at_rest(const Model& model) {
  const std::optional<Rest> rest = solve_statics(model).rest;
  REQUIRE(rest);
  World world(model, rest->X_GV, rest->axle_angle);
  world.settle(*rest);
  return world;
}

// Of the middle of the rear axle, once the circle is steady: speed over turning rate, averaged over four seconds [m].
double circle(const Scene& scene, double speed, double steer) {
  const Model model = build(scene);
  World world = at_rest(model);
  Input input;
  input.hold = false;
  input.gear_speed = speed;
  input.steers = true;
  input.steer = steer;
  input.boom_angle = model.loader.angle;
  const long settling = std::lround(12 / model.time_step), steps = std::lround(4 / model.time_step);
  double travelled = 0, turned = 0;
  for (long n = 0; n < settling + steps; ++n) {
    input.target_speed = std::min(speed, 0.5 * world.state().time);
    world.step(input);
    if (n < settling) continue;
    const State& s = world.state();
    travelled += glm::length(glm::dvec2(s.v_G.x, s.v_G.y)), turned += s.w_G.z;
  }
  return travelled / turned;
}

// The reference body R able to move: on tyres that give about a millimetre, wheels and beam of a few kilograms, its
// front axle on its pin.
Scene moving_r() {
  Scene scene = machine_r();
  Vehicle& v = scene.vehicle;
  v.tank.capacity = 0;
  v.front_axle.mass = 20;
  v.front_axle.stop_stiffness = 1e6, v.front_axle.stop_damping = 4000;
  v.front.wheel_mass = v.rear.wheel_mass = 10;
  v.front.spin_inertia = 1, v.rear.spin_inertia = 10;
  for (Axle* axle : {&v.front, &v.rear}) {
    Tyre& tyre = axle->tyre;
    tyre.rigid = tyre.laterally_rigid = false;
    tyre.vertical_stiffness = tyre.longitudinal_stiffness = tyre.lateral_stiffness = 4e6;
    tyre.vertical_damping = 1e4, tyre.lateral_damping = 1e4;
  }
  scene.start.heading = 0;
  scene.settings.time_step = 5e-4;
  scene.settings.engine = Engine::own;
  return scene;
}

// Radius of the whole rear half's circle: both halves' axles point at one centre, from the joint `front` ahead of which
// the front axle lies and `rear` behind which the rear one.
double articulated_circle(double front, double rear, double angle) {
  return (front + rear * std::cos(angle)) / std::sin(angle);
}

}  // namespace

TEST_CASE("steered at walking pace a tractor drives the circle its wheels point at") {
  // Wheelbase / tan(steer), of the middle of the rear axle (Ackermann); left and right alike.
  for (const char* name : {"utility_75kw", "two_wheel_45kw"})
    for (const double steer : {0.15, 0.4, -0.4, 0.6}) {
      Scene scene = test_machine(name, {"start.heading_deg=0"});
      scene.settings.engine = Engine::own;
      const double radius = circle(scene, 0.8, steer), closed = scene.vehicle.wheelbase / std::tan(steer);
      MESSAGE(std::string(name), " steered ", steer, ": ", radius, " of ", closed, " m");
      CHECK_NEAR(radius, closed, 0.03 * std::abs(closed));
    }
}

TEST_CASE("no wheel is steered further than there is") {
  Scene scene = test_machine("utility_75kw", {"start.heading_deg=0"});
  scene.settings.engine = Engine::own;
  scene.vehicle.drive.most_steer = 0.5;
  const double radius = circle(scene, 0.8, 1.2), closed = scene.vehicle.wheelbase / std::tan(0.5);
  CHECK_NEAR(radius, closed, 0.03 * closed);
}

TEST_CASE("quickening slowly in a circle a tractor lifts its inner rear wheel at the pull that lifts it at rest") {
  // Driven round 8 m, the middle of gravity held on it, a little faster all the time. Expected: statics under v^2 / r
  // as a pull to the outside (sim/rest/manoeuvre), of this same machine; and for R itself, massless wheels on rigid
  // tyres, g tan(its angle of first lift-off): 7.703 m/s. Source of that: closed form outside (turning, level, 8 m).
  Scene scene = moving_r();
  scene.manoeuvre.turn_radius = 8;
  scene.manoeuvre.speed = 5;
  const Model model = build(scene);
  for (const int way : {1, -1}) {
    double expected = 0;
    for (const ManoeuvreAnswer& answer : manoeuvres(scene, model))
      if (answer.kind == (way > 0 ? ManoeuvreKind::turning_left : ManoeuvreKind::turning_right))
        expected = answer.acceleration_at_limit.value_or(0);
    // Sharper: the centre of the circle is abreast of the rear axle, which does not slide aside, so that the pull on
    // the centre of gravity also points ahead by asin(x / 8).
    const double ahead = std::asin(centre_of_gravity(model).x / 8);
    double sharp = 0, beyond = 12;
    while (beyond - sharp > 1e-3) {
      const double a = 0.5 * (sharp + beyond);
      const auto load = least_load_at(accelerated(model, way * a * std::cos(ahead), a * std::sin(ahead)), 0);
      (load && *load > 0 ? sharp : beyond) = a;
    }
    World world = at_rest(model);
    Input input;
    input.hold = false;
    input.gear_speed = 10;
    const Wheel inner = way > 0 ? kRearLeft : kRearRight;
    double pull = 0, speed = 0, radius = 0, steer = std::atan(model.wheelbase / 8), up_for = 0;
    while (world.state().time < 60 && up_for < 0.05) {
      const State& s = world.state();
      const Vec3 v = s.v_G + glm::cross(s.w_G, s.centre_of_gravity_G - s.X_GV.p);
      const double fast = glm::length(glm::dvec2(v.x, v.y));
      if (s.wheels[inner].load > 0) {
        up_for = 0, speed = fast, pull = fast * std::abs(s.w_G.z), radius = fast / std::abs(s.w_G.z);
      } else {
        up_for += model.time_step;
      }
      if (s.time > 2) steer += 0.5 * (fast / 8 - std::abs(s.w_G.z)) * model.time_step;
      input.steers = true;
      input.steer = way * steer;
      const double t = s.time;
      input.target_speed = t < 6 ? t : std::min(9.5, 6 + 0.1 * (t - 6));
      world.step(input);
    }
    MESSAGE(std::string(way > 0 ? "left" : "right"), ": lifts at ", pull, " m/s2 of ", expected, " (", sharp,
            " ahead of the rear axle), ", speed, " m/s round ", radius, " m");
    CHECK(up_for >= 0.05);
    CHECK_NEAR(radius, 8, 0.03 * 8);
    CHECK_NEAR(pull, expected, 0.03 * expected);
    CHECK_NEAR(pull, sharp, 0.012 * sharp);  // the yaw rate that it is read from trembles by a thousandth
    CHECK_NEAR(std::sqrt(pull * 8), 7.703190743864755, 0.03 * 7.703190743864755);
  }
}

TEST_CASE("an articulated machine drives the circle its two axles point at") {
  // Small angles: wheelbase / angle. Exactly: (front + rear cos q) / sin q, of the middle of the rear axle; both axles
  // point at the centre of the circle.
  for (const double joint : {1.1, 1.5})
    for (const double angle : {0.1, -0.1, 0.3}) {
      Scene scene = moving_r();
      Vehicle& v = scene.vehicle;
      v.front_axle.kind = AxleKind::articulated;
      v.front_axle.mass = 1300;
      v.front_axle.x = 2.1;
      v.front_axle.z = v.front_axle.pin_height = 0.75;
      v.front_axle.joint_x = joint;
      v.chassis.mass = 1700;
      v.chassis.centre_of_gravity = {0.3, 0, 0.85};
      v.front = v.rear;
      for (Axle* axle : {&v.front, &v.rear}) axle->spin_inertia = 20, axle->wheel_mass = 60;
      const double radius = circle(scene, 0.8, angle), small = 2.2 / angle,
                   exact = articulated_circle(2.2 - joint, joint, angle);
      MESSAGE("joint at ", joint, " m turned ", angle, ": ", radius, " of ", exact, " m, for small angles ", small);
      CHECK_NEAR(radius, exact, 0.02 * std::abs(exact));
      if (std::abs(angle) < 0.2) CHECK_NEAR(radius, small, 0.05 * std::abs(small));
    }
}
