// Over the picture: bucket height by load as a map, each cell with what gives way first there, what is over a limit and
// which counterweight it needs; the scene's own point in it, to be dragged. The numbers are those of `sidehill loader`.
// Knows Dear ImGui, the desk and the map's threads.
#pragma once
#include "render/screen/background/loader_map.h"
#include "render/screen/desk/verdict.h"
#include "render/screen/panels/panels.h"

namespace sidehill::screen {

// What the cells say.
enum class LoaderCells { first, counterweight, front, rear };

struct LoaderMapDrawer {
  LoaderMap map;
  LoaderCells cells = LoaderCells::first;
  std::optional<std::pair<std::size_t, std::size_t>> pointed;  // height and load of the cell under the mouse
  Rect plot;                                                   // the cells, as drawn last [px]
  float top = 0;  // of the drawer, as drawn last: it stays while the mouse holds the point [px]
};

void draw_loader_map(Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout);

// Two lines for a cell: "18.2°" and "slides"; what is not known yet stands in brackets.
struct LoaderCellMark {
  std::string number, word;
  Tone tone = Tone::unknown;
};
LoaderCellMark mark_of(const Scene& scene, const LoaderCell* cell, const LoaderDoubt* doubt, LoaderCells what,
                       Units units);

}  // namespace sidehill::screen
