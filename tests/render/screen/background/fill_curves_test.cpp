#ifdef SIDEHILL_SCREEN
// Curves over a filling on their thread: what a scene filled so gives alone; of an older scene nothing stays.
#include "render/screen/background/fill_curves.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "sim/insight/job_slope.h"
#include "sim/job/rules.h"
#include "tests/kit/machines.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::screen;

TEST_CASE("every point of every curve is a separate answer, to the last digit, and lies in its interval") {
  const Scene scene = test_scene("first_slope");
  FillCurves curves;
  CHECK_FALSE(curves.curves());
  curves.want(scene, nullptr, false, 1);
  CHECK(curves.working());
  curves.settle();
  CHECK_FALSE(curves.working());
  const FillCurveSet& set = *curves.curves();
  CHECK(set.values_known);
  CHECK(set.intervals_known);
  CHECK(set.curves.size() == kMostLiquids);
  CHECK(curves.values_took() > 0);
  CHECK(curves.intervals_took() > curves.values_took());
  MESSAGE("all points after " << curves.values_took() << " s, all intervals after " << curves.intervals_took() << " s");
  for (const FillCurve& curve : set.curves) {
    CHECK_FALSE(curve.name.empty());
    REQUIRE_MESSAGE(curve.points.size() == FillCurves::kSteps + 1, curve.name << curve.refusal);
    for (const FillPoint& point : curve.points) {
      const Scene filled = filled_scene(scene, false, curve.mix.medium, curve.mix.concentration, point.fill);
      const Model model = build(filled);
      EnvelopePoint alone;
      alone.first_lift_off = first_lift_off(model).slope;
      alone.slide = slide_slope(model);
      CHECK(point.gives_way() == alone.gives_way());
      CHECK(point.load == rules_on(filled, model).axles.rear);
      if (!point.ranged) continue;
      REQUIRE(point.range());
      CHECK(point.range()->low <= *point.gives_way());
      CHECK((point.range()->open || point.range()->high >= *point.gives_way()));
      REQUIRE(point.load_range);
      CHECK(point.load_range->low <= point.load);
      CHECK(point.load_range->high >= point.load);
    }
    CHECK(std::ranges::count_if(curve.points, &FillPoint::ranged) ==
          static_cast<std::ptrdiff_t>(std::size(FillCurves::kRangedAt)));
  }
}

TEST_CASE("how full the axle is has no say; anything else throws the curves away") {
  Scene scene = test_scene("first_slope");
  FillCurves curves;
  curves.want(scene, nullptr, false, 1);
  curves.settle();
  REQUIRE(curves.curves()->values_known);
  const double before = *curves.curves()->curves[0].points[6].gives_way();
  scene.ballast.fill[kRearLeft].fill_fraction = scene.ballast.fill[kRearRight].fill_fraction = 0.3;
  scene.terrain.slope = 0.1;
  curves.want(scene, nullptr, false, 2);
  CHECK(curves.curves()->values_known);
  CHECK_FALSE(curves.working());
  scene.ballast.rear_weights = 300;
  curves.want(scene, nullptr, false, 3);
  CHECK_FALSE(curves.curves()->values_known);  // nothing of the scene before is shown
  for (const FillCurve& curve : curves.curves()->curves) CHECK(curve.points.empty());
  CHECK(curves.working());
  // And another change while that is still going on.
  scene.ballast.rear_weights = 600;
  curves.want(scene, nullptr, false, 4);
  curves.settle();
  const Scene filled = filled_scene(scene, false, scene.ballast.fill[kRearLeft].medium, 0, 0.75);
  const Model model = build(filled);
  CHECK(curves.curves()->curves[0].points[6].gives_way() == fill_point(filled, model, false).gives_way());
  CHECK(*curves.curves()->curves[0].points[6].gives_way() != before);
}

TEST_CASE("a stop leaves the lines and ends the intervals; again begins anew") {
  FillCurves curves;
  curves.want(test_scene("first_slope"), nullptr, false, 1);
  while (!(curves.curves()->values_known || !curves.working())) curves.advance();
  curves.stop();
  CHECK_FALSE(curves.working());
  CHECK(curves.stopped());
  curves.settle();
  CHECK_FALSE(curves.curves()->intervals_known);
  CHECK(curves.curves()->values_known);
  curves.again();
  CHECK(curves.working());
  CHECK_FALSE(curves.stopped());
  curves.settle();
  CHECK(curves.curves()->intervals_known);
}

TEST_CASE("at most five liquids: what A holds first, then B's, and no liquid twice") {
  Scene a = test_scene("first_slope"), b = a;
  for (const int wheel : {kRearLeft, kRearRight}) {
    a.ballast.fill[static_cast<std::size_t>(wheel)].medium = Medium::ethylene_glycol;
    b.ballast.fill[static_cast<std::size_t>(wheel)].medium = Medium::polyurethane;
  }
  const auto mixes = curve_mixes(a, &b, false);
  REQUIRE(mixes.size() == kMostLiquids);
  CHECK(mixes[0].medium == Medium::ethylene_glycol);
  CHECK(mixes[1].medium == Medium::polyurethane);
  for (std::size_t i = 0; i < mixes.size(); ++i)
    for (std::size_t k = 0; k < i; ++k) CHECK_FALSE(mixes[i] == mixes[k]);
  for (const CurveMix& mix : curve_mixes(a, nullptr, false)) CHECK(mix.medium != Medium::polyurethane);
  // An own medium is one of them once its density is known.
  a.ballast.own_medium.density = 1250;
  CHECK(std::ranges::any_of(curve_mixes(a, nullptr, true),
                            [](const CurveMix& mix) { return mix.medium == Medium::own; }));
}

TEST_CASE("of the front tyres the front axle's load; foam's curve is there, with its own points") {
  Scene scene = test_scene("first_slope");
  for (const int wheel : {kFrontLeft, kFrontRight}) {
    scene.ballast.fill[static_cast<std::size_t>(wheel)].medium = Medium::polyurethane;
    scene.ballast.fill[static_cast<std::size_t>(wheel)].fill_fraction = 1;
  }
  FillCurves curves;
  curves.want(scene, nullptr, true, 1);
  while (!curves.curves()->values_known) curves.advance();
  const FillCurve& foam = curves.curves()->curves[0];
  CHECK(foam.mix.medium == Medium::polyurethane);
  REQUIRE_FALSE(foam.points.empty());
  CHECK(foam.points[1].load == foam.points[FillCurves::kSteps].load);  // it fills the tyre whole
  CHECK(foam.points[0].load < foam.points[1].load);
  CHECK(foam.points[1].load == rules_on(scene, build(scene)).axles.front);
}
#endif
