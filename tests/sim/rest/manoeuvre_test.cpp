#include "sim/rest/manoeuvre.h"

#include <cmath>

#include "sim/base/constants.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

// Across the slope, downhill to the right, a pull of `acceleration` to the right: where sin a + acceleration / g = tan
// a0 cos a, with a0 the rigid lift-off angle without it. Closed form: effective gravity turned to the lift-off line.
double with_pull(double lift_off, double acceleration, double gravity) {
  return lift_off - std::asin(acceleration / gravity * std::cos(lift_off));
}

}  // namespace

TEST_CASE("in a bend machine R lifts where its effective gravity points at the support line") {
  const Scene scene = machine_r();
  const Model model = build(scene);
  const double alone = *first_lift_off(model).slope;
  for (double acceleration : {0.5, 1.0, 2.0, 4.0}) {
    CAPTURE(acceleration);
    // Turning left pushes to the right, downhill.
    CHECK_NEAR(*first_lift_off(accelerated(model, acceleration, 0)).slope / kDegree,
               with_pull(alone, acceleration, model.gravity) / kDegree, 0.01);
    CHECK_NEAR(*first_lift_off(accelerated(model, -acceleration, 0)).slope / kDegree,
               with_pull(alone, -acceleration, model.gravity) / kDegree, 0.01);
  }
}

TEST_CASE("braking downhill takes the rear wheels off the ground as a steeper hill would") {
  Scene scene = machine_r();
  scene.start.heading = kPi;  // facing straight downhill: the mass ahead of the front contacts when tan a = (L - x) / h
  Model model = build(scene);
  const double alone = std::atan2(2.2 - 0.9, 0.85);
  CHECK_NEAR(*first_lift_off(accelerated(model, 0, 3)).slope / kDegree, with_pull(alone, 3, model.gravity) / kDegree,
             0.15);
}

TEST_CASE("the limit on a slope is where the margin has gone") {
  Scene scene = machine_r();
  scene.terrain.slope = 10 * kDegree;
  scene.manoeuvre = {5, 20, 2};
  const Model model = build(scene);
  const auto answers = manoeuvres(scene, model);
  REQUIRE(answers.size() == 3);
  const double alone = *first_lift_off(model).slope;
  for (int side : {0, 1}) {
    const ManoeuvreAnswer& a = answers[static_cast<std::size_t>(side)];
    CHECK_NEAR(a.acceleration, 1.25, 1e-12);
    const double sign = side == 0 ? 1 : -1;
    // sin a +- acceleration / g = +-tan a0 cos a, whichever side lifts.
    const double limit =
        model.gravity * (std::tan(alone) * std::cos(scene.terrain.slope) - sign * std::sin(scene.terrain.slope));
    REQUIRE(a.acceleration_at_limit);
    CHECK_NEAR(*a.acceleration_at_limit, limit, 0.005);
    CHECK_NEAR(*a.speed_at_limit, std::sqrt(limit * 20), 0.01);
  }
  CHECK(*answers[0].margin < *answers[1].margin);
  CHECK(answers[2].kind == ManoeuvreKind::braking);
  CHECK(manoeuvres(machine_r(), model).empty());
}

TEST_CASE("mirrored, left and right change places; wheel loads carry what is acceleration") {
  Scene scene = test_machine("utility_75kw", {"terrain.slope_deg=12", "ballast.rear.fill_fraction=0.6"});
  scene.manoeuvre = {4, 12, 0};
  Scene mirrored = scene;
  mirrored.start.heading = -scene.start.heading;
  const auto a = manoeuvres(scene, build(scene)), b = manoeuvres(mirrored, build(mirrored));
  CHECK_NEAR(*a[0].lift_off.slope / kDegree, *b[1].lift_off.slope / kDegree, 1e-4);
  CHECK_NEAR(*a[1].lift_off.slope / kDegree, *b[0].lift_off.slope / kDegree, 1e-4);
  REQUIRE(a[0].rest);
  double side = 0, up = 0;
  for (const Vec3& f : a[0].rest->force_G) side += f.y, up += f.z;
  const double weight = total_mass(build(scene)) * scene.settings.gravity;
  CHECK_NEAR(up, weight * std::cos(scene.terrain.slope), 1e-5 * weight);
  CHECK_NEAR(side, weight * std::sin(scene.terrain.slope) + weight / scene.settings.gravity * 16 / 12, 1e-5 * weight);
}
