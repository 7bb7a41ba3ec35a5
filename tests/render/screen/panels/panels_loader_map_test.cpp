// The loader's map over the picture: the numbers of `sidehill loader`, and a point to drag.
#ifdef SIDEHILL_SCREEN
#include "render/screen/panels/panels_loader_map.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <thread>

#include "render/text/rest/loader_cell_words.h"
#include "render/text/rest/loader_report.h"
#include "sim/base/constants.h"
#include "sim/insight/answer.h"
#include "tests/kit/near.h"
#include "tests/kit/table.h"

using namespace sidehill;

namespace {

void open_map(Table& table) {
  REQUIRE(carry_out(U'b', table.desk, table.choices));
  table.frame();
  table.frame();
  REQUIRE(table.choices.loader_map);
}

// Until the cells are there, and the interval of one of them; all intervals take long.
void settle_map(Table& table) {
  LoaderMap& map = table.choices.loader_map->map;
  const auto end = std::chrono::steady_clock::now() + std::chrono::minutes(5);
  while (!(map.map_is_known() && map.doubt(3, 2)) && std::chrono::steady_clock::now() < end) {
    map.advance();
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  table.frame();
  table.frame();
}

void settle_cells(Table& table) {
  LoaderMap& map = table.choices.loader_map->map;
  const auto end = std::chrono::steady_clock::now() + std::chrono::minutes(5);
  while (!(map.map_is_known() && map.present_doubt()) && std::chrono::steady_clock::now() < end) {
    map.advance();
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  table.frame();
  table.frame();
}

}  // namespace

TEST_CASE("the cells of the loader map are those of the loader verb, to the last bit, and its intervals the answer's") {
  Table table("bucket_up");
  open_map(table);
  settle_map(table);
  const LoaderMap& map = table.choices.loader_map->map;
  constexpr int kSteps = LoaderMap::kSteps;
  const auto said = loader_json(table.session.scene(), loader_grid(table.session.scene(), kSteps))["cells"];
  REQUIRE(said.size() == static_cast<std::size_t>(kSteps * kSteps));
  std::vector<LoaderCell> shown_cells;
  for (std::size_t h = 0; h < kSteps; ++h)
    for (std::size_t l = 0; l < kSteps; ++l) {
      REQUIRE(map.cell(h, l));
      shown_cells.push_back(*map.cell(h, l));
    }
  CHECK(loader_json(table.session.scene(), shown_cells)["cells"] == said);
  // One cell's interval against the whole answer of the scene that has this height and load.
  REQUIRE(map.doubt(3, 2));
  const Scene there = with_loader(table.session.scene(), map.axes().heights[3], map.axes().loads[2]);
  const Answer whole = with_uncertainty(answer(there, 4));
  REQUIRE(whole.uncertainty);
  REQUIRE(whole.uncertainty->first_lift_off);
  REQUIRE(map.doubt(3, 2)->first_lift_off);
  CHECK_NEAR(map.doubt(3, 2)->first_lift_off->low, whole.uncertainty->first_lift_off->low, 1e-12);
  CHECK_NEAR(map.doubt(3, 2)->first_lift_off->high, whole.uncertainty->first_lift_off->high, 1e-12);
  CHECK(map.doubt(3, 2)->first_lift_off->low < *map.cell(3, 2)->first_lift_off);
  // What a cell says is the low end of what comes first.
  const LoaderFirst first = first_to_give_way(*map.cell(3, 2));
  const Interval* interval = interval_of(first, map.doubt(3, 2));
  REQUIRE(interval);
  CHECK(mark_of(there, map.cell(3, 2), map.doubt(3, 2), LoaderCells::first, Units::si).number ==
        degrees(interval->low));
  CHECK(mark_of(there, map.cell(3, 2), nullptr, LoaderCells::first, Units::si).number ==
        "(" + degrees(first.slope) + ")");
}

TEST_CASE("the point is dragged to the height and load under the mouse, as one step that undo takes back") {
  Table table("bucket_up");
  open_map(table);
  note_edits(table.desk, true);
  const Scene before = table.session.scene();
  const Rect plot = table.choices.loader_map->plot;
  const LoaderAxes axes = table.choices.loader_map->map.axes();
  REQUIRE(axes.loads.size() == LoaderMap::kSteps);
  // The middle of the cell of the third load and the fifth height is that load and that height.
  const float n = LoaderMap::kSteps;
  const ImVec2 from{plot.x + plot.width * 0.2f, plot.y + plot.height * 0.8f},
      to{plot.x + plot.width * (2.5f / n), plot.y + plot.height * (1 - 4.5f / n)};
  ImGuiIO& io = ImGui::GetIO();
  io.MousePos = from;
  table.frame();
  io.MouseDown[0] = true;
  table.frame();
  io.MousePos = {(from.x + to.x) / 2, (from.y + to.y) / 2};
  table.frame();
  io.MousePos = to;
  table.frame();
  io.MouseDown[0] = false;
  table.frame();
  table.frame();
  CHECK_NEAR(table.session.number("ballast.loader_payload_kg"), axes.loads[2], 5.01);        // whole 10 kg
  CHECK_NEAR(table.session.number("ballast.loader_pin_height_m"), axes.heights[4], 0.0251);  // whole 5 cm
  CHECK(std::abs(std::remainder(table.session.number("ballast.loader_payload_kg"), 10)) < 1e-9);
  // The ring stands where it was put.
  const Rect ring = table.item("Loader map point");
  CHECK_NEAR(ring.middle().x, to.x, plot.width / n / 2);
  CHECK_NEAR(ring.middle().y, to.y, plot.height / n / 2);
  // Beyond the edge it stays within what the loader can do.
  table.press_at({plot.x + plot.width - 1, plot.y + 1});
  CHECK_NEAR(table.session.number("ballast.loader_payload_kg"), axes.loads.back(), 5);
  CHECK(table.session.number("ballast.loader_pin_height_m") <= axes.heights.back() + 1e-9);
  undo(table.desk);
  undo(table.desk);
  CHECK(write_scene(table.session.scene()) == write_scene(before));
}

TEST_CASE("moving the point keeps the map, changing the machine throws it away") {
  Table table("bucket_up");
  open_map(table);
  settle_cells(table);
  LoaderMap& map = table.choices.loader_map->map;
  REQUIRE(map.map_is_known());
  const double at_start = *map.cell(2, 2)->first_lift_off;
  table.session.set_number("ballast.loader_pin_height_m", 1);
  table.session.set_number("terrain.slope_deg", 3);
  table.frame();
  CHECK(map.map_is_known());
  // The slope the scene stands on does not move the slope at which it gives way.
  const Model like = build(with_loader(table.session.scene(), 1, 0));
  const LoaderCell again = loader_cell(table.session.scene(), like, map.axes().heights[2], map.axes().loads[2], 72);
  CHECK_NEAR(*again.first_lift_off, at_start, 1e-9);
  table.session.set_number("ballast.rear_weights_kg", table.session.number("ballast.rear_weights_kg") + 300);
  table.frame();
  CHECK_FALSE(map.map_is_known());
  settle_cells(table);
  CHECK(std::abs(map.cell(2, 2)->rear_axle - again.rear_axle) > 100);
  pull(Drawer::none, table.choices);
  attend_drawers(table.choices);
  CHECK_FALSE(map.cell(2, 2));  // nobody looks at it: nothing goes on in the background
}

TEST_CASE("the words of a point name what is not allowed first, and the counterweight it needs") {
  Table table("bucket_up");
  const Scene scene = table.session.scene();
  const Model like = build(scene);
  const LoaderAxes axes = loader_axes(scene, 7);
  const LoaderCell heavy = loader_cell(scene, like, axes.heights.back(), axes.loads.back(), 8);
  REQUIRE_FALSE(load_allowed(heavy));
  const LoaderCellWords words = loader_cell_words(scene, heavy, nullptr, Units::si);
  REQUIRE(words.grave > 0);
  CHECK(words.lines.front().starts_with("NOT ALLOWED: "));
  REQUIRE(heavy.counterweight);
  CHECK(words.lines.back().find(shown(Quantity::mass, *heavy.counterweight, Units::si)) != std::string::npos);
  CHECK(words.lines[words.grave].find("interval not known yet") != std::string::npos);
  const LoaderDoubt doubt = loader_doubt(scene, like, axes.heights.back(), axes.loads.back());
  const LoaderCellWords later = loader_cell_words(scene, heavy, &doubt, Units::si);
  CHECK(later.lines[later.grave].find("not known yet") == std::string::npos);
  CHECK(later.lines[later.grave].find(degrees(doubt.first_lift_off->low)) != std::string::npos);
}

TEST_CASE("the map is inside the window and its words are reached at five sizes and three sizes of type") {
  for (const auto& [width, height] :
       {std::pair{960.f, 600.f}, {1280.f, 720.f}, {1366.f, 768.f}, {1920.f, 1080.f}, {2560.f, 1440.f}})
    for (const float scale : {1.f, 1.5f, 2.f}) {
      if (scale > most_text_scale(width, height, 1)) continue;
      const float wide = width;  // a bound name cannot be captured
      CAPTURE(wide);
      CAPTURE(scale);
      Table table("bucket_up", scale);
      table.width = width, table.height = height;
      table.frame();
      open_map(table);
      for (const char* item : {"Close loader map", "Cells show", "Loader map"}) {
        INFO(item);
        const Rect r = table.item(item);
        CHECK(r.x >= 0);
        CHECK(r.y >= 0);
        CHECK(r.x + r.width <= width + 1);
        CHECK(r.y + r.height <= height + 1);
      }
      CHECK(table.item("Loader map").width > 120);
      CHECK(table.item("Loader map").height > 60);
      CHECK(table.unreached().empty());
    }
}

TEST_CASE("without a loader the map says so") {
  Table table;
  table.session.set_flag("vehicle.loader.fitted", false);
  open_map(table);
  CHECK(table.has("Close loader map"));
  CHECK_FALSE(table.has("Loader map"));
}
#endif
