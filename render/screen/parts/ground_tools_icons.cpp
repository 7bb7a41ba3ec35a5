// Signs of the tools: the thing cut through, standing on a line of ground.
#include <algorithm>
#include <array>
#include <cmath>

#include "render/screen/parts/ground_tools.h"
#include "sim/base/constants.h"

namespace sidehill::screen {
namespace {

// Height over the ground line, -1 to 1, at x from -1 to 1.
double profile(Tool tool, double x) {
  const auto hump = [&](double from, double to) {
    return x <= from || x >= to ? 0.0 : 0.5 - 0.5 * std::cos(2 * kPi * (x - from) / (to - from));
  };
  switch (tool) {
    case Tool::bump:
      return hump(-0.6, 0.6);
    case Tool::hole:
      return -std::min(1.0, 2.5 * hump(-0.7, 0.7));
    case Tool::ditch:
      return -std::clamp(1.5 * (1 - std::abs(x) / 0.7), 0.0, 1.0);
    case Tool::stump:
      return std::abs(x) < 0.28 ? 1.0 : 0.0;
    case Tool::ridge:
      return 0.75 * std::clamp(1.5 * (1 - std::abs(x) / 0.95), 0.0, 1.0);
    case Tool::ramp:
      return x < -0.9 || x > 0.75 ? 0.0 : std::min((x + 0.9) / 1.3, 1.0);
    case Tool::kerb:
      return x > -0.15 ? 0.6 : 0.0;
    case Tool::rough:
      return 0.35 + 0.3 * std::sin(5.1 * x) + 0.25 * std::sin(11.3 * x + 1);
    case Tool::look:
    case Tool::move:
      break;
  }
  return 0;
}

}  // namespace

void draw_tool_icon(ImDrawList& list, Tool tool, ImVec2 middle, float size, ImU32 ink) {
  const float r = size / 2, w = std::max(1.5f, size / 13);
  const auto at = [&](double x, double y) {
    return ImVec2(middle.x + static_cast<float>(x) * r, middle.y - static_cast<float>(y) * r);
  };
  if (tool == Tool::look) {  // an eye
    for (const double side : {1.0, -1.0}) {
      for (int i = 0; i <= 12; ++i) {
        const double x = -1 + i / 6.0;
        list.PathLineTo(at(x, side * 0.62 * (1 - x * x)));
      }
      list.PathStroke(ink, 0, w);
    }
    list.AddCircleFilled(middle, 0.28f * r, ink, 16);
    return;
  }
  if (tool == Tool::move) {  // four arrows
    for (const auto& [x, y] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}}) {
      list.AddLine(middle, at(0.7 * x, 0.7 * y), ink, w);
      list.AddTriangleFilled(at(x, y), at(0.62 * x + 0.3 * y, 0.62 * y + 0.3 * x),
                             at(0.62 * x - 0.3 * y, 0.62 * y - 0.3 * x), ink);
    }
    return;
  }
  const double ground = tool == Tool::hole || tool == Tool::ditch ? 0.35 : -0.4;
  constexpr int kParts = 40;
  std::array<ImVec2, kParts + 1> line;
  for (int i = 0; i <= kParts; ++i) {
    const double x = -1 + 2.0 * i / kParts;
    line[static_cast<std::size_t>(i)] = at(x, ground + 0.95 * profile(tool, x));
  }
  // The earth below, lightly, so that up and down are clear at a glance.
  const ImU32 earth = (ink & ~IM_COL32_A_MASK) | (70u << IM_COL32_A_SHIFT);
  const ImDrawListFlags flags = list.Flags;
  list.Flags &= ~ImDrawListFlags_AntiAliasedFill;  // neighbours would show their seams
  for (std::size_t i = 0; i < kParts; ++i)
    list.AddQuadFilled(line[i], line[i + 1], {line[i + 1].x, at(0, -0.95).y}, {line[i].x, at(0, -0.95).y}, earth);
  list.Flags = flags;
  list.AddPolyline(line.data(), kParts + 1, ink, 0, w);
}

}  // namespace sidehill::screen
