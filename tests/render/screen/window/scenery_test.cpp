// Two pictures side by side are seen by one camera.
#ifdef SIDEHILL_SCREEN
#include "render/screen/window/scenery.h"

#include "render/screen/gl/offscreen.h"
#include "sim/motion/rest_state.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

Drawing drawn(const Scene& scene) {
  const Model model = build(scene);
  const std::optional<Rest> rest = rest_at(model, scene.terrain.slope);
  REQUIRE(rest);
  return draw(scene, model, rest_state(model, *rest), {});
}

}  // namespace

TEST_CASE("a drag in one of two pictures moves both, whether the camera follows or not") {
  const OffscreenContext context;
  Scenery a, b(Renderer::beside(a.renderer));
  a.drawing = drawn(test_scene("first_slope"));
  b.drawing = drawn(test_scene("first_slope", {"start.x_m=2"}));
  a.camera = camera_at(CameraPreset::scene, a.drawing);
  for (const bool follows : {true, false}) {
    share_camera(a, b, follows);
    b.moved = false;
    share_camera(a, b, follows);
    CHECK_FALSE(b.moved);  // nothing is drawn anew while nothing changes
    const Vec3 before = b.camera.target;
    pan(a.camera, 0.1, 0.05);
    orbit(a.camera, 0.1, 0);
    zoom(a.camera, 2, {0.3, -0.2}, 0.9);
    share_camera(a, b, follows);
    CHECK(b.moved);
    CHECK(glm::length(b.camera.target - before) > 0.3);
    CHECK(b.camera.yaw == a.camera.yaw);
    CHECK(b.camera.distance == a.camera.distance);
    const Vec3 apart = b.camera.target - a.camera.target;
    CHECK_NEAR(apart.x, follows ? 2 : 0, 1e-6);  // each over its own machine, or both over one place
  }
}
#endif
