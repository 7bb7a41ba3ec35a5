// Front loader, bucket and load, front axle, cast weights, the block on the hitch, added masses.
#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>
#include <numbers>

#include "render/screen/scene3d/machine_mesh.h"

namespace sidehill::screen {
namespace {

// The bucket from the side, frame of the pin: back plate, floor, lip. (x, z)
constexpr float kBackX = 0.06f, kTopZ = 0.52f, kFloorZ = -0.16f, kLipX = 0.84f;

}  // namespace

Mesh front_axle_mesh(const FrontAxleShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const float hub = f(shape.hub_z), half = f(shape.track) / 2, r = f(shape.tyre.radius), w = f(shape.tyre.width);
  const float knuckle = std::max(half - 0.62f * w, 0.15f * half), girth = 0.11f * r + 0.02f;
  const float low = std::min(hub, -girth * 0.6f);  // the beam hangs under its pin
  mesh.paint = paint::kMid;
  mesh.bar({-0.2f, 0, 0}, {0.2f, 0, 0}, 0.065f, 14);  // pivot pin
  mesh.paint = paint::kDark;
  mesh.box({0, 0, low * 0.5f}, {0.11f, 0.11f, std::abs(low) * 0.5f + 0.06f}, 0.03f);
  if (shape.driven) {
    mesh.bar({0, -knuckle, hub}, {0, knuckle, hub}, girth, 16);
    mesh.bar({0, -0.28f, hub}, {0, 0.0f, hub}, girth, girth * 1.7f, 16);  // differential casing
    mesh.bar({0, 0.28f, hub}, {0, 0.0f, hub}, girth, girth * 1.7f, 16);
  } else {
    mesh.beam({0, -knuckle, low}, {0, knuckle, low}, 0.12f, 0.11f, {1, 0, 0});
  }
  for (const float side : {-1.0f, 1.0f}) {
    const float y = side * knuckle;
    mesh.paint = paint::kMid;
    mesh.bar({0, y, std::min(hub, low) - 0.14f * r}, {0, y, std::max(hub, low) + 0.20f * r}, 0.062f, 12);
    mesh.bar({0, y, hub}, {0, side * (half - 0.04f * w), hub}, girth * 1.15f, girth, 14);
    mesh.paint = paint::kSteel;
    mesh.bar({-0.17f * r - 0.05f, side * (knuckle - 0.03f), hub}, {-0.17f * r - 0.05f, 0, hub}, 0.022f,
             8);  // track rod
    mesh.bar({-0.17f * r - 0.06f, side * (knuckle - 0.03f), hub}, {0, y, hub}, 0.026f, 8);
  }
  Mesh made = mesh.take();
  bake_light(made, 0.35f);
  return made;
}

glm::dvec2 ram_on_mast(const LoaderMastShape& shape) { return {0.12, 0.55 * (shape.foot_z - shape.pivot.z)}; }
glm::dvec2 ram_on_boom(const LoaderBoomShape& shape) { return {0.44 * shape.length, 0.05 * shape.length}; }

Mesh loader_mast_mesh(const LoaderMastShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const glm::vec3 pivot(shape.pivot);
  const float gap = f(shape.half_gap), foot = f(shape.foot_z);
  for (const float side : {-1.0f, 1.0f}) {
    mesh.paint = paint::kTrim;
    const float y = side * gap, z = pivot.z;
    mesh.extrude({{pivot.x - 0.09f, z + 0.09f},
                  {pivot.x - 0.12f, z - 0.1f},
                  {pivot.x + 0.02f, foot},
                  {pivot.x + 0.34f, foot},
                  {pivot.x + 0.24f, foot + 0.18f},
                  {pivot.x + 0.10f, z - 0.1f},
                  {pivot.x + 0.08f, z + 0.09f}},
                 y - 0.05f, y + 0.05f);
    mesh.paint = paint::kDark;  // bracket to the chassis
    mesh.box({pivot.x + 0.18f, side * (gap * 0.5f + 0.06f), foot + 0.09f}, {0.13f, gap * 0.5f - 0.04f, 0.08f}, 0.02f);
    mesh.paint = paint::kSteel;
    mesh.bar({pivot.x, y - 0.085f, z}, {pivot.x, y + 0.085f, z}, 0.045f, 12);
  }
  Mesh made = mesh.take();
  bake_light(made, 0.3f);
  return made;
}

Mesh loader_boom_mesh(const LoaderBoomShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const float length = f(shape.length), gap = f(shape.half_gap), thick = 0.055f * length + 0.02f;
  // Line of the boom's middle: out and up to the knee, then down to the pin.
  const glm::vec2 knee(0.60f * length, 0.155f * length);
  for (const float side : {-1.0f, 1.0f}) {
    const float y = side * gap;
    mesh.paint = paint::kTrim;
    const auto limb = [&](glm::vec2 a, glm::vec2 b, float ta, float tb) {
      const glm::vec2 d = glm::normalize(b - a), n(-d.y, d.x);
      mesh.extrude({a - n * ta, b - n * tb, b + n * tb, a + n * ta}, y - 0.048f, y + 0.048f);
    };
    limb({-0.05f, -0.01f}, knee, 0.55f * thick, 0.72f * thick);
    limb(knee + glm::vec2(-0.03f, 0.02f), {length + 0.03f, -0.02f}, 0.72f * thick, 0.42f * thick);
    mesh.paint = paint::kSteel;
    mesh.bar({length, y - 0.075f, 0}, {length, y + 0.075f, 0}, 0.038f, 10);
    const glm::dvec2 ram = ram_on_boom(shape);
    mesh.bar({f(ram.x), y - 0.07f, f(ram.y)}, {f(ram.x), y + 0.07f, f(ram.y)}, 0.035f, 10);
  }
  mesh.paint = paint::kTrim;
  mesh.bar({knee.x + 0.08f * length, -gap, knee.y - 0.03f * length},
           {knee.x + 0.08f * length, gap, knee.y - 0.03f * length}, 0.07f, 14);
  Mesh made = mesh.take();
  bake_light(made, 0.3f);
  return made;
}

Mesh ram_mesh(const RamShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const float length = f(shape.length), bore = f(shape.bore);
  mesh.paint = paint::kDark;
  mesh.bar({0, 0, 0}, {0.58f * length, 0, 0}, bore, 12);
  mesh.paint = paint::kSteel;
  mesh.bar({0.58f * length, 0, 0}, {length, 0, 0}, 0.55f * bore, 10);
  return mesh.take();
}

Mesh bucket_mesh(const BucketShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const float half = f(shape.width) / 2, t = 0.025f;
  mesh.paint = paint::kDark;
  // Shell: outside line there, inside line back. Star-shaped outlines only, so plate by plate.
  const auto plate = [&](glm::vec2 a, glm::vec2 b) {
    const glm::vec2 d = glm::normalize(b - a), n = t / 2 * glm::vec2(-d.y, d.x), e = t / 2 * d;
    mesh.extrude({a - n - e, b - n + e, b + n + e, a + n - e}, -half, half);
  };
  plate({kBackX + 0.14f, kTopZ}, {kBackX, kTopZ - 0.2f});
  plate({kBackX, kTopZ - 0.2f}, {kBackX, 0.0f});
  plate({kBackX, 0.0f}, {kBackX + 0.10f, kFloorZ});
  plate({kBackX + 0.10f, kFloorZ}, {kLipX - 0.12f, kFloorZ - 0.01f});
  for (const float side : {-1.0f, 1.0f})
    mesh.extrude({{kBackX + 0.14f, kTopZ},
                  {kBackX, kTopZ - 0.2f},
                  {kBackX, 0},
                  {kBackX + 0.10f, kFloorZ},
                  {kLipX - 0.12f, kFloorZ},
                  {kLipX - 0.22f, kFloorZ + 0.26f}},
                 side * half - 0.014f, side * half + 0.014f);
  mesh.paint = paint::kSteel;
  plate({kLipX - 0.14f, kFloorZ - 0.012f}, {kLipX, kFloorZ - 0.014f});
  mesh.paint = paint::kTrim;  // hooks
  for (const float side : {-1.0f, 1.0f})
    mesh.box({0.02f, side * std::min(0.5f * half, 0.45f), 0.06f}, {0.06f, 0.05f, 0.12f}, 0.015f);
  Mesh made = mesh.take();
  bake_light(made, 0.5f);
  return made;
}

Mesh heap_mesh(const HeapShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  mesh.paint = {142, 118, 88, 8};
  const float half = f(shape.width) / 2 - 0.02f, full = std::clamp(f(shape.fullness), 0.05f, 1.2f);
  // Rings across the bucket, back to lip: a rounded heap whose height grows with the load.
  std::vector<std::vector<glm::vec3>> rings;
  constexpr int kAcross = 12, kLong = 9;
  for (int i = 0; i <= kAcross; ++i) {
    const float s = -1 + 2 * static_cast<float>(i) / kAcross;
    const float y = half * s, end = std::pow(1 - s * s * s * s, 0.5f);
    std::vector<glm::vec3> ring;
    const float back = kBackX + 0.04f, front = glm::mix(0.45f, kLipX - 0.10f, std::min(full, 1.0f)),
                floor = kFloorZ + 0.01f;
    ring.emplace_back(back + 0.08f, y, floor);
    ring.emplace_back(front, y, floor);
    for (int k = 0; k <= kLong; ++k) {
      const float u = static_cast<float>(k) / kLong, x = glm::mix(front, back, u);
      const float dome = std::sin(std::numbers::pi_v<float> * std::min(1.0f, 0.12f + 0.72f * u));
      const float grain = 0.012f * std::sin(17.0f * x + 23.0f * y) * std::sin(29.0f * y);
      ring.emplace_back(
          x, y, floor + 0.03f + (0.16f + 0.50f * full) * (0.55f + 0.45f * end) * dome * (k == 0 ? 0.1f : 1.0f) + grain);
    }
    rings.push_back(std::move(ring));
  }
  mesh.skin(rings);
  return mesh.take();
}

Mesh front_plates_mesh(const FrontPlatesShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const int count = std::clamp(shape.plates, 1, 24);
  constexpr float kPitch = 0.078f;
  mesh.paint = paint::kDark;
  const float span = kPitch * static_cast<float>(count), back = -0.13f - f(shape.carrier);
  mesh.box({-0.16f, 0, 0.06f}, {0.03f, std::max(span / 2, 0.2f), 0.05f}, 0.01f);
  if (shape.carrier > 0.02) mesh.box({(back - 0.16f) / 2, 0, 0.04f}, {(-0.16f - back) / 2, 0.16f, 0.09f}, 0.02f);
  mesh.paint = paint::kIron;
  for (int i = 0; i < count; ++i) {
    const float y = kPitch * (static_cast<float>(i) - static_cast<float>(count - 1) / 2);
    mesh.extrude({{-0.13f, -0.19f},
                  {0.09f, -0.22f},
                  {0.15f, -0.15f},
                  {0.16f, 0.10f},
                  {0.10f, 0.19f},
                  {0.0f, 0.20f},
                  {-0.04f, 0.13f},
                  {-0.09f, 0.13f},
                  {-0.12f, 0.19f},
                  {-0.17f, 0.16f}},
                 y - 0.43f * kPitch, y + 0.43f * kPitch);
  }
  Mesh made = mesh.take();
  bake_light(made, 0.25f);
  return made;
}

Mesh rear_block_mesh(const RearBlockShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const glm::vec3 half = glm::vec3(shape.size) / 2.0f;
  mesh.paint = paint::kIron;
  mesh.box({0, 0, 0}, half, 0.06f);
  mesh.paint = paint::kTrim;
  for (const float side : {-1.0f, 1.0f})
    mesh.box({0, side * half.y * 0.62f, 0}, {half.x + 0.012f, 0.045f, half.z + 0.012f}, 0.01f);
  mesh.paint = paint::kMid;
  const float arm = f(shape.arms);
  for (const float side : {-1.0f, 1.0f}) {
    mesh.bar({half.x - 0.05f, side * 0.40f, -half.z * 0.45f}, {half.x + arm, side * 0.26f, -half.z * 0.2f}, 0.035f, 8);
    mesh.box({half.x + 0.02f, side * 0.40f, -half.z * 0.45f}, {0.05f, 0.03f, 0.07f}, 0.01f);
  }
  mesh.bar({half.x - 0.02f, 0, half.z * 0.75f}, {half.x + arm, 0, half.z * 0.55f}, 0.03f, 8);
  mesh.box({half.x, 0, half.z * 0.75f}, {0.05f, 0.05f, 0.08f}, 0.01f);
  Mesh made = mesh.take();
  bake_light(made, 0.3f);
  return made;
}

Mesh mass_mesh(const MassShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  mesh.paint = paint::kIron;
  const float half = f(shape.edge) / 2;
  mesh.box({0, 0, 0}, glm::vec3(half), 0.15f * half);
  mesh.paint = paint::kTrim;
  mesh.box({0, 0, 0}, {half * 1.02f, half * 1.02f, half * 0.12f}, 0.0f);
  return mesh.take();
}

}  // namespace sidehill::screen
