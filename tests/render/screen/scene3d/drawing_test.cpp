// What the picture shows, in numbers: wheels where the state has them, liquid level, lifted wheels marked, labels
// apart.
#ifdef SIDEHILL_SCREEN
#include "render/screen/scene3d/drawing.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <glm/geometric.hpp>
#include <numbers>

#include "render/screen/scene3d/drawing_parts.h"
#include "render/screen/scene3d/ghost.h"
#include "render/screen/scene3d/labels.h"
#include "sim/model/placed.h"
#include "sim/motion/rest_state.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

struct Stand {
  Scene scene;
  Model model;
  State state;
};

Stand moment(std::vector<std::string> changes = {}) {
  Stand m;
  m.scene = load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/first_slope.toml", changes);
  m.model = build(m.scene);
  const std::optional<Rest> rest = rest_at(m.model, m.scene.terrain.slope);
  REQUIRE(rest);
  m.state = rest_state(m.model, *rest);
  return m;
}

template <class T>
int count(const Drawing& drawing) {
  int n = 0;
  for (const Part& part : drawing.parts) n += std::holds_alternative<T>(part.shape) ? 1 : 0;
  return n;
}

bool drawing_is_finite(Vec3 v) { return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z); }

}  // namespace

TEST_CASE("forks, spike and grapple stand in the bucket's place, and a bale lies where the model has it") {
  for (const char* tool : {"pallet_forks", "bale_spike", "grapple"}) {
    CAPTURE(std::string(tool));
    const Stand m = moment({std::string("ballast.loader_tool=") + tool, "ballast.loader_payload_kg=0",
                            "ballast.loader_pin_height_m=1.2", "ballast.bale.diameter_m=1.2", "ballast.bale.count=2"});
    const Drawing drawing = draw(m.scene, m.model, m.state, {});
    CHECK(count<BucketShape>(drawing) == 0);
    CHECK(count<HeapShape>(drawing) == 0);
    CHECK(count<ToolShape>(drawing) == 1);
    REQUIRE(count<BaleShape>(drawing) == 2);
    Vec3 middle(0);
    for (const Part& part : drawing.parts)
      if (std::holds_alternative<BaleShape>(part.shape)) middle += part.X_WP.p / 2.0;
    const Pose X_WV = X_WG(m.state.slope) * m.state.X_GV;
    const Vec3 there = X_WV * (bucket_pin(m.model.loader, m.model.loader.angle) + m.model.loader.load_from_pin);
    CHECK_NEAR(glm::length(middle - there), 0, 1e-9);
  }
}

TEST_CASE("parts follow the data") {
  Stand m = moment();
  const Drawing drawing = draw(m.scene, m.model, m.state, {});
  CHECK(count<WheelShape>(drawing) == 4);
  CHECK(count<LoaderBoomShape>(drawing) == 1);
  CHECK(count<HeapShape>(drawing) == 1);
  CHECK(count<FrontPlatesShape>(drawing) == 0);
  CHECK(drawing.liquids.size() == 2);
  CHECK(drawing.arrows.size() == 4);

  m = moment({"ballast.front_weights_kg=270", "ballast.rear_wheel_weights_kg=130", "ballast.loader_payload_kg=0",
              "ballast.rear.fill_fraction=0"});
  const Drawing other = draw(m.scene, m.model, m.state, {});
  CHECK(count<HeapShape>(other) == 0);
  CHECK(count<WheelWeightShape>(other) == 2);
  CHECK(other.liquids.empty());
  for (const Part& part : other.parts)
    if (const auto* plates = std::get_if<FrontPlatesShape>(&part.shape))
      CHECK(plates->plates == 6);  // 270 kg of 45 kg plates
}

TEST_CASE("whatever is computed is seen: duals, a hanging load, an implement, a trailer, a tank, a rope") {
  Stand m = moment({"terrain.slope_deg=8", "vehicle.rear.dual_spacing_m=0.6", "ballast.hanging_mass_kg=300",
                    "ballast.hanging_rope_m=1.2", "ballast.loader_pin_height_m=2.5", "ballast.implement.mass_kg=500",
                    "ballast.implement.width_m=3", "ballast.trailer.mass_kg=3000", "vehicle.tank.capacity_l=400",
                    "vehicle.tank.radius_m=0.3", "ballast.tank_fraction=0.5"});
  const Mat3 R = R_WG(m.state.slope);
  m.state.tied = true;
  m.state.stake_G = m.state.X_GV * Vec3(-6, 0, 0);
  const Drawing drawing = draw(m.scene, m.model, m.state, {});
  CHECK(count<WheelShape>(drawing) == 4 + 2 + 2);  // outer tyres, and the trailer's
  CHECK(count<ImplementShape>(drawing) == 1);
  CHECK(count<TrailerShape>(drawing) == 1);
  CHECK(count<TankShape>(drawing) == 1);
  CHECK(count<StakeShape>(drawing) == 1);
  CHECK(count<BarShape>(drawing) == 2 + 2);  // between the duals; two ropes
  double farthest = 0;
  for (const Part& part : drawing.parts) {
    const Vec3 p_V = inverse(Pose{R, Vec3(0)} * m.state.X_GV) * part.X_WP.p;
    if (const auto* wheel = std::get_if<WheelShape>(&part.shape); wheel && std::abs(p_V.x) < 0.2)
      farthest = std::max(farthest, std::abs(p_V.y));
    if (std::holds_alternative<MassShape>(part.shape)) {
      CHECK_NEAR(glm::length(part.X_WP.p - R * m.state.hanging_G), 0, 1e-9);
      const Vec3 pin = m.model.loader.pivot +
                       m.model.loader.length * Vec3(std::cos(m.state.boom_angle), 0, std::sin(m.state.boom_angle));
      const Vec3 pin_W = R * (m.state.X_GV * pin);
      CHECK_NEAR(glm::length(pin_W - Vec3(0, 0, 1.2) - part.X_WP.p), 0, 1e-6);  // at rest straight below the pin
    }
    if (std::holds_alternative<TrailerShape>(part.shape)) CHECK_NEAR(glm::dot(part.X_WP.R[2], R[2]), 1, 1e-9);
  }
  CHECK_NEAR(farthest, m.scene.vehicle.rear.track / 2 + 0.6, 1e-6);
}

TEST_CASE("an articulated machine's front half turns about its joint, and steered wheels turn") {
  Stand m = moment({"vehicle.front_axle.kind=articulated", "vehicle.front_axle.mass_kg=1500",
                    "vehicle.front_axle.joint_x_m=1.2", "start.articulation_deg=25", "terrain.slope_deg=5",
                    "vehicle.loader.fitted=false", "ballast.loader_payload_kg=0", "ballast.front_weights_kg=200"});
  const Drawing drawing = draw(m.scene, m.model, m.state, {});
  const Mat3 R = R_WG(m.state.slope);
  for (const Part& part : drawing.parts)  // its weights turn with the nose
    if (std::holds_alternative<FrontPlatesShape>(part.shape))
      CHECK_NEAR(glm::dot(part.X_WP.R[1], R * m.state.wheels[kFrontLeft].axle_G), 1, 1e-9);
  int halves = 0;
  for (const Part& part : drawing.parts)
    if (const auto* body = std::get_if<BodyShape>(&part.shape)) {
      ++halves;
      const Vec3 joint = R * (m.state.X_GV * m.model.pin);
      CHECK_NEAR(glm::length(part.X_WP * m.model.pin - joint), 0, 1e-9);  // both meet there
      if (body->part == Bodywork::front_half)
        CHECK_NEAR(glm::dot(part.X_WP.R[1], R * m.state.wheels[kFrontLeft].axle_G), 1, 1e-9);
      else
        CHECK_NEAR(glm::dot(part.X_WP.R[0], R * m.state.X_GV.R[0]), 1, 1e-9);
    }
  CHECK(halves == 2);
}

TEST_CASE("a bucket kept level stays level while the boom turns") {
  Stand m = moment();
  const auto bucket = [&] {
    for (const Part& part : draw(m.scene, m.model, m.state, {}).parts)
      if (std::holds_alternative<BucketShape>(part.shape)) return part.X_WP.R;
    return Mat3(0);
  };
  const Mat3 before = bucket();
  m.state.boom_angle += 0.5;  // kept level
  CHECK_NEAR(glm::dot(bucket()[0], before[0]), 1, 1e-9);
  m.state.bucket_angle = 0.5;  // turned with the boom
  CHECK_NEAR(std::acos(glm::dot(bucket()[0], before[0])), 0.5, 1e-6);
}

TEST_CASE("a bucket that leans more than 45 degrees has lost its load: it lies on the ground") {
  Stand m = moment();
  const Drawing before = draw(m.scene, m.model, m.state, {});
  CHECK(count<HeapShape>(before) == 1);
  CHECK(count<MoundShape>(before) == 0);
  m.state.bucket_angle = -1.2;  // tipped out forwards
  const Drawing after = draw(m.scene, m.model, m.state, {});
  CHECK(count<HeapShape>(after) == 0);
  REQUIRE(count<MoundShape>(after) == 1);
  for (const Part& part : after.parts)
    if (std::holds_alternative<MoundShape>(part.shape))
      CHECK_NEAR((glm::transpose(R_WG(m.state.slope)) * part.X_WP.p).z, 0, 1e-9);
  // Over on its side as well.
  m.state.bucket_angle = 0;
  m.state.X_GV.R = m.state.X_GV.R * Mat3(Vec3(1, 0, 0), Vec3(0, 0, 1), Vec3(0, -1, 0));
  CHECK(count<HeapShape>(draw(m.scene, m.model, m.state, {})) == 0);
}

TEST_CASE("wheels stand in the world where the state has them in the ground's frame") {
  const Stand m = moment();
  const Drawing drawing = draw(m.scene, m.model, m.state, {});
  const Mat3 R = R_WG(m.state.slope);
  int wheel = 0;
  for (const Part& part : drawing.parts)
    if (std::holds_alternative<WheelShape>(part.shape)) {
      const WheelState& w = m.state.wheels[static_cast<std::size_t>(wheel++)];
      CHECK_NEAR(glm::length(part.X_WP.p - R * w.centre_G), 0, 1e-12);
      CHECK_NEAR(glm::dot(part.X_WP.R[1], R * w.axle_G), 1, 1e-12);
      CHECK_NEAR(glm::determinant(part.X_WP.R), 1, 1e-9);
      REQUIRE(part.squash);
      CHECK(part.squash->deflection > 0.002);  // the tyre gives under its load
      CHECK(part.squash->deflection < 0.12);
    }
}

TEST_CASE("liquid at rest has a level surface whatever the wheel's lean") {
  for (const char* slope : {"terrain.slope_deg=0", "terrain.slope_deg=18", "terrain.slope_deg=25"}) {
    const Stand m = moment({slope});
    for (const LiquidPart& liquid : draw(m.scene, m.model, m.state, {}).liquids) {
      CHECK_NEAR(liquid.up.z, 1, 1e-6);
      CHECK(liquid.level > 0);  // three quarters full: over the axle
      CHECK(liquid.level < liquid.shape.outer_radius);
    }
  }
}

TEST_CASE("arrows are as long as loads are large") {
  const Stand m = moment();
  const Drawing drawing = draw(m.scene, m.model, m.state, {});
  double length = 0, load = 0;
  for (const Arrow& arrow : drawing.arrows) length += glm::length(arrow.tip - arrow.foot);
  for (const WheelState& w : m.state.wheels) load += w.load;
  for (std::size_t i = 0; i < 4; ++i)
    CHECK_NEAR(glm::length(drawing.arrows[i].tip - drawing.arrows[i].foot) / length, m.state.wheels[i].load / load,
               1e-9);
}

TEST_CASE("a wheel that carries nothing is marked, by ring and word; a machine in the air is not") {
  Stand m = moment();
  CHECK(draw(m.scene, m.model, m.state, {}).rings.empty());
  WheelState& w = m.state.wheels[kRearLeft];
  w.load = 0;
  w.centre_G.z += 0.12;
  const Drawing drawing = draw(m.scene, m.model, m.state, {});
  REQUIRE(drawing.rings.size() == 1);
  CHECK(drawing.arrows.size() == 3);
  int words = 0;
  for (const Label& label : drawing.labels)
    if (label.kind == LabelKind::lifted) {
      ++words;
      CHECK(label.text.find("LIFTED") != std::string::npos);
      CHECK(label.words.find("Rear left") != std::string::npos);
    }
  CHECK(words == 1);
  Overlays silent;
  silent.labels = false;  // that one word stays
  CHECK(draw(m.scene, m.model, m.state, silent).labels.size() == 1);
  for (WheelState& any : m.state.wheels) any.load = 0;
  CHECK(draw(m.scene, m.model, m.state, {}).rings.empty());
}

TEST_CASE("the plumb line ends inside the support triangle until the machine would lift a wheel") {
  const Stand m = moment();
  const Drawing drawing = draw(m.scene, m.model, m.state, {});
  REQUIRE(drawing.gravity);
  CHECK(drawing.gravity->inside);
  CHECK_NEAR(drawing.gravity->foot.x, drawing.gravity->centre.x, 1e-9);  // plumb: straight down in the world
  CHECK_NEAR(drawing.gravity->foot.y, drawing.gravity->centre.y, 0.01);
  CHECK(drawing.gravity->foot.z < drawing.gravity->centre.z);
  State shifted = m.state;
  shifted.centre_of_gravity_G.y -= 2;  // far downhill
  CHECK_FALSE(draw(m.scene, m.model, shifted, {}).gravity->inside);
}

TEST_CASE("any attitude gives finite numbers") {
  Stand m = moment();
  for (int roll = 0; roll < 360; roll += 30) {
    State s = m.state;
    const double a = roll * std::numbers::pi / 180, c = std::cos(a), q = std::sin(a);
    const Mat3 turn(Vec3(1, 0, 0), Vec3(0, c, q), Vec3(0, -q, c));
    s.X_GV.R = turn * s.X_GV.R;
    for (WheelState& w : s.wheels) {
      w.axle_G = turn * w.axle_G;
      w.load = 0;
      w.liquid_G = w.centre_G;
    }
    s.hull_touches = true;
    const Drawing drawing = draw(m.scene, m.model, s, {});
    for (const Part& part : drawing.parts)
      CHECK((drawing_is_finite(part.X_WP.p) && drawing_is_finite(part.X_WP.R[0]) && drawing_is_finite(part.X_WP.R[1]) &&
             drawing_is_finite(part.X_WP.R[2])));
    for (const LiquidPart& liquid : drawing.liquids)
      CHECK((drawing_is_finite(liquid.up) && std::isfinite(liquid.level)));
    for (const Label& label : drawing.labels) CHECK(drawing_is_finite(label.anchor));
    CHECK(drawing.rings.empty());
  }
}

TEST_CASE("labels lie inside the view and apart, from every side") {
  const Stand m = moment();
  Overlays overlays;
  overlays.margin = 0.2;
  const Drawing drawing = draw(m.scene, m.model, m.state, overlays);
  const auto size_of = [](const Label& label) { return glm::dvec2(7.5 * static_cast<double>(label.text.size()), 16); };
  for (const auto& [width, height] : {std::pair{860.0, 720.0}, {1600.0, 808.0}, {420.0, 380.0}})
    for (const CameraPreset preset :
         {CameraPreset::three_quarter, CameraPreset::front, CameraPreset::rear, CameraPreset::left, CameraPreset::right,
          CameraPreset::downhill, CameraPreset::top}) {
      const ViewRect view{100, 50, width, height};
      const auto placed = place_labels(drawing, camera_at(preset, drawing), view, size_of, 1);
      CHECK(placed.size() >= 4);
      for (std::size_t i = 0; i < placed.size(); ++i) {
        const ViewRect& p = placed[i].pill;
        CHECK((p.x >= view.x && p.y >= view.y && p.x + p.width <= view.x + view.width &&
               p.y + p.height <= view.y + view.height));
        for (std::size_t k = 0; k < i; ++k) {
          const ViewRect& q = placed[k].pill;
          CHECK_FALSE((p.x < q.x + q.width && q.x < p.x + p.width && p.y < q.y + q.height && q.y < p.y + p.height));
        }
      }
    }
}

TEST_CASE("no pill covers the disc, the plumb line, its foot, a lifted wheel or a button") {
  Stand m = moment();
  WheelState& w = m.state.wheels[kRearLeft];
  w.load = 0;
  w.centre_G.z += 0.12;
  Overlays overlays;
  overlays.margin = 0.2;
  const Drawing drawing = draw(m.scene, m.model, m.state, overlays);
  const auto size_of = [](const Label& label) { return glm::dvec2(7.5 * static_cast<double>(label.text.size()), 16); };
  for (const auto& [width, height] : {std::pair{860.0, 720.0}, {1600.0, 808.0}, {644.0, 526.0}})
    for (const CameraPreset preset : {CameraPreset::three_quarter, CameraPreset::front, CameraPreset::rear,
                                      CameraPreset::left, CameraPreset::right, CameraPreset::downhill}) {
      const ViewRect view{100, 50, width, height}, button{100 + width - 220, 55, 210, 34};
      const Camera camera = camera_at(preset, drawing, width / height);
      const auto placed = place_labels(drawing, camera, view, size_of, 1, nullptr, std::array{button});
      std::vector<ViewRect> free = kept_free(drawing, camera, view, 1);
      CHECK(free.size() > 2 + 8 + 1);
      free.push_back(button);
      int lifted = 0;
      for (const PlacedLabel& p : placed) {
        lifted += p.label->kind == LabelKind::lifted ? 1 : 0;
        CHECK(p.label->text.size() < 28);
        CHECK(p.label->words.empty() == (p.label->kind == LabelKind::feature));
        for (const ViewRect& r : free)
          CHECK_FALSE((p.pill.x < r.x + r.width && r.x < p.pill.x + p.pill.width && p.pill.y < r.y + r.height &&
                       r.y < p.pill.y + p.pill.height));
      }
      CHECK(lifted == 1);
    }
}

TEST_CASE("the way from the plumb line's foot to the nearest edge is drawn with its length") {
  const Stand m = moment();
  for (const Units units : {Units::si, Units::us}) {
    Overlays overlays;
    overlays.units = units;
    const Drawing drawing = draw(m.scene, m.model, m.state, overlays);
    const Outline* way = nullptr;
    int lit = 0;
    for (const Outline& line : drawing.outlines) {
      if (line.ink == Ink::to_edge) way = &line;
      lit += line.ink == Ink::nearest_edge ? 1 : 0;
    }
    REQUIRE(way);
    CHECK(lit == 1);
    const double length = glm::length(way->points.back() - way->points.front());
    CHECK(glm::length(way->points.front() - drawing.gravity->foot) < 0.03);
    CHECK(length > 0.05);
    const auto label = std::ranges::find(drawing.labels, LabelKind::edge, &Label::kind);
    REQUIRE(label != drawing.labels.end());
    CHECK(label->text == shown(Quantity::length, length, units) + " to the edge");
  }
}

TEST_CASE("a ghost's fill is traced at its own level") {
  const auto highest = [](const char* fill) {
    const Stand m = moment({fill});
    const Drawing drawing = draw(m.scene, m.model, m.state, {});
    const Drawing ghost = as_ghost(drawing);
    REQUIRE(drawing.liquids.size() == 2);
    REQUIRE(ghost.outlines.size() > 3);
    double above = -1e9;
    const LiquidPart& liquid = drawing.liquids.front();
    for (const Vec3& p : ghost.outlines[1].points)
      above = std::max(above, glm::dot(p - liquid.squash.centre, liquid.up) - liquid.level);
    CHECK_NEAR(above, 0, 0.15);  // the outline stands outside the tyre, the surface is level in the world
    return liquid.level;
  };
  CHECK(highest("ballast.rear.fill_fraction=0.75") > highest("ballast.rear.fill_fraction=0.25") + 0.2);
}

TEST_CASE("ice is no liquid: it is drawn as a lump whose surface need not be level") {
  const Stand water = moment({"ballast.rear.medium=\"water\""});
  const Stand ice = moment({"ballast.rear.medium=\"water\"", "settings.temperature_c=-15"});
  const Drawing liquid = draw(water.scene, water.model, water.state, {}),
                frozen = draw(ice.scene, ice.model, ice.state, {});
  REQUIRE(liquid.liquids.size() == 2);
  REQUIRE(frozen.liquids.size() == 2);
  for (const LiquidPart& part : liquid.liquids) {
    CHECK_FALSE(part.frozen);
    CHECK_NEAR(part.up.z, 1, 1e-3);  // level
  }
  for (const LiquidPart& part : frozen.liquids) {
    CHECK(part.frozen);
    CHECK(part.up.z < 0.99);
    CHECK_NEAR(glm::dot(part.up, part.squash.axle), 0, 1e-9);
  }
}

TEST_CASE("a load arrow has a greatest length, however hard the landing") {
  Stand m = moment();
  for (WheelState& wheel : m.state.wheels) wheel.load = 400e3;
  for (const Arrow& arrow : draw(m.scene, m.model, m.state, {}).arrows) {
    CHECK(glm::length(arrow.tip - arrow.foot) > 1);
    CHECK(glm::length(arrow.tip - arrow.foot) < 2.7);
  }
}

TEST_CASE("a ghost keeps the solid machine, its centre of gravity and what it stands on, and says which it is") {
  const Stand m = moment();
  Overlays overlays;
  overlays.margin = 0.2;
  Drawing first = draw(m.scene, m.model, m.state, overlays);
  const Drawing ghost = as_ghost(first);
  CHECK(ghost.ghost);
  CHECK(count<WheelShape>(ghost) == 4);
  CHECK(count<BodyShape>(ghost) == 1);
  CHECK(count<SidewallShape>(ghost) == 0);
  CHECK(count<CabGlassShape>(ghost) == 0);
  CHECK(ghost.liquids.empty());
  CHECK(ghost.arrows.empty());
  REQUIRE(ghost.gravity);
  CHECK(ghost.gravity->centre == first.gravity->centre);
  std::size_t fills = 0, hatches = 0;  // what it stands on, and what each tyre holds
  for (std::size_t i = 0; i < ghost.outlines.size(); ++i) {
    const Ink ink = ghost.outlines[i].ink;
    if (i == 0) CHECK(ink == Ink::ghost);
    fills += ink == Ink::ghost_fill ? 1 : 0;
    hatches += ink == Ink::ghost_hatch ? 1 : 0;
  }
  CHECK(fills == first.liquids.size());
  CHECK(hatches >= 6 * fills);
  CHECK(ghost.outlines.size() == 1 + fills + hatches);
  REQUIRE(ghost.labels.size() == 2);  // centre of gravity and margin
  for (const Label& label : ghost.labels) {
    CHECK(label.tag == "B");
    CHECK(label.ghost);
  }
  tag_labels(first);
  for (const Label& label : first.labels) {
    CHECK(!label.ghost);
    CHECK(label.tag == (label.kind == LabelKind::slope ? "" : "A"));  // the slope is nobody's
  }
}

TEST_CASE("a preset view holds both machines, and the labels of both find places") {
  Stand m = moment();
  Drawing first = draw(m.scene, m.model, m.state, {});
  const Vec3 focus = first.focus;
  m.state.X_GV.p.x += 3;
  for (WheelState& w : m.state.wheels) w.centre_G.x += 3, w.contact_G.x += 3;
  m.state.centre_of_gravity_G.x += 3;
  const Drawing ghost = as_ghost(draw(m.scene, m.model, m.state, {}));
  tag_labels(first);
  widen_to(first, ghost);
  CHECK_NEAR(first.focus.x - focus.x, 1.5, 1e-6);
  for (const Vec3& p : ghost.extent) CHECK(glm::length(p - first.focus) < first.size + 1e-9);
  const ViewRect view{0, 0, 900, 600};
  const auto size_of = [](const Label& label) { return glm::dvec2(7.0 * static_cast<double>(label.text.size()), 16); };
  const auto placed = place_labels(first, camera_at(CameraPreset::three_quarter, first), view, size_of, 1, &ghost);
  int second = 0;
  for (const PlacedLabel& p : placed) {
    second += p.label->ghost ? 1 : 0;
    CHECK(p.pill.x >= 0);
    CHECK(p.pill.x + p.pill.width <= view.width);
  }
  CHECK(second == 1);  // no margin was given, so its centre of gravity alone
  CHECK(placed.size() > 4);
}

TEST_CASE("an empty tyre is closed, one with liquid is of glass, and only a larger machine has front mudguards") {
  Stand m = moment();
  const auto open = [&] {
    int n = 0;
    for (const Part& part : draw(m.scene, m.model, m.state, {}).parts)
      if (const auto* wheel = std::get_if<WheelShape>(&part.shape)) n += wheel->open_sidewall ? 1 : 0;
    return n;
  };
  CHECK(open() == 2);  // the rear tyres hold brine
  CHECK(count<SidewallShape>(draw(m.scene, m.model, m.state, {})) == 2);
  CHECK(count<FrontGuardShape>(draw(m.scene, m.model, m.state, {})) == 2);
  m = moment({"ballast.rear.fill_fraction=0", "vehicle.front_drive=false"});
  CHECK(open() == 0);
  CHECK(count<FrontGuardShape>(draw(m.scene, m.model, m.state, {})) == 0);
}

TEST_CASE("a feature has a rim on the ground where it ends") {
  const Stand m = moment({R"(terrain.feature+={kind="stump",x_m=2,y_m=-4,length_m=0.6,height_m=0.3})"});
  const Mat3 R = R_WG(m.state.slope);
  int rims = 0;
  for (const Outline& line : draw(m.scene, m.model, m.state, {}).outlines) {
    if (line.ink != Ink::feature) continue;
    ++rims;
    for (const Vec3& p : line.points) {
      const Vec3 p_G = glm::transpose(R) * p;
      CHECK_NEAR(std::hypot(p_G.x - 2, p_G.y + 4), 0.3, 1e-6);
    }
  }
  CHECK(rims == 1);
}
#endif
