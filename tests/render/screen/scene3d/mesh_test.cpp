// Meshes: closed, facing outwards, finite; the parts of a machine too. Ground: on ground_at, grid lines rising.
#ifdef SIDEHILL_SCREEN
#include "render/screen/scene3d/mesh.h"

#include <cmath>
#include <glm/common.hpp>
#include <numbers>
#include <set>

#include "render/screen/scene3d/field_mesh.h"
#include "render/screen/scene3d/machine_mesh.h"
#include "render/screen/scene3d/terrain_mesh.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

bool mesh_is_finite(const Mesh& mesh) {
  for (const Vertex& v : mesh.vertices)
    for (int i = 0; i < 3; ++i)
      if (!std::isfinite(v.place[i]) || !std::isfinite(v.normal[i]) || !std::isfinite(v.light)) return false;
  for (const std::uint32_t i : mesh.indices)
    if (i >= mesh.vertices.size()) return false;
  return !mesh.indices.empty();
}

void check_solid(const Mesh& mesh) {
  CHECK(mesh_is_finite(mesh));
  CHECK(open_edges(mesh) == 0);
  CHECK(enclosed_volume(mesh) > 0);
}

}  // namespace

TEST_CASE("simple solids hold their volume and face outwards") {
  MeshBuilder box;
  box.box({1, 2, 3}, {0.5f, 0.25f, 0.125f}, 0);
  check_solid(box.mesh());
  CHECK_NEAR(enclosed_volume(box.mesh()), 0.125, 1e-6);

  MeshBuilder mirrored;  // a mirroring place must not turn it inside out
  mirrored.place = glm::mat4(1);
  mirrored.place[1][1] = -1;
  mirrored.box({1, 2, 3}, {0.5f, 0.25f, 0.125f}, 0.02f);
  check_solid(mirrored.mesh());

  MeshBuilder bar;  // prism over a regular polygon of 64 sides: area n/2 sin(2 pi/n) r^2
  bar.bar({0, 0, 0}, {0, 0, 2}, 0.3f, 64);
  check_solid(bar.mesh());
  CHECK_NEAR(enclosed_volume(bar.mesh()), 2 * 32 * std::sin(2 * std::numbers::pi / 64) * 0.09, 1e-5);

  MeshBuilder ring;  // Pappus, for a ring of 200 flat sectors: polygon area instead of the circle's
  ring.lathe({{-0.1f, 0.4f}, {-0.1f, 0.5f}, {0.1f, 0.5f}, {0.1f, 0.4f}, {-0.1f, 0.4f}}, 200);
  check_solid(ring.mesh());
  CHECK_NEAR(enclosed_volume(ring.mesh()), 0.2 * 100 * std::sin(2 * std::numbers::pi / 200) * (0.25 - 0.16), 1e-5);
}

TEST_CASE("a missing face is noticed") {
  MeshBuilder builder;
  builder.box({0, 0, 0}, {1, 1, 1}, 0);
  Mesh mesh = builder.take();
  mesh.indices.resize(mesh.indices.size() - 3);
  CHECK(open_edges(mesh) == 3);
}

TEST_CASE("baked light is darker in a corner than in the open") {
  MeshBuilder builder;
  builder.box({0, 0, 0}, {1, 1, 0.05f}, 0);
  builder.box({0, 0.95f, 0.5f}, {1, 0.05f, 0.5f}, 0);
  Mesh mesh = builder.take();
  bake_light(mesh, 0.8f);
  float near_wall = 1, open = 0;
  for (const Vertex& v : mesh.vertices) {
    CHECK(v.light >= 0.2f);
    CHECK(v.light <= 1.0f);
    if (v.normal.z > 0.9f && v.place.z < 0.1f) (v.place.y > 0 ? near_wall : open) = v.light;
  }
  CHECK(near_wall < open);
}

TEST_CASE("every part of a machine is a closed solid, for ordinary and odd measures") {
  for (const Detail detail : {Detail::full, Detail::coarse})
    for (const double scale : {0.45, 1.0, 1.35}) {
      const TyreMeasures rear{0.85 * scale, 0.48 * scale, 0.46 * scale, false},
          front{0.60 * scale, 0.32 * scale, 0.35 * scale, scale < 1};
      for (const FrameKind frame : {FrameKind::none, FrameKind::two_post, FrameKind::cab}) {
        BodyShape body;
        body.wheelbase = 2.5 * scale;
        body.rear_track = 1.8 * scale;
        body.rear_tyre = rear;
        body.front_tyre = front;
        body.nose_x = 3.0 * scale;
        body.frame = frame;
        body.frame_folded = scale < 1;
        for (const Bodywork part : {Bodywork::rear_half, Bodywork::front_half}) {
          body.part = part;
          body.joint_x = 1.1 * scale;
          check_solid(make_mesh(body, detail));
        }
        body.part = Bodywork::whole;
        check_solid(make_mesh(body, detail));
        CHECK(mesh_is_finite(make_mesh(CabGlassShape{body}, detail)));
      }
      for (const bool left : {false, true}) {
        check_solid(make_mesh(WheelShape{rear, left, true}, detail));
        check_solid(make_mesh(WheelShape{front, left, false}, detail));
        check_solid(make_mesh(WheelWeightShape{rear, left, 3}, detail));
        CHECK(mesh_is_finite(make_mesh(SidewallShape{rear, left}, detail)));
      }
      check_solid(make_mesh(LiquidShape{0.48 * scale, 0.8 * scale, 0.4 * scale}, detail));
      check_solid(make_mesh(FrontAxleShape{1.7 * scale, -0.05, front, scale > 1}, detail));
      for (const bool left : {false, true}) check_solid(make_mesh(FrontGuardShape{front, left}, detail));
      check_solid(make_mesh(LoaderMastShape{{0.9, 0, 0.7}, 0.55, -0.3}, detail));
      check_solid(make_mesh(LoaderBoomShape{2.5 * scale, 0.5}, detail));
      check_solid(make_mesh(RamShape{scale, 0.04}, detail));
      check_solid(make_mesh(BucketShape{1.8 * scale}, detail));
      check_solid(make_mesh(HeapShape{1.8 * scale, scale}, detail));
      for (const LoaderToolWords& tool : kLoaderTools)
        check_solid(make_mesh(ToolShape{tool.value, 1.8 * scale}, detail));
      for (const bool round : {false, true}) check_solid(make_mesh(BaleShape{round, Vec3(scale)}, detail));
      check_solid(make_mesh(FrontPlatesShape{static_cast<int>(8 * scale), 0.3 * scale}, detail));
      check_solid(make_mesh(RearBlockShape{Vec3(0.5, 1.0, 0.6) * scale, 0.4}, detail));
      check_solid(make_mesh(MassShape{0.3 * scale}, detail));
      check_solid(make_mesh(ImplementShape{3.0 * scale, scale - 0.45}, detail));
      check_solid(make_mesh(TrailerShape{scale, 0.5 * scale, {2.9 * scale, 0.1}}, detail));
      check_solid(make_mesh(TankShape{0.6 * scale, 2.0 * scale}, detail));
      check_solid(make_mesh(BarShape{scale, 0.014, scale > 1}, detail));
      check_solid(make_mesh(StakeShape{0.6 * scale}, detail));
      check_solid(make_mesh(MoundShape{0.7 * scale}, detail));
      check_solid(make_mesh(DriverShape{{0.2, 0, 0.6}, scale > 1}, detail));
    }
  check_solid(make_mesh(WheelShape{{0.75, 0.40, 0.001, false}, true, true}));  // a thin disc, as in reference machines
}

TEST_CASE("a wheel is as large as its tyre") {
  const Mesh mesh = make_mesh(WheelShape{{0.85, 0.48, 0.46, false}, true, true});
  double radius = 0;
  for (const Vertex& v : mesh.vertices) radius = std::max(radius, std::hypot(double(v.place.x), double(v.place.z)));
  CHECK_NEAR(radius, 0.85, 0.012);  // lugs have flat tops between their steps
}

TEST_CASE("a coarse mesh has far fewer triangles and the same outlines") {
  const TyreMeasures tyre{0.85, 0.48, 0.46, false};
  BodyShape body;
  for (const Shape& shape : {Shape(WheelShape{tyre, true, true}), Shape(body), Shape(LoaderBoomShape{2.5, 0.5}),
                             Shape(FrontGuardShape{tyre, true}), Shape(BucketShape{1.8})}) {
    const Mesh full = make_mesh(shape), coarse = make_mesh(shape, Detail::coarse);
    CHECK(3 * coarse.indices.size() < 2.4 * static_cast<double>(full.indices.size()));
    glm::vec3 low[2], high[2];
    for (int i = 0; i < 2; ++i) {
      const Mesh& mesh = i == 0 ? full : coarse;
      low[i] = high[i] = mesh.vertices[0].place;
      for (const Vertex& v : mesh.vertices) low[i] = glm::min(low[i], v.place), high[i] = glm::max(high[i], v.place);
    }
    for (int k = 0; k < 3; ++k) {  // an eye at 10 m sees 2 cm as 1 to 2 pixels
      CHECK_NEAR(low[1][k], low[0][k], 0.02);
      CHECK_NEAR(high[1][k], high[0][k], 0.02);
    }
  }
}

TEST_CASE("a front mudguard clears its tyre and leaves the ground side open") {
  const TyreMeasures tyre{0.6, 0.34, 0.38, false};
  float inner = 10, lowest = 10;
  for (const Vertex& v : make_mesh(FrontGuardShape{tyre, true}).vertices) {
    lowest = std::min(lowest, v.place.z);
    if (std::abs(v.place.y) < 0.18f) inner = std::min(inner, std::hypot(v.place.x, v.place.z));
  }
  CHECK(inner > 0.62f);
  CHECK(lowest > 0.0f);
}

TEST_CASE("the ground's mesh lies on the ground") {
  GroundPicture picture;
  picture.features.push_back({"", FeatureKind::bump, 2, 1, 0.3, 1.2, 2.5, 0.25, 1});
  picture.features.push_back({"", FeatureKind::stump, -2, 0.5, 0, 0.5, 0.5, 0.3, 1});
  const Mesh mesh = ground_mesh(picture);
  CHECK(mesh_is_finite(mesh));
  CHECK(mesh.indices.size() / 3 < 60000);
  Terrain terrain;
  terrain.features = picture.features;
  float highest = 0;
  for (const Vertex& v : mesh.vertices) {
    CHECK_NEAR(v.place.z, ground_at(terrain, {v.place.x, v.place.y}).height, 2e-4);
    highest = std::max(highest, v.place.z);
  }
  CHECK(highest > 0.27f);  // the stump is not lost between the lines
}

TEST_CASE(
    "grass stays where it is while the machine moves, and grows on no stump; a fence has posts of a man's chest") {
  GroundPicture picture;
  picture.features.push_back({"", FeatureKind::stump, -2, 0.5, 0, 0.5, 0.5, 0.3, 1});
  const Mesh here = grass_mesh(picture);
  CHECK(mesh_is_finite(here));
  CHECK(here.indices.size() / 3 < 4000);
  std::set<std::pair<float, float>> places;
  for (const Vertex& v : here.vertices) {
    places.insert({v.place.x, v.place.y});
    CHECK(v.place.z < 0.2f);
    if (v.place.z == 0) CHECK(std::hypot(v.place.x + 2, v.place.y - 0.5) > 0.2);
  }
  picture.focus_G = {2, 1};
  int same = 0;
  const Mesh moved = grass_mesh(picture);
  for (const Vertex& v : moved.vertices) same += places.contains({v.place.x, v.place.y}) ? 1 : 0;
  CHECK(same > static_cast<int>(moved.vertices.size()) * 7 / 10);
  float highest = 0;
  for (const Vertex& v : fence_mesh().vertices) highest = std::max(highest, v.place.z);
  CHECK_NEAR(highest, kFenceHeight, 0.01);
}

TEST_CASE("grid lines rise, reach the horizon and stay few") {
  const std::vector<double> lines = grid_lines(3.3, 0.4, {{2, 3, 0.03}, {-1, 5, 0.01}});
  CHECK(lines.size() < 240);
  CHECK(lines.front() < -kGroundReach + 10);
  CHECK(lines.back() > kGroundReach - 10);
  for (std::size_t i = 0; i + 1 < lines.size(); ++i) CHECK(lines[i] < lines[i + 1]);
}
#endif
