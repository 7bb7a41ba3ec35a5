#ifdef SIDEHILL_SCREEN
// What an engineer needs on one screen: every slider and reading, and where each angle lies.
#include <doctest/doctest.h>
#include <imgui.h>
#include <imgui_internal.h>  // to see whether a tooltip is shown

#include <cmath>

#include "render/screen/desk/verdict.h"
#include "render/screen/panels/panels.h"
#include "render/screen/parts/charts.h"
#include "sim/scene/scene.h"
#include "tests/kit/near.h"
#include "tests/kit/table.h"
#include "vehicles/air_spring.h"
#include "vehicles/tyre_library.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

TEST_CASE("at 1920 x 1080 every slider and every reading is seen without scrolling") {
  for (const char* scene : {"first_slope", "bucket_up", "over_a_stump"}) {
    CAPTURE(scene);
    Table desk(scene);
    desk.width = 1920, desk.height = 1080;
    desk.session.settle_doubts();
    desk.frame();
    desk.frame();
    const Layout layout = layout_of(desk.width, desk.height, 1, desk.desk, desk.choices);
    int more = 0;
    for (const Dial& dial : dials_of(desk.session.scene())) {
      INFO(dial.label);
      const Rect r = desk.item(dial.label);
      CHECK(r.y + r.height <= layout.left.y + layout.left.height);
      if (dial.more) ++more;
    }
    CHECK(more >= 6);
    int readings = 0;
    for (const auto& [label, rect] : desk.ui.items) {
      if (!label.starts_with("Reading: ")) continue;
      const std::string item = label;
      INFO(item);
      ++readings;
      CHECK(rect.x >= layout.right.x);
      CHECK(rect.y + rect.height <= layout.right.y + layout.right.height);
    }
    CHECK(readings > 30);
    CHECK(desk.item("Total, axle split").y < layout.right.y + layout.right.height);
    CHECK(layout.view.width > 700);
    CHECK(desk.unreached().empty());
  }
}

TEST_CASE("the tyre pressure's slider ends at what this tyre may be pumped to, and its stiffness goes along") {
  Table desk;
  desk.height = 1400;
  desk.frame();
  desk.frame();
  const Scene before = desk.session.scene();
  const Tyre rear = before.vehicle.rear.tyre;
  const double rated = rated_pressure(rear) / 1000;
  REQUIRE(rated > 0);
  for (const Dial& dial : dials_of(before))
    if (dial.key == "vehicle.rear.tyre.pressure_kpa") {
      CHECK(dial.max >= rated);
      CHECK(dial.max < rated + 5);
    }
  desk.slide_to("Rear tyre pressure", 0.2f);
  const Tyre soft = desk.session.scene().vehicle.rear.tyre;
  REQUIRE(soft.pressure < rear.pressure);
  CHECK_NEAR(soft.vertical_stiffness, stiffness_at_pressure(rear.vertical_stiffness, rear.pressure, soft.pressure),
             1e-6 * rear.vertical_stiffness);
  CHECK_NEAR(soft.lateral_stiffness / soft.vertical_stiffness, rear.lateral_stiffness / rear.vertical_stiffness, 1e-12);
  desk.slide_to("Rear tyre pressure", 0.9f);
  // Pumped back by steps it is the tyre it was.
  desk.session.edit(with_pressure(desk.session.scene(), desk.session.loaded(), false, rear.pressure / 1000));
  CHECK_NEAR(desk.session.scene().vehicle.rear.tyre.vertical_stiffness, rear.vertical_stiffness,
             1e-9 * rear.vertical_stiffness);
}

TEST_CASE("left and right are filled by sliders of their own, and the axle's says when they differ") {
  Table desk;
  desk.height = 1400;
  desk.frame();
  desk.frame();
  const double left = desk.session.number("ballast.rear_left.fill_fraction");
  desk.slide_to("Rear right", 0.02f);
  CHECK(desk.session.number("ballast.rear_right.fill_fraction") < 0.1);
  CHECK(desk.session.number("ballast.rear_left.fill_fraction") == left);
  desk.slide_to("Tank", 0.02f);
  CHECK(desk.session.number("ballast.tank_fraction") < 0.1);
  Scene dry = desk.session.scene();
  dry.vehicle.tank.capacity = 0;
  desk.session.edit(dry);
  desk.frame();
  CHECK_FALSE(desk.has("Tank"));  // this machine has none
}

TEST_CASE("beside every angle stands where it lies, and it holds the angle") {
  Table desk;
  desk.session.settle_doubts();
  desk.height = 1400;
  desk.frame();
  desk.frame();
  const auto rows =
      thresholds_of(desk.session.scene(), desk.session.statics(), desk.session.verdict(), desk.session.doubts());
  int with_interval = 0;
  for (const Threshold& row : rows) {
    if (!row.slope) continue;
    INFO(row.name);
    CHECK_FALSE(row.lies.empty());
    CHECK(desk.has(row.name + " interval"));
    if (!row.interval) continue;
    ++with_interval;
    CHECK(row.interval->low <= *row.slope);
    CHECK((row.interval->open || row.interval->high >= *row.slope));
    CHECK(row.lies.find(degrees(row.interval->low)) != std::string::npos);
  }
  CHECK(with_interval >= 3);
  for (const Threshold& row :
       thresholds_of(desk.session.scene(), desk.session.statics(), desk.session.verdict(), nullptr))
    if (row.slope) CHECK(row.lies == "not known yet");
  // The worst heading has one of its own: that of a scene that faces this way.
  REQUIRE(desk.session.worst_doubt());
  const TurnedDoubt& worst = *desk.session.worst_doubt();
  CHECK(worst.heading == desk.session.worst_heading()->heading);
  REQUIRE(worst.first_lift_off);
  CHECK(worst.first_lift_off->low < *desk.session.worst_heading()->first_lift_off);
  CHECK(worst.first_lift_off->high > *desk.session.worst_heading()->first_lift_off);
  Scene turned = desk.session.scene();
  turned.start.heading = worst.heading;
  const Model model = build(turned);
  const Uncertainty there = uncertainty(turned, model, solve_statics(model));
  CHECK_NEAR(there.first_lift_off->low, worst.first_lift_off->low, 1e-6);
  CHECK_NEAR(there.first_lift_off->high, worst.first_lift_off->high, 1e-6);
  const auto weakest = weakest_heading(desk.session);
  REQUIRE(weakest);
  CHECK(weakest_lies(desk.session, *weakest).starts_with("at "));
}
#endif
