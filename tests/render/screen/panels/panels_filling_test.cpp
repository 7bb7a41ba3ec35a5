#ifdef SIDEHILL_SCREEN
// The filling page on all panels, pressed and dragged by label.
#include "render/screen/panels/panels_filling.h"

#include <algorithm>
#include <cmath>

#include "render/page/filling_wheel.h"
#include "render/text/fill/axle_filling_rows.h"
#include "sim/job/rules.h"
#include "tests/kit/near.h"
#include "tests/kit/table.h"
#include "vehicles/filling.h"

using namespace sidehill;

namespace {

struct FillingTable : Table {
  explicit FillingTable(float scale = 1, float wide = 1280, float high = 720) : Table("first_slope", scale) {
    width = wide, height = high;
    pull(Drawer::filling, choices);
    frame();
    frame();
  }
  FillingPage& page() const { return *choices.filling; }
  void use(Scene scene) {
    session.edit(std::move(scene));
    session.settle();
    frame();
    frame();
  }
  // Presses on the surface's wheel and drags to a height of its box, 0 = top.
  void drag_to(const std::string& item, float part) {
    const Rect at = this->item(item);
    ImGuiIO& io = ImGui::GetIO();
    io.MousePos = {at.middle().x, at.y + 0.9f * at.height};
    frame();
    io.MouseDown[0] = true;
    frame();
    io.MousePos = {at.middle().x, at.y + part * at.height};
    frame();
    frame();
    io.MouseDown[0] = false;
    frame();
    frame();
  }
  double rear() const { return session.scene().ballast.fill[kRearLeft].fill_fraction; }
};

bool inside(const Rect& part, const Rect& whole) {
  return part.x >= whole.x - 1 && part.y >= whole.y - 1 && part.x + part.width <= whole.x + whole.width + 1 &&
         part.y + part.height <= whole.y + whole.height + 1;
}

}  // namespace

TEST_CASE("the surface dragged with the mouse is the fill of the cavity at that level, in both tyres, one undo") {
  FillingTable table;
  const double before = table.rear();
  const Rect box = table.item("Rear surface");
  const auto& axle = table.page().known[0].axles[1];
  REQUIRE(axle);
  table.drag_to("Rear surface", 0.4f);
  // By the cavity alone: the box is the tyre's outside.
  const double level = axle->sheet.tyre.free_radius * (1 - 2 * 0.4);
  const double expected = fill_at_level(axle->sheet.cavity, level);
  CHECK_NEAR(table.rear(), expected, 0.0006 + 0.5 * axle->sheet.tyre.free_radius / box.height);
  CHECK(table.session.scene().ballast.fill[kRearRight].fill_fraction == table.rear());
  CHECK(table.rear() != before);
  // The surface drawn now stands where the mouse let go: a mouse knows whole pixels.
  const auto& now = table.page().known[0].axles[1];
  const double pixel = 2 * now->sheet.tyre.free_radius / box.height;
  CHECK_NEAR(now->sheet.jacked.level, level, pixel);
  CHECK_NEAR(table.item("Rear surface").y, box.y, 0.5);  // it has not moved under the mouse
  undo(table.desk);
  CHECK(table.rear() == before);
}

TEST_CASE("at the ends of the wheel the tyre is empty or brimful, and stays within 0 and 1") {
  FillingTable table;
  table.drag_to("Rear surface", -0.2f);
  CHECK(table.rear() == 1);
  table.drag_to("Rear surface", 1.2f);
  CHECK(table.rear() == 0);
  CHECK(table.has("Rear: share"));
  CHECK_FALSE(table.has("Rear: litres"));
}

TEST_CASE("the numbers on the page are those of the filling sheet of that scene") {
  FillingTable table;
  table.click("Rear 40 %");
  table.frame();
  CHECK(table.rear() == 0.4);
  const Scene& scene = table.session.scene();
  const AxleFilling alone = axle_filling(scene, rules_on(scene, build(scene)), false);
  const KnownFilling& known = table.page().known[0];
  CHECK(known.axles[1]->sheet.jacked.volume == alone.sheet.jacked.volume);
  CHECK(mass_of(known.axles[1]->sheet) == mass_of(alone.sheet));
  AxleFilling whole = alone;
  whole.job_slope = known.axles[1]->job_slope;
  const auto rows = filling_rows(whole, Units::si);
  REQUIRE(rows.size() == known.rows[1].size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CHECK(rows[i].value == known.rows[1][i].value);
    CHECK(table.has("Rear: " + rows[i].key));
  }
  table.choices.units = Units::us;
  table.frame();
  table.frame();
  const auto us = filling_rows(whole, Units::us);
  CHECK(us[0].value == known.rows[1][0].value);
  CHECK(us[0].value.find("gal") != std::string::npos);
}

TEST_CASE("without a mouse: Tab to the surface and arrows, buttons, a typed number") {
  FillingTable table;
  table.ui.focus = "Rear surface";
  const double before = table.rear();
  table.press_key(FillingTable::kUp);
  CHECK_NEAR(table.rear(), before + 0.01, 1e-9);
  table.press_key(FillingTable::kDown);
  table.press_key(FillingTable::kDown);
  CHECK_NEAR(table.rear(), before - 0.01, 1e-9);
  table.click("Rear more");
  CHECK_NEAR(table.rear(), before, 1e-9);
  table.click("Rear less");
  CHECK_NEAR(table.rear(), before - 0.01, 1e-9);
  table.click("Front 75 %");
  CHECK(table.session.scene().ballast.fill[kFrontRight].fill_fraction == 0.75);
  table.click("Front empty");
  CHECK(table.session.scene().ballast.fill[kFrontRight].fill_fraction == 0);
  table.click("Rear fill number");
  for (int i = 0; i < 3; ++i) table.frame();  // the field opens, is given the keyboard, listens
  ImGui::GetIO().AddInputCharactersUTF8("33");
  table.frame();
  table.click("Filling: worst");  // leaving the field takes the number over
  table.frame();
  CHECK_NEAR(table.rear(), 0.33, 1e-9);
}

TEST_CASE("liquid and strength are chosen there; a strength of another liquid is not kept; foam fills whole") {
  FillingTable table;
  table.click("Rear liquid in it");
  table.click("Rear liquid in it: " + medium_name({Medium::propylene_glycol}, true));
  CHECK(table.session.scene().ballast.fill[kRearLeft].medium == Medium::propylene_glycol);
  table.frame();
  REQUIRE(table.has("Rear strength"));
  table.slide_to("Rear strength", 0.9f);
  CHECK(table.session.scene().ballast.fill[kRearLeft].concentration > 0.3);
  table.click("Rear liquid in it");
  table.click("Rear liquid in it: " + medium_name({Medium::polyurethane}, true));
  const TyreFill& fill = table.session.scene().ballast.fill[kRearRight];
  CHECK(fill.medium == Medium::polyurethane);
  CHECK(fill.concentration == 0);
  CHECK(fill.fill_fraction == 1);
  table.frame();
  table.frame();
  CHECK(table.ui.readouts.contains("Rear surface"));  // no surface to drag
  CHECK(table.ui.readouts.contains("Rear 40 %"));
  CHECK_FALSE(table.ui.readouts.contains("Rear empty"));
  CHECK_FALSE(table.has("Rear: valve"));
  table.drag_to("Rear surface", 0.5f);
  CHECK(table.session.scene().ballast.fill[kRearRight].fill_fraction == 1);
}

TEST_CASE("curves: at most five, each named at its end; A and B are points on them") {
  FillingTable table;
  table.page().curves.settle();
  table.frame();
  const FillCurveSet& set = *table.page().curves.curves();
  CHECK(set.curves.size() <= kMostLiquids);
  // It slides first here: that is the fifth line, and there is no sixth.
  CHECK(set.curves[0].points[6].slides_first());
  CHECK(table.has("Curves: slope end 5"));
  CHECK_FALSE(table.has("Curves: slope end 6"));
  CHECK_FALSE(table.has("Curves: load end 5"));
  for (const char* plot : {"Curves: slope", "Curves: load"}) {
    const Rect area = table.item(plot);
    for (std::size_t i = 0; i < set.curves.size(); ++i) {
      const Rect end = table.item(std::string(plot) + " end " + std::to_string(i + 1));
      CHECK(end.x >= area.x + area.width - 1);
      CHECK(end.x + end.width <= table.width);
    }
    // The mark stands over its fill.
    const Rect here = table.item(std::string(plot) + " point Here");
    CHECK_NEAR((here.middle().x - area.x) / area.width, table.rear(), 0.01);
  }
  // On the curve: at a fill of a point the mark's value is the curve's.
  CHECK(table.rear() == 0.75);
  CHECK(table.page().known[0].point.gives_way() == set.curves[0].points[6].gives_way());
  CHECK(table.page().known[0].point.load == set.curves[0].points[6].load);

  carry_out(U'c', table.desk, table.choices);
  table.frame();
  table.click("B");
  table.click("Rear 40 %");
  CHECK(table.desk.other->scene().ballast.fill[kRearLeft].fill_fraction == 0.4);
  CHECK(table.rear() == 0.75);  // A is left alone
  table.page().curves.settle();
  table.frame();
  table.frame();
  const Rect area = table.item("Curves: slope");
  CHECK_NEAR((table.item("Curves: slope point B").middle().x - area.x) / area.width, 0.4, 0.01);
  CHECK_NEAR((table.item("Curves: slope point A").middle().x - area.x) / area.width, 0.75, 0.01);
}

TEST_CASE("dragging the axle of the curves leaves them, any other edit throws them away; they can be stopped") {
  FillingTable table;
  table.page().curves.settle();
  table.frame();
  table.drag_to("Rear surface", 0.5f);
  CHECK(table.page().curves.curves()->intervals_known);
  table.click("Front 40 %");
  CHECK_FALSE(table.page().curves.curves()->intervals_known);
  REQUIRE(table.has("Stop curves"));
  table.click("Stop curves");
  CHECK(table.page().curves.stopped());
  table.click("Curves again");
  CHECK(table.page().curves.working());
  table.click("Over front");
  table.frame();
  CHECK(table.page().curves.curves()->front);
}

TEST_CASE("set-ups that are swapped are read anew") {
  FillingTable table;
  carry_out(U'c', table.desk, table.choices);
  table.frame();
  table.click("B");
  table.click("Rear 40 %");
  CHECK(table.page().known[1].point.fill == 0.4);
  table.click("Swap");
  table.frame();
  CHECK(table.page().known[0].point.fill == table.rear());
  CHECK(table.rear() == 0.4);
  CHECK(table.page().known[1].point.fill == 0.75);
}

TEST_CASE("the worst stands in the first line: frozen solid in the coldest night, before all else that is known") {
  FillingTable table;
  Scene scene = table.session.scene();
  scene.terrain.slope = 0.02;
  scene.job = load_job("hill_bale", SIDEHILL_SOURCE_DIR "/scenes");
  scene.job.slope = 0.05;
  scene.job.liquid_permitted = YesNo::no;
  for (TyreFill& fill : scene.ballast.fill) fill.medium = Medium::water, fill.concentration = 0;
  table.use(scene);
  const auto& facts = table.page().known[0].facts;
  REQUIRE(facts.size() > 1);
  CHECK(facts[0].grave);
  CHECK_MESSAGE(facts[0].words.starts_with("Rear tyres: FREEZES SOLID"), facts[0].words);
  CHECK_MESSAGE(facts[1].words.find("NOT PERMITTED") != std::string::npos, facts[1].words);
  CHECK(table.has("Filling: worst"));
}

TEST_CASE("every control is within the window and reached at five sizes and three sizes of type") {
  for (const ImVec2 size : {ImVec2{1280, 720}, {1920, 1080}, {2560, 1440}, {1024, 600}, {640, 480}})
    for (const float wanted : {1.f, 1.5f, 3.f}) {
      // As far as the window itself lets type grow.
      const float scale = std::min(wanted, static_cast<float>(most_text_scale(size.x, size.y, 1)));
      const float width = size.x, height = size.y;
      FillingTable table(scale, width, height);
      INFO(width << " x " << height << " at " << scale);
      table.frame();
      for (const std::string& label : table.unreached()) FAIL_CHECK(label);
      const bool wide = width / scale >= 1100 && height / scale >= 640;
      const Rect window{0, 0, width, height};
      for (const auto& [label, rect] : table.ui.items) {
        if (rect.x + rect.width > width + 1 || rect.x < -1) FAIL_CHECK("beside the window: " << label);
        // Rows of words scroll; wheels, controls and curves are in view where there is room for two columns.
        if (wide && !label.starts_with("Front: ") && !label.starts_with("Rear: ") && !inside(rect, window))
          FAIL_CHECK("out of the window: " << label);
      }
      for (const char* label : {"Rear surface", "Rear fill", "Rear empty", "Front surface", "Front liquid in it",
                                "Over rear", "Curves: slope", "Curves: load", "Close the filling", "Caution"})
        CHECK_MESSAGE(table.has(label), label);
      CHECK(table.item("Curves: slope").height >= 30);
      CHECK(table.item("Rear surface").height >= 40);
    }
}

TEST_CASE("Tab brings a control into sight where the page scrolls") {
  FillingTable table(3, 1920, 1080);
  for (const char* label : {"Rear empty", "Front surface", "Over front"}) {
    table.ui.focus.clear();
    for (int i = 0; i < 200 && table.ui.focus != label; ++i) table.press_key(FillingTable::kTab);
    REQUIRE(table.ui.focus == label);
    table.frame();
    const Rect at = table.item(label);
    CHECK_MESSAGE(at.middle().y > 0, label);
    CHECK_MESSAGE(at.middle().y < table.height, label);
  }
}

TEST_CASE("an axle on air and a liquid that cannot be pumped in here are said, and nothing is lost") {
  FillingTable table;
  table.click("Front empty");
  table.frame();
  CHECK(table.has("Front: share"));
  CHECK(table.has("Front surface"));
  table.drag_to("Front surface", 0.5f);
  CHECK(table.session.scene().ballast.fill[kFrontLeft].fill_fraction > 0.3);
  Scene scene = table.session.scene();
  scene.settings.filling_temperature = kZeroCelsius - 10;
  for (TyreFill& fill : scene.ballast.fill)
    fill.medium = Medium::water, fill.concentration = 0, fill.fill_fraction = 0.5;
  table.use(scene);
  CHECK_FALSE(table.page().known[0].axles[1]);
  CHECK(table.page().known[0].refused[1].find("ice") != std::string::npos);
  CHECK(table.has("Rear liquid in it"));  // another one can be chosen
}

TEST_CASE("while a lesson asks, the page gives nothing away; Q opens and closes it") {
  Table table;
  CHECK(carry_out(U'q', table.desk, table.choices));
  CHECK(table.choices.drawer == Drawer::filling);
  table.frame();
  CHECK(table.has("Rear surface"));
  CHECK_FALSE(table.has("Banner"));  // what lies below is neither drawn nor reached
  CHECK(carry_out(U'q', table.desk, table.choices));
  CHECK(table.choices.drawer == Drawer::none);
  table.frame();
  table.click("Teach");
  table.click("Lesson Side slope");
  carry_out(U'q', table.desk, table.choices);
  table.frame();
  table.frame();
  REQUIRE(hides_numbers(table.desk, table.choices));
  CHECK(table.has("Close the filling"));
  CHECK_FALSE(table.has("Rear surface"));
}
#endif
