// Tyre with lugs or ribs, rim, hub, see-through sidewall, the cavity for the liquid, wheel weights. Frame H (shapes.h);
// everything is made for a left wheel and mirrored for a right one.
#include <algorithm>
#include <cmath>
#include <glm/ext/matrix_transform.hpp>
#include <glm/geometric.hpp>

#include "render/screen/scene3d/machine_mesh.h"

namespace sidehill::screen {
namespace {

// Measures in single precision, kept within reason.
struct Section {
  float radius, rim, half_width, lug;  // lug: height of lugs or ribs
  explicit Section(const TyreMeasures& t) {
    radius = std::clamp(static_cast<float>(t.radius), 0.05f, 5.0f);
    rim = std::clamp(static_cast<float>(t.rim_radius), 0.3f * radius, 0.85f * radius);
    half_width = std::clamp(static_cast<float>(t.width) / 2, 0.02f, 1.0f * radius);
    lug = t.ribbed ? 0.022f * radius : std::min(0.055f * radius, 0.3f * (radius - rim));
  }
  // Outside of the carcass: u from -1 (inner bead) over 0 (middle of the tread) to 1 (outer bead) -> (y, radius).
  glm::vec2 at(float u) const {
    // Bead, bulge, shoulder, tread: place along the section, share of half width, share of section height. Our own
    // drawing.
    static constexpr std::array<glm::vec3, 10> kProfile = {{{0.00f, 0.70f, 0.00f},
                                                            {0.09f, 0.82f, 0.10f},
                                                            {0.20f, 0.95f, 0.27f},
                                                            {0.32f, 1.00f, 0.47f},
                                                            {0.44f, 0.985f, 0.66f},
                                                            {0.54f, 0.935f, 0.81f},
                                                            {0.62f, 0.86f, 0.905f},
                                                            {0.70f, 0.74f, 0.957f},
                                                            {0.84f, 0.42f, 0.990f},
                                                            {1.00f, 0.00f, 1.000f}}};
    const float t = 1 - std::abs(u);
    std::size_t k = 0;
    while (k + 2 < kProfile.size() && t > kProfile[k + 1].x) ++k;
    const float f = (t - kProfile[k].x) / (kProfile[k + 1].x - kProfile[k].x);
    const float y = glm::mix(kProfile[k].y, kProfile[k + 1].y, f) * half_width;
    return {std::copysign(y, u), rim + (radius - lug - rim) * glm::mix(kProfile[k].z, kProfile[k + 1].z, f)};
  }
  glm::vec2 inside(float u, float wall) const {
    const glm::vec2 p = at(u), middle(0, (rim + radius) / 2);
    return p + (middle - p) * (wall / std::max(glm::length(middle - p), wall));
  }
};

constexpr float kShoulder = 0.42f;  // where the see-through part of the outer sidewall begins
constexpr int kSegments = 40;

glm::mat4 side_of(bool left) { return left ? glm::mat4(1) : glm::scale(glm::mat4(1), glm::vec3(1, -1, 1)); }

void add_lugs(MeshBuilder& mesh, const Section& s) {
  const int count = std::clamp(static_cast<int>(std::lround(kTurn * s.radius / 0.265f)), 12, 26);
  const int steps = mesh.detail == Detail::full ? 3 : 1;
  const float sweep = 1.05f * s.half_width / s.radius;
  const float thickness = 0.19f * kTurn * s.radius / static_cast<float>(count);
  for (const float side : {-1.0f, 1.0f}) {
    for (int i = 0; i < count; ++i) {
      const float start = kTurn * (static_cast<float>(i) + (side > 0 ? 0.5f : 0.0f)) / static_cast<float>(count);
      std::vector<std::vector<glm::vec3>> rings;
      for (int k = 0; k <= steps; ++k) {
        const float f = static_cast<float>(k) / static_cast<float>(steps);
        const glm::vec2 skin = s.at(side * (-0.03f + 0.46f * f));
        // The middle end runs ahead when rolling forwards, so it meets the ground first.
        const float angle = start + sweep * (f - 0.25f * f * f);
        const float height = s.lug * (f > 0.9f ? 0.72f : 1.0f);
        const auto point = [&](float across, float up) {
          const float a = angle + across / s.radius;
          const float r = skin.y + up;
          return glm::vec3(r * std::cos(a), skin.x, r * std::sin(a));
        };
        const float half = thickness / 2;
        rings.push_back({point(-half * 1.25f, -0.02f * s.radius), point(half * 1.25f, -0.02f * s.radius),
                         point(half * 0.8f, height), point(-half * 0.8f, height)});
      }
      mesh.skin(rings);
    }
  }
}

void add_ribs(MeshBuilder& mesh, const Section& s) {
  for (const float y : {-0.62f, 0.0f, 0.62f}) {
    const float half = 0.13f * s.half_width, r = s.at(0).y - (y == 0 ? 0 : 0.02f * s.radius),
                foot = r - 0.03f * s.radius;
    const float c = y * s.half_width;
    mesh.lathe({{c - half * 1.4f, foot},
                {c - half, r + s.lug},
                {c + half, r + s.lug},
                {c + half * 1.4f, foot},
                {c - half * 1.4f, foot}},
               kSegments);
  }
}

void add_carcass(MeshBuilder& mesh, const Section& s, bool open) {
  std::vector<glm::vec2> profile;
  const float end = open ? kShoulder : 1.0f, wall = std::min(0.022f, 0.2f * s.half_width);
  const bool full = mesh.detail == Detail::full;
  const int steps = full ? (open ? 12 : 16) : (open ? 8 : 10), inside_step = full ? 2 : 4;
  for (int i = 0; i <= steps; ++i)
    profile.push_back(s.at(-1 + (end + 1) * static_cast<float>(i) / static_cast<float>(steps)));
  for (int i = steps; i >= 0; i -= inside_step)
    profile.push_back(
        s.inside(-0.98f + (end - 0.01f + 0.98f) * static_cast<float>(i) / static_cast<float>(steps), wall));
  profile.push_back(profile.front());
  mesh.lathe(profile, kSegments);
}

// Barrel, dished disc with hand holes, hub with its flange, bolts, valve.
void add_rim(MeshBuilder& mesh, const Section& s) {
  const float h = s.half_width, r = s.rim, t = 0.03f * r;
  mesh.paint = paint::kRim;
  // Barrel with a flange on each side.
  mesh.lathe({{-0.72f * h, r + 1.6f * t},
              {-0.66f * h, r + 1.6f * t},
              {-0.62f * h, r},
              {-0.2f * h, r - 1.2f * t},
              {0.3f * h, r - 1.2f * t},
              {0.62f * h, r},
              {0.68f * h, r + 1.8f * t},
              {0.75f * h, r + 1.6f * t},
              {0.72f * h, r - 0.6f * t},
              {0.6f * h, r - 1.4f * t},
              {0.3f * h, r - 2.6f * t},
              {-0.3f * h, r - 2.6f * t},
              {-0.72f * h, r - 0.6f * t},
              {-0.72f * h, r + 1.6f * t}},
             kSegments);
  // Dished disc.
  mesh.lathe({{0.02f * h, 0},
              {0.02f * h, 0.45f * r},
              {0.20f * h, 0.62f * r},
              {0.10f * h, 0.80f * r},
              {0.02f * h, r - 2.0f * t},
              {-0.10f * h, r - 2.0f * t},
              {0.02f * h, 0.78f * r},
              {0.10f * h, 0.62f * r},
              {-0.08f * h, 0.45f * r},
              {-0.08f * h, 0}},
             kSegments * 2 / 3);
  // Hand holes in the cone of the disc: dark plates that lie on it.
  mesh.paint = paint::kBlack;
  const glm::mat4 side = mesh.place;
  for (int i = 0; i < 6; ++i) {
    mesh.place = glm::rotate(side, kTurn * (static_cast<float>(i) + 0.25f) / 6, glm::vec3(0, 1, 0));
    const float lean = 0.10f * h / (0.18f * r);  // of the cone, across the plate
    const auto plate = [&](float from, float to, float half, float lift) {
      const float y0 = 0.20f * h - lean * (from - 0.62f * r) + lift, y1 = 0.20f * h - lean * (to - 0.62f * r) + lift;
      return std::vector<glm::vec3>{
          {from, y0, -0.75f * half}, {to, y1, -half}, {to, y1, half}, {from, y0, 0.75f * half}};
    };
    mesh.skin(
        {plate(0.655f * r, 0.765f * r, 0.085f * r, -0.01f * r), plate(0.655f * r, 0.765f * r, 0.085f * r, 0.014f * r)});
  }
  mesh.place = side;
  mesh.paint = paint::kMid;
  mesh.lathe({{0.0f, 0}, {0.0f, 0.30f * r}, {0.30f * h, 0.27f * r}, {0.42f * h, 0.20f * r}, {0.44f * h, 0}}, 20);
  if (mesh.detail == Detail::coarse) return;
  mesh.paint = paint::kSteel;
  for (int i = 0; i < 8; ++i) {
    const float a = kTurn * (static_cast<float>(i) + 0.5f) / 8, q = 0.38f * r;
    const glm::vec3 c(q * std::cos(a), 0.0f, q * std::sin(a));
    mesh.bar(c, c + glm::vec3(0, 0.09f * h, 0), 0.035f * r, 6);
  }
  // Valve.
  mesh.bar({0, 0.5f * h, r - 1.8f * t}, {0, 0.80f * h, r - 0.9f * t}, 0.012f, 6);
}

}  // namespace

Mesh wheel_mesh(const WheelShape& shape, Detail detail) {
  const Section s(shape.tyre);
  MeshBuilder mesh(detail);
  mesh.place = side_of(shape.left);
  mesh.paint = paint::kRubber;
  add_carcass(mesh, s, shape.open_sidewall);
  mesh.paint = paint::kLug;
  if (shape.tyre.ribbed)
    add_ribs(mesh, s);
  else
    add_lugs(mesh, s);
  add_rim(mesh, s);
  Mesh made = mesh.take();
  bake_light(made, 0.4f * s.radius);
  return made;
}

Mesh front_guard_mesh(const FrontGuardShape& shape, Detail detail) {
  const Section s(shape.tyre);
  MeshBuilder mesh(detail);
  mesh.place = side_of(shape.left);
  const float radius = s.radius + 0.07f + 0.03f * s.radius, half = s.half_width * 0.92f;
  const int steps = detail == Detail::full ? 16 : 9;
  std::vector<std::vector<glm::vec3>> rings;
  for (int i = 0; i <= steps; ++i) {
    const float a = glm::mix(0.42f, 2.45f, static_cast<float>(i) / static_cast<float>(steps)), c = std::cos(a),
                q = std::sin(a);
    const auto at = [&](float y, float r) { return glm::vec3(r * c, y, r * q); };
    rings.push_back({at(-half, radius - 0.045f), at(-half + 0.05f, radius - 0.014f), at(half - 0.05f, radius - 0.014f),
                     at(half, radius - 0.045f), at(half, radius - 0.02f), at(half - 0.06f, radius + 0.012f),
                     at(-half + 0.06f, radius + 0.012f), at(-half, radius - 0.02f)});
  }
  mesh.paint = paint::kGuard;
  mesh.skin(rings);
  mesh.paint = paint::kDark;  // the bracket comes up from the hub inside the wheel
  const float inside = -s.half_width - 0.05f;
  mesh.tube({{0, inside, 0.1f * s.radius}, {0, inside, 0.9f * radius}, {0, -half + 0.08f, radius - 0.025f}}, 0.028f, 8);
  Mesh made = mesh.take();
  bake_light(made, 0.3f);
  return made;
}

Mesh sidewall_mesh(const SidewallShape& shape, Detail detail) {
  const Section s(shape.tyre);
  MeshBuilder mesh(detail);
  mesh.place = side_of(shape.left);
  mesh.paint = {150, 165, 176, 200};
  std::vector<glm::vec2> profile;
  constexpr int kSteps = 6;
  for (int i = 0; i <= kSteps; ++i)
    profile.push_back(s.at(kShoulder + (1 - kShoulder) * static_cast<float>(i) / kSteps));
  // Walking from shoulder to bead the open side must lie outside for a left wheel; mirrored, walk back.
  if (!shape.left) std::reverse(profile.begin(), profile.end());
  mesh.open_lathe(profile, kSegments);
  return mesh.take();
}

Mesh liquid_mesh(const LiquidShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  mesh.paint = {255, 255, 255, 160};
  const float inner = static_cast<float>(shape.inner_radius), outer = static_cast<float>(shape.outer_radius);
  const float middle = (inner + outer) / 2, half_height = (outer - inner) / 2,
              half_width = static_cast<float>(shape.width) / 2;
  std::vector<glm::vec2> profile;
  constexpr int kPoints = 14;
  for (int i = 0; i <= kPoints; ++i) {
    // A little fuller than an ellipse, as a tyre is; the level is vehicles/cavity's.
    const float a = kTurn * static_cast<float>(i % kPoints) / kPoints, c = std::cos(a), q = std::sin(a);
    const auto full = [](float v) { return std::copysign(std::pow(std::abs(v), 0.8f), v); };
    profile.emplace_back(half_width * full(c), middle + half_height * full(q));
  }
  mesh.lathe(profile, 44);
  return mesh.take();
}

Mesh wheel_weight_mesh(const WheelWeightShape& shape, Detail detail) {
  const Section s(shape.tyre);
  MeshBuilder mesh(detail);
  mesh.place = side_of(shape.left);
  mesh.paint = paint::kIron;
  const float r = s.rim, t = std::min(0.06f, 0.9f * s.half_width / static_cast<float>(std::max(shape.discs, 1)));
  float y = 0.22f * s.half_width;
  for (int i = 0; i < shape.discs; ++i, y += t) {
    const float e = 0.1f * t;
    mesh.lathe({{y, 0.34f * r},
                {y, 0.80f * r},
                {y + 0.3f * t, 0.84f * r},
                {y + t - e, 0.84f * r},
                {y + t - e, 0.34f * r},
                {y, 0.34f * r}},
               36);
  }
  mesh.paint = paint::kSteel;
  for (int i = 0; i < 4; ++i) {
    const float a = kTurn * static_cast<float>(i) / 4, q = 0.60f * r;
    mesh.bar({q * std::cos(a), y - 0.5f * t, q * std::sin(a)}, {q * std::cos(a), y + 0.02f, q * std::sin(a)}, 0.04f * r,
             6);
  }
  Mesh made = mesh.take();
  bake_light(made, 0.2f);
  return made;
}

}  // namespace sidehill::screen
