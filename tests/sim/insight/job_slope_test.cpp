#include "sim/insight/job_slope.h"

#include "sim/base/constants.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

JobSlope of(std::vector<std::string> more) {
  more.insert(more.begin(), {"job.work=mowing_on_slopes", "job.steepest_deg=20",
                             "terrain.soil.adhesion_unlimited=false", "ballast.rear.fill_fraction=0.75"});
  const Scene scene = test_machine("utility_75kw", more);
  const auto slope = slope_of_job(scene, build(scene));
  REQUIRE(slope);
  return *slope;
}

}  // namespace

TEST_CASE("the job's slope is that of the answer at its weakest heading") {
  const Scene scene = test_machine("utility_75kw", {"job.work=mowing_on_slopes", "job.steepest_deg=20",
                                                    "job.headings=across", "ballast.rear.fill_fraction=0.75"});
  const JobSlope slope = *slope_of_job(scene, build(scene));
  Scene across = scene;
  across.start.heading = -90 * kDegree;
  const StaticSolution statics = solve_statics(build(across));
  REQUIRE(slope.as_is);
  CHECK_NEAR(*slope.as_is->gives_way(), *statics.first_lift_off, 1e-6);  // alike left and right, grip without limit
  CHECK(slope.stands());
  CHECK(*slope.bare->gives_way() < *slope.as_is->gives_way());    // water low in the rear tyres helps
  CHECK(*slope.filled->gives_way() > *slope.as_is->gives_way());  // brine helps more
}

TEST_CASE("the interval on the job's slope is the one that the answer gives when the machine stands at that heading") {
  const JobSlope job = of({"terrain.soil.adhesion=0.5", "job.headings=up_and_down"});
  REQUIRE(job.as_is);
  REQUIRE(job.range);
  CHECK(job.range->low < *job.as_is->gives_way());
  CHECK(job.range->high > *job.as_is->gives_way());
  const Scene turned = test_machine(
      "utility_75kw", {"terrain.soil.adhesion_unlimited=false", "terrain.soil.adhesion=0.5",
                       "ballast.rear.fill_fraction=0.75", "job.work=mowing_on_slopes", "job.steepest_deg=20",
                       "start.heading_deg=" + std::to_string(job.as_is->heading / kDegree)});
  const Model model = build(turned);
  const Uncertainty all = uncertainty(turned, model, solve_statics(model));
  REQUIRE(all.slide);
  CHECK_NEAR(job.range->low, all.slide->low, 1e-9);
  CHECK_NEAR(job.range->high, all.slide->high, 1e-9);
}

TEST_CASE("the first of two slopes has the lesser ends of both, and the end of the other where one is open") {
  const Interval slide{0.2, 0.4}, lift{0.3, 0.35}, open{0.1, 0.15, true};
  CHECK_FALSE(first_of({}, {}));
  CHECK(first_of(slide, {})->high == 0.4);
  CHECK(first_of({}, lift)->low == 0.3);
  CHECK(first_of(slide, lift)->low == 0.2);
  CHECK(first_of(slide, lift)->high == 0.35);
  for (const auto& both : {first_of(slide, open), first_of(open, slide)}) {
    CHECK(both->low == 0.1);
    CHECK(both->high == 0.4);  // the open one may never come
    CHECK_FALSE(both->open);
  }
  CHECK(first_of(open, open)->open);
}

TEST_CASE("on wet grass it slides whatever is filled in, and that is said; with grip it is not") {
  const JobSlope wet = of({"terrain.soil.adhesion=0.35", "job.headings=across"});
  CHECK_FALSE(wet.stands());
  CHECK(wet.whatever_the_ballast());
  CHECK_FALSE(of({"terrain.soil.adhesion=3", "job.headings=across"}).whatever_the_ballast());
}

TEST_CASE("without ballast now, more of it is asked before it is said to be no answer") {
  // Facing downhill the rear axle holds all: weight on it is grip.
  const JobSlope down = of({"terrain.soil.adhesion=0.4", "job.headings=up_and_down", "ballast.rear.fill_fraction=0"});
  CHECK_NEAR(*down.bare->gives_way(), *down.as_is->gives_way(), 1e-9);
  CHECK(*down.filled->gives_way() > *down.as_is->gives_way() + 1 * kDegree);
  CHECK_FALSE(down.whatever_the_ballast());
}

TEST_CASE("more headings are never better than fewer, and without a job nothing is asked") {
  const double any = *of({"terrain.soil.adhesion=0.6"}).as_is->gives_way();
  CHECK(any <= *of({"terrain.soil.adhesion=0.6", "job.headings=across"}).as_is->gives_way() + 1e-9);
  CHECK(any <= *of({"terrain.soil.adhesion=0.6", "job.headings=up_and_down"}).as_is->gives_way() + 1e-9);
  const Scene none = test_machine("utility_75kw");
  CHECK_FALSE(slope_of_job(none, build(none)));
}

TEST_CASE("of a job's headings the weakest counts") {
  std::vector<EnvelopePoint> points;
  for (int i = 0; i < 72; ++i) {
    EnvelopePoint point;
    point.heading = (-180 + 5 * i) * kDegree;
    point.first_lift_off = (40 + 0.1 * i) * kDegree;
    points.push_back(point);
  }
  points[10].failed = true;
  points[10].first_lift_off = 0.01;  // not an answer
  CHECK_NEAR(weakest_in_job(points, JobHeadings::any)->heading, -180 * kDegree, 1e-12);
  CHECK_NEAR(weakest_in_job(points, JobHeadings::across)->heading, -90 * kDegree, 1e-12);
  CHECK_NEAR(weakest_in_job(points, JobHeadings::up_and_down)->heading, -180 * kDegree, 1e-12);
  points[0].slide = 5 * kDegree;
  points[54].slide = 4 * kDegree;  // +90
  CHECK_NEAR(*weakest_in_job(points, JobHeadings::across)->gives_way(), 4 * kDegree, 1e-12);
  CHECK_FALSE(weakest_in_job({}, JobHeadings::any));
}
