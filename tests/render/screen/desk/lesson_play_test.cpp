#ifdef SIDEHILL_SCREEN
// A lesson played through, without any window.
#include "render/screen/desk/lesson_play.h"

#include <doctest/doctest.h>

#include <chrono>

#include "sim/scene/scene.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {
LessonPlay played() { return lesson_play(SIDEHILL_SOURCE_DIR "/scenes/lessons"); }

std::size_t index_of(const LessonPlay& play, const char* name) {
  for (std::size_t i = 0; i < play.lessons.size(); ++i)
    if (play.lessons[i].file.stem() == name) return i;
  FAIL("no lesson " << name);
  return 0;
}
}  // namespace

TEST_CASE("a lesson asks, waits for the run, and only then answers") {
  LessonPlay play = played();
  REQUIRE(play.trouble.empty());
  CHECK(open_lesson_of(play) == nullptr);
  open_lesson(play, index_of(play, "raised_bucket"));
  CHECK(play.stage == LessonStage::asking);
  CHECK(hides_answer(play));
  // The machine is put there, both of it, but nothing runs yet.
  REQUIRE(play.wanted.load);
  REQUIRE(play.wanted.load_second);
  CHECK(play.wanted.load->ballast.loader_pin_height < play.wanted.load_second->ballast.loader_pin_height);
  CHECK_FALSE(play.wanted.play);
  play.wanted = {};
  make_guess(play, 99);
  CHECK_FALSE(play.guess);
  make_guess(play, 0);
  make_guess(play, 3);
  CHECK(play.guess == 3);
  show_lesson(play);
  CHECK(play.stage == LessonStage::showing);
  CHECK(play.wanted.play);
  CHECK(play.wanted.load);
  CHECK(hides_answer(play));
  make_guess(play, 0);  // too late
  CHECK(play.guess == 3);
  run_ended(play);
  CHECK(play.stage == LessonStage::answered);
  CHECK_FALSE(hides_answer(play));
  settle(play);
  REQUIRE(play.truth);
  CHECK(play.record[play.open] == (play.truth->right == 3));
  CHECK_FALSE(working(play));
}

TEST_CASE("asked for before it is known: the record follows when it is") {
  LessonPlay play = played();
  open_lesson(play, index_of(play, "hole"));
  make_guess(play, 0);
  show_lesson(play);
  tell_lesson(play);
  settle(play);
  REQUIRE(play.truth);
  CHECK(play.truth->right != 0);
  CHECK(play.record[play.open] == false);
}

TEST_CASE("the next lesson begins anew, and after the last comes the list") {
  LessonPlay play = played();
  open_lesson(play, 0);
  make_guess(play, 1);
  next_lesson(play);
  CHECK(play.open == 1);
  CHECK_FALSE(play.guess);
  CHECK_FALSE(play.truth);
  CHECK(play.stage == LessonStage::asking);
  open_lesson(play, play.lessons.size() - 1);
  next_lesson(play);
  CHECK(play.stage == LessonStage::list);
  next_lesson(play);
  run_ended(play);
  show_lesson(play);
  tell_lesson(play);
  CHECK(play.stage == LessonStage::list);
}

TEST_CASE("leaving a lesson that is being worked out does not wait for it") {
  LessonPlay play = played();
  using Clock = std::chrono::steady_clock;
  double longest = 0;
  for (std::size_t i = 0; i < play.lessons.size(); ++i) {
    const auto before = Clock::now();
    open_lesson(play, i);
    tick(play);
    longest = std::max(longest, std::chrono::duration<double>(Clock::now() - before).count());
  }
  CHECK(longest < 0.5);            // milliseconds; a lesson takes seconds to be worked out, and the machine is shared
  CHECK(play.leaving.size() > 0);  // some were left unfinished, or this test tested nothing
  settle(play);
  REQUIRE(play.truth);  // of the last one opened, not of any left before
  CHECK(play.truth->right == judge(play.lessons.back()).right);
}

TEST_CASE("a folder that is none, or a scene that does not fit, is said, not thrown") {
  LessonPlay none = lesson_play("/nowhere");
  CHECK(none.trouble.find("there is no such folder") != none.trouble.npos);
  open_lesson(none, 0);
  CHECK(none.stage == LessonStage::list);
  LessonPlay play = played();
  play.lessons[0].change.push_back("terrain.slope_deg=nonsense");
  open_lesson(play, 0);
  CHECK(play.trouble.find("terrain.slope_deg") != play.trouble.npos);
  CHECK_FALSE(play.wanted.load);
  show_lesson(play);
  CHECK(play.stage == LessonStage::answered);
  settle(play);
  CHECK_FALSE(play.truth);
}
#endif  // SIDEHILL_SCREEN
