#ifdef SIDEHILL_SCREEN
// Readings, reasons and units in the panels, without any window: clicked by label.
#include "render/screen/parts/reading_rows.h"

#include <doctest/doctest.h>
#include <imgui.h>

#include <cmath>
#include <limits>

#include "render/screen/desk/verdict.h"
#include "render/screen/panels/panels.h"
#include "render/screen/parts/charts_why.h"
#include "sim/scene/scene.h"
#include "tests/kit/near.h"
#include "tests/kit/table.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

struct Tall : Table {
  explicit Tall(const char* scene = "first_slope") : Table(scene) {
    height = 1400;  // what is folded open stays on the screen
    frame();
    frame();
  }
  // A window of its own with something in it.
  template <class Draw>
  void alone(float room, Draw what) {
    frame([&] {
      begin_items(ui);
      ImGui::SetNextWindowPos({0, 0});
      ImGui::SetNextWindowSize({room, height});
      ImGui::Begin("Alone", nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize);
      what();
      ImGui::End();
    });
  }
  void type(const std::string& label, const char* text) {
    click(label + " number");
    for (int i = 0; i < 3; ++i) frame();
    ImGui::GetIO().AddInputCharactersUTF8(text);
    frame();
    press_at({640, 700});
    frame();
  }
  std::vector<Reading> readings() { return readings_of(known_of(session)); }
};

}  // namespace

TEST_CASE("what is typed on a slider is in the unit shown") {
  Tall desk;
  desk.type("Rear track width", "1.8");
  CHECK_NEAR(desk.session.number("vehicle.rear.track_m"), 1.8, 1e-12);
  desk.choices.units = Units::us;
  desk.frame();
  desk.type("Rear track width", "72");
  CHECK_NEAR(desk.session.number("vehicle.rear.track_m"), 72 * 0.0254, 1e-12);
  desk.type("Rear hitch weights", "1000");
  CHECK_NEAR(desk.session.number("ballast.rear_weights_kg"), 453.59237, 1e-9);
  desk.type("Speed", "5");
  CHECK_NEAR(desk.session.number("programme.speed_kmh"), 8.04672, 1e-9);
  desk.type("Slope", "12.5");
  CHECK_NEAR(desk.session.number("terrain.slope_deg"), 12.5, 1e-9);
  desk.type("Rear", "40");
  CHECK_NEAR(desk.session.number("ballast.rear.fill_fraction"), 0.4, 1e-12);
  desk.type("Rear hitch weights", "1e9");
  CHECK(desk.session.number("ballast.rear_weights_kg") < 1e5);  // clamped to the field's range
}

TEST_CASE("a drag lands on handy steps of the unit shown, and never outside what is allowed") {
  for (const char* scene : {"first_slope", "bucket_up", "orchard_row"}) {
    Tall desk(scene);
    for (Units units : {Units::si, Units::us}) {
      desk.choices.units = units;
      desk.frame();
      for (const Dial& dial : dials_of(desk.session.scene())) {
        INFO(dial.label);
        const TypedUnit typed = typed_unit(dial.key, units, dial.max);
        const double step = typed_step(typed, dial.step, units);
        const Rect track = desk.item(dial.label);
        desk.press_at({track.x + 0.37f * track.width, track.middle().y}, [&] { desk.frame(); });
        const double kept = desk.session.number(dial.key);
        CHECK(kept >= dial.min - 1e-9);
        CHECK(kept <= dial.max + 1e-9);
        const double start = units == Units::si ? dial.min * typed.factor : 0;
        const double steps = (typed.shown(kept) - start) / step;
        CHECK_NEAR(steps, std::round(steps), 1e-6);
        CHECK(desk.session.refusal().empty());
      }
    }
  }
}

TEST_CASE("every other datum is typed in the unit shown too") {
  Tall desk;
  desk.height = 4000;
  desk.choices.units = Units::us;
  desk.frame();
  desk.click("Every datum, as the scene file names it");
  desk.frame();
  desk.click("All: vehicle.rear.tyre");
  desk.frame();
  desk.click("vehicle.rear.tyre.pressure_kpa");
  desk.frame();
  ImGui::GetIO().AddInputCharactersUTF8("20");
  desk.frame();
  desk.press_at({640, 2000}, [&] { desk.frame(); });
  CHECK_NEAR(desk.session.number("vehicle.rear.tyre.pressure_kpa"), 20 * 6.894757293168, 1e-3);
}

TEST_CASE("a row opens its note by a click or by Enter, one at a time") {
  Tall desk;
  desk.session.settle_doubts();
  const std::vector<Reading> readings = desk.readings();
  std::string opened;
  const auto draw = [&] { desk.alone(336, [&] { draw_readings(desk.ui, readings, opened); }); };
  draw();
  draw();
  for (const Reading& r : readings) {
    if (desk.item("Reading: " + r.id).y > 1300) continue;
    CHECK(desk.ui.items.count("Found: " + r.id) == 0);
  }
  desk.press_at(desk.item("Reading: margin").middle(), draw);
  CHECK(opened == "margin");
  draw();
  const Rect note = desk.item("Found: margin");
  CHECK(note.height > 40);
  CHECK(note.y >= desk.item("Reading: margin").y + desk.item("Reading: margin").height - 1);
  CHECK(desk.item("Reading: first_lift_off").y >= note.y + note.height - 1);  // nothing stands over it
  desk.press_at(desk.item("Reading: slide").middle(), draw);
  CHECK(opened == "slide");
  draw();
  CHECK(desk.ui.items.count("Found: margin") == 0);
  ImGui::GetIO().MousePos = desk.item("Reading: mass").middle();
  draw();
  const auto enter = [&] {
    ImGui::GetIO().KeysDown[Table::kEnter] = true;
    draw();
    ImGui::GetIO().KeysDown[Table::kEnter] = false;
    draw();
  };
  desk.ui.focus = "Reading: margin";  // Enter is for the row the keyboard is on, not for the one under the mouse
  enter();
  CHECK(opened == "margin");
  desk.ui.focus = "Reading: mass";
  enter();
  CHECK(opened == "mass");
  desk.press_at(desk.item("Reading: mass").middle(), draw);
  CHECK(opened.empty());
}

TEST_CASE("the verdict says how it was found, why it lifts there, and what the tyres carry") {
  Tall desk;
  desk.height = 1800;  // both folds are open in the end
  desk.session.settle_doubts();
  desk.frame();
  CHECK(desk.ui.items.count("Found: verdict") == 0);
  desk.click("How was this found");
  desk.frame();
  desk.item("Found: verdict");
  desk.click("Why a wheel lifts there");
  desk.frame();
  REQUIRE(desk.session.breakdown());
  for (const Cause& cause : desk.session.breakdown()->causes) desk.item("Cause: " + cause.name);
  desk.click("What tyres and axles carry");
  desk.frame();
  for (const char* name : {"front left", "front right", "rear left", "rear right"})
    desk.item(std::string("Carries: ") + name);
  // While nothing is known of the new scene none of the old is shown as its own.
  desk.session.set_number("terrain.slope_deg", 5);
  CHECK(desk.session.doubts() == nullptr);
  CHECK(desk.session.breakdown() == nullptr);
  desk.frame();
  desk.session.settle_doubts();
  CHECK(desk.session.doubts() != nullptr);
  CHECK(desk.session.breakdown() != nullptr);
}

TEST_CASE("how? explains what the big number is about, with its own causes") {
  Tall desk;
  const auto found = [&](const char* adhesion, const char* note) {
    desk.session.set_number("terrain.soil.adhesion", std::stod(adhesion));
    desk.session.settle_doubts();
    desk.frame();
    if (desk.choices.opened_reading != "verdict") desk.click("How was this found");
    desk.frame();
    desk.item("Found: verdict");
    const std::string words = verdict_found_words(desk.session, Units::si);
    INFO(adhesion, ": ", words);
    CHECK(words.find(note) != std::string::npos);
    return words;
  };
  const std::string slides = found("0.5", "Slides at ");
  CHECK(desk.session.verdict().gives_way.front().what == GivesWay::slide);
  CHECK(slides.find("more grip than the ground gives") != std::string::npos);
  CHECK(slides.find("Most of it comes from: grip") != std::string::npos);
  CHECK(slides.find("place of the load") == std::string::npos);
  CHECK(slides.find("the first wheel lifts") == std::string::npos);
  const std::string lifts = found("1.2", "lifts at ");
  CHECK(desk.session.verdict().gives_way.front().what == GivesWay::lift_off);
  CHECK(lifts.find("more grip than the ground gives") == std::string::npos);
  CHECK(lifts.find("± 0)") == std::string::npos);  // "place of the load (± 0 )": it has bounds, no tolerance
}

TEST_CASE("differences, and charts of anything, keep inside their place in any width") {
  Tall desk;
  desk.session.settle_doubts();
  const std::vector<Reading> a = desk.readings();
  desk.session.set_number("ballast.rear.fill_fraction", 0);
  desk.session.settle_doubts();
  const std::vector<Reading> b = desk.readings();
  const std::vector<Difference> rows = differences(a, b);
  Breakdown odd;
  odd.causes = {
      {"", 0}, {"a cause with a very long name that fits nowhere at all", -1}, {"not a number", std::nan("")}};
  LoadCheck load;
  load.tyres[0].service = Service{145, "A8"};
  load.tyres[0].margin = load_margin(9000, 1000);
  load.tyres[1].service = Service{145, "A8"};
  load.tyres[1].margin = load_margin(100, 0);
  load.tyres[2].margin.load = std::numeric_limits<double>::infinity();
  load.axles[0] = load_margin(1000, 2000);
  for (Units units : {Units::si, Units::us}) {
    desk.choices.units = units;
    for (float room : {200.f, 336.f, 700.f}) {
      const auto draw = [&] {
        draw_differences(desk.ui, rows, "A", "B", true);
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float width = ImGui::GetContentRegionAvail().x;
        breakdown_chart(desk.ui, {at.x, at.y, width, breakdown_height(desk.ui, odd, true)}, odd, 0.3, true);
        carrying_chart(desk.ui, {at.x, at.y + 200, width, carrying_height(desk.ui, load)}, load);
      };
      desk.alone(room, draw);
      desk.alone(room, draw);
      desk.item("Difference: mass");
      CHECK(desk.ui.items.count("Difference: slope") == 0);  // it does not differ
      for (const auto& [label, rect] : desk.ui.items) {
        const auto& this_label = label;
        INFO(this_label);
        CHECK(rect.x >= 0);
        CHECK(rect.x + rect.width <= room + 1);
      }
    }
  }
}

TEST_CASE("speeds by hand are said in the units chosen") {
  Tall desk;
  desk.session.take_over();
  for (int i = 0; i < 8; ++i) desk.session.change_speed(1);
  CHECK(hand_words(desk.session).starts_with("Driving by hand: 8 km/h"));
  CHECK(hand_words(desk.session, Units::us).starts_with("Driving by hand: 5.0 mph"));
  CHECK(going_words(desk.session, Units::us).ends_with(" mph"));
}
#endif  // SIDEHILL_SCREEN
