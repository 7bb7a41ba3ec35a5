#include "sim/insight/answer.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <memory>

#include "sim/base/constants.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

std::size_t place_of(Stage stage, const Model& model) {
  const auto order = in_order(model);
  return static_cast<std::size_t>(std::ranges::find(order, stage) - order.begin());
}

std::stop_token stopped() {
  const auto source = std::make_unique<std::stop_source>();
  source->request_stop();
  return source->get_token();
}

}  // namespace

TEST_CASE("every stage has one place, after what it needs") {
  for (const char* name : {"first_slope", "over_a_stump"}) {
    CAPTURE(name);
    const Model model = build(test_scene(name));
    for (std::size_t i = 0; i < kStages; ++i) CHECK(place_of(static_cast<Stage>(i), model) < kStages);
    for (const Stage stage : {Stage::loads, Stage::limits, Stage::intervals})
      CHECK(place_of(Stage::rest, model) < place_of(stage, model));
    CHECK(place_of(Stage::headings, model) < place_of(Stage::worst, model));
    // The verdict's own part is there before what only explains it.
    for (const Stage stage : {Stage::loads, Stage::manoeuvres})
      CHECK(place_of(stage, model) < place_of(Stage::causes, model));
  }
  const Model even = build(test_scene("first_slope")), uneven = build(test_scene("over_a_stump"));
  CHECK(place_of(Stage::intervals, even) > place_of(Stage::worst, even));
  CHECK(place_of(Stage::intervals, uneven) < place_of(Stage::headings, uneven));
}

TEST_CASE("stage by stage it is the answer that is given at once") {
  const Scene scene = test_scene("bucket_up", {"manoeuvre.speed_kmh=8", "manoeuvre.turn_radius_m=12"});
  const Answer at_once = with_reasons(with_uncertainty(answer(scene)));
  Answer staged = unanswered(scene);
  CHECK_FALSE(staged.statics.rest);
  for (const Stage stage : in_order(staged.model)) CHECK(compute(stage, staged));
  CHECK(staged.statics.first_lift_off == at_once.statics.first_lift_off);
  CHECK(staged.statics.rest->load == at_once.statics.rest->load);
  REQUIRE(staged.loads);
  CHECK(staged.loads->axles[0].used == at_once.loads->axles[0].used);
  REQUIRE(staged.by_heading.size() == 72);
  REQUIRE(at_once.by_heading.size() == 72);
  CHECK(staged.by_heading[7].tip_over == at_once.by_heading[7].tip_over);
  CHECK(staged.worst->heading == at_once.worst->heading);
  CHECK(staged.mass_cases.size() == at_once.mass_cases.size());
  CHECK(staged.limits.steering_gone == at_once.limits.steering_gone);
  REQUIRE(staged.manoeuvres.size() == 2);
  CHECK(staged.manoeuvres[1].acceleration_at_limit == at_once.manoeuvres[1].acceleration_at_limit);
  CHECK(staged.stiffening_doubt == at_once.stiffening_doubt);
  CHECK(staged.uncertainty->first_lift_off->low == at_once.uncertainty->first_lift_off->low);
  CHECK(staged.breakdown->whole == at_once.breakdown->whole);
  CHECK(verdict_on(staged).headline == verdict_on(at_once).headline);
  CHECK(verdict_on(staged).also == verdict_on(at_once).also);
  CHECK_FALSE(staged.rules.empty());
  CHECK(at_once.rules.empty());  // nobody asked
}

TEST_CASE("a few stages are computed in their order, whatever order they are asked in") {
  const Scene scene = test_scene("first_slope");
  const Answer whole = answer(scene, 1);
  Answer some = unanswered(scene);
  constexpr Stage kAsked[] = {Stage::limits, Stage::loads, Stage::rest};
  CHECK(compute(kAsked, some));
  CHECK(some.statics.first_lift_off == whole.statics.first_lift_off);
  CHECK(some.limits.tyre_overload == whole.limits.tyre_overload);
  REQUIRE(some.loads);
  CHECK(some.loads->level == whole.loads->level);
  CHECK(some.mass_cases.empty());
  CHECK(some.by_heading.empty());
}

TEST_CASE("stopped, a stage says so and leaves the answer as it was") {
  const std::stop_token gone = stopped();
  const Scene scene = test_scene("bucket_up", {"manoeuvre.braking_m_per_s2=2"});
  Answer a = unanswered(scene);
  for (const Stage stage : in_order(a.model)) {
    CAPTURE(static_cast<int>(stage));
    CHECK_FALSE(compute(stage, a, gone));
  }
  CHECK_FALSE(compute_heading(a, 0, 8, gone));
  CHECK_FALSE(a.statics.first_lift_off);
  CHECK_FALSE(a.loads);
  CHECK(a.manoeuvres.empty());
  CHECK(a.rules.empty());
  CHECK(a.by_heading.empty());
  CHECK(a.mass_cases.empty());
  CHECK_FALSE(a.uncertainty);
  CHECK_FALSE(a.breakdown);
  constexpr Stage kAsked[] = {Stage::rest, Stage::loads};
  CHECK_FALSE(compute(kAsked, a, gone));
  // Stopped in the middle, what was there before stays.
  CHECK(compute(kAsked, a));
  const auto before = a.statics.first_lift_off;
  CHECK_FALSE(compute(Stage::rest, a, gone));
  CHECK(a.statics.first_lift_off == before);
}

TEST_CASE("one heading at a time, each is what is asked directly, and those to come are not known") {
  Answer a = unanswered(test_scene("first_slope"));
  REQUIRE(compute_heading(a, 0, 8));
  REQUIRE(a.by_heading.size() == 8);
  const EnvelopePoint* room = a.by_heading.data();
  CHECK_FALSE(a.by_heading[0].failed);
  CHECK(a.by_heading[1].failed);
  for (int i = 1; i < 8; ++i) REQUIRE(compute_heading(a, i, 8));
  CHECK(a.by_heading.data() == room);
  for (int i = 0; i < 8; ++i) {
    const EnvelopePoint& point = a.by_heading[static_cast<std::size_t>(i)];
    CHECK_NEAR(point.heading, -kPi + i * kPi / 4, 1e-12);
    const EnvelopePoint direct = point_at_heading(a.model, point.heading);
    CHECK(point.first_lift_off == direct.first_lift_off);
    CHECK(point.slide == direct.slide);
  }
  REQUIRE(compute(Stage::worst, a));
  for (const EnvelopePoint& point : a.by_heading)
    if (point.first_lift_off) CHECK(*a.worst->first_lift_off <= *point.first_lift_off + 1e-9);
}
