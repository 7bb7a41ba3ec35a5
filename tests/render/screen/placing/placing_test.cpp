#ifdef SIDEHILL_SCREEN
// Ground and machine by hand: sequences of mouse events give exact scenes, and no sequence gives a bad one.
#include "render/screen/placing/placing.h"

#include <cmath>
#include <glm/geometric.hpp>
#include <random>

#include "render/screen/placing/placing_preview.h"
#include "sim/base/constants.h"
#include "sim/motion/rest_state.h"
#include "sim/scene/scene_checks.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

const ViewRect kView{300, 0, 700, 600};

struct Hand {
  Scene scene;
  Model model;
  State shown;
  Camera camera;
  Placing placing;
  MouseNow mouse;
  int edits = 0;

  explicit Hand(std::vector<std::string> changes = {}) : scene(test_scene("first_slope", std::move(changes))) {
    scene.terrain.features.clear();
    model = build(scene);
    shown = placed_state(model);
    camera.target = R_WG(shown.slope) * Vec3(1.5, 0, 0.5);
    camera.yaw = -kPi / 2, camera.pitch = 0.9, camera.distance = 22;
    mouse.inside = true;
  }
  glm::dvec2 pixel(Vec3 p_W) const {
    const auto spot = project(camera, p_W, kView.width, kView.height);
    REQUIRE(spot);
    return *spot + glm::dvec2(kView.x, kView.y);
  }
  glm::dvec2 pixel_G(double x, double y) const {
    return pixel(R_WG(shown.slope) * Vec3(x, y, ground_at(scene.terrain, {x, y}).height));
  }
  void look() {
    if (const auto edited = on_mouse(placing, mouse, camera, scene, shown, kView)) scene = *edited, ++edits;
  }
  void move(glm::dvec2 at) {
    mouse.at = at;
    look();
  }
  void press(glm::dvec2 at) {
    move(at);
    mouse.pressed = mouse.held = true;
    look();
    mouse.pressed = false;
  }
  void let_go() {
    mouse.held = false;
    look();
  }
  void drag(glm::dvec2 from, glm::dvec2 to) {
    press(from);
    move((from + to) / 2.0);
    move(to);
    let_go();
  }
  void key(KeysNow keys) {
    if (const auto edited = on_keys(placing, keys, scene)) scene = *edited, ++edits;
  }
  glm::dvec2 knob(Grip grip, int which = 0) const {
    for (const Knob& k : knobs_of(scene, shown.slope, placing.selected))
      if (k.grip == grip && which-- == 0) return pixel(k.place);
    FAIL("no such knob");
    return {};
  }
  const Feature& thing(std::size_t i = 0) const {
    REQUIRE(scene.terrain.features.size() > i);
    return scene.terrain.features[i];
  }
  void put(Tool tool, double x, double y) {
    choose(placing, tool, scene);
    press(pixel_G(x, y));
    let_go();
  }
};

}  // namespace

TEST_CASE("a tool puts its thing where the button goes down, snapped, across the machine's way") {
  Hand hand;
  hand.put(Tool::bump, 6.012, 0.887);
  REQUIRE(hand.scene.terrain.features.size() == 1);
  const Feature& f = hand.thing();
  CHECK(f.kind == FeatureKind::bump);
  CHECK(f.x == 6.0);
  CHECK(f.y == 0.9);
  CHECK_NEAR(f.angle, 0, 1e-15);  // the machine stands across: it drives along x
  CHECK(f.length == 1.0);
  CHECK(f.width == 2.0);
  CHECK(f.height == 0.25);
  CHECK(hand.placing.tool == Tool::move);
  CHECK(hand.placing.selected == 0);
  CHECK(hand.placing.stroke == 1);

  Hand uphill({"start.heading_deg=0"});
  uphill.put(Tool::bump, 6, 1);
  CHECK_NEAR(uphill.thing().angle, kPi / 2, 1e-12);
  Hand free;
  free.mouse.shift = true;
  free.put(Tool::stump, 6.012, 0.887);
  CHECK_NEAR(free.thing().x, 6.012, 1e-3);
  CHECK_NEAR(free.thing().y, 0.887, 1e-3);
  CHECK(free.placing.tool == Tool::stump);  // with Shift: several in a row
}

TEST_CASE("a thing is dragged by its middle, over other things too, and stays under the mouse") {
  Hand hand;
  hand.put(Tool::hole, 6, 2);
  hand.put(Tool::bump, 6, -2);
  const double deep = ground_at(hand.scene.terrain, {6.0, 2.2}).height;
  CHECK(deep == -0.25);
  hand.drag(hand.pixel_G(6.0, 2.2), hand.pixel(R_WG(hand.shown.slope) * Vec3(4.5, -1.8, deep)));
  CHECK(hand.thing(0).x == 4.5);
  CHECK(hand.thing(0).y == -2.0);
  CHECK(hand.thing(1).x == 6.0);  // the other stays
  CHECK(hand.thing(1).y == -2.0);
  // A press without a move is a click: chooses, changes nothing.
  const int before = hand.edits;
  hand.press(hand.pixel_G(6, -2));
  hand.move(hand.mouse.at + glm::dvec2(2, 1));
  hand.let_go();
  CHECK(hand.edits == before);
  CHECK(hand.placing.selected == 1);
}

TEST_CASE("knobs change length, width, height and direction") {
  Hand hand;
  hand.put(Tool::bump, 6, 0);
  hand.drag(hand.knob(Grip::length), hand.pixel_G(7.25, 0.3));  // half the length beyond the middle
  CHECK(hand.thing().length == 2.5);
  hand.drag(hand.knob(Grip::width, 1), hand.pixel_G(6, -1.5));
  CHECK(hand.thing().width == 3.0);
  CHECK(hand.thing().x == 6.0);
  const glm::dvec2 top = hand.knob(Grip::height);
  hand.drag(top, top - glm::dvec2(0, 40));
  CHECK(hand.thing().height > 0.4);
  CHECK(std::abs(hand.thing().height * 100 - std::round(hand.thing().height * 100)) < 1e-9);
  hand.drag(hand.knob(Grip::height), hand.knob(Grip::height) + glm::dvec2(0, 400));
  CHECK(hand.thing().height == 0);  // not below nothing
  hand.drag(hand.knob(Grip::turn), hand.pixel_G(6 + 3 * std::cos(0.5), 3 * std::sin(0.5)));
  CHECK_NEAR(hand.thing().angle / kDegree, 30, 1e-9);  // 28.6 snaps
}

TEST_CASE("a hole is deepened downwards and widened by its rim") {
  Hand hand;
  hand.put(Tool::hole, 6, 0);
  const glm::dvec2 bottom = hand.knob(Grip::height);
  hand.drag(bottom, bottom + glm::dvec2(0, 12));
  CHECK(hand.thing().height > 0.25);
  hand.drag(hand.knob(Grip::length, 2), hand.pixel_G(6, 1.0));
  CHECK(hand.thing().length == 2.0);
}

TEST_CASE("the height follows the mouse: seen from the side, the top stays under it") {
  Hand hand({"terrain.slope_deg=0"});
  hand.put(Tool::bump, 6, 0);
  hand.camera.pitch = 0.05;
  hand.camera.target = {6, 0, 0};
  const double before = hand.thing().height;
  const glm::dvec2 rise = hand.pixel({6, 0, before + 0.2}) - hand.pixel({6, 0, before});
  hand.drag(hand.knob(Grip::height), hand.knob(Grip::height) + rise);
  CHECK_NEAR(hand.thing().height, before + 0.2, 0.011);
}

TEST_CASE("the machine is dragged by its body and turned by its ring, about its middle") {
  Hand hand;
  choose(hand.placing, Tool::move, hand.scene);
  const Pose X_WV = Pose{R_WG(hand.shown.slope), Vec3(0)} * hand.shown.X_GV;
  const glm::dvec2 bonnet = hand.pixel(X_WV * Vec3(1.5, 0, 0.5));
  const glm::dvec2 there = hand.pixel(X_WV * Vec3(1.5, 0, 0.5) + R_WG(hand.shown.slope) * Vec3(2, -1, 0));
  hand.drag(bonnet, there);
  CHECK_NEAR(hand.scene.start.x, 2, 0.051);
  CHECK_NEAR(hand.scene.start.y, -1, 0.051);
  CHECK(hand.placing.selected == kMachine);
  CHECK_NEAR(hand.scene.start.heading / kDegree, -90, 1e-9);

  const glm::dvec2 middle = machine_middle_G(hand.scene);
  const double r = ring_radius(hand.scene), turn = 41.7 * kDegree;
  const glm::dvec2 end = middle + r * glm::dvec2(std::cos(turn), std::sin(turn));
  hand.drag(hand.knob(Grip::heading), hand.pixel_G(end.x, end.y));
  CHECK_NEAR(hand.scene.start.heading / kDegree, -50, 1e-9);  // -48.3 snaps to whole fives
  CHECK_NEAR(machine_middle_G(hand.scene).x, middle.x, 1e-12);
  CHECK_NEAR(machine_middle_G(hand.scene).y, middle.y, 1e-12);
  // Anywhere on the ring, and past half a turn the heading stays in its range.
  const glm::dvec2 low = machine_middle_G(hand.scene) + r * glm::dvec2(0, -1);
  const glm::dvec2 left = machine_middle_G(hand.scene) + r * glm::dvec2(-1, 0);
  hand.drag(hand.pixel_G(low.x, low.y), hand.pixel_G(left.x, left.y));
  CHECK_NEAR(hand.scene.start.heading / kDegree, -140, 1e-9);
}

TEST_CASE("Escape in a drag puts everything back; out of it, it lets go step by step") {
  Hand hand;
  hand.put(Tool::bump, 6, 0);
  const std::string before = write_scene(hand.scene);
  hand.press(hand.pixel_G(6, -0.5));
  hand.move(hand.pixel_G(4, 2));
  CHECK(write_scene(hand.scene) != before);
  hand.key({.escape = true});
  CHECK(write_scene(hand.scene) == before);
  hand.move(hand.pixel_G(3, 2));  // still held down: nothing follows any more
  CHECK(write_scene(hand.scene) == before);
  hand.let_go();
  CHECK(hand.placing.selected == 0);
  hand.key({.escape = true});
  CHECK(hand.placing.selected == kNothing);
  hand.key({.escape = true});
  CHECK(hand.placing.tool == Tool::look);
}

TEST_CASE("one drag is one stroke, the next another") {
  Hand hand;
  hand.put(Tool::bump, 6, 0);
  const unsigned stroke = hand.placing.stroke;
  hand.press(hand.pixel_G(6, -0.5));
  for (int i = 0; i < 5; ++i) hand.move(hand.pixel_G(6 - 0.3 * i, -0.5));
  hand.let_go();
  CHECK(hand.placing.stroke == stroke + 1);
  hand.drag(hand.pixel_G(4.8, -0.5), hand.pixel_G(6, -0.5));
  CHECK(hand.placing.stroke == stroke + 2);
}

TEST_CASE("looking touches nothing; moving leaves bare ground to the camera") {
  Hand hand;
  hand.put(Tool::bump, 6, 0);
  choose(hand.placing, Tool::look, hand.scene);
  const int edits = hand.edits;
  hand.drag(hand.pixel_G(6, 0), hand.pixel_G(4, 2));
  CHECK(hand.edits == edits);
  CHECK_FALSE(takes_mouse(hand.placing));
  choose(hand.placing, Tool::move, hand.scene);
  hand.move(hand.pixel_G(6, 3.5));
  CHECK_FALSE(takes_mouse(hand.placing));
  hand.move(hand.pixel_G(6, 0));
  CHECK(takes_mouse(hand.placing));
  hand.mouse.inside = false;  // a panel is in front
  hand.move(hand.pixel_G(6, 0));
  CHECK_FALSE(takes_mouse(hand.placing));
}

TEST_CASE("the wheel changes sizes only with Shift or Control, of what is chosen or about to be put") {
  Hand hand;
  hand.put(Tool::bump, 6, 0);
  hand.mouse.wheel = 1;
  hand.look();
  CHECK(hand.thing().length == 1.0);
  hand.mouse.shift = true;
  hand.look();
  CHECK_NEAR(hand.thing().length, 1.1, 1e-12);
  CHECK_NEAR(hand.thing().width, 2.2, 1e-12);
  hand.mouse.shift = false, hand.mouse.control = true;
  hand.look();
  CHECK_NEAR(hand.thing().height, 0.26, 1e-12);
  choose(hand.placing, Tool::stump, hand.scene);
  const int edits = hand.edits;
  hand.look();
  CHECK(hand.edits == edits);
  REQUIRE(hand.placing.next);
  CHECK_NEAR(hand.placing.next->height, 0.31, 1e-12);
}

TEST_CASE("keys alone put, choose, move, turn and take away") {
  Hand hand;
  choose(hand.placing, Tool::ridge, hand.scene);
  hand.key({.put = true});
  REQUIRE(hand.scene.terrain.features.size() == 1);
  CHECK(hand.thing().name == "Ridge");
  // Right ahead of the front wheels, 2 m off, on a multiple of 5 cm.
  CHECK_NEAR(hand.thing().x, hand.scene.vehicle.wheelbase + 2 + hand.thing().length / 2, 0.026);
  CHECK_NEAR(hand.thing().y, 0, 1e-12);
  hand.key({.up = 3});
  CHECK_NEAR(hand.thing().y, 0.3, 1e-12);
  hand.key({.turn = 1});
  CHECK_NEAR(hand.thing().angle / kDegree, 5, 1e-9);
  hand.key({.next = true});  // on from the last thing: the machine
  CHECK(hand.placing.selected == kMachine);
  hand.key({.right = -2, .shift = true});
  CHECK_NEAR(hand.scene.start.x, -0.02, 1e-12);
  hand.key({.turn = -2});
  CHECK_NEAR(hand.scene.start.heading / kDegree, -100, 1e-9);
  hand.key({.remove = true});  // the machine stays
  hand.key({.next = true});
  CHECK(hand.placing.selected == 0);
  hand.key({.previous = true});
  CHECK(hand.placing.selected == kMachine);
  hand.key({.next = true});
  hand.key({.remove = true});
  CHECK(hand.scene.terrain.features.empty());
  CHECK(hand.placing.selected == kNothing);
}

TEST_CASE("a click of the right button asks for a menu of what lies there") {
  Hand hand;
  hand.put(Tool::stump, 6, 0);
  hand.mouse.right_clicked = true;
  hand.move(hand.pixel_G(6, 0));
  REQUIRE(hand.placing.menu);
  CHECK(hand.placing.selected == 0);
  hand.placing.menu.reset();
  hand.move(hand.pixel_G(6, 3));
  REQUIRE(hand.placing.menu);
  CHECK(hand.placing.selected == kNothing);
  CHECK_NEAR(hand.placing.menu_G.x, 6, 1e-9);
  CHECK_NEAR(hand.placing.menu_G.y, 3, 1e-9);
}

TEST_CASE("a thing in a wheel's way lies where that wheel rolls, and leaves the other side alone") {
  for (const double heading : {-90.0, 90.0, 0.0, 35.0, -160.0}) {
    Scene scene = test_scene("first_slope");
    scene.terrain.features.clear();
    scene.start.heading = heading * kDegree;
    scene.start.x = 3, scene.start.y = -2;
    for (int wheel = 0; wheel < kWheels; ++wheel) {
      const Feature f = before_wheel(scene, Tool::bump, wheel, 1.5);
      scene.terrain.features = {f};
      const double track = is_front(wheel) ? scene.vehicle.front.track : scene.vehicle.rear.track;
      const glm::dvec2 start(scene.start.x, scene.start.y), way = forward_G(scene.start.heading),
                                                            side = left_G(scene.start.heading);
      double highest = 0, other = 0;
      for (double s = 0; s < 8; s += 0.01) {
        const double out = is_left(wheel) ? track / 2 : -track / 2;
        highest = std::max(highest, ground_at(scene.terrain, start + s * way + out * side).height);
        other = std::max(other, ground_at(scene.terrain, start + s * way - out * side).height);
        if (s < scene.vehicle.wheelbase + 1.5) CHECK(highest == 0);
      }
      CHECK_NEAR(highest, f.height, 1e-3);
      CHECK(other == 0);
    }
  }
  CHECK(left_is_uphill(-90 * kDegree) == true);  // downhill to the right
  CHECK(left_is_uphill(90 * kDegree) == false);
  CHECK_FALSE(left_is_uphill(0));
  CHECK_FALSE(left_is_uphill(kPi));
}

TEST_CASE("the preview outlines what would be put and is finite") {
  Hand hand;
  choose(hand.placing, Tool::ditch, hand.scene);
  hand.move(hand.pixel_G(6, 1));
  const PlacingPreview shown = preview(hand.placing, hand.scene, hand.shown);
  REQUIRE(shown.outlines.size() >= 2);
  REQUIRE(shown.labels.size() == 1);
  CHECK(shown.labels[0].text.find("Ditch  0.30 m deep") == 0);
  CHECK(shown.labels[0].text.find("6.00 m ahead of the rear axle, 1.00 m to the left") != std::string::npos);
  // The rim lies on the tilted ground, the size of the ditch.
  const Mat3 R_GW = glm::transpose(R_WG(hand.shown.slope));
  double low = 1e9, high = -1e9;
  for (const Vec3& p : shown.outlines[0].points) {
    const Vec3 p_G = R_GW * p;
    CHECK_NEAR(p_G.z, 0.02, 1e-9);
    low = std::min(low, p_G.y), high = std::max(high, p_G.y);
  }
  CHECK_NEAR(high - low, 5.0, 1e-9);
  CHECK(preview(Placing{}, hand.scene, hand.shown).outlines.empty());
}

TEST_CASE("2000 random events: every scene can be built, is written and read back, and has no bad number") {
  Hand hand;
  std::mt19937 engine(11);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(engine); };
  const auto upto = [&](int n) { return std::uniform_int_distribution<int>(0, n - 1)(engine); };
  int edits = 0;
  for (int i = 0; i < 2000; ++i) {
    if (upto(12) == 0 || hand.placing.tool == Tool::look)
      choose(hand.placing, tools()[static_cast<std::size_t>(upto(5) == 0 ? upto(2) : upto(10))].tool, hand.scene);
    if (upto(5) == 0) {
      const double up = between(-0.3, 0.3), round = between(-0.3, 0.3);  // compilers evaluate arguments in any order
      orbit(hand.camera, round, up);
      zoom(hand.camera, between(-3, 3));
      if (upto(10) != 0) hand.camera.pitch = std::max(hand.camera.pitch, 0.2);  // under ground nothing is seen
      hand.camera.distance = std::min(hand.camera.distance, 30.0);
    }
    MouseNow& m = hand.mouse;
    m.at = {between(290, 1010), between(100, 610)};
    if (upto(40) == 0) m.at = {-3.4e38, -3.4e38};  // what ImGui says of a mouse that is not there
    if (upto(60) == 0) m.at = {NAN, 4};
    m.inside = upto(15) != 0;
    m.pressed = !m.held && upto(2) == 0;
    m.held = m.pressed || (m.held && upto(6) != 0);
    m.right_clicked = upto(15) == 0;
    m.wheel = upto(6) == 0 ? between(-30, 30) : 0;
    m.shift = upto(3) == 0, m.control = upto(5) == 0;
    if (!m.held && upto(2) == 0) {  // aim at something
      const auto knobs = knobs_of(hand.scene, hand.shown.slope, hand.placing.selected);
      if (!knobs.empty()) {
        const auto spot =
            project(hand.camera, knobs[static_cast<std::size_t>(upto(static_cast<int>(knobs.size())))].place,
                    kView.width, kView.height);
        if (spot) m.at = *spot + glm::dvec2(kView.x, kView.y);
      }
    }
    const Scene before = hand.scene;
    auto edited = on_mouse(hand.placing, m, hand.camera, hand.scene, hand.shown, kView);
    if (edited) hand.scene = *edited;
    if (upto(4) == 0) {
      KeysNow keys{.escape = upto(9) == 0,
                   .remove = upto(9) == 0,
                   .next = upto(4) == 0,
                   .previous = upto(9) == 0,
                   .put = upto(3) == 0,
                   .right = upto(7) - 3,
                   .up = upto(7) - 3,
                   .turn = upto(5) - 2,
                   .bigger = upto(5) - 2,
                   .shift = upto(2) == 0};
      if (auto by_key = on_keys(hand.placing, keys, hand.scene)) edited = by_key, hand.scene = *by_key;
    }
    if (upto(50) == 0) hand.scene.terrain.features.clear();  // an undo takes things away behind its back
    const PlacingPreview shown = preview(hand.placing, hand.scene, hand.shown);
    for (const Outline& o : shown.outlines)
      for (const Vec3& p : o.points) REQUIRE(std::isfinite(p.x + p.y + p.z));
    if (!edited) continue;
    ++edits;
    REQUIRE_FALSE(find_conflict(hand.scene));
    const std::string text = write_scene(hand.scene);
    CHECK(text.find("nan") == std::string::npos);
    CHECK(text.find("inf") == std::string::npos);
    // Refuses anything out of range; a second time round not a bit changes.
    const std::string again = write_scene(parse_scene(text, "fuzz.toml"));
    CHECK(write_scene(parse_scene(again, "fuzz.toml")) == again);
    if (edits % 10 == 0) {
      const Model model = build(hand.scene, &hand.model);
      hand.shown = placed_state(model);
      hand.shown.slope = upto(2) == 0 ? hand.scene.terrain.slope : between(0, 1);  // a run may tilt it
    }
  }
  CHECK(edits > 300);
}
#endif
