// The 3-D picture itself, in software and without a window: the ghost where it is and nowhere else, a second view that
// shares its meshes, and coarse pictures with fewer triangles.
#ifdef SIDEHILL_SCREEN
#include "render/screen/gl/renderer.h"

#include <epoxy/gl.h>

#include <algorithm>
#include <cstdint>

#include "render/screen/gl/offscreen.h"
#include "render/screen/scene3d/ghost.h"
#include "sim/motion/rest_state.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

constexpr int kWidth = 480, kHeight = 320;

Drawing machine(double x, const Overlays& overlays) {
  const Scene scene = load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/first_slope.toml");
  const Model model = build(scene);
  const std::optional<Rest> rest = rest_at(model, scene.terrain.slope);
  REQUIRE(rest);
  State state = rest_state(model, *rest);
  state.X_GV.p.x += x;
  state.centre_of_gravity_G.x += x;
  for (WheelState& w : state.wheels) w.centre_G.x += x, w.contact_G.x += x, w.liquid_G.x += x;
  return draw(scene, model, state, overlays);
}

Overlays nothing_on_top() {
  Overlays o;
  o.wheel_loads = o.centre_of_gravity = o.support = o.slope_wedge = o.labels = false;
  return o;
}

std::vector<std::uint8_t> pixels(const Renderer& renderer) {
  std::vector<std::uint8_t> rgba(std::size_t{4} * kWidth * kHeight);
  glBindFramebuffer(GL_FRAMEBUFFER, renderer.framebuffer());
  glReadPixels(0, 0, kWidth, kHeight, GL_RGBA, GL_UNSIGNED_BYTE, rgba.data());
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  return rgba;
}

}  // namespace

TEST_CASE("a ghost changes the picture where it is and nowhere else, towards its own colour") {
  const OffscreenContext context;
  Renderer renderer;
  const Drawing first = machine(0, nothing_on_top()), second = as_ghost(machine(3, nothing_on_top()));
  Drawing both = first;
  widen_to(both, second);
  const Camera camera = camera_at(CameraPreset::three_quarter, both);
  renderer.render(first, camera, kWidth, kHeight);
  const auto before = pixels(renderer);
  renderer.render(first, camera, kWidth, kHeight, Quality::moving, &second);
  const auto after = pixels(renderer);
  renderer.render(first, camera, kWidth, kHeight);
  CHECK(pixels(renderer) == before);  // and leaves nothing behind
  // The rectangle round the ghost's outermost places, and a little more for what stands out of that box.
  double left = kWidth, right = 0, low = kHeight, high = 0;
  for (const Vec3& p : second.extent) {
    const auto spot = project(camera, p, kWidth, kHeight);
    REQUIRE(spot);
    left = std::min(left, spot->x), right = std::max(right, spot->x);
    low = std::min(low, kHeight - spot->y), high = std::max(high, kHeight - spot->y);
  }
  constexpr double kRoom = 20;  // [px]
  int changed = 0, outside = 0;
  double blue_over_green = 0;
  for (int y = 0; y < kHeight; ++y)
    for (int x = 0; x < kWidth; ++x) {
      const std::size_t i = std::size_t{4} * (static_cast<std::size_t>(y) * kWidth + static_cast<std::size_t>(x));
      if (std::equal(before.begin() + static_cast<std::ptrdiff_t>(i),
                     before.begin() + static_cast<std::ptrdiff_t>(i + 3),
                     after.begin() + static_cast<std::ptrdiff_t>(i)))
        continue;
      ++changed;
      if (x < left - kRoom || x > right + kRoom || y < low - kRoom || y > high + kRoom) ++outside;
      blue_over_green += (after[i + 2] - after[i + 1]) - (before[i + 2] - before[i + 1]);
    }
  CHECK(changed > kWidth * kHeight / 30);
  CHECK(outside == 0);
  CHECK(blue_over_green / changed > 5);  // indigo over grass and cream
}

TEST_CASE("a second view shares the meshes of the first and draws the same") {
  const OffscreenContext context;
  auto first = std::make_unique<Renderer>();
  const Drawing drawing = machine(0, {});
  const Camera camera = camera_at(CameraPreset::rear, drawing);
  first->render(drawing, camera, kWidth, kHeight);
  CHECK(first->stats().meshes_made > 10);
  const auto a = pixels(*first);
  Renderer second = Renderer::beside(*first);
  second.render(drawing, camera, kWidth, kHeight);
  CHECK(second.stats().meshes_made == 0);
  CHECK(pixels(second) == a);
  first.reset();  // what is shared stays
  second.render(drawing, camera, kWidth, kHeight);
  CHECK(second.stats().meshes_made == 0);
  CHECK(pixels(second) == a);
}

TEST_CASE("a moving picture is drawn with few triangles") {
  const OffscreenContext context;
  Renderer renderer;
  const Drawing drawing = machine(0, {});
  const Camera camera = camera_at(CameraPreset::three_quarter, drawing);
  renderer.render(drawing, camera, kWidth, kHeight);
  const int moving = renderer.stats().triangles;
  CHECK(renderer.stats().shadow_drawn);
  renderer.render(drawing, camera, kWidth, kHeight);
  CHECK(!renderer.stats().shadow_drawn);  // nothing has moved
  renderer.render(drawing, camera, kWidth, kHeight, Quality::still);
  const int still = renderer.stats().triangles;
  CHECK(moving < 45000);  // what two cores without a graphics card draw sixty times a second
  CHECK(moving < still);
}
#endif
