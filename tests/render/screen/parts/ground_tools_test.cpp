#ifdef SIDEHILL_SCREEN
// The panel for ground and machine by hand, without any window: clicked by label.
#include "render/screen/parts/ground_tools.h"

#include <doctest/doctest.h>

#include <cmath>

#include "terrain/soil_presets.h"
#include "tests/kit/hands.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

struct GroundBoard : Hands<GroundBoard> {
  Scene scene = test_scene("first_slope");
  Placing placing;
  int edits = 0;

  GroundBoard() {
    height = 900;
    scene.terrain.features.clear();
    ImGui::GetIO().MousePos = {800, 600};
    frame();
    frame();
  }
  void draw() {
    begin_items(ui);
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize({300, 900});
    ImGui::Begin("left", nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove);
    const auto by_panel = draw_ground_tools(ui, placing, scene);
    ImGui::End();
    if (by_panel) scene = *by_panel, ++edits;
    if (const auto by_menu = draw_ground_menu(ui, placing, scene)) scene = *by_menu, ++edits;
  }
};

}  // namespace

TEST_CASE("every tool is in the panel, chosen by a click and by a key of its own") {
  GroundBoard desk;
  for (const ToolInfo& tool : tools()) {
    INFO(tool.name);
    const Rect r = desk.item(tool.name);
    CHECK(r.x >= 0);
    CHECK(r.x + r.width <= 300);
    desk.click(tool.name);
    CHECK(desk.placing.tool == tool.tool);
    CHECK(tool_of_key(tool.key) == tool.tool);
    CHECK(std::string(tool.help).find(std::string("Key: ") + static_cast<char>(tool.key)) != std::string::npos);
    CHECK(desk.placing.next.has_value() == (tool.tool != Tool::look && tool.tool != Tool::move));
  }
  CHECK_FALSE(tool_of_key(U'q'));
  CHECK(desk.edits == 0);
}

TEST_CASE("one click puts a bump before the uphill wheel, another a hole before the downhill one") {
  GroundBoard desk;
  desk.click("Before the uphill wheel: bump");
  desk.click("Before the downhill wheel: hole");
  REQUIRE(desk.scene.terrain.features.size() == 2);
  const Feature &bump = desk.scene.terrain.features[0], &hole = desk.scene.terrain.features[1];
  const double track = desk.scene.vehicle.rear.track, base = desk.scene.vehicle.wheelbase;
  CHECK(bump.kind == FeatureKind::bump);
  CHECK_NEAR(bump.y, track / 2, 1e-9);  // uphill is +y, the machine drives along x
  CHECK_NEAR(bump.x, base + 2 + bump.length / 2, 1e-9);
  CHECK(hole.kind == FeatureKind::hole);
  CHECK_NEAR(hole.y, -track / 2, 1e-9);
  CHECK(desk.placing.selected == 1);
  desk.scene.start.heading = 0;
  desk.frame();
  CHECK(desk.has("Before the left wheel: bump"));
}

TEST_CASE("what stands there is listed, chosen, changed by its sliders and taken away") {
  GroundBoard desk;
  desk.click("Before the uphill wheel: bump");
  desk.click("Before the downhill wheel: hole");
  desk.click("Thing 1");
  CHECK(desk.placing.selected == 0);
  const Feature before = desk.scene.terrain.features[0];
  desk.slide_to("Height", 0.5f);
  CHECK_NEAR(desk.scene.terrain.features[0].height, 0.5, 0.011);
  CHECK(desk.scene.terrain.features[0].x == before.x);
  CHECK(desk.has("Width"));
  desk.click("Thing 2");
  CHECK(desk.has("Depth"));
  CHECK_FALSE(desk.has("Width"));  // round
  desk.slide_to("Across", 0.2f);
  CHECK(desk.scene.terrain.features[1].length > 1.5);
  const unsigned stroke = desk.placing.stroke;
  desk.click("Remove 1");
  CHECK(desk.placing.stroke > stroke);
  REQUIRE(desk.scene.terrain.features.size() == 1);
  CHECK(desk.scene.terrain.features[0].kind == FeatureKind::hole);
  CHECK(desk.placing.selected == 0);  // still the hole
  desk.click("Kind of thing");
  desk.click("Kind of thing: Stump");
  CHECK(desk.scene.terrain.features[0].kind == FeatureKind::stump);
}

TEST_CASE("the machine has its heading and place here, and only those are changed") {
  GroundBoard desk;
  desk.click("Machine");
  CHECK(desk.placing.selected == kMachine);
  desk.slide_to("Machine heading", 0.5f);
  CHECK_NEAR(desk.scene.start.heading, 0, 1e-9);
  desk.slide_to("Machine up the slope", 0.75f);
  CHECK(desk.scene.start.y > 4);
  CHECK(desk.scene.start.x == 0);
}

TEST_CASE("a kind of ground brings its typical numbers; changed ones are named as such") {
  GroundBoard desk;
  desk.click("Kind of ground");
  desk.click("Kind of ground: wet grass");
  CHECK(desk.scene.terrain.soil.name == "wet grass");
  CHECK(desk.scene.terrain.soil.adhesion == 0.3);
  desk.slide_to("Grip", 0.9f);
  CHECK(desk.scene.terrain.soil.adhesion > 1);
  CHECK_FALSE(preset_of(desk.scene.terrain.soil));
  desk.click("Kind of ground");
  CHECK(desk.has("Kind of ground: wet grass (as set)"));
  desk.click("Kind of ground: ice");
  CHECK(desk.scene.terrain.soil.adhesion == 0.08);
}

TEST_CASE("the menu of a right click puts, takes away and turns, and closes on a click elsewhere") {
  GroundBoard desk;
  desk.placing.menu = glm::dvec2(700, 300);
  desk.placing.menu_G = {7, -1};
  desk.frame();
  desk.frame();
  desk.click("Menu: Stump here");
  REQUIRE(desk.scene.terrain.features.size() == 1);
  CHECK(desk.scene.terrain.features[0].x == 7);
  CHECK_FALSE(desk.placing.menu);
  CHECK(desk.placing.selected == 0);
  desk.placing.menu = glm::dvec2(700, 300);
  desk.frame();
  desk.frame();
  desk.click("Menu: Another one beside it");
  CHECK(desk.scene.terrain.features.size() == 2);
  desk.placing.menu = glm::dvec2(700, 300);
  desk.frame();
  desk.frame();
  desk.click("Menu: Take away");
  CHECK(desk.scene.terrain.features.size() == 1);
  desk.placing.selected = kMachine;
  desk.placing.menu = glm::dvec2(700, 300);
  desk.frame();
  desk.frame();
  desk.click("Menu: Face uphill");
  CHECK(desk.scene.start.heading == 0);
  desk.placing.menu = glm::dvec2(1270, 890);  // in the corner: it hangs inwards
  desk.frame();
  desk.frame();
  const Rect entry = desk.item("Menu: Face uphill");
  CHECK(entry.x + entry.width <= 1280);
  CHECK(entry.y + entry.height <= 900);
  const int edits = desk.edits;
  desk.press_at({800, 200});
  CHECK_FALSE(desk.placing.menu);
  CHECK(desk.edits == edits);
}

TEST_CASE("a full scene takes no more, and nothing breaks when things vanish behind the panel's back") {
  GroundBoard desk;
  for (std::size_t i = 0; i < kMostListEntries; ++i)
    desk.scene.terrain.features.push_back(usual_feature(Tool::stump, 0));
  desk.frame();
  desk.click("Before the uphill wheel: bump");
  CHECK(desk.scene.terrain.features.size() == kMostListEntries);
  desk.placing.selected = static_cast<int>(kMostListEntries) - 1;
  desk.scene.terrain.features.clear();
  desk.frame();
  CHECK(desk.placing.selected == kNothing);
}
#endif
