#ifdef SIDEHILL_SCREEN
// The panels without any window: ImGui with no backend, clicked by label.
#include "render/screen/panels/panels.h"

#include <doctest/doctest.h>
#include <imgui.h>
#include <imgui_internal.h>  // to see whether a tooltip is shown

#include <cmath>

#include "render/screen/desk/verdict.h"
#include "render/screen/parts/charts.h"
#include "sim/scene/scene.h"
#include "tests/kit/near.h"
#include "tests/kit/table.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

TEST_CASE("every primary slider is on the first screen at 1280 x 720 and keeps inside its panel") {
  Table desk;
  const Layout layout = layout_of(desk.width, desk.height, 1, desk.desk, desk.choices);
  for (const Dial& dial : dials_of(desk.session.scene())) {
    if (dial.more) continue;
    INFO(dial.label);
    const Rect r = desk.item(dial.label);
    CHECK(r.x >= layout.left.x);
    CHECK(r.x + r.width <= layout.left.x + layout.left.width + 1);
    CHECK(r.y + r.height <= layout.left.y + layout.left.height);
  }
  // The others are one press away.
  CHECK_FALSE(desk.has("Rear tyre pressure"));
  desk.click("More: tyre pressure, tank, left and right");
  CHECK(desk.has("Rear tyre pressure"));
}

TEST_CASE("a click on a slider's track moves its datum") {
  Table desk;
  desk.slide_to("Slope", 0.9f);
  CHECK(desk.session.number("terrain.slope_deg") > 35);
  desk.slide_to("Rear", 0.02f);
  CHECK(desk.session.number("ballast.rear.fill_fraction") < 0.1);
  desk.click("Restore");
  CHECK_NEAR(desk.session.number("terrain.slope_deg"), 18, 1e-9);
}

TEST_CASE("the loader's tool is chosen beside its height, and a bale has sliders where there is one") {
  Table desk;
  desk.height = 1400;
  const auto set = [&](double diameter, double width) {
    Scene scene = desk.session.scene();
    scene.ballast.loader_payload = 0;
    scene.ballast.loader_pin_height = 1.5;
    scene.ballast.bale.diameter = diameter;
    scene.ballast.bale.width = scene.ballast.bale.height = width;
    desk.session.edit(scene);
    desk.frame();
    desk.frame();
  };
  set(0, 0);
  CHECK(desk.has("ballast.loader_tool"));
  CHECK_FALSE(desk.has("Round bale, diameter"));  // a bucket holds none
  CHECK_FALSE(desk.has("Bale density"));
  desk.click("ballast.loader_tool");
  desk.click("ballast.loader_tool: bale spike");
  CHECK(desk.session.scene().ballast.loader_tool == LoaderTool::bale_spike);
  REQUIRE(desk.has("Round bale, diameter"));
  CHECK(desk.has("Payload"));
  desk.slide_to("Round bale, diameter", 0.6f);
  CHECK_NEAR(desk.session.number("ballast.bale.diameter_m"), 1.2, 0.06);
  CHECK_FALSE(desk.has("Payload"));  // a bale is in its place
  for (const char* label : {"Bale length", "Bale density", "Bales"}) CHECK(desk.has(label));
  desk.slide_to("Bale density", 0.5f);
  CHECK_NEAR(desk.session.number("ballast.bale.density_kg_per_m3"), 425, 15);
  desk.slide_to("Bales", 0.42f);
  CHECK_NEAR(desk.session.number("ballast.bale.count"), 3, 1e-9);
  CHECK(desk.session.refusal().empty());
  set(0, 0.8);
  CHECK(desk.has("Square bale, width"));
  CHECK(desk.has("Square bale, height"));
  CHECK_FALSE(desk.has("Round bale, diameter"));
}

TEST_CASE("play, step and reset do what they say") {
  Table desk;
  desk.click("Play");
  CHECK(desk.session.playing());
  desk.session.advance(0.1, 5);
  desk.frame();
  desk.click("Pause");
  CHECK_FALSE(desk.session.playing());
  const double before = desk.session.shown().time;
  desk.click("Step");
  CHECK(desk.session.shown().time > before);
  desk.click("Reset");
  CHECK(desk.session.showing() == Showing::rest);
}

TEST_CASE("letters do what the buttons do, and no two commands share one") {
  Table desk;
  CHECK(carry_out(U' ', desk.desk, desk.choices));
  CHECK(desk.session.playing());
  CHECK(carry_out(U'R', desk.desk, desk.choices));
  CHECK_FALSE(desk.session.playing());
  CHECK_FALSE(carry_out(U'#', desk.desk, desk.choices));
  for (const Command& a : commands())
    for (const Command& b : commands()) CHECK((&a == &b || a.letter != b.letter));
}

TEST_CASE("keys drive by hand, and a strip says so only then") {
  Table desk;
  ImGuiIO& io = ImGui::GetIO();
  io.KeyMap[ImGuiKey_LeftArrow] = 1;
  io.KeyMap[ImGuiKey_RightArrow] = 2;
  CHECK(desk.ui.items.count("Driving by hand") == 0);
  CHECK(carry_out(U'H', desk.desk, desk.choices));
  desk.frame();
  CHECK(desk.session.by_hand());
  const Rect strip = desk.item("Driving by hand");
  const Layout layout = layout_of(desk.width, desk.height, 1, desk.desk, desk.choices);
  CHECK(strip.y + strip.height <= layout.bar.y);
  CHECK(strip.y >= layout.view.y + layout.view.height);
  for (int i = 0; i < 4; ++i) CHECK(carry_out(U'\u2191', desk.desk, desk.choices));
  CHECK(carry_out(U'\u2193', desk.desk, desk.choices));
  CHECK_NEAR(3.6 * desk.session.hand().speed, 3, 1e-12);
  io.KeysDown[1] = io.KeysDown[std::size_t{'B'}] = true;
  // The arrows are the machine's now, wherever the mouse is.
  const double slope = desk.session.number("terrain.slope_deg");
  io.MousePos = desk.item("Slope").middle();
  desk.frame();
  CHECK(desk.session.keys() == HandKeys{.left = true, .brake = true});
  CHECK(desk.session.hand().brake == 1);
  desk.session.advance(1.0, 10);
  desk.frame();
  CHECK(desk.session.shown().steer > 0.1);
  CHECK(desk.session.number("terrain.slope_deg") == slope);
  CHECK(hand_words(desk.session).find("Driving by hand: 0 km/h, left ") == 0);
  CHECK(hand_words(desk.session).find("brake") != std::string::npos);
  desk.ui.typing = "Slope";  // somebody types a number
  hold_keys(desk.ui, desk.desk);
  CHECK(desk.session.keys() == HandKeys{});
  desk.ui.typing.clear();
  io.KeysDown[1] = io.KeysDown[std::size_t{'B'}] = false;
  desk.click("By hand");
  CHECK_FALSE(desk.session.by_hand());
  desk.frame();
  CHECK(desk.ui.items.count("Driving by hand") == 0);
  desk.click("Reset");
  CHECK_FALSE(desk.session.edited());
}

TEST_CASE("the caution line is on the screen in every state, and the notes open") {
  for (const char* scene : {"first_slope", "bucket_up", "orchard_row", "wide_or_narrow"}) {
    Table desk(scene);
    CHECK(desk.ui.items.count("What it leaves out") == 1);
    desk.click("What it leaves out");
    CHECK(desk.choices.notes);
  }
}

TEST_CASE("an overload, a bend that lifts a wheel: said first among the cautions") {
  Table desk;
  desk.session.settle();
  const std::size_t before = desk.session.warnings().size();
  desk.session.set_number("manoeuvre.speed_kmh", 40);
  desk.session.set_number("manoeuvre.turn_radius_m", 8);
  desk.session.set_number("vehicle.rear.capacity_kg", 500);
  desk.session.settle();
  desk.frame();
  const std::vector<std::string> all = cautions_of(desk.session);
  REQUIRE(desk.session.warnings().size() >= before + 3);
  CHECK(all.size() == desk.session.warnings().size() + desk.session.model()->cautions.size());
  CHECK(all.front().find("lifts a wheel") != std::string::npos);
  CHECK(all[1].find("lifts a wheel") != std::string::npos);
  const Rect pill = desk.item("Cautions");
  CHECK(pill.width > 100);
  desk.click("Cautions");
  CHECK(desk.choices.notes);
  desk.session.restore();
  desk.session.settle();
  CHECK(desk.session.warnings().size() == before);
}

TEST_CASE("panels hold at odd sizes and for slopes where nothing stands") {
  Table desk;
  for (const auto& [w, h] : {std::pair{640.f, 480.f}, {1920.f, 1080.f}, {800.f, 1200.f}}) {
    desk.width = w, desk.height = h;
    for (double slope : {0.0, 30.0, 60.0}) {
      desk.session.set_number("terrain.slope_deg", slope);
      desk.frame();
      desk.frame();
    }
  }
  CHECK(desk.session.refusal().empty());
}

TEST_CASE("help comes to a mouse at rest, and not to one that has just pressed") {
  Table desk;
  const auto help_shown = [&] {
    for (const ImGuiWindow* window : ImGui::GetCurrentContext()->Windows)
      if ((window->Flags & ImGuiWindowFlags_Tooltip) && window->Active && !window->Hidden) return true;
    return false;
  };
  for (const char* label : {"Slope", "Rear liquid", "Play", "Follow", "Total, axle split", "Margin by heading"}) {
    INFO(label);
    ImGui::GetIO().MousePos = {640, 450};
    desk.frame();
    CHECK_FALSE(help_shown());
    ImGui::GetIO().MousePos = desk.item(label).middle();
    desk.frame();
    desk.frame();
    CHECK_FALSE(help_shown());
    // As the window does: no frame more than is asked for.
    int frames = 0;
    for (; desk.ui.help_is_due && frames < 200; ++frames) desk.frame();
    CHECK(frames < 200);
    CHECK(help_shown());
  }
  desk.click("Follow");
  for (int i = 0; i < 60; ++i) desk.frame();
  CHECK_FALSE(help_shown());
}

TEST_CASE("the views and what is drawn can be chosen by mouse") {
  Table desk;
  desk.choices.go_to.reset();
  desk.click("View");
  desk.frame();
  desk.click("From behind");
  REQUIRE(desk.choices.go_to);
  CHECK(*desk.choices.go_to == CameraPreset::rear);
  desk.frame();
  desk.click("Show");
  desk.frame();
  desk.click("Driver");
  CHECK_FALSE(desk.choices.overlays.driver);
  desk.press_at({640, 450});  // anywhere else closes the list
  desk.click("Follow");
  CHECK_FALSE(desk.choices.follow);
}

TEST_CASE("a number can be typed, with a comma too, and nonsense leaves the datum alone") {
  Table desk;
  const auto type = [&](const char* text) {
    desk.click("Slope number");
    for (int i = 0; i < 3; ++i) desk.frame();  // the field opens, is given the keyboard, listens
    ImGui::GetIO().AddInputCharactersUTF8(text);
    desk.frame();
    desk.press_at({640, 450});  // leaving the field takes the number over
    desk.frame();
  };
  type("12,5");
  CHECK_NEAR(desk.session.number("terrain.slope_deg"), 12.5, 1e-9);
  type("steep");
  CHECK_NEAR(desk.session.number("terrain.slope_deg"), 12.5, 1e-9);
  type("900");
  CHECK_NEAR(desk.session.number("terrain.slope_deg"), 60, 1e-9);
}

TEST_CASE("a liquid is chosen by its name") {
  Table desk;
  const int before = desk.session.choice("ballast.rear.medium");
  desk.click("Rear liquid");
  desk.frame();
  const std::string other = "Rear liquid: " + medium_name({media()[before == 0 ? 1 : 0].medium}, true);
  desk.click(other.c_str());
  CHECK(desk.session.choice("ballast.rear.medium") == (before == 0 ? 1 : 0));
}

TEST_CASE("a click on the chart by heading turns the machine to it") {
  Table desk;
  const Rect chart = desk.item("Margin by heading");
  desk.press_at({chart.x + 6, chart.middle().y});  // left of the middle: turned to the left
  CHECK_NEAR(desk.session.number("start.heading_deg"), 90, 1e-9);
  desk.press_at({chart.middle().x, chart.y + 6});
  CHECK_NEAR(desk.session.number("start.heading_deg"), 0, 1e-9);
}

TEST_CASE("the chart by heading has uphill at the top and the left on the left") {
  const Rect rect{0, 0, 200, 200};
  CHECK_NEAR(polar_place(rect, 0, kPolarRim).y, 0, 1e-3);
  CHECK_NEAR(polar_place(rect, 3.14159265358979 / 2, kPolarRim).x, 0, 1e-3);
  CHECK_NEAR(polar_place(rect, -3.14159265358979 / 2, kPolarRim / 2).x, 150, 1e-3);
}

TEST_CASE("whatever the sliders say, words and picture stay finite") {
  for (const char* scene : {"first_slope", "bucket_up", "orchard_row"}) {
    Table desk(scene);
    unsigned seed = 7;
    // All headings are waited for now and then only; on a rough strip that takes seconds.
    const int draws = desk.session.scene().terrain.features.empty() ? 40 : 2;
    for (int i = 0; i < draws; ++i) {
      for (const Dial& dial : dials_of(desk.session.scene())) {
        seed = seed * 1664525u + 1013904223u;
        const double part = static_cast<double>(seed >> 8) / 16777216.0;
        // Ends of the range half of the time: that is where things break.
        const double where = part < 0.25 ? 0 : part > 0.75 ? 1 : part;
        desk.session.set_number(dial.key, dial.min + where * (dial.max - dial.min));
      }
      if (draws > 2 && i % 10 == 0) desk.session.settle();
      while (desk.session.working()) desk.session.answer(0.1);
      desk.frame();
      for (const Verdict& v : {verdict_of(desk.session), moment_of(desk.session)}) {
        const std::string words = v.number + v.title + v.detail;
        INFO(words);
        CHECK(words.find("nan") == std::string::npos);
        CHECK(words.find("inf") == std::string::npos);
        CHECK_FALSE(v.title.empty());
      }
      const State& shown = desk.session.shown();
      CHECK(std::isfinite(shown.X_GV.p.x + shown.X_GV.p.y + shown.X_GV.p.z));
      for (const WheelState& wheel : shown.wheels) CHECK(std::isfinite(wheel.load));
    }
  }
}

TEST_CASE("every answer fits the right-hand panel without scrolling at 1280 x 720") {
  for (const char* scene : {"first_slope", "bucket_up", "orchard_row", "over_a_stump"}) {
    INFO(scene);
    Table desk(scene);
    while (desk.session.working()) desk.session.answer(0);
    desk.frame();
    const Layout layout = layout_of(1280, 720, 1, desk.desk, desk.choices);
    const Rect last = desk.item("Centre of gravity");
    CHECK(last.y + last.height <= layout.right.y + layout.right.height);
  }
}

TEST_CASE("a machine that cannot exist, or is being worked out, has no loads, masses or readings beside it") {
  Table desk;
  desk.height = 2400;
  desk.session.set_number("ballast.rear.fill_fraction", 0.95);  // so that there is a caution beside the verdict
  desk.session.settle_doubts();
  for (int i = 0; i < 3; ++i) desk.frame();  // the answer panel has settled
  desk.click("Every reading, and how it was found");
  desk.frame();
  const auto there = [&](const char* label) { return desk.ui.items.contains(label); };
  const char* labels[] = {"Load front left", "Total, axle split", "Reading: margin", "Cautions"};
  for (const char* label : labels) CHECK_MESSAGE(there(label), label);
  const double possible = desk.session.number("ballast.loader_pin_height_m");
  desk.session.set_number("ballast.loader_pin_height_m", 6);
  desk.frame();
  desk.frame();
  REQUIRE_FALSE(desk.session.refusal().empty());
  for (const char* label : labels) CHECK_FALSE_MESSAGE(there(label), label);
  desk.session.set_number("ballast.loader_pin_height_m", possible);
  desk.session.settle();
  desk.frame();
  desk.frame();
  for (const char* label : labels) CHECK_MESSAGE(there(label), label);
  // Rough ground under it takes longer than a picture.
  Scene rough = desk.session.scene();
  for (std::uint32_t i = 0; i < 12; ++i) {
    Feature strip;
    strip.kind = FeatureKind::rough;
    strip.length = strip.width = 14;
    strip.height = 0.02;
    strip.seed = i + 1;
    rough.terrain.features.push_back(strip);
  }
  desk.session.edit(rough);
  desk.frame();
  REQUIRE(desk.session.working());
  for (const char* label : labels) CHECK_FALSE_MESSAGE(there(label), label);
}

TEST_CASE("while a lesson asks, no caution gives numbers of its set-up away; once it is answered they are back") {
  Table desk;
  go_to(desk.desk, Task::teach);
  desk.frame();
  REQUIRE(desk.choices.lesson);
  LessonPlay& play = *desk.choices.lesson;
  int with_cautions = 0;
  for (std::size_t i = 0; i < play.lessons.size() && with_cautions == 0; ++i) {
    open_lesson(play, i);
    desk.frame();
    desk.session.settle();
    desk.choices.notes = true;
    for (int frame = 0; frame < 4; ++frame) desk.frame();
    if (cautions_of(desk.session).empty()) continue;
    ++with_cautions;
    REQUIRE(hides_numbers(desk.desk, desk.choices));
    CHECK_FALSE(desk.ui.items.contains("Cautions"));
    const float asking = ImGui::FindWindowByName("Notes")->Size.y;
    settle(play);
    tell_lesson(play);
    for (int frame = 0; frame < 4; ++frame) desk.frame();
    CHECK(desk.ui.items.contains("Cautions"));
    CHECK(ImGui::FindWindowByName("Notes")->Size.y > asking + 10);  // the set-up's own cautions below the general ones
  }
  CHECK(with_cautions == 1);
}
#endif  // SIDEHILL_SCREEN
