// Where "degrees left" says nothing, on a run made by hand.
#include "sim/motion/margin_gaps.h"

#include <doctest/doctest.h>

#include "tests/kit/near.h"

using namespace sidehill;

namespace {

constexpr double kGapWeight = 40e3;

// A frame every 0.1 s, the wheels that carry nothing named.
std::vector<State> frames(const std::vector<std::vector<int>>& up) {
  std::vector<State> states;
  for (std::size_t i = 0; i < up.size(); ++i) {
    State state;
    state.time = 0.1 * static_cast<double>(i);
    for (WheelState& wheel : state.wheels) wheel.load = kGapWeight / 4;
    for (const int wheel : up[i]) state.wheels[static_cast<std::size_t>(wheel)].load = 0;
    states.push_back(state);
  }
  return states;
}

}  // namespace

TEST_CASE("one wheel up leaves the angle its meaning, two take it until they are back") {
  const auto gaps = margin_gaps(frames({{}, {2}, {0, 1}, {0, 1}, {1}, {}}), {}, kGapWeight);
  REQUIRE(gaps.size() == 1);
  CHECK(gaps[0].why == MarginGap::in_the_air);
  CHECK_NEAR(gaps[0].from, 0.2, 1e-12);
  CHECK_NEAR(gaps[0].to, 0.4, 1e-12);
  CHECK(gap_at(gaps, 0.2));
  CHECK(gap_at(gaps, 0.3));
  CHECK_FALSE(gap_at(gaps, 0.1));
  CHECK_FALSE(gap_at(gaps, 0.4));
}

TEST_CASE("one wheel up and the axle on its stop: the angle is one to another line") {
  std::vector<State> states = frames({{}, {2}, {2}, {2}, {}});
  states[2].on_stop = true;
  states[4].on_stop = true;  // with all wheels down it keeps its meaning
  const auto gaps = margin_gaps(states, {}, kGapWeight);
  REQUIRE(gaps.size() == 1);
  CHECK_NEAR(gaps[0].from, 0.2, 1e-12);
  CHECK_NEAR(gaps[0].to, 0.3, 1e-12);
}

TEST_CASE("after the point of no return there is nothing left to speak of, whatever the wheels carry") {
  const std::vector<Event> events = {{EventKind::point_of_no_return, 0.25}, {EventKind::frame_touches, 0.4}};
  const auto gaps = margin_gaps(frames({{}, {}, {0, 2}, {0, 2}, {}, {}}), events, kGapWeight);
  REQUIRE(gaps.size() == 2);
  CHECK(gaps[0].why == MarginGap::in_the_air);
  CHECK_NEAR(gaps[0].to, 0.25, 1e-12);
  CHECK(gaps[1].why == MarginGap::gone_over);
  CHECK_NEAR(gaps[1].from, 0.25, 1e-12);
  CHECK_NEAR(gaps[1].to, 0.5, 1e-12);
  CHECK(gap_at(gaps, 0.5)->why == MarginGap::gone_over);
}

TEST_CASE("all wheels down, or no frames: no gap") {
  CHECK(margin_gaps(frames({{}, {3}, {}}), {}, kGapWeight).empty());
  CHECK(margin_gaps({}, {}, kGapWeight).empty());
}
