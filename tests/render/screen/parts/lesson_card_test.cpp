#ifdef SIDEHILL_SCREEN
// The lesson's card without any window: clicked by label, and by key.
#include "render/screen/parts/lesson_card.h"

#include <doctest/doctest.h>
#include <imgui.h>
#include <imgui_internal.h>

#include "render/text/words/units.h"
#include "tests/kit/hands.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"
#include "tests/kit/table.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

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
  CHECK_FALSE(desk.has("Lesson caution"));
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
  CHECK_FALSE(desk.has("Truth"));  // known, but not shown while it runs
  desk.click("Tell me");
  CHECK(desk.has("Truth"));
  CHECK(desk.has("Lesson caution"));
  CHECK(desk.has("Take home"));
  CHECK(desk.has("Answer 4"));        // what is right stays
  CHECK_FALSE(desk.has("Answer 2"));  // what is not goes
  desk.play.wanted = {};
  desk.click("Show again");
  CHECK(desk.play.wanted.play);
  CHECK(desk.play.stage == LessonStage::answered);
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
  desk.play.lessons[1].answers.resize(3);
  ImGui::GetIO().AddInputCharacter('4');  // of three answers
  desk.frame();
  CHECK(desk.play.guess == 1);
  desk.press_key(LessonCard::kEnter);
  CHECK(desk.play.stage == LessonStage::showing);
  desk.press_key(LessonCard::kEnter);
  CHECK(desk.play.stage == LessonStage::answered);
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
    for (const char* label : {"Lesson caution", "Take home", last ? "To the list" : "Next lesson"}) {
      CAPTURE(label);
      const Rect r = desk.item(label);
      CHECK(r.x >= 0);
      CHECK(r.x + r.width <= desk.width);
      CHECK(r.y + r.height <= desk.height);
    }
    const Rect caution = desk.item("Lesson caution"), home = desk.item("Take home"), truth = desk.item("Truth");
    CHECK(caution.y + caution.height <= home.y);  // read without scrolling
    CHECK(truth.y + 60 <= caution.y);             // the truth begins above it
  }
}

TEST_CASE("the caution of every lesson is whole in view in the window, at every size of type") {
  struct Size {
    float scale, width, height;
  };
  std::vector<std::optional<LessonTruth>> truths;  // worked out once: they have no size
  for (const Size& size : {Size{1, 1280, 720}, Size{1.25f, 1280, 720}, Size{1.5f, 1280, 720}, Size{1.75f, 1280, 720},
                           Size{2, 1920, 1080}}) {
    if (kShare > 1 && size.scale > 1 && size.scale < 1.75f) continue;
    Table desk("first_slope", size.scale);
    desk.width = size.width, desk.height = size.height;
    go_to(desk.desk, Task::teach);
    desk.frame();
    REQUIRE(desk.choices.lesson);
    LessonPlay& play = *desk.choices.lesson;
    truths.resize(play.lessons.size());
    for (std::size_t i = 0; i < play.lessons.size(); i += kShare) {
      INFO(size.scale);
      CAPTURE(play.lessons[i].title);
      open_lesson(play, i);
      if (!truths[i]) {
        settle(play);
        truths[i] = play.truth;
      }
      play.truth = truths[i];
      tell_lesson(play);
      for (int frame = 0; frame < 3; ++frame) desk.frame();
      const Rect caution = desk.item("Lesson caution");
      const ImGuiWindow* panel = ImGui::FindWindowByName("Set-up");
      REQUIRE(panel);
      CHECK(caution.y >= panel->Pos.y);
      CHECK(caution.y + caution.height <= panel->Pos.y + panel->Size.y);
      const Rect next = desk.item(i + 1 == play.lessons.size() ? "To the list" : "Next lesson");
      CHECK(next.y + next.height <= panel->Pos.y + panel->Size.y + 0.5f);
      CHECK(caution.y + caution.height <= next.y);
    }
  }
}

TEST_CASE("nothing runs before the class has guessed: not by key, not by button; with a guess, space shows it") {
  Table desk;
  go_to(desk.desk, Task::teach);
  desk.frame();
  LessonPlay& play = *desk.choices.lesson;
  open_lesson(play, 3);
  desk.frame();
  for (const char32_t key : {U' ', U'.', U'd', U'g', U'h', U'D'}) {
    carry_out(key, desk.desk, desk.choices);
    desk.frame();
    CHECK_FALSE(desk.session.started());
    CHECK_FALSE(playing(desk.desk));
    CHECK(play.stage == LessonStage::asking);
  }
  for (const char* label : {"Play", "Step", "Drop", "Drive", "By hand"}) {
    CAPTURE(label);
    const Rect place = desk.item(label);
    desk.press_at({place.middle().x, place.middle().y});
    CHECK_FALSE(desk.session.started());
    CHECK_FALSE(playing(desk.desk));
  }
  make_guess(play, 1);
  carry_out(U' ', desk.desk, desk.choices);
  desk.frame();
  CHECK(play.stage == LessonStage::showing);
  CHECK(playing(desk.desk));
}

TEST_CASE("a lesson is read in the units the person has chosen") {
  LessonCard desk;
  for (const Lesson& lesson : desk.play.lessons)
    for (const std::string& text : {lesson.story, lesson.question, lesson.because, lesson.caution, lesson.take_home}) {
      const std::string us = in_us_units(text);
      for (const char* si : {" kg", " km/h", " m ", " m.", " m,", " cm", "5 t "}) {
        CAPTURE(us);
        CHECK(us.find(si) == us.npos);
      }
    }
  // The card itself: the words it draws are longer or shorter in the other units.
  open_lesson(desk.play, 3);
  desk.frame();
  desk.ui.units = Units::us;
  desk.frame();
  CHECK(lesson_words_shown(desk.ui, "At 6 km/h") == "At 3.7 mph");
  desk.ui.units = Units::si;
  CHECK(lesson_words_shown(desk.ui, "At 6 km/h") == "At 6 km/h");
}
#endif  // SIDEHILL_SCREEN
