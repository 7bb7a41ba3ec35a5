#ifdef SIDEHILL_SCREEN
// Looking along a run with the mouse and the keyboard; the window's panels by label.
#include "render/screen/time_strip.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "tests/near.h"
#include "tests/table.h"

using namespace sidehill;

TEST_CASE("a click in the strip shows that moment, play goes on from there") {
  Table table("over_a_stump");
  table.click("Play");
  for (int i = 0; i < 300; ++i) advance(table.desk, 0.02, 1);
  table.frame();
  table.slide_to("Time line", 0.25f);
  const double length = table.session.scene().programme.duration;
  CHECK_NEAR(table.session.looked_at(), 0.25 * length, 0.05);
  CHECK(table.session.looks_back());
  CHECK_FALSE(table.session.playing());
  table.click("Step");
  CHECK_NEAR(table.session.looked_at(), 0.25 * length + 0.02, 0.05);
  const double then = table.session.looked_at();
  table.click("Back");
  CHECK_NEAR(table.session.looked_at(), then - table.session.recording()->frame_step, 1e-9);
  table.click("Play");
  for (int i = 0; i < 10; ++i) advance(table.desk, 0.02, 1);
  CHECK_NEAR(table.session.looked_at(), then + 0.18, 0.03);
  table.click("Loop");
  CHECK(table.session.loops());
}

TEST_CASE("the keyboard reaches everything: Tab goes round all items, Enter presses, arrows nudge") {
  Table table;
  std::vector<std::string> seen;
  for (int i = 0; i < 200; ++i) {
    table.press_key(Table::kTab);
    if (!seen.empty() && table.ui.focus == seen.front()) break;
    seen.push_back(table.ui.focus);
  }
  CHECK(seen.size() == table.ui.order.size());
  for (const char* label : {"Teach", "Compare", "Open", "A+", "Present", "Slope", "Rear", "Rear liquid",
                            "Bucket height", "Play", "Drop", "By hand", "View"}) {
    INFO(label);
    CHECK(std::find(seen.begin(), seen.end(), label) != seen.end());
  }
  table.press_key(Table::kTab, true);
  CHECK(table.ui.focus == seen.back());
  table.ui.focus = "Slope";
  const double slope = table.session.number("terrain.slope_deg");
  table.press_key(Table::kRight);
  CHECK_NEAR(table.session.number("terrain.slope_deg"), slope + 0.5, 1e-9);
  table.ui.focus = "Rear liquid";
  const int medium = table.session.choice("ballast.rear.medium");
  table.press_key(Table::kLeft);
  CHECK(table.session.choice("ballast.rear.medium") == medium - 1);
  table.ui.focus = "Compare";
  table.press_key(Table::kEnter);
  CHECK(table.desk.task == Task::compare);
  CHECK(table.desk.other);
  table.press_key(Table::kEscape);
  CHECK(table.ui.focus.empty());
}

TEST_CASE("undo and redo by button, and every edit by any panel is one") {
  Table table;
  const std::string before = write_scene(table.session.scene());
  table.slide_to("Slope", 0.8f);
  table.slide_to("Bucket height", 0.9f);
  const std::string after = write_scene(table.session.scene());
  table.click("Undo");
  table.click("Undo");
  CHECK(write_scene(table.session.scene()) == before);
  table.click("Redo");
  table.click("Redo");
  CHECK(write_scene(table.session.scene()) == after);
}

TEST_CASE("two set-ups: what differs is said, and the other one's panel edits the other one") {
  Table table;
  table.click("Compare");
  REQUIRE(table.desk.other);
  CHECK(what_differs(table.desk).find("same as A") != std::string::npos);
  table.slide_to("Rear", 0.f);  // B's, to begin with
  CHECK(table.desk.other->number("ballast.rear.fill_fraction") == 0);
  CHECK(table.session.number("ballast.rear.fill_fraction") > 0);
  CHECK(what_differs(table.desk).find("Rear tyres' liquid: A 75 %, B 0 %") != std::string::npos);
  table.click("A");
  table.slide_to("Slope", 0.5f);
  CHECK_NEAR(table.desk.other->number("terrain.slope_deg"), table.session.number("terrain.slope_deg"), 1e-12);
  table.click("Swap");
  CHECK(table.session.number("ballast.rear.fill_fraction") == 0);
  table.click("Only A");
  CHECK_FALSE(table.desk.other);
  table.click("Undo");
  CHECK(table.desk.other);
}

TEST_CASE("whatever is chosen at whatever size, every panel stays inside the window and nothing overlaps") {
  Table table;
  for (const Task task : {Task::teach, Task::check, Task::compare}) {
    go_to(table.desk, task);
    for (const bool alone : {false, true}) {
      table.choices.presenter = alone;
      for (const auto& [w, h] : {std::pair{960.0, 600.0}, {1280.0, 720.0}, {2560.0, 1440.0}, {320.0, 200.0}}) {
        for (const double scale : {1.0, 2.0, 3.0}) {
          const Layout l = layout_of(w, h, scale, table.desk, table.choices);
          CHECK(l.view.width >= w / 3 - 2);
          CHECK(l.view.height > 0);
          CHECK(l.left.x + l.left.width <= l.view.x + 0.5f);
          CHECK(l.view.x + l.view.width <= l.right.x + 0.5f);
          CHECK(l.right.x + l.right.width <= w + 0.5f);
          CHECK(l.banner.y + l.banner.height <= l.view.y + 0.5f);
          CHECK(l.view.y + l.view.height <= l.hand.y + 1.f);
          CHECK(l.caution.y + l.caution.height <= h + 0.5f);
          CHECK(l.caution.height > 0);  // the cautions stay, whatever else goes
        }
      }
      table.frame();
    }
  }
}
#endif
