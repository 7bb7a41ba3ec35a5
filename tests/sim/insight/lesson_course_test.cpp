// What is followed through a lesson's run, against closed forms and against the lesson's own truth.
#include "sim/insight/lesson_course.h"

#include <doctest/doctest.h>

#include <cmath>

#include "sim/base/constants.h"
#include "sim/base/pose.h"
#include "sim/motion/run.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

// Rolled, then pitched [deg], on level ground.
State turned(double roll, double pitch) {
  State state;
  state.X_GV.R = about_y(pitch * kDegree) * about_x(roll * kDegree);
  return state;
}

}  // namespace

TEST_CASE("on level ground tilt and lean are what a ruler on the machine says") {
  CHECK_NEAR(lean_sideways(turned(20, 0)), 20, 1e-9);
  CHECK_NEAR(lean_sideways(turned(0, 30)), 0, 1e-9);
  CHECK_NEAR(lean_sideways(turned(-20, 0)), 20, 1e-9);
  CHECK_NEAR(tilt_from_ground(turned(20, 0)), 20, 1e-9);
  CHECK_NEAR(tilt_from_ground(turned(0, 30)), 30, 1e-9);
  // Two turns one after the other: the cosines multiply.
  CHECK_NEAR(tilt_from_ground(turned(20, 30)), std::acos(std::cos(20 * kDegree) * std::cos(30 * kDegree)) / kDegree,
             1e-9);
}

TEST_CASE("the clock begins with the first wheel that lifts and stops where nothing helps any more") {
  const std::vector<Event> events = {{EventKind::lift_off, 2.5, 2, 0}, {EventKind::point_of_no_return, 4, -1, 0}};
  State state;
  const auto at = [&](double time) {
    state.time = time;
    return follow(Followed::time, state, events);
  };
  CHECK_FALSE(at(2.4).has_value());
  CHECK_NEAR(at(2.5).value(), 0, 1e-12);
  CHECK_NEAR(at(3).value(), 0.5, 1e-12);
  CHECK_NEAR(at(9).value(), 1.5, 1e-12);
  CHECK_FALSE(follow(Followed::time, state, {}).has_value());
}

TEST_CASE("the moments of every lesson that asks about a run say what its truth says") {
  const std::vector<Lesson> lessons = list_lessons(SIDEHILL_SOURCE_DIR "/scenes/lessons");
  std::size_t compared = 0;
  for (std::size_t i = 0; i < lessons.size(); ++i) {
    const Lesson& lesson = lessons[i];
    if (!is_of_run(lesson.quantity) || is_outcome(lesson.quantity)) continue;
    CAPTURE(lesson.title);
    const LessonTruth truth = judge(lesson);
    const Recording recording = run(scene_of(lesson, SetUp::a));
    const std::vector<AskedMoment> moments = asked_moments(lesson.quantity, recording, true);
    REQUIRE(truth.a.value.has_value() == !moments.empty());
    if (moments.empty()) continue;
    const AskedMoment& last = moments.back();
    CHECK_NEAR(lesson.quantity == Asked::lift_off_time ? last.time : last.value.value(), *truth.a.value, 1e-9);
    ++compared;
  }
  CHECK(compared >= 3);
}

TEST_CASE("a moment of a run that goes on is not yet its end") {
  Recording recording;
  State state;
  state.v_G = {3, 4, 0};
  recording.states = {state};
  CHECK(asked_moments(Asked::speed_at_end, recording, false).empty());
  const std::vector<AskedMoment> ended = asked_moments(Asked::speed_at_end, recording, true);
  REQUIRE(ended.size() == 1);
  CHECK_NEAR(ended.front().value.value(), 18, 1e-12);  // 5 m/s
  CHECK(asked_moments(Asked::speed_at_end, Recording{}, true).empty());
}
