// What the machine carries and draws: implement, trailer, round tank, ropes and the stake one is tied to.
#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/scene3d/machine_mesh.h"

namespace sidehill::screen {
Mesh implement_mesh(const ImplementShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const float half = std::max(f(shape.width) / 2, 0.1f);
  // The model's box: 0.8 m long, 0.7 m high, nine tenths of the width.
  mesh.paint = paint::kTrim;
  mesh.box({0.24f, 0, 0.02f}, {0.07f, half, 0.07f}, 0.02f);
  mesh.box({-0.26f, 0, 0.02f}, {0.06f, half, 0.06f}, 0.02f);
  for (const float side : {-1.0f, 1.0f}) {
    mesh.box({-0.01f, side * (half - 0.05f), 0.0f}, {0.36f, 0.025f, 0.14f}, 0.01f);
    mesh.box({-0.01f, side * std::min(0.4f, 0.5f * half), 0.02f}, {0.27f, 0.04f, 0.05f}, 0.01f);
  }
  mesh.paint = paint::kBody;
  mesh.box({-0.02f, 0, 0.17f}, {0.20f, 0.8f * half, 0.10f}, 0.04f);
  mesh.paint = paint::kMid;  // tower for the top link
  for (const float side : {-1.0f, 1.0f})
    mesh.beam({0.26f, side * std::min(0.3f, 0.4f * half), 0.05f}, {0.30f, side * 0.04f, 0.45f}, 0.05f, 0.04f);
  mesh.paint = paint::kIron;  // tines
  const int tines = std::clamp(static_cast<int>(std::lround(shape.width / 0.28)), 2, 40);
  for (int i = 0; i < tines; ++i) {
    const float y = half * (-0.94f + 1.88f * (static_cast<float>(i) + 0.5f) / static_cast<float>(tines));
    const float x = i % 2 == 0 ? 0.24f : -0.26f;
    mesh.beam({x, y, 0.0f}, {x - 0.10f, y, -0.22f}, 0.03f, 0.05f);
    mesh.beam({x - 0.10f, y, -0.20f}, {x + 0.02f, y, -0.35f}, 0.04f, 0.03f);
  }
  if (shape.arms > 0.02) {
    mesh.paint = paint::kMid;
    const float to = 0.30f + f(shape.arms);
    for (const float side : {-1.0f, 1.0f})
      mesh.bar({0.28f, side * std::min(0.40f, 0.8f * half), -0.02f}, {to, side * 0.26f, -0.12f}, 0.035f, 8);
    mesh.bar({0.30f, 0, 0.42f}, {to, 0, 0.22f}, 0.03f, 8);
  }
  Mesh made = mesh.take();
  bake_light(made, 0.3f);
  return made;
}

Mesh trailer_mesh(const TrailerShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const float s = std::clamp(f(shape.size), 0.3f, 3.0f), r = f(shape.wheel_radius);
  const float half = 1.0f * s, ahead = 1.55f * s, behind = -1.85f * s, floor = r + 0.12f, high = floor + 0.62f * s;
  const float middle = (ahead + behind) / 2, length = (ahead - behind) / 2;
  mesh.paint = paint::kDark;
  for (const float side : {-1.0f, 1.0f})
    mesh.box({middle, side * 0.45f * s, floor - 0.09f}, {length, 0.05f, 0.08f}, 0.01f);
  mesh.bar({0, -half, 0}, {0, half, 0}, 0.06f, 12);
  for (const float side : {-1.0f, 1.0f})
    mesh.box({0, side * 0.45f * s, (floor - 0.1f) / 2}, {0.09f, 0.05f, (floor - 0.1f) / 2}, 0.01f);
  const glm::vec3 eye(f(shape.hitch.x), 0, f(shape.hitch.y));
  for (const float side : {-1.0f, 1.0f}) mesh.beam({ahead - 0.1f, side * 0.45f * s, floor - 0.09f}, eye, 0.08f, 0.09f);
  mesh.bar(eye - glm::vec3(0.04f, 0, 0.05f), eye - glm::vec3(0.04f, 0, -0.05f), 0.075f, 12);
  mesh.paint = paint::kBody;
  mesh.box({middle, 0, floor}, {length, half, 0.035f}, 0.01f);
  for (const float side : {-1.0f, 1.0f})
    mesh.box({middle, side * (half - 0.02f), (floor + high) / 2}, {length, 0.025f, (high - floor) / 2}, 0.01f);
  for (const float x : {ahead - 0.02f, behind + 0.02f})
    mesh.box({x, 0, (floor + high) / 2}, {0.025f, half - 0.03f, (high - floor) / 2}, 0.01f);
  mesh.paint = paint::kTrim;  // posts outside
  for (const float side : {-1.0f, 1.0f})
    for (int i = 0; i < 5; ++i) {
      const float x = behind + 0.03f + (2 * length - 0.06f) * static_cast<float>(i) / 4;
      mesh.box({x, side * (half + 0.02f), (floor + high) / 2}, {0.035f, 0.025f, (high - floor) / 2 + 0.02f}, 0.008f);
    }
  mesh.paint = {142, 118, 88, 8};  // what lies in it
  mesh.box({middle, 0, floor + 0.40f * (high - floor) + 0.02f}, {length - 0.05f, half - 0.05f, 0.40f * (high - floor)},
           0.06f);
  Mesh made = mesh.take();
  bake_light(made, 0.5f);
  return made;
}

Mesh tank_mesh(const TankShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const float r = std::max(f(shape.radius), 0.05f), half = std::max(f(shape.length) / 2, 0.05f);
  const float bulge = std::min(0.18f * r, 0.5f * half);
  // Turned about y, laid along x.
  mesh.place = glm::mat4(0.0f);
  mesh.place[0] = {0, 1, 0, 0};
  mesh.place[1] = {1, 0, 0, 0};
  mesh.place[2] = {0, 0, 1, 0};
  mesh.place[3] = {0, 0, 0, 1};
  mesh.paint = paint::kBody;
  mesh.lathe({{-half - bulge, 0},
              {-half - 0.8f * bulge, 0.45f * r},
              {-half - 0.3f * bulge, 0.85f * r},
              {-half + 0.1f * bulge, r},
              {half - 0.1f * bulge, r},
              {half + 0.3f * bulge, 0.85f * r},
              {half + 0.8f * bulge, 0.45f * r},
              {half + bulge, 0}},
             36);
  mesh.paint = paint::kTrim;  // bands, and the lid
  for (const float y : {-0.55f * half, 0.55f * half})
    mesh.lathe({{y - 0.03f, r * 0.99f},
                {y - 0.03f, r * 1.025f},
                {y + 0.03f, r * 1.025f},
                {y + 0.03f, r * 0.99f},
                {y - 0.03f, r * 0.99f}},
               36);
  mesh.place = glm::mat4(1);
  mesh.bar({0, 0, 0.9f * r}, {0, 0, 1.12f * r}, 0.3f * r, 16);
  Mesh made = mesh.take();
  bake_light(made, 0.3f);
  return made;
}

Mesh bar_mesh(const BarShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  mesh.paint = shape.rope ? paint::kRope : paint::kMid;
  mesh.bar({0, 0, 0}, {std::max(f(shape.length), 0.01f), 0, 0}, std::max(f(shape.radius), 0.005f), shape.rope ? 8 : 24);
  return mesh.take();
}

Mesh mound_mesh(const MoundShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const float r = std::clamp(f(shape.radius), 0.05f, 3.0f), high = 0.5f * r;
  mesh.paint = {150, 116, 82, 8};
  mesh.place = glm::mat4(0.0f);  // turned about y, set upright
  mesh.place[0] = {0, 1, 0, 0};
  mesh.place[1] = {0, 0, 1, 0};
  mesh.place[2] = {1, 0, 0, 0};
  mesh.place[3] = {0, 0, 0, 1};
  mesh.lathe({{-0.1f, 0},
              {-0.1f, r},
              {0.12f * high, 0.93f * r},
              {0.5f * high, 0.55f * r},
              {0.86f * high, 0.24f * r},
              {high, 0}},
             22);
  return mesh.take();
}

Mesh stake_mesh(const StakeShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  mesh.paint = paint::kWood;
  mesh.bar({0, 0, -0.2f}, {0, 0, f(shape.height)}, 0.06f, 0.075f, 10);
  mesh.paint = paint::kRope;
  mesh.bar({0, 0, 0.02f}, {0, 0, 0.10f}, 0.085f, 10);
  return mesh.take();
}

}  // namespace sidehill::screen
