// The tyre's force by itself: spring, damper, a bristle that sticks, relaxes and gives way.
#include "sim/model/tyre_force.h"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

constexpr double kStep = 1e-3;  // [s]

TyreLaw law() {
  TyreLaw tyre;
  tyre.radius = 0.8;
  tyre.vertical_stiffness = 350e3, tyre.vertical_damping = 4e3;
  tyre.lateral_stiffness = 200e3, tyre.lateral_damping = 3e3;
  tyre.longitudinal_stiffness = 300e3, tyre.reference_load = 14e3;
  tyre.relaxation = 0.7;
  return tyre;
}

Soil ground(double adhesion) {
  Soil soil;
  soil.adhesion = adhesion;
  soil.adhesion_unlimited = adhesion <= 0;
  return soil;
}

TyreContact pressed(double penetration) {
  TyreContact contact;
  contact.penetration = penetration;
  return contact;
}

}  // namespace

TEST_CASE("the load is a spring and a damper that press and never pull") {
  Bristle bristle;
  const Soil soil = ground(0.6);
  CHECK_NEAR(tyre_force(law(), soil, pressed(0.04), {}, kStep, bristle).load, 14000, 1e-9);
  CHECK_NEAR(tyre_force(law(), soil, pressed(0.04), {.closing = 0.5}, kStep, bristle).load, 16000, 1e-9);
  CHECK_NEAR(tyre_force(law(), soil, pressed(0.04), {.closing = -5}, kStep, bristle).load, 0, 1e-12);
  bristle.across = 0.01;
  const TyreForce air = tyre_force(law(), soil, pressed(-0.001), {.closing = 3, .left = 1}, kStep, bristle);
  CHECK(air.load == 0);
  CHECK(air.across == 0);
  CHECK(bristle.across == 0);  // let go: it takes hold anew where it lands
}

TEST_CASE("a parked wheel holds for an hour where it stands: no creep") {
  Bristle bristle;
  const Soil soil = ground(0.6);
  // Pushed 10 mm aside in 0.1 s, then left alone.
  for (int i = 0; i < 100; ++i) tyre_force(law(), soil, pressed(0.04), {.left = 0.1}, kStep, bristle);
  TyreForce force;
  for (int i = 0; i < 3600; ++i) force = tyre_force(law(), soil, pressed(0.04), {}, 1.0, bristle);
  CHECK_NEAR(force.across, -200e3 * 0.01, 1e-6);
  CHECK_FALSE(force.sliding);
}

TEST_CASE("a rolling tyre builds up its side force over the relaxation length") {
  // d(bend)/dx = tan(slip) - bend / relaxation: bend = tan(slip) relaxation (1 - exp(-x / relaxation)). First-order lag
  // of the brush with relaxation (Pacejka 2012, ch. 7), integrated here by hand.
  Bristle bristle;
  const Soil soil = ground(-1);
  const double speed = 2, slip = 0.02;
  double rolled = 0;
  for (int i = 0; i < 3000; ++i) {
    tyre_force(law(), soil, pressed(0.04), {.forward = speed, .left = speed * slip, .rim_speed = speed}, kStep,
               bristle);
    rolled += speed * kStep;
    if (i % 250 == 249) CHECK_NEAR(bristle.across, slip * 0.7 * (1 - std::exp(-rolled / 0.7)), 2e-5);
  }
  const TyreForce steady = tyre_force(law(), soil, pressed(0.04),
                                      {.forward = speed, .left = speed * slip, .rim_speed = speed}, kStep, bristle);
  CHECK_NEAR(steady.across, -200e3 * slip * 0.7, 10);
  CHECK_NEAR(steady.along, 0, 1e-9);
}

TEST_CASE("adhesion limits both directions together, on a circle or an ellipse, and slips at once when pulled back") {
  const Soil soil = ground(0.5);
  for (const double way : {0.0, 0.7, 2.0, -2.5}) {
    Bristle bristle;
    TyreForce force;
    const ContactMotion motion{.forward = 0.3 * std::cos(way), .left = 0.3 * std::sin(way)};
    for (int i = 0; i < 1000; ++i) force = tyre_force(law(), soil, pressed(0.04), motion, kStep, bristle);
    CHECK(force.sliding);
    CHECK_NEAR(std::hypot(force.along, force.across), 0.5 * 14000, 1e-6);
    // Against the motion; the two stiffnesses differ, so the direction is near, not exactly opposite.
    CHECK(force.along * motion.forward + force.across * motion.left < -0.95 * 0.5 * 14000 * 0.3);
    // The bristle is bent no further than the force: stopped, it holds that force and does not spring back.
    const TyreForce stopped = tyre_force(law(), soil, pressed(0.04), {}, kStep, bristle);
    CHECK_NEAR(std::hypot(stopped.along, stopped.across), 0.5 * 14000, 0.02 * 7000);
  }
  // Less across than along: on an ellipse, and never gives more than it takes from the motion.
  Soil rutted = ground(0.5);
  rutted.adhesion_across_ratio = 0.6;
  for (int step = 0; step < 24; ++step) {
    const double way = step * kPi / 12;
    Bristle bent;
    TyreForce force;
    const ContactMotion motion{.forward = 0.3 * std::cos(way), .left = 0.3 * std::sin(way)};
    for (int i = 0; i < 1000; ++i) force = tyre_force(law(), rutted, pressed(0.04), motion, kStep, bent);
    CHECK(force.sliding);
    CHECK_NEAR(std::hypot(force.along, force.across / 0.6), 0.5 * 14000, 1e-6);
    CHECK(force.along * motion.forward + force.across * motion.left < -0.5 * 0.6 * 14000 * 0.3 * 0.95);
    if (step % 12 == 0) CHECK_NEAR(std::abs(force.along), 7000, 1e-6);
    if (step % 12 == 6) CHECK_NEAR(std::abs(force.across), 4200, 1e-6);
  }
  Bristle bristle;
  TyreForce force;
  for (int i = 0; i < 1000; ++i) force = tyre_force(law(), ground(-1), pressed(0.04), {.left = 0.3}, kStep, bristle);
  CHECK_FALSE(force.sliding);
  CHECK_NEAR(force.across, -200e3 * 0.3 - 3e3 * 0.3, 1e-6);
}

TEST_CASE("lengthwise stiffness goes with the load, so an unloading tyre lets go smoothly") {
  const Soil soil = ground(-1);
  double last = 0;
  for (const double depth : {1e-6, 0.01, 0.02, 0.04, 0.08}) {
    Bristle bristle{.along = 0.01};
    const double along = tyre_force(law(), soil, pressed(depth), {}, kStep, bristle).along;
    CHECK_NEAR(along, -300e3 * 0.01 * depth / 0.04, 1e-6);
    CHECK(along < last);
    last = along;
  }
}

TEST_CASE("a locked wheel that is dragged resists; a wheel spun under a standing machine drives") {
  const Soil soil = ground(0.5);
  Bristle bristle;
  TyreForce dragged, spun;
  for (int i = 0; i < 500; ++i) dragged = tyre_force(law(), soil, pressed(0.04), {.forward = 1}, kStep, bristle);
  CHECK_NEAR(dragged.along, -7000, 1e-6);
  bristle = {};
  for (int i = 0; i < 500; ++i) spun = tyre_force(law(), soil, pressed(0.04), {.rim_speed = 1}, kStep, bristle);
  CHECK_NEAR(spun.along, 7000, 1e-6);
  CHECK(spun.sliding);
}

TEST_CASE("pressed in beyond its section a tyre stands on its rim, and what goes in comes out") {
  TyreLaw tyre;
  tyre.vertical_stiffness = 3e5;
  tyre.rim_height = 0.3;
  CHECK_NEAR(radial_spring(tyre, 0.1), 3e4, 1e-9);
  CHECK(radial_spring(tyre, -0.1) == 0);
  CHECK(radial_spring(tyre, 0.35) > 2 * 0.35 * tyre.vertical_stiffness);
  double work = 0;  // by the trapezoid rule
  constexpr int kSteps = 40000;
  for (int i = 0; i < kSteps; ++i)
    work += 0.5 * (radial_spring(tyre, 0.4 * i / kSteps) + radial_spring(tyre, 0.4 * (i + 1) / kSteps)) * 0.4 / kSteps;
  CHECK_NEAR(radial_energy(tyre, 0.4), work, 1e-3);
  tyre.rim_height = 0;  // a disc without a rim
  CHECK_NEAR(radial_spring(tyre, 0.4), 1.2e5, 1e-9);
}
