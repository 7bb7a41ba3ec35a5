#ifdef SIDEHILL_SCREEN
// The lesson's card without any window: clicked by label, and by key.
#include "render/screen/panels_lesson.h"

#include <doctest/doctest.h>
#include <imgui.h>

#include "tests/hands.h"
#include "tests/near.h"

using namespace sidehill;

namespace {

struct LessonCard : Hands<LessonCard> {
  LessonPlay play = lesson_play(SIDEHILL_SOURCE_DIR "/scenes/lessons");

  explicit LessonCard(float scale = 1) : Hands(scale) {
    width = 440 * scale, height = 640 * scale;
    frame();
    frame();
  }
  void draw() {
    begin_items(ui);
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize({width, height});
    ImGui::Begin("card", nullptr, ImGuiWindowFlags_NoDecoration);
    draw_lesson(ui, play);
    ImGui::End();
  }
};

}  // namespace

TEST_CASE("a whole lesson by clicks: guess, show, tell, next") {
  LessonCard desk;
  CHECK(desk.has("Lesson Side slope"));
  desk.click("Lesson Raised bucket");
  REQUIRE(desk.play.stage == LessonStage::asking);
  CHECK(desk.has("Question"));
  CHECK(desk.has("Answer 4"));
  CHECK_FALSE(desk.has("Show me"));
  CHECK_FALSE(desk.has("Truth"));
  CHECK_FALSE(desk.has("Caution"));
  desk.click("Answer 2");
  CHECK(desk.play.guess == 1);
  desk.click("Answer 1");
  CHECK(desk.play.guess == 0);
  desk.click("Show me");
  CHECK(desk.play.stage == LessonStage::showing);
  CHECK(desk.play.wanted.play);
  CHECK_FALSE(desk.has("Truth"));
  settle(desk.play);
  desk.frame();
  CHECK_FALSE(desk.has("Truth"));  // known, but not told while it runs
  desk.click("Tell me");
  CHECK(desk.has("Truth"));
  CHECK(desk.has("Caution"));
  CHECK(desk.has("Take home"));
  CHECK(desk.has("Answer 4"));        // what is right stays
  CHECK_FALSE(desk.has("Answer 2"));  // what is not goes
  desk.play.wanted = {};
  desk.click("Show again");
  CHECK(desk.play.wanted.play);
  CHECK(desk.play.stage == LessonStage::told);
  const std::size_t here = desk.play.open;
  desk.click("Next lesson");
  CHECK(desk.play.open == here + 1);
  CHECK(desk.play.stage == LessonStage::asking);
  desk.click("All lessons");
  CHECK(desk.play.stage == LessonStage::list);
}

TEST_CASE("it can be shown without a guess, and says so rather than right or wrong") {
  LessonCard desk;
  desk.click("Lesson Side slope");
  desk.click("Show without a guess");
  CHECK(desk.play.stage == LessonStage::showing);
  run_ended(desk.play);
  settle(desk.play);
  desk.frame();
  CHECK(desk.has("Truth"));
  CHECK_FALSE(desk.play.record[0].has_value());
}

TEST_CASE("the keyboard does all of it") {
  LessonCard desk;
  desk.press_key(LessonCard::kDown);
  desk.press_key(LessonCard::kDown);
  desk.press_key(LessonCard::kUp);
  CHECK(desk.play.row == 1);
  desk.press_key(LessonCard::kEnter);
  REQUIRE(desk.play.stage == LessonStage::asking);
  CHECK(desk.play.open == 1);
  desk.press_key(LessonCard::kEnter);  // Enter without a guess gives nothing away
  CHECK(desk.play.stage == LessonStage::asking);
  ImGui::GetIO().AddInputCharacter('2');
  desk.frame();
  CHECK(desk.play.guess == 1);
  ImGui::GetIO().AddInputCharacter('4');  // this one has three answers
  desk.frame();
  CHECK(desk.play.guess == 1);
  desk.press_key(LessonCard::kEnter);
  CHECK(desk.play.stage == LessonStage::showing);
  desk.press_key(LessonCard::kEnter);
  CHECK(desk.play.stage == LessonStage::told);
  desk.press_key(LessonCard::kEnter);
  CHECK(desk.play.open == 2);
  desk.press_key(LessonCard::kBackspace);
  CHECK(desk.play.stage == LessonStage::list);
  // A digit typed into a number belongs to that number.
  open_lesson(desk.play, 0);
  desk.ui.typing = "Slope";
  ImGui::GetIO().AddInputCharacter('1');
  desk.frame();
  CHECK_FALSE(desk.play.guess);
}

TEST_CASE("to be read from the last row: the question in 24 px or more, whatever the scale") {
  for (const float scale : {1.f, 2.f}) {
    LessonCard desk(scale);
    CHECK(desk.ui.fonts.question->FontSize >= 24 * scale);
    CHECK(desk.ui.fonts.reading->FontSize >= 20 * scale);
  }
}

TEST_CASE("every lesson fits its card: question and answers unscrolled, take home and what comes next always in view") {
  LessonCard desk;
  for (std::size_t i = 0; i < desk.play.lessons.size(); ++i) {
    CAPTURE(desk.play.lessons[i].title);
    open_lesson(desk.play, i);
    make_guess(desk.play, 0);
    settle(desk.play);
    desk.frame();
    desk.frame();
    const Rect show = desk.item("Show me");
    CHECK(show.y + show.height <= desk.height);
    show_lesson(desk.play);
    run_ended(desk.play);
    desk.frame();
    desk.frame();
    const bool last = i + 1 == desk.play.lessons.size();
    for (const char* label : {"Truth", "Caution", "Take home", last ? "To the list" : "Next lesson"}) {
      CAPTURE(label);
      const Rect r = desk.item(label);
      CHECK(r.x >= 0);
      CHECK(r.x + r.width <= desk.width);
      CHECK(r.y + r.height <= desk.height);
    }
    const Rect caution = desk.item("Caution"), home = desk.item("Take home");
    CHECK(caution.y + caution.height <= home.y);  // read without scrolling
  }
}
#endif  // SIDEHILL_SCREEN
