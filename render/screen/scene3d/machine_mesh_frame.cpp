// Protective frame: cab with posts, roof and panes, or two posts with a top bar, up or folded. Frame V (shapes.h).
#include <algorithm>
#include <array>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/scene3d/machine_mesh.h"

namespace sidehill::screen {
namespace {

// Corners of the cab on the left side; the right mirrors them.
struct Cab {
  glm::vec3 front_foot, front_knee, front_head, middle_foot, middle_head, rear_foot, rear_head;
  float waist;
  explicit Cab(const BodyShape& s) {
    const float half = std::max(f(s.frame_width) / 2, 0.3f), top = f(s.frame_top) - 0.10f, xf = f(s.frame_x_front),
                xr = f(s.frame_x_rear);
    const float length = xf - xr, floor = f(s.seat.z) - 0.5f;
    waist = std::max(f(s.rear_tyre.radius) * 0.80f, f(s.seat.z) - 0.25f);
    const float narrow = std::min(half * 0.80f, std::max(f(s.bonnet_width) / 2 + 0.05f, 0.3f));
    front_foot = {xf, narrow, floor};
    front_head = {xf - 0.10f * length, half * 0.93f, top};
    front_knee = glm::mix(front_foot, front_head, 0.25f);
    const float inner = std::max(f(s.rear_track) / 2 - f(s.rear_tyre.width) / 2 - 0.05f, 0.25f);
    middle_foot = {xr + 0.42f * length, std::min(half, std::max(inner, 0.3f)), floor + 0.05f};
    middle_head = {xr + 0.40f * length, half, top};
    rear_foot = {xr, std::min(half * 0.95f, std::max(inner + 0.03f, 0.3f)), waist};
    rear_head = {xr - 0.02f * length, half * 0.90f, top};
  }
};

glm::vec3 mirrored(glm::vec3 p, float side) { return {p.x, side * p.y, p.z}; }

void add_cab(MeshBuilder& mesh, const BodyShape& s) {
  const Cab cab(s);
  mesh.paint = paint::kDark;
  for (const float side : {-1.0f, 1.0f}) {
    const auto at = [&](glm::vec3 p) { return mirrored(p, side); };
    mesh.beam(at(cab.front_foot), at(cab.front_head), 0.065f, 0.075f);
    mesh.beam(at(cab.middle_foot), at(cab.middle_head), 0.06f, 0.065f);
    mesh.beam(at(cab.rear_foot), at(cab.rear_head), 0.065f, 0.075f);
    mesh.beam(at(cab.front_foot), at(cab.middle_foot), 0.05f, 0.06f);
    mesh.beam(at(cab.middle_foot), at({cab.middle_foot.x, cab.middle_foot.y, cab.waist}), 0.06f, 0.06f);
    mesh.beam(at({cab.middle_head.x, cab.middle_foot.y, cab.waist}), at(cab.rear_foot), 0.05f, 0.06f);
    mesh.beam(at(cab.front_head), at(cab.rear_head), 0.06f, 0.06f);
    // Mirror on its arm.
    const glm::vec3 arm = at(glm::mix(cab.front_foot, cab.front_head, 0.82f));
    const glm::vec3 glass = arm + glm::vec3(0.12f, side * 0.26f, 0.02f);
    mesh.tube({arm, glass + glm::vec3(0, 0, 0.16f), glass}, 0.013f, 6);
    mesh.box(glass - glm::vec3(0, 0, 0.06f), {0.03f, 0.075f, 0.14f}, 0.02f);
  }
  mesh.beam(mirrored(cab.rear_foot, -1), cab.rear_foot, 0.06f, 0.06f, {1, 0, 0});
  mesh.beam(mirrored(cab.front_head, -1), cab.front_head, 0.06f, 0.06f, {1, 0, 0});
  mesh.beam(mirrored(cab.rear_head, -1), cab.rear_head, 0.06f, 0.06f, {1, 0, 0});
  // Roof: a rounded slab that overhangs the posts.
  mesh.paint = paint::kBody;
  const float x0 = cab.rear_head.x - 0.10f, x1 = cab.front_head.x + 0.17f, half = cab.middle_head.y + 0.03f,
              low = cab.front_head.z + 0.01f, thick = f(s.frame_top) - low;
  std::vector<std::vector<glm::vec3>> rings;
  constexpr int kStations = 8;
  for (int i = 0; i <= kStations; ++i) {
    const float t = static_cast<float>(i) / kStations, e = std::abs(2 * t - 1), fall = std::pow(e, 5.0f);
    const float x = glm::mix(x0, x1, 0.5f + 0.5f * std::copysign(std::pow(e, 0.8f), 2 * t - 1));
    std::vector<glm::vec3> ring;
    constexpr int kRound = 20;
    for (int k = 0; k < kRound; ++k) {
      const float a = 6.2831853f * static_cast<float>(k) / kRound, c = std::cos(a), q = std::sin(a);
      const auto square = [](float v, float p) { return std::copysign(std::pow(std::abs(v), p), v); };
      const float hz = thick * (q > 0 ? 0.78f : 0.22f) * (1 - 0.55f * fall);
      ring.emplace_back(x, half * (1 - 0.13f * fall) * square(c, 0.35f), low + 0.22f * thick + hz * square(q, 0.55f));
    }
    rings.push_back(std::move(ring));
  }
  mesh.skin(rings);
  mesh.paint = paint::kGlassLamp;
  for (const float side : {-1.0f, 1.0f}) {
    mesh.box({x1 - 0.04f, side * half * 0.55f, low + 0.16f * thick}, {0.02f, 0.07f, 0.024f}, 0.01f);
    mesh.box({x0 + 0.04f, side * half * 0.55f, low + 0.16f * thick}, {0.02f, 0.06f, 0.022f}, 0.01f);
  }
  mesh.paint = {236, 160, 40, 120};  // beacon
  mesh.bar({x0 + 0.25f, half * 0.55f, f(s.frame_top) - 0.03f}, {x0 + 0.25f, half * 0.55f, f(s.frame_top) + 0.11f},
           0.05f, 0.042f, 12);
}

void add_two_posts(MeshBuilder& mesh, const BodyShape& s) {
  const float half = std::max(f(s.frame_width) / 2, 0.25f), x = f(s.frame_x_front), top = f(s.frame_top);
  const float foot = 0.05f, hinge = glm::mix(foot, top, 0.5f);
  // Folded, the upper half lies back and down about the hinge.
  const glm::vec3 up = s.frame_folded ? glm::vec3(-0.85f, 0, -0.5f) * (top - hinge) : glm::vec3(0, 0, top - hinge);
  mesh.paint = paint::kDark;
  for (const float side : {-1.0f, 1.0f}) {
    const glm::vec3 h(x, side * half, hinge);
    mesh.beam({x, side * std::min(half, 0.5f), foot}, h, 0.07f, 0.09f);
    mesh.beam(h, h + up, 0.07f, 0.08f);
    mesh.paint = paint::kMid;
    mesh.box(h, {0.07f, 0.05f, 0.07f}, 0.02f);
    mesh.paint = paint::kDark;
  }
  mesh.beam(glm::vec3(x, -half - 0.03f, hinge) + up, glm::vec3(x, half + 0.03f, hinge) + up, 0.08f, 0.07f, {1, 0, 0});
}

}  // namespace

void add_frame(MeshBuilder& mesh, const BodyShape& shape) {
  if (shape.frame == FrameKind::cab) add_cab(mesh, shape);
  if (shape.frame == FrameKind::two_post) add_two_posts(mesh, shape);
}

Mesh cab_glass_mesh(const CabGlassShape& shape, Detail detail) {
  const Cab cab(shape.body);
  MeshBuilder mesh(detail);
  mesh.paint = {170, 190, 200, 220};
  const auto pane = [&](glm::vec3 a, glm::vec3 b, glm::vec3 c, glm::vec3 d) { mesh.ribbon({a, b}, {d, c}); };
  for (const float side : {-1.0f, 1.0f}) {
    const auto at = [&](glm::vec3 p) { return mirrored(p, side); };
    pane(at(cab.front_foot), at(cab.middle_foot), at(cab.middle_head), at(cab.front_head));
    pane(at({cab.middle_foot.x, cab.middle_foot.y, cab.waist}), at(cab.rear_foot), at(cab.rear_head),
         at(cab.middle_head));
  }
  pane(mirrored(cab.front_knee, -1), cab.front_knee, cab.front_head, mirrored(cab.front_head, -1));
  pane(mirrored(cab.rear_foot, -1), cab.rear_foot, cab.rear_head, mirrored(cab.rear_head, -1));
  return mesh.take();
}

}  // namespace sidehill::screen
