#ifdef SIDEHILL_SCREEN
// What a lesson asks, as large figures and as a curve: of the moment shown and of nothing later.
#include "render/screen/desk/asked_now.h"

#include <doctest/doctest.h>

#include <cmath>

#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

Lesson lesson_called(const char* stem) {
  return load_lesson(std::string(SIDEHILL_SOURCE_DIR "/scenes/lessons/") + stem + ".toml");
}

Session run_to_end(const Lesson& lesson) {
  Session session(scene_to_show(lesson, SetUp::a));
  session.answer(10);
  session.play();
  for (int i = 0; i < 4000 && !session.finished(); ++i) session.advance(0.05, 10);
  return session;
}

}  // namespace

TEST_CASE("the count-down of the raised load reaches nothing where its truth says so, and not before") {
  const Lesson lesson = lesson_called("raised_on_the_way");
  const LessonTruth truth = judge(lesson);
  REQUIRE(truth.a.lift_off_time.has_value());
  REQUIRE(truth.a.balance_time.has_value());
  Session session = run_to_end(lesson);
  REQUIRE(session.finished());
  const auto at = [&](double time, const Found* known) {
    session.look_at(time);
    return asked_now(lesson, session, known, Units::si);
  };
  const AskedNow before = at(*truth.a.lift_off_time - 0.2, &truth.a);
  CHECK(before.value == "-");
  CHECK_FALSE(before.happened);
  const double middle = 0.5 * (*truth.a.lift_off_time + *truth.a.balance_time);
  const AskedNow during = at(middle, &truth.a);
  CHECK_FALSE(during.happened);
  CHECK(during.note.find("left until nothing can stop it") != std::string::npos);
  CHECK(at(middle, nullptr).note == "the clock runs");  // nobody knows yet
  const AskedNow after = at(*truth.a.balance_time + 0.3, &truth.a);
  CHECK(after.happened);
  CHECK(after.value == at(*truth.a.balance_time + 0.8, &truth.a).value);  // the clock stands
  CHECK_NEAR(std::stod(after.value), *truth.a.balance_time - *truth.a.lift_off_time, 0.051);
}

TEST_CASE("while the ground tilts, the figure is the slope now, and lifting is said only once it happens") {
  const Lesson lesson = lesson_called("side_slope");
  Session session = run_to_end(lesson);
  const std::vector<AskedMoment> moments = asked_moments(lesson.quantity, *session.recording(), true);
  REQUIRE(moments.size() == 1);
  session.look_at(moments[0].time - 0.5);
  const AskedNow before = asked_now(lesson, session, nullptr, Units::si);
  CHECK_FALSE(before.happened);
  CHECK(before.value == degrees_and_percent(session.shown().slope));
  session.look_at(moments[0].time + 0.5);
  const AskedNow after = asked_now(lesson, session, nullptr, Units::si);
  CHECK(after.happened);
  CHECK(after.note.find("a wheel lifts there; now ") == 0);
  CHECK(after.value == degrees_and_percent(*moments[0].value * kDegree));  // the slope that was asked for stands
}

TEST_CASE("a speed is read in the units of the person, on the strip too") {
  const Lesson lesson = lesson_called("trailer_pushes");
  REQUIRE(lesson.quantity == Asked::speed_at_end);
  Session session = run_to_end(lesson);
  const State& shown = session.shown();
  CHECK(asked_now(lesson, session, nullptr, Units::us).value.find("mph") != std::string::npos);
  const AskedCurve si = asked_curve(lesson, session, nullptr, Units::si),
                   us = asked_curve(lesson, session, nullptr, Units::us);
  REQUIRE(si.a.size() == session.recording()->states.size());
  CHECK_NEAR(si.a.back().value(), glm::length(shown.v_G) * 3.6, 1e-9);
  CHECK_NEAR(us.a.back().value(), si.a.back().value() / 1.609344, 1e-9);
  CHECK(us.name.find("mph") != std::string::npos);
  REQUIRE(si.marks_a.size() == 1);
  double most = 0;
  for (const auto& value : si.a) most = std::max(most, value.value());
  CHECK(si.high >= most);
  CHECK(si.b.empty());
}

TEST_CASE("every shipped lesson has something to follow, with a scale that holds it") {
  for (const Lesson& lesson : list_lessons(SIDEHILL_SOURCE_DIR "/scenes/lessons")) {
    CAPTURE(lesson.title);
    Session session = run_to_end(lesson);
    REQUIRE(session.recording());
    const AskedCurve curve = asked_curve(lesson, session, nullptr, Units::si);
    CHECK(curve.step > 0);
    bool any = false;
    for (const auto& value : curve.a) {
      if (!value) continue;
      any = true;
      CHECK(*value >= 0);
      CHECK(*value <= curve.high + 1e-9);
    }
    CHECK(any);
    const AskedNow now = asked_now(lesson, session, nullptr, Units::si);
    CHECK_FALSE(now.name.empty());
    CHECK(now.value != "-");
  }
}
#endif
