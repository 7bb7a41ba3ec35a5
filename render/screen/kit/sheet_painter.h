// Draws a sheet of the printed page (render/page/sheet.h) on Dear ImGui's draw list, so that a chart of the page is the
// same chart in the window. Knows no chart, no Session, no OpenGL.
#pragma once
#include <imgui.h>

#include <array>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include "render/namespaces.h"
#include "render/page/sheet.h"
#include "render/screen/kit/fonts.h"

namespace sidehill::screen {

// Height of a line of these letters over their em: ascent 0.969 and descent 0.242.
constexpr float kLineOfEm = 1.21f;

struct SheetPlace {
  ImVec2 corner;     // of the sheet's upper left [px]
  double scale = 1;  // pixels a point
};

// The paper itself is not drawn. Words keep their typeface's nearest size in the atlas where that is within a tenth of
// the size asked for, so that they stay sharp; else they are scaled. A hatch line may stand out of its path by half its
// own width.
void paint_sheet(ImDrawList& list, const Fonts& fonts, const PageSheet& sheet, const SheetPlace& place);

// A polygon without crossings, bent inwards or not, cut into triangles: three of its corners each. Fewer than it should
// be where it crosses itself; none below three corners.
std::vector<std::array<std::size_t, 3>> triangles_of(std::span<const PagePoint> corners);

// The dashes of a line [pt], each with its bends.
std::vector<std::vector<PagePoint>> dashes_of(std::span<const PagePoint> line, std::span<const double> lengths);

// What of the slanted line x - y = `across` lies inside a polygon, from edge to edge.
std::vector<std::pair<PagePoint, PagePoint>> cuts_of(std::span<const PagePoint> corners, double across);

}  // namespace sidehill::screen
