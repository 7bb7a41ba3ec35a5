// The rows of what gives way: their order, what is left out, and where they have no slope.
#include "sim/insight/slope_rows.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace sidehill;

namespace {

bool has(const std::vector<SlopeRow>& rows, SlopeOf what) {
  return std::ranges::find(rows, what, &SlopeRow::what) != rows.end();
}

}  // namespace

TEST_CASE("a rest on the axle's stop is a row only where it lies beyond the lift-off") {
  StaticSolution s;
  s.status = RestStatus::stands;
  s.first_lift_off = 0.5;
  CHECK_FALSE(has(slope_rows(s, nullptr, true), SlopeOf::on_stop));
  s.tip_on_stop = 0.4;
  CHECK_FALSE(has(slope_rows(s, nullptr, true), SlopeOf::on_stop));
  s.tip_on_stop = 0.6;
  REQUIRE(has(slope_rows(s, nullptr, true), SlopeOf::on_stop));
  CHECK(*slope_rows(s, nullptr, true).back().slope == 0.6);
}

TEST_CASE("intervals are of the even slope: on uneven ground no row has one") {
  StaticSolution s;
  s.status = RestStatus::stands;
  s.first_lift_off = 0.5;
  Uncertainty doubts;
  doubts.first_lift_off = Interval{0.4, 0.6};
  doubts.rigid_lift_off = Interval{0.3, 0.7};
  const auto even = slope_rows(s, &doubts, true), uneven = slope_rows(s, &doubts, false);
  CHECK(even[1].interval->low == 0.4);
  CHECK(even[3].interval->high == 0.7);
  CHECK_FALSE(even[0].interval);
  for (const SlopeRow& row : uneven) CHECK_FALSE(row.interval);
}

TEST_CASE("without an answer no row has a slope") {
  StaticSolution s;
  s.first_lift_off = s.slide = s.tip_over = 0.5;
  s.tip_on_stop = 0.6;
  s.status = RestStatus::unsolved;
  for (const SlopeRow& row : slope_rows(s, nullptr, true)) CHECK_FALSE(row.slope);
}

TEST_CASE("what comes first stands first, never last") {
  CHECK(sooner(0.1, 0.2));
  CHECK_FALSE(sooner(0.2, 0.1));
  CHECK(sooner(0.2, {}));
  CHECK_FALSE(sooner({}, 0.2));
  CHECK_FALSE(sooner({}, {}));
}
