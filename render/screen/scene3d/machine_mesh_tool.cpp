// What hangs on the loader in place of the bucket, and bales. Measures as in vehicles/loader_tool.h.
#include <algorithm>

#include "render/screen/scene3d/machine_mesh.h"
#include "vehicles/loader_tool.h"

namespace sidehill::screen {
namespace {

// Upright frame against the loader's hooks: two posts and three rails.
void add_carriage(MeshBuilder& mesh, float half, float back, float low, float high) {
  mesh.paint = paint::kDark;
  for (const float side : {-1.0f, 1.0f})
    mesh.box({back - 0.06f, side * (half - 0.04f), (low + high) / 2}, {0.03f, 0.04f, (high - low) / 2}, 0.01f);
  for (const float z : {low + 0.05f, (low + high) / 2, high - 0.05f})
    mesh.box({back - 0.06f, 0, z}, {0.035f, half, 0.045f}, 0.01f);
  mesh.paint = paint::kTrim;  // hooks
  for (const float side : {-1.0f, 1.0f})
    mesh.box({back / 2 - 0.04f, side * std::min(0.6f * half, 0.45f), 0.06f}, {back / 2, 0.05f, 0.1f}, 0.015f);
}

}  // namespace

Mesh tool_mesh(const ToolShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const ToolMeasures& tool = tool_measures(shape.tool);
  const float half = f(tool.size.y * shape.width) / 2, back = f(tool.back), tip = f(tool.tip), under = f(tool.under),
              line = f(tool.line);
  switch (shape.tool) {
    case LoaderTool::bucket:
      return bucket_mesh({shape.width}, detail);
    case LoaderTool::pallet_forks:
      add_carriage(mesh, half, back, under, 0.5f);
      mesh.paint = paint::kSteel;
      for (const float side : {-1.0f, 1.0f}) {
        const float y = side * std::min(0.6f * half, 0.32f);
        mesh.extrude({{back - 0.04f, line - 0.045f}, {tip, line - 0.015f}, {tip, line}, {back - 0.04f, line}},
                     y - 0.06f, y + 0.06f);
        mesh.box({back - 0.015f, y, 0.2f}, {0.02f, 0.06f, 0.3f}, 0.0f);
      }
      break;
    case LoaderTool::bale_spike:
      add_carriage(mesh, half, back, under, 0.45f);
      mesh.paint = paint::kSteel;
      mesh.bar({back - 0.04f, 0, line}, {tip, 0, line}, 0.028f, 0.006f, 12);
      for (const float side : {-1.0f, 1.0f}) {
        const float y = side * 0.6f * half;
        mesh.bar({back - 0.04f, y, line - 0.1f}, {back + 0.4f, y, line - 0.1f}, 0.02f, 0.005f, 10);
      }
      break;
    case LoaderTool::grapple: {
      constexpr int kTines = 6;
      add_carriage(mesh, half, back, under, 0.4f);
      for (int i = 0; i < kTines; ++i) {
        const float y = (half - 0.05f) * (2 * static_cast<float>(i) / (kTines - 1) - 1);
        mesh.paint = paint::kDark;
        mesh.beam({back - 0.05f, y, line - 0.01f}, {tip - 0.1f, y, line}, 0.04f, 0.05f);
        mesh.beam({tip - 0.12f, y, line}, {tip, y, line + 0.08f}, 0.04f, 0.04f);
        if (i % 2 == 0) continue;  // upper jaws over every other tine
        mesh.paint = paint::kTrim;
        mesh.beam({back - 0.04f, y, 0.38f}, {0.55f * tip, y, 0.72f}, 0.05f, 0.06f);
        mesh.beam({0.55f * tip - 0.02f, y, 0.72f}, {tip - 0.05f, y, 0.42f}, 0.05f, 0.05f);
      }
      break;
    }
  }
  Mesh made = mesh.take();
  bake_light(made, 0.35f);
  return made;
}

Mesh bale_mesh(const BaleShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  const glm::vec3 half = glm::vec3(shape.size) / 2.0f;
  const int rings = 4;
  mesh.paint = paint::kStraw;
  if (shape.round)
    mesh.bar({-half.x, 0, 0}, {half.x, 0, 0}, half.z, 40);
  else
    mesh.box({0, 0, 0}, half, 0.03f);
  mesh.paint = paint::kTwine;  // net or string round it
  for (int i = 0; i < rings; ++i) {
    const float s = (2 * static_cast<float>(i) + 1) / rings - 1;
    if (shape.round)
      mesh.bar({s * half.x - 0.012f, 0, 0}, {s * half.x + 0.012f, 0, 0}, half.z + 0.006f, 40);
    else
      mesh.box({0, s * half.y, 0}, {half.x + 0.006f, 0.012f, half.z + 0.006f}, 0.0f);
  }
  return mesh.take();
}

}  // namespace sidehill::screen
