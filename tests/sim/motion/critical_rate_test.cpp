// The turning rate that just brings a machine over, as the measures at rest say it, against the machine let go at that
// rate: a little less and it comes back, a little more and it goes over.
#include <doctest/doctest.h>

#include <cmath>

#include "sim/base/constants.h"
#include "sim/motion/world.h"
#include "sim/rest/margin.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

// The measure knows no tyre: here they give a millimetre or less, and lose next to nothing on the way.
void stiffen(Scene& scene) {
  for (Axle* axle : {&scene.vehicle.front, &scene.vehicle.rear}) {
    Tyre& tyre = axle->tyre;
    tyre.rigid = tyre.laterally_rigid = false;
    tyre.vertical_stiffness = tyre.lateral_stiffness = tyre.longitudinal_stiffness = 2e7;
    tyre.vertical_damping = tyre.lateral_damping = 2e4;
  }
  scene.vehicle.front_axle.kind = AxleKind::fixed;
  scene.vehicle.tank.capacity = 0;
  scene.settings.time_step = 1e-4;
  scene.settings.engine = Engine::own;
  scene.start.heading = -90 * kDegree;
}

struct Toppling {
  Model model;
  Rest rest;
  LineMeasure line;
};

Toppling toppling(const Scene& scene) {
  Toppling out{build(scene), {}, {}};
  const std::optional<Rest> rest = solve_statics(out.model).rest;
  REQUIRE(rest);
  out.rest = *rest;
  out.line = measures(out.model, *rest).lines[static_cast<std::size_t>(TipLine::right)];
  return out;
}

// Turned about its downhill line at that rate, at rest otherwise, and left alone.
bool goes_over_at(const Toppling& t, double rate) {
  World world(t.model, t.rest.X_GV, t.rest.axle_angle);
  world.settle(t.rest);
  const Vec3 turning = -rate * t.line.axis;
  world.set_velocity(glm::cross(turning, t.rest.X_GV.p - t.rest.contact_G[kRearRight]), turning);
  Input input;
  input.slope = t.rest.slope;
  input.boom_angle = t.model.loader.angle;
  double turned = 0;
  while (world.state().time < 6) {
    world.step(input);
    turned -= glm::dot(world.state().w_G, t.line.axis) * t.model.time_step;
    if (turned > t.line.angle + 0.05) return true;
    if (world.state().time > 0.05 && glm::dot(world.state().w_G, t.line.axis) > 0.05) return false;
  }
  return false;
}

// Within how much of the measure the machine's own limit lies.
double limit_over_measure(const Toppling& t) {
  double back = 0.8, over = 1.2;
  REQUIRE_FALSE(goes_over_at(t, back * t.line.critical_rate));
  REQUIRE(goes_over_at(t, over * t.line.critical_rate));
  while (over - back > 1e-3) {
    const double middle = 0.5 * (back + over);
    (goes_over_at(t, middle * t.line.critical_rate) ? over : back) = middle;
  }
  return 0.5 * (back + over);
}

}  // namespace

TEST_CASE("body P on stiff tyres comes back just below the critical rate and goes over just above it") {
  // Source of 1.2445 rad/s across 15 deg: closed form outside for the planar body V, whose masses and places P has.
  // sqrt(2 m g r (1 - cos(angle to balance)) / (Ixx + m r^2)).
  Scene scene = machine_p();
  stiffen(scene);
  scene.terrain.slope = 15 * kDegree;
  const Toppling t = toppling(scene);
  CHECK_NEAR(t.line.critical_rate, 1.2444656310127695, 0.002 * 1.2444656310127695);
  CHECK_FALSE(goes_over_at(t, 0.98 * 1.2444656310127695));
  CHECK(goes_over_at(t, 1.02 * 1.2444656310127695));
  const double limit = limit_over_measure(t);
  MESSAGE("P goes over from ", limit, " of the measure on");
  CHECK_NEAR(limit, 1, 0.01);
}

TEST_CASE("so does a utility tractor on a fixed axle, on three slopes") {
  for (const double slope : {5.0, 15.0, 25.0}) {
    Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0", "vehicle.loader.fitted=false"});
    stiffen(scene);
    scene.terrain.slope = slope * kDegree;
    const Toppling t = toppling(scene);
    CHECK_FALSE(goes_over_at(t, 0.97 * t.line.critical_rate));
    CHECK(goes_over_at(t, 1.03 * t.line.critical_rate));
    const double limit = limit_over_measure(t);
    MESSAGE("slope ", slope, ": critical rate ", t.line.critical_rate, " rad/s, goes over from ", limit, " of it on");
    CHECK_NEAR(limit, 1, 0.02);
  }
}
