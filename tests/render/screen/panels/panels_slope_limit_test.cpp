// The slope limit in the window: the table of the verb, in the background.
#ifdef SIDEHILL_SCREEN
#include "render/screen/panels/panels_slope_limit.h"

#include <string>

#include "tests/kit/near.h"
#include "tests/kit/table.h"

using namespace sidehill;

namespace {

// Short runs: half a second over level grass to the edge of the slope table.
void shorten(Table& table) {
  Scene scene = table.session.scene();
  scene.programme.duration = 1.5;
  scene.programme.drive_from = 0.1;
  table.session.edit(scene);
  table.frame();
}

SlopeLimitDrawer& opened(Table& table) {
  REQUIRE(carry_out(U'z', table.desk, table.choices));
  table.frame();
  table.frame();
  return *table.choices.slope_limit;
}

}  // namespace

TEST_CASE("the window's slope limit is the verb's, for the axes it shows") {
  Table table("over_a_stump");
  shorten(table);
  SlopeLimitDrawer& drawer = opened(table);
  CHECK(drawer.axes[0].on);
  CHECK(drawer.axes[0].key.key == "programme.speed_kmh");
  CHECK(drawer.axes[0].key.steps == 5);
  drawer.axes[0].key.steps = 2;
  table.click("Search slopes");
  CHECK(drawer.search.working());
  CHECK(table.has("Slope limit progress"));
  CHECK(table.has("Stop search"));
  drawer.search.settle();
  table.frame();
  table.frame();
  REQUIRE(drawer.search.asked());
  const auto there = sweep(table.session.scene(), {{"programme.speed_kmh", 2, 10, 2}}, {});
  SlopeLimitRequest asked;
  asked.scene = table.session.scene();
  asked.keys = {{"programme.speed_kmh", 2, 10, 2}};
  CHECK(slope_limit_json(*drawer.search.asked(), drawer.search.cells()) == slope_limit_json(asked, there));
  CHECK(table.has("Slope limit table"));
  CHECK_NEAR(drawer.search.share(), 1, 1e-12);
  // Of an older scene it is not shown; it is shown again once the scene is as it was.
  const double speed = table.session.number("terrain.soil.adhesion");
  table.session.set_number("terrain.soil.adhesion", 0.3);
  table.frame();
  table.frame();
  CHECK_FALSE(table.has("Slope limit table"));
  CHECK(table.has("Slope limit is old"));
  table.session.set_number("terrain.soil.adhesion", speed);
  table.frame();
  table.frame();
  CHECK(table.has("Slope limit table"));
}

TEST_CASE("a search is stopped by its button and by an edit, and gives no table then") {
  Table table("over_a_stump");
  SlopeLimitDrawer& drawer = opened(table);
  table.click("Search slopes");
  REQUIRE(drawer.search.working());
  table.click("Stop search");
  drawer.search.settle();
  CHECK_FALSE(drawer.search.asked());
  table.frame();
  table.click("Search slopes");
  REQUIRE(drawer.search.working());
  table.session.set_number("programme.speed_kmh", 4);
  table.frame();
  CHECK(drawer.search.stopping());
  drawer.search.settle();
  CHECK_FALSE(drawer.search.asked());
  CHECK(drawer.search.was_stopped_by_edit());
}

TEST_CASE("what cannot be searched says why") {
  Table table("over_a_stump");
  shorten(table);
  table.session.set_number("programme.tilt_rate_deg_per_s", 1);
  SlopeLimitDrawer& drawer = opened(table);
  table.click("Search slopes");
  drawer.search.settle();
  table.frame();
  table.frame();
  CHECK(table.has("Slope limit refusal"));
  CHECK(drawer.search.refusal().find("tilt_rate") != std::string::npos);
}

TEST_CASE("the slope limit keeps inside the window and the keyboard reaches all of it") {
  for (const auto& [width, height] :
       {std::pair{960.f, 600.f}, {1280.f, 720.f}, {1366.f, 768.f}, {1920.f, 1080.f}, {2560.f, 1440.f}})
    for (const float scale : {1.f, 1.5f, 2.f}) {
      if (scale > most_text_scale(width, height, 1)) continue;
      const float wide = width;  // a bound name cannot be captured
      CAPTURE(wide);
      CAPTURE(scale);
      Table table("over_a_stump", scale);
      table.width = width, table.height = height;
      table.frame();
      opened(table);
      for (const char* item : {"Close slope limit", "For several speeds"}) {
        const Rect r = table.item(item);
        CHECK(r.x >= 0);
        CHECK(r.x + r.width <= width);
        CHECK(r.y + r.height <= height);
      }
      CHECK(table.unreached().empty());
    }
}
#endif
