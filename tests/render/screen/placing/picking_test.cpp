#ifdef SIDEHILL_SCREEN
// A ray of sight is the inverse of the projection, and meets ground and machine where they are.
#include "render/screen/placing/picking.h"

#include <cmath>
#include <glm/geometric.hpp>
#include <random>

#include "sim/base/constants.h"
#include "sim/motion/rest_state.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

struct CameraDice {
  std::mt19937 engine{7};
  double between(double a, double b) { return std::uniform_real_distribution<double>(a, b)(engine); }
};

Camera any_camera(CameraDice& dice) {
  Camera camera;
  camera.target = {dice.between(-3, 3), dice.between(-3, 3), dice.between(0, 2)};
  camera.yaw = dice.between(-3.1, 3.1);
  camera.pitch = dice.between(0.1, 1.5);
  camera.distance = dice.between(5, 30);
  return camera;
}

Terrain bumpy() {
  Terrain terrain;
  terrain.slope = 18 * kDegree;
  terrain.features = {
      {"", FeatureKind::bump, 1, 1, 0.4, 1.2, 2.5, 0.3, 1},   {"", FeatureKind::hole, -1, 0.5, 0, 1.2, 1, 0.35, 1},
      {"", FeatureKind::stump, 0.4, -1.5, 0, 0.4, 1, 0.4, 1}, {"", FeatureKind::kerb, -2, -1, 1.0, 0.4, 4, 0.15, 1},
      {"", FeatureKind::ditch, 3, 0, -0.6, 1.0, 5, 0.4, 1},   {"", FeatureKind::rough, -3, 3, 0.2, 8, 5, 0.2, 3}};
  return terrain;
}

}  // namespace

TEST_CASE("the ray through a projected point passes through it, from any camera and in any view") {
  CameraDice dice;
  int seen = 0;
  for (int i = 0; i < 500; ++i) {
    const Camera camera = any_camera(dice);
    const double width = dice.between(300, 2000), height = dice.between(300, 1200);  // narrow views are opened wider
    const Vec3 p(dice.between(-6, 6), dice.between(-6, 6), dice.between(-2, 4));
    const auto spot = project(camera, p, width, height);
    if (!spot) continue;
    ++seen;
    const auto ray = ray_through(camera, *spot, width, height);
    REQUIRE(ray);
    CHECK_NEAR(glm::length(ray->along), 1, 1e-12);
    const Vec3 to = p - ray->from;
    CHECK(glm::dot(to, ray->along) > 0);
    CHECK_NEAR(glm::length(to - glm::dot(to, ray->along) * ray->along), 0, 1e-9 * (1 + glm::length(to)) * 100);
    // And back: any point of the ray lies under the pixel.
    const auto again = project(camera, ray->from + 7.0 * ray->along, width, height);
    REQUIRE(again);
    CHECK_NEAR(again->x, spot->x, 1e-6);
    CHECK_NEAR(again->y, spot->y, 1e-6);
  }
  CHECK(seen > 400);
}

TEST_CASE("on an even slope the ground is met in closed form") {
  Terrain terrain;
  const double slope = 25 * kDegree;
  // Straight down from 10 m over a place 4 m up the slope.
  const Vec3 p_W = R_WG(slope) * Vec3(2, 4, 0);
  const auto hit = ground_under(terrain, slope, {p_W + Vec3(0, 0, 10), {0, 0, -1}});
  REQUIRE(hit);
  CHECK_NEAR(hit->place_G.x, 2, 1e-12);
  CHECK_NEAR(hit->place_G.y, 4, 1e-12);
  CHECK_NEAR(hit->distance, 10, 1e-12);
  CHECK_FALSE(ground_under(terrain, slope, {p_W + Vec3(0, 0, 10), {0, 0, 1}}));    // the sky
  CHECK_FALSE(ground_under(terrain, slope, {p_W - Vec3(0, 0, 1), {0, 0, -1}}));    // from below
  CHECK_FALSE(ground_under(terrain, slope, {p_W + Vec3(0, 0, 130), {0, 0, -1}}));  // too far
}

TEST_CASE("on a tilted plane with things on it a visible place is found within a millimetre") {
  CameraDice dice;
  const Terrain terrain = bumpy();
  const Mat3 R = R_WG(terrain.slope);
  int found = 0, hidden = 0;
  for (int i = 0; i < 3000; ++i) {
    const Camera camera = any_camera(dice);
    const glm::dvec2 p_G(dice.between(-5, 5), dice.between(-4, 4));
    const Vec3 p_W = R * Vec3(p_G, ground_at(terrain, p_G).height);
    if ((glm::transpose(R) * eye(camera)).z < 0.7) continue;
    const auto spot = project(camera, p_W, 1000, 700);
    if (!spot) continue;
    const auto ray = ray_through(camera, *spot, 1000, 700);
    REQUIRE(ray);
    const auto hit = ground_under(terrain, terrain.slope, *ray);
    REQUIRE(hit);
    const Vec3 hit_W = R * Vec3(hit->place_G, ground_at(terrain, hit->place_G).height);
    // What is found lies on the surface and on the ray.
    CHECK_NEAR(glm::length(hit_W - (ray->from + hit->distance * ray->along)), 0, 1e-6);
    const double off = glm::length(hit_W - p_W);
    if (off <= 1e-3) {
      ++found;
      continue;
    }
    // Otherwise something stands in between: nearer, and the ray truly dips below ground before the place.
    ++hidden;
    CHECK(hit->distance < glm::length(p_W - ray->from) + 1e-3);
    const Vec3 past_G = glm::transpose(R) * (ray->from + (hit->distance + 0.5e-3) * ray->along);
    CHECK(past_G.z - ground_at(terrain, {past_G.x, past_G.y}).height < 1e-6);
  }
  CHECK(found > 2000);
  CHECK(hidden > 20);
}

TEST_CASE("the machine is hit where it stands and missed beside it") {
  const Scene scene = test_scene("first_slope");
  const Model model = build(scene);
  const State state = placed_state(model);
  const auto boxes = machine_boxes(scene);
  CHECK(boxes.size() == 2);  // under the bonnet's height, and the cab above
  const Pose X_WV = Pose{R_WG(state.slope), Vec3(0)} * state.X_GV;
  const Vec3 up = X_WV.R[2], left = X_WV.R[1];
  const auto down_on = [&](Vec3 p_V) { return machine_under(boxes, state, {X_WV * p_V + 20.0 * up, -up}); };
  const auto cab = down_on({(scene.vehicle.frame.x_front + scene.vehicle.frame.x_rear) / 2, 0, 0});
  REQUIRE(cab);
  CHECK_NEAR(*cab, 20 - (scene.vehicle.frame.top_height - scene.vehicle.rear.tyre.free_radius), 1e-9);
  const auto nose = down_on({scene.vehicle.chassis.length_ahead - 0.1, 0, 0});
  REQUIRE(nose);
  CHECK(*nose > *cab);
  CHECK_FALSE(down_on({0, 3, 0}));
  CHECK_FALSE(down_on({-3, 0, 0}));
  CHECK(machine_under(boxes, state, {X_WV.p + 10.0 * left, -left}));
  CHECK_FALSE(machine_under(boxes, state, {X_WV.p + 10.0 * left, left}));
}

TEST_CASE("numbers that are none give no ray") {
  const Camera camera;
  CHECK_FALSE(ray_through(camera, {NAN, 3}, 100, 100));
  CHECK_FALSE(ray_through(camera, {3, INFINITY}, 100, 100));
  CHECK_FALSE(ray_through(camera, {3, 3}, 0, 100));
  CHECK_FALSE(ray_through(camera, {3, 3}, 100, -1));
  Camera broken;
  broken.yaw = NAN;
  CHECK_FALSE(ray_through(broken, {3, 3}, 100, 100));
}
#endif
