#ifdef SIDEHILL_SCREEN
// Looking along a run with the mouse and the keyboard; the window's panels by label.
#include "render/screen/panels/time_strip.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "tests/kit/near.h"
#include "tests/kit/table.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

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

TEST_CASE("the keyboard reaches everything that can be pressed or changed, whatever is open") {
  Table table;
  const auto all_reached = [&](const char* where) {
    table.frame();
    table.frame();
    INFO(where);
    CHECK(table.ui.order.size() > 10);
    for (const std::string& label : table.unreached()) FAIL_CHECK("not reached: " << label);
  };
  all_reached("at rest");
  table.session.settle_doubts();
  table.click("View");
  all_reached("the list of views");
  table.press_key(Table::kEscape);
  table.click("Show");
  all_reached("the list of what is shown");
  table.press_key(Table::kEscape);
  table.click("Rear liquid");
  all_reached("the list of liquids");
  table.press_key(Table::kEscape);
  table.height = 3000;  // what is folded open below stays in the panel
  table.frame();
  table.click("Every reading, and how it was found");
  table.click("Every datum, as the scene file names it");
  table.frame();
  table.click("All: terrain.soil");
  table.choices.notes = true;
  all_reached("everything folded open");
  table.choices.notes = false;
  table.height = 720;
  table.click("Play");
  for (int i = 0; i < 20; ++i) advance(table.desk, 0.02, 1);
  all_reached("running");
  go_to(table.desk, Task::compare);
  all_reached("comparing");
  put_away(table.desk);
  go_to(table.desk, Task::teach);
  all_reached("the lessons");
  open_lesson(*table.choices.lesson, 0);
  all_reached("asking");
  make_guess(*table.choices.lesson, 0);
  show_lesson(*table.choices.lesson);
  all_reached("showing");
  settle(*table.choices.lesson);
  tell_lesson(*table.choices.lesson);
  all_reached("answered");
  go_to(table.desk, Task::check);
  for (const Drawer drawer : {Drawer::ground, Drawer::make}) {
    table.choices.drawer = drawer;
    table.choices.making.kind = static_cast<int>(ExportKind::film);
    all_reached(drawer == Drawer::ground ? "ground" : "pictures");
  }
}

TEST_CASE("one's own machine by keyboard alone: lines are typed into, lists and buttons work, Tab stays in the form") {
  Table table;
  table.choices.drawer = Drawer::machine;
  table.frame();
  table.frame();
  const std::vector<std::string>& order = table.ui.order;
  for (const char* label :
       {"Class", "Driven front axle", "Tracks were read", "Engine power", "Front tyre size", "Cancel", "File name"}) {
    INFO(label);
    CHECK(std::ranges::find(order, label) != order.end());
  }
  CHECK(std::ranges::find(order, "Slope") == order.end());  // it lies below the form
  table.ui.focus = "Driven front axle";
  table.press_key(Table::kRight);
  table.press_key(Table::kRight);
  CHECK(entry_word(table.choices.machine->entry, "front_drive") == "yes");
  table.press_key(Table::kTab);
  CHECK(table.ui.focus == "Engine power");
  table.frame();
  CHECK(table.choices.machine->active_row == "engine_power_kw");
  ImGui::GetIO().AddInputCharactersUTF8("55");
  table.frame();
  table.frame();
  CHECK_NEAR(table.choices.machine->entry.engine_power.value_or(0), 55000, 1e-6);
  table.press_key(Table::kTab, true);  // back out of the line
  CHECK(table.ui.focus == "Driven front axle");
  CHECK(table.choices.machine->active_row.empty());
  table.ui.focus = "Cancel";
  table.press_key(Table::kEnter);
  CHECK(table.choices.drawer == Drawer::none);
}

TEST_CASE("a line for a file's name takes the keyboard on Enter and gives it back on Tab") {
  Table table;
  table.choices.drawer = Drawer::make;
  table.frame();
  table.frame();
  table.ui.focus = "File name";
  table.press_key(Table::kEnter);
  table.frame();
  CHECK(ImGui::GetIO().WantTextInput);
  CHECK(table.ui.field == "File name");
  table.press_key(Table::kTab);
  table.frame();
  CHECK(table.ui.field.empty());
  CHECK_FALSE(ImGui::GetIO().WantTextInput);
  CHECK(table.ui.focus == "Make it");
  table.choices.making.kind = static_cast<int>(ExportKind::film);
  table.frame();
  table.ui.focus = "Film labels";
  const bool before = table.choices.making.film_labels;
  table.press_key(Table::kEnter);
  CHECK(table.choices.making.film_labels != before);
}

TEST_CASE("a list is opened, walked and chosen from by keyboard, which then is where it was") {
  Table table;
  const int before = table.session.choice("ballast.rear.medium");
  table.ui.focus = "Rear liquid";
  table.press_key(Table::kEnter);
  std::string other;
  for (const std::string& label : table.ui.order)
    if (label.starts_with("Rear liquid: ") && other.empty()) other = label;
  REQUIRE_FALSE(other.empty());
  table.ui.focus = other;
  table.press_key(Table::kEnter);
  CHECK(table.session.choice("ballast.rear.medium") == 0);
  CHECK(before != 0);
  CHECK(table.ui.focus == "Rear liquid");
  table.frame();
  CHECK_FALSE(table.ui.items.contains(other));  // the list has closed
}

TEST_CASE("a run of ten minutes is drawn in few vertices, all of them finite, its extremes kept") {
  Table table;
  table.click("Play");
  for (int i = 0; i < 100; ++i) advance(table.desk, 0.02, 1);
  Recording run = *table.session.recording();
  const std::vector<State> some = run.states;
  REQUIRE(some.size() > 2);
  run.states.clear();
  for (int i = 0; i < 30000; ++i) {
    run.states.push_back(some[static_cast<std::size_t>(i) % some.size()]);
    run.states.back().time = 0.02 * i;
  }
  table.session.show(std::move(run));
  REQUIRE(table.session.margins().size() == 30000);
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {1280, 720};
  ImGui::NewFrame();
  begin_items(table.ui);
  ImGui::SetNextWindowPos({0, 0});
  ImGui::SetNextWindowSize({1280, 200});
  ImGui::Begin("alone", nullptr, ImGuiWindowFlags_NoDecoration);
  time_strip(table.ui, {10, 20, 1200, 120}, table.desk);
  const auto& vertices = ImGui::GetWindowDrawList()->VtxBuffer;
  CHECK(vertices.Size > 1000);  // the line is there
  CHECK(vertices.Size < 10000);
  int outside = 0;
  for (const ImDrawVert& v : vertices)
    if (!std::isfinite(v.pos.x) || !std::isfinite(v.pos.y) || v.pos.y < -10 || v.pos.y > 210) ++outside;
  CHECK(outside == 0);
  // The line's own colour reaches as high and as low as the margins do.
  float high = 1e9f, low = -1e9f;
  for (const ImDrawVert& v : vertices)
    if ((v.col & 0xFFFFFF) == (colour(theme::kSteady) & 0xFFFFFF))
      high = std::min(high, v.pos.y), low = std::max(low, v.pos.y);
  double least = 1e9, most = -1e9;
  for (const auto& margin : table.session.margins())
    if (margin) least = std::min(least, *margin), most = std::max(most, *margin);
  // Ten degrees below nothing to forty above over the strip's 87 pixels.
  const double deg = 0.017453292519943295, per_rad = (120 - 33) / (50 * deg);
  const auto drawn = [&](double margin) { return std::clamp(margin, -10 * deg, 40 * deg); };
  CHECK_NEAR(low - high, per_rad * (drawn(most) - drawn(least)), 5);
  ImGui::End();
  ImGui::Render();
}

TEST_CASE("the strip draws no degrees left with wheels in the air or after the machine has gone over") {
  Table table("pull_too_high");
  table.click("Play");
  for (int i = 0; i < 400; ++i) advance(table.desk, 0.02, 1);
  const Recording& run = *table.session.recording();
  const auto balance = std::ranges::find(run.events, EventKind::point_of_no_return, &Event::kind);
  REQUIRE(balance != run.events.end());
  const auto lift = std::ranges::find(run.events, EventKind::lift_off, &Event::kind);
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {1280, 720};
  ImGui::NewFrame();
  begin_items(table.ui);
  ImGui::SetNextWindowPos({0, 0});
  ImGui::SetNextWindowSize({1280, 200});
  ImGui::Begin("alone", nullptr, ImGuiWindowFlags_NoDecoration);
  time_strip(table.ui, {10, 20, 1200, 120}, table.desk);
  const Rect line = table.item("Time line");
  const double end = std::max(table.session.scene().programme.duration, table.session.length());
  const auto x = [&](double time) { return line.x + static_cast<float>(time / end) * line.width; };
  int before = 0, after = 0;
  for (const ImDrawVert& v : ImGui::GetWindowDrawList()->VtxBuffer) {
    if ((v.col & 0xFFFFFF) != (colour(theme::kSteady) & 0xFFFFFF)) continue;
    (v.pos.x < x(lift->time) + 3 ? before : after) += 1;
  }
  ImGui::End();
  ImGui::Render();
  CHECK(before > 100);
  CHECK(after == 0);
}

TEST_CASE("the keyboard's way: Tab goes round all items, Enter presses, arrows nudge") {
  Table table;
  std::vector<std::string> seen;
  for (int i = 0; i < 200; ++i) {
    table.press_key(Table::kTab);
    if (!seen.empty() && table.ui.focus == seen.front()) break;
    seen.push_back(table.ui.focus);
  }
  // Every item that is not only read, each once.
  CHECK(table.unreached().empty());
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
  for (const Task task : {Task::teach, Task::check, Task::compare, Task::plan}) {
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
