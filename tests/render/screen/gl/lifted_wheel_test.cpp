// At the moment a wheel lifts in a lesson, the lesson's own camera shows it: whatever of the machine stands in the way
// is drawn see-through.
#ifdef SIDEHILL_SCREEN
#include <epoxy/gl.h>
#include <fmt/format.h>

#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/gl/offscreen.h"
#include "render/screen/gl/renderer.h"
#include "sim/insight/lesson.h"
#include "sim/motion/run.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

constexpr int kWidth = 640, kHeight = 360;

// Share of the outline of the face turned to the eye that nothing solid hides, from the picture's depths.
double unhidden(const Renderer& renderer, const Camera& camera, const Ring& ring, double radius, double half_width) {
  const Vec3 from = eye(camera);
  const Vec3 axis = glm::dot(from - ring.centre, ring.axis) > 0 ? ring.axis : -ring.axis;
  const Vec3 u = glm::normalize(glm::cross(axis, Vec3(0.2, 0.1, 1))), v = glm::cross(axis, u);
  const glm::dmat4 view = projection_matrix(camera, static_cast<double>(kWidth) / kHeight) * view_matrix(camera);
  glBindFramebuffer(GL_FRAMEBUFFER, renderer.framebuffer());
  int seen = 0;
  constexpr int kPoints = 90;
  for (int i = 0; i < kPoints; ++i) {
    const double a = 2 * kPi * i / kPoints;
    Vec3 p = ring.centre + half_width * axis + 0.93 * radius * (std::cos(a) * u + std::sin(a) * v);
    p += 0.10 * glm::normalize(from - p);  // its own lugs do not count
    const glm::dvec4 clip = view * glm::dvec4(p, 1);
    const glm::dvec3 at = glm::dvec3(clip) / clip.w;
    if (std::abs(at.x) >= 1 || std::abs(at.y) >= 1) continue;  // outside: not seen
    float depth = 0;
    glReadPixels(static_cast<int>((at.x + 1) / 2 * kWidth), static_cast<int>((at.y + 1) / 2 * kHeight), 1, 1,
                 GL_DEPTH_COMPONENT, GL_FLOAT, &depth);
    if (depth >= (at.z + 1) / 2) ++seen;
  }
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  return static_cast<double>(seen) / kPoints;
}

}  // namespace

TEST_CASE("the wheel that lifts is seen in every lesson") {
  const OffscreenContext context;
  Renderer renderer;
  int shown = 0, number = 0;
  for (const Lesson& lesson : shipped_lessons()) {
    if (number++ % kShare != 0) continue;
    for (const SetUp which : {SetUp::a, SetUp::b}) {
      if (which == SetUp::b && lesson.second.empty()) continue;
      const Scene scene = scene_to_show(lesson, which);
      const Model model = build(scene);
      const Recording recording = run(scene);
      Overlays overlays;
      overlays.centre_of_gravity = overlays.support = overlays.slope_wedge = overlays.labels = false;
      const Camera start = camera_at(CameraPreset::scene, draw(scene, model, recording.states.front(), overlays),
                                     static_cast<double>(kWidth) / kHeight);
      int first = -1;
      for (const State& state : recording.states) {
        Drawing drawing = draw(scene, model, state, overlays);
        if (drawing.rings.empty()) continue;
        if (first < 0)
          for (int i = 0; i < kWheels && first < 0; ++i)
            if (state.wheels[static_cast<std::size_t>(i)].load <= 0) first = i;
        if (first < 0) continue;  // lifted is what carries next to nothing: it may carry a little still
        const WheelState& w = state.wheels[static_cast<std::size_t>(first)];
        const Tyre& tyre = axle_of(scene.vehicle, first).tyre;
        const Vec3 n = ground_at(model.terrain, {w.contact_G.x, w.contact_G.y}).normal;
        const double gap = glm::dot(w.centre_G - w.contact_G, n) - tyre.free_radius;
        if (w.load > 0 || gap < 0.03) continue;  // well clear of the ground: there is something to see
        const Ring* ring = nullptr;
        for (const Ring& one : drawing.rings)
          if (glm::length(one.centre - R_WG(state.slope) * w.centre_G) < 1e-6) ring = &one;
        if (!ring) continue;
        Camera camera = start;
        follow(camera, drawing);
        keep_above_ground(camera, drawing);
        drawing.arrows.clear();
        const Ring lifted = *ring;
        renderer.render(drawing, camera, kWidth, kHeight);
        const double through = unhidden(renderer, camera, lifted, tyre.free_radius, tyre.section_width / 2);
        drawing.rings.clear();  // nothing is marked as lifted: everything is solid
        renderer.render(drawing, camera, kWidth, kHeight);
        const double solid = unhidden(renderer, camera, lifted, tyre.free_radius, tyre.section_width / 2);
        MESSAGE(fmt::format("{} {}: wheel {} at {:.2f} s, {:.0f} % of its outline unhidden, {:.0f} % were all solid",
                            lesson.file.stem().string(), which == SetUp::a ? "A" : "B", first, state.time,
                            100 * through, 100 * solid));
        CHECK(through >= 0.6);
        CHECK(through >= solid);
        ++shown;
        break;
      }
    }
  }
  CHECK(shown >= 8 / kShare);
}
#endif
