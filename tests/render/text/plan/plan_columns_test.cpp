// What plans are compared by: one value and one wording for table and chart, and what is not known is no number.
#include "render/text/plan/plan_columns.h"

#include <doctest/doctest.h>

#include "render/text/plan/plan_words.h"
#include "sim/base/constants.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

TEST_CASE("a column's number is that of its words, in the units read") {
  PlanMeasures m;
  m.stand.known = m.stand.at_all = true;
  m.stand.gives_way = 12.3 * kDegree;
  m.ballast = 240;
  m.slip = 0.071;
  m.fuel = 2543;
  m.soil = 59e3;
  m.cost = 310;
  m.effort = 4 * 3600;
  const auto value = [&](PlanColumn column, Units units) { return column_value(column, m, units).value(); };
  CHECK_NEAR(value(PlanColumn::gives_way, Units::si), 12.3, 1e-9);
  CHECK(column_words(PlanColumn::gives_way, m, Units::si) == "12.3° = 22 %");
  CHECK_NEAR(value(PlanColumn::ballast, Units::us), 240 / 0.45359237, 1e-6);  // NIST SP 811
  CHECK(column_unit(PlanColumn::ballast, Units::us) == "lb");
  CHECK_NEAR(value(PlanColumn::slip, Units::si), 7.1, 1e-9);
  CHECK(column_words(PlanColumn::slip, m, Units::si) == "7.1 %");
  CHECK_NEAR(value(PlanColumn::fuel, Units::si), 2543, 1e-6);
  CHECK_NEAR(value(PlanColumn::soil, Units::si), 59, 1e-9);
  CHECK_NEAR(value(PlanColumn::cost, Units::si), 310, 1e-9);
  CHECK_NEAR(value(PlanColumn::effort, Units::si), 240, 1e-9);
  CHECK(column_words(PlanColumn::effort, m, Units::si) == "4 h");
}

TEST_CASE("what is not known, not given or never happens is no number and says so") {
  PlanMeasures m;
  for (const PlanColumn column :
       {PlanColumn::gives_way, PlanColumn::slip, PlanColumn::fuel, PlanColumn::soil, PlanColumn::cost})
    CHECK_FALSE(column_value(column, m, Units::si));
  CHECK(column_words(PlanColumn::gives_way, m, Units::si) == "never");
  CHECK(column_words(PlanColumn::fuel, m, Units::si) == "not known");
  CHECK(column_words(PlanColumn::cost, m, Units::si) == "not given");
  m.stand.lost = true;
  m.stand.gives_way = 1;
  CHECK_FALSE(column_value(PlanColumn::gives_way, m, Units::si));
  CHECK(column_words(PlanColumn::gives_way, m, Units::si) == "not known");
  m.slip = 0.05;
  m.cannot_pull = true;
  CHECK_FALSE(column_value(PlanColumn::slip, m, Units::si));
  CHECK(column_words(PlanColumn::slip, m, Units::si) == "cannot pull");
}

TEST_CASE("what is asked of a plan is met only where the low end of its interval holds too") {
  Plan plan;
  plan.slope = 10 * kDegree;
  ChosenPlan one;
  one.measures.stand.gives_way = 12 * kDegree;
  const auto state = [&] { return asked_of(plan, one, Units::si).front().state; };
  CHECK(state() == AskedState::not_known);  // its interval is still to come
  one.range = Interval{10.5 * kDegree, 13.5 * kDegree, false};
  CHECK(state() == AskedState::met);
  one.range->low = 9.5 * kDegree;
  CHECK(state() == AskedState::may_not_hold);
  one.barriers = {{PlanBar::slope, {}}};
  CHECK(state() == AskedState::not_met);
  one.measures.stand.lost = true;
  CHECK(state() == AskedState::not_known);
}
