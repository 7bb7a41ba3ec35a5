#ifdef SIDEHILL_SCREEN
// No two things that can be pressed lie on each other, and none is cut off, whatever the window and the type.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>

#include "render/screen/panels/panels.h"
#include "tests/kit/share.h"
#include "tests/kit/table.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

constexpr std::array<std::pair<float, float>, 5> kSizes = {
    {{1024, 700}, {1280, 720}, {1366, 768}, {1920, 1080}, {2560, 1440}}};

float overlap(const Rect& a, const Rect& b) {
  const float wide = std::min(a.x + a.width, b.x + b.width) - std::max(a.x, b.x);
  const float high = std::min(a.y + a.height, b.y + b.height) - std::max(a.y, b.y);
  return wide > 1 && high > 1 ? wide * high : 0;
}

bool inside(const Rect& outer, const Rect& r) {
  return r.x >= outer.x - 1 && r.y >= outer.y - 1 && r.x + r.width <= outer.x + outer.width + 1 &&
         r.y + r.height <= outer.y + outer.height + 1;
}

// The window at that size, with type so much larger than it takes of itself.
void resize(Table& table, float width, float height, double text) {
  table.width = width, table.height = height;
  const double type = type_scale(width, height, 1, table.choices);
  const double scale = type * std::min(text, most_text_scale(width, height, type));
  if (static_cast<float>(scale) == table.ui.scale) return;
  table.ui.scale = static_cast<float>(scale);
  table.ui.fonts = load_fonts(scale);
  unsigned char* pixels = nullptr;
  int w = 0, h = 0;
  ImGui::GetIO().Fonts->GetTexDataAsRGBA32(&pixels, &w, &h);
  apply_style(scale);
}

void check_places(Table& table, const std::string& where) {
  INFO(where, ", ", table.width, " x ", table.height, ", type ", table.ui.scale);
  for (int i = 0; i < 3; ++i) table.frame();
  const Layout layout = layout_of(table.width, table.height, table.ui.scale, table.desk, table.choices);
  const std::vector<std::string>& order = table.ui.order;
  CAPTURE(layout.view.height);
  CAPTURE(layout.banner.height);
  CAPTURE(layout.top.height);
  CHECK(order.size() > 5);
  for (std::size_t i = 0; i < order.size(); ++i) {
    const Rect seen = table.ui.seen.at(order[i]), whole = table.ui.items.at(order[i]);
    // What does not scroll is not cut.
    for (const Rect& fixed : {layout.top, layout.bar, layout.caution})
      if (fixed.height > 0 && overlap(fixed, seen) > 0 && inside(fixed, {whole.middle().x, whole.middle().y, 0, 0})) {
        INFO("cut off: ", order[i]);
        CHECK(inside(fixed, whole));
      }
    for (std::size_t j = i + 1; j < order.size(); ++j) {
      const float both = overlap(seen, table.ui.seen.at(order[j]));
      INFO(order[i], " and ", order[j]);
      CHECK(both == 0);
    }
  }
}

}  // namespace

TEST_CASE("no two buttons meet and none is cut off, at five sizes and three sizes of type, with panels and without") {
  Table table;
  std::size_t round = 0;
  for (const bool alone : {false, true})
    for (const auto& [width, height] : kSizes)
      for (const double text : {1.0, 2.0, 3.0}) {
        if (round++ % kShare != 0) continue;
        table.choices.presenter = alone;
        resize(table, width, height, text);
        go_to(table.desk, Task::check);
        check_places(table, alone ? "check, alone" : "check");
        go_to(table.desk, Task::compare);
        check_places(table, alone ? "compare, alone" : "compare");
        go_to(table.desk, Task::teach);
        table.frame();
        close_lesson(*table.choices.lesson);
        check_places(table, alone ? "lessons, alone" : "lessons");
        open_lesson(*table.choices.lesson, round % table.choices.lesson->lessons.size());
        check_places(table, alone ? "asking, alone" : "asking");
        make_guess(*table.choices.lesson, 0);
        show_lesson(*table.choices.lesson);
        table.frame();
        for (int i = 0; i < 30; ++i) advance(table.desk, 0.05, 1);
        check_places(table, alone ? "running, alone" : "running");
        settle(*table.choices.lesson);
        tell_lesson(*table.choices.lesson);
        check_places(table, alone ? "answered, alone" : "answered");
        reset(table.desk);
      }
}

TEST_CASE("in Present no letter is lower than a 45th of the window, and what a trainer needs is there") {
  Table table;
  table.choices.presenter = true;
  go_to(table.desk, Task::teach);
  table.frame();
  open_lesson(*table.choices.lesson, 2);
  for (const auto& [width, height] : kSizes) {
    resize(table, width, height, 1);
    CAPTURE(table.width);
    CHECK(table.ui.fonts.small->FontSize >= height / 45 - 1);  // sizes are whole pixels
    table.frame();
    table.frame();
    for (const char* label : {"Play", "Loop", "1/5", "Answer 1", "Panels back"}) {
      CAPTURE(label);
      CHECK((table.has(label) || std::string_view(label) == "1/5"));
    }
    const bool slow = table.has("1/5") || table.has("1x");
    CHECK(slow);
  }
}

TEST_CASE("type grows with the window, and a person's choice comes on top of it") {
  const ViewChoices choices;
  CHECK(type_scale(1280, 720, 1, choices) == 1);
  CHECK(type_scale(1920, 1080, 1, choices) == 1.25);
  CHECK(type_scale(2560, 1440, 1, choices) == 1.5);
  CHECK(type_scale(2560, 1440, 2, choices) == 2);  // the desktop has made it larger already
  CHECK(type_scale(800, 600, 1, choices) == 1);    // never smaller
}

TEST_CASE("what a lesson asks stands large on each picture while it runs, and not before") {
  Table table;
  go_to(table.desk, Task::teach);
  table.frame();
  LessonPlay& play = *table.choices.lesson;
  for (std::size_t i = 0; i < play.lessons.size(); i += kShare) {
    CAPTURE(play.lessons[i].title);
    open_lesson(play, i);
    table.frame();
    table.frame();
    CHECK_FALSE(table.has("Asked"));
    CHECK_FALSE(table.has("Asked A"));
    show_lesson(play);
    for (int k = 0; k < 3; ++k) table.frame();
    for (int k = 0; k < 20; ++k) advance(table.desk, 0.05, 1);
    table.frame();
    const bool two = !play.lessons[i].second.empty();
    REQUIRE(table.has(two ? "Asked A" : "Asked"));
    CHECK(table.has("Asked B") == two);
    CHECK(table.has("Time strip"));
    const Layout layout = layout_of(table.width, table.height, 1, table.desk, table.choices);
    for (const char* label : {"Asked", "Asked A", "Asked B"})
      if (table.has(label)) {
        CHECK(inside(layout.view, table.item(label)));
        for (const char* tool : {"Follow", "View", "Show"}) CHECK(overlap(table.item(label), table.item(tool)) == 0);
      }
    close_lesson(play);
    table.frame();
  }
}
#endif
