// Where the picture is seen from: the ground under the machine carries it, not the centre of gravity; what a scene asks
// to be seen is in view; the wheel of the mouse goes where it points.
#ifdef SIDEHILL_SCREEN
#include "render/screen/scene3d/camera.h"

#include <cmath>
#include <filesystem>
#include <glm/geometric.hpp>

#include "sim/motion/rest_state.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

constexpr double kWide = 1280, kHigh = 720;

Drawing at_rest(const std::string& name, const std::vector<std::string>& changes = {}) {
  const Scene scene = load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/" + name + ".toml", changes);
  const Model model = build(scene);
  const std::optional<Rest> rest = rest_at(model, scene.terrain.slope);
  return draw(scene, model, rest ? rest_state(model, *rest) : placed_state(model), {});
}

std::vector<Vec3> wheel_centres(const Drawing& drawing) {
  std::vector<Vec3> centres;
  for (const Part& part : drawing.parts)
    if (std::holds_alternative<WheelShape>(part.shape)) centres.push_back(part.X_WP.p);
  return centres;
}

glm::dvec2 spot_of(const Camera& camera, const Vec3& p, double wide = kWide, double high = kHigh) {
  const auto spot = project(camera, p, wide, high);
  REQUIRE(spot);
  return *spot;
}

}  // namespace

TEST_CASE("raising the bucket leaves every wheel where it is in the picture, and the centre of gravity rises") {
  for (const char* name : {"first_slope", "bucket_up", "raised_while_driving", "bale_on_spike"}) {
    CAPTURE(std::string(name));
    const Drawing low = at_rest(name, {"ballast.loader_pin_height_m=0.7", "ballast.loader_payload_kg=0"});
    const Drawing high = at_rest(name, {"ballast.loader_pin_height_m=2.1", "ballast.loader_payload_kg=0"});
    for (const CameraPreset preset :
         {CameraPreset::scene, CameraPreset::three_quarter, CameraPreset::front, CameraPreset::rear, CameraPreset::left,
          CameraPreset::right, CameraPreset::downhill, CameraPreset::top}) {
      CAPTURE(std::string(to_string(preset)));
      const Camera before = camera_at(preset, low, kWide / kHigh), anew = camera_at(preset, high, kWide / kHigh);
      Camera followed = before;
      follow(followed, high);
      const auto from = wheel_centres(low), to = wheel_centres(high);
      REQUIRE(from.size() == to.size());
      for (std::size_t i = 0; i < from.size(); ++i) {
        CHECK(glm::length(spot_of(anew, to[i]) - spot_of(before, from[i])) < 2);
        CHECK(glm::length(spot_of(followed, to[i]) - spot_of(before, from[i])) < 2);
      }
      REQUIRE(low.gravity);
      REQUIRE(high.gravity);
      if (preset == CameraPreset::top) continue;
      CHECK(spot_of(followed, high.gravity->centre).y < spot_of(before, low.gravity->centre).y - 5);
    }
  }
}

TEST_CASE("with 580 kg the bucket goes from 0.4 to 3 m and no wheel moves two pixels") {
  const Drawing low = at_rest("bucket_up", {"ballast.loader_pin_height_m=0.4"});
  const Drawing high = at_rest("bucket_up", {"ballast.loader_pin_height_m=3.0"});
  const Camera before = camera_at(CameraPreset::scene, low, kWide / kHigh);
  const Camera after = camera_at(CameraPreset::scene, high, kWide / kHigh);
  const auto from = wheel_centres(low), to = wheel_centres(high);
  double most = 0;
  for (std::size_t i = 0; i < from.size(); ++i)
    most = std::max(most, glm::length(spot_of(after, to[i]) - spot_of(before, from[i])));
  MESSAGE("most that a wheel moves: " << most << " px");
  CHECK(most < 2);
  CHECK(spot_of(after, high.gravity->centre).y < spot_of(before, low.gravity->centre).y - 30);
}

TEST_CASE("every scene's own view shows its machine, its obstacles and what it is tied to") {
  for (const auto& file : std::filesystem::directory_iterator(std::string(SIDEHILL_SOURCE_DIR) + "/scenes")) {
    if (file.path().extension() != ".toml") continue;
    CAPTURE(file.path().string());
    const Drawing drawing = at_rest(file.path().stem().string());
    for (const auto& [wide, high] : {std::pair{1280.0, 600.0}, {644.0, 526.0}, {424.0, 450.0}}) {
      const Camera camera = camera_at(CameraPreset::scene, drawing, wide / high);
      std::vector<Vec3> places = drawing.held;
      places.insert(places.end(), drawing.wanted.begin(), drawing.wanted.end());
      double left = 1, right = 0, top = 1, low = 0;
      for (const Vec3& p : places) {
        const glm::dvec2 spot = spot_of(camera, p, wide, high) / glm::dvec2(wide, high);
        left = std::min(left, spot.x), right = std::max(right, spot.x);
        top = std::min(top, spot.y), low = std::max(low, spot.y);
      }
      CHECK(left > 0.02);
      CHECK(right < 0.98);
      CHECK(top > 0.02);
      CHECK(low < 0.95);
      CHECK(std::max(right - left, low - top) > 0.6);  // and no smaller than it has to be
    }
  }
  CHECK(at_rest("over_a_stump").wanted.size() == 4);
  CHECK(at_rest("pull_too_high").wanted.size() == 1);  // the stake, before it is tied
  CHECK(at_rest("over_a_stump", {"view.obstacles=false", "view.ahead_m=3"}).wanted.size() == 1);
}

TEST_CASE("a view by angles is seen from there, relative to where the machine points") {
  for (const double heading : {-90.0, 0.0, 135.0}) {
    const Drawing drawing = at_rest("stuck_wheels", {"start.heading_deg=" + std::to_string(heading), "view.from=free",
                                                     "view.yaw_deg=90", "view.pitch_deg=20"});
    const Camera camera = camera_at(CameraPreset::scene, drawing);
    const Camera left = camera_at(CameraPreset::left, drawing);
    CHECK_NEAR(std::remainder(camera.yaw - left.yaw, 2 * kPi), 0, 1e-9);
    CHECK_NEAR(camera.pitch, 20 * kDegree, 1e-9);
  }
}

TEST_CASE("the mouse's wheel keeps what is under the mouse where it is, and following does not undo it") {
  const Drawing drawing = at_rest("first_slope");
  for (const auto& [wide, high] : {std::pair{1280.0, 720.0}, {424.0, 450.0}})
    for (const Vec3& p : {wheel_centres(drawing)[2], drawing.gravity->centre, drawing.held.front()}) {
      Camera camera = camera_at(CameraPreset::scene, drawing, wide / high);
      const glm::dvec2 before = spot_of(camera, p, wide, high);
      const double far = glm::length(eye(camera) - p);
      zoom(camera, 4, {2 * before.x / wide - 1, 1 - 2 * before.y / high}, wide / high);
      CHECK(glm::length(spot_of(camera, p, wide, high) - before) < 1e-6);
      CHECK(glm::length(eye(camera) - p) < 0.75 * far);
      follow(camera, drawing);
      CHECK(glm::length(spot_of(camera, p, wide, high) - before) < 1e-6);
    }
}
#endif
