// The points of curves over a filling: what a scene filled so gives when it is asked alone.
#include "sim/insight/fill_points.h"

#include <doctest/doctest.h>

#include "sim/insight/job_slope.h"
#include "sim/job/rules.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("a point is the lift-off or the slide of the scene filled so, and the axle's load by the rules") {
  const Scene scene = test_scene("first_slope");
  for (const double fill : {0.0, 0.4, 0.75}) {
    const Scene filled = filled_scene(scene, false, Medium::water, 0, fill);
    CHECK(filled.ballast.fill[kRearLeft].fill_fraction == fill);
    CHECK(filled.ballast.fill[kRearRight].medium == Medium::water);
    CHECK(filled.ballast.fill[kFrontLeft].fill_fraction == scene.ballast.fill[kFrontLeft].fill_fraction);
    const Model model = build(filled);
    const FillPoint point = fill_point(filled, model, false);
    EnvelopePoint alone;
    alone.first_lift_off = first_lift_off(model).slope;
    alone.slide = slide_slope(model);
    CHECK(point.gives_way() == alone.gives_way());
    CHECK(point.load == rules_on(filled, model).axles.rear);
    CHECK(point.fill == fill);
    CHECK_FALSE(point.failed);
  }
}

TEST_CASE("an interval over the filling is that of the scene at its heading, whatever its slope, and holds the value") {
  Scene scene = filled_scene(test_scene("first_slope"), false, Medium::calcium_chloride_3_5, 0, 0.5);
  const Model model = build(scene);
  FillPoint point = fill_point(scene, model, false);
  add_ranges(point, scene, false);
  REQUIRE(point.ranged);
  REQUIRE(point.range());
  CHECK(point.range()->low < *point.gives_way());
  CHECK(point.range()->high > *point.gives_way());
  const auto alone = range_at(scene, scene.start.heading);
  REQUIRE(alone);
  CHECK_NEAR(point.range()->low, alone->low, 1e-3 * kDegree);
  CHECK_NEAR(point.range()->high, alone->high, 1e-3 * kDegree);
  REQUIRE(point.load_range);
  CHECK(point.load_range->low < point.load);
  CHECK(point.load_range->high > point.load);
  CHECK(point.load_range->high - point.load_range->low < 0.5 * point.load);
}

TEST_CASE("foam fills the tyre whole, and bumps have no say") {
  const Scene bumpy = test_scene("over_a_stump");
  REQUIRE_FALSE(bumpy.terrain.features.empty());
  const Scene foam = filled_scene(bumpy, true, Medium::polyurethane, 0, 0.3);
  CHECK(foam.ballast.fill[kFrontLeft].fill_fraction == 1);
  CHECK(foam.terrain.features.empty());
  CHECK(filled_scene(bumpy, true, Medium::polyurethane, 0, 0).ballast.fill[kFrontLeft].fill_fraction == 0);
  const Scene even = filled_scene(bumpy, false, Medium::water, 0, 0.5);
  Scene uneven = even;
  uneven.terrain.features = bumpy.terrain.features;
  CHECK(fill_point(uneven, build(uneven), false).gives_way() == fill_point(even, build(even), false).gives_way());
}
