// Labels of a Drawing as small dark pills with leader lines, moved apart and kept inside the view. Layout is plain
// numbers and can be tested; only draw_labels knows Dear ImGui.
#pragma once
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/scene3d/camera.h"
#include "render/screen/scene3d/drawing.h"

struct ImDrawList;

namespace sidehill::screen {

// Rectangle in pixels, y down.
struct ViewRect {
  double x = 0, y = 0, width = 0, height = 0;
};

struct PlacedLabel {
  const Label* label = nullptr;
  glm::dvec2 anchor{0.0};  // where its leader starts [px]
  ViewRect pill;           // never overlaps another pill, never leaves the view
  bool leader = false;     // far enough from its anchor to need a line
};

// Places all labels whose anchor is in front of the eye. `size_of` gives a text's size [px]. Labels that find no free
// place are left out, least important first; a `lifted` label is never the first to go.
// Labels of a second machine (render/screen/scene3d/ghost) find their places after those of the first of the same rank.
// No pill covers the disc of the centre of gravity, its plumb line and foot, a lifted wheel, or a rectangle of `taken`
// (the buttons on the picture).
std::vector<PlacedLabel> place_labels(const Drawing& drawing, const Camera& camera, const ViewRect& view,
                                      const std::function<glm::dvec2(const Label&)>& size_of, double scale,
                                      const Drawing* ghost = nullptr, std::span<const ViewRect> taken = {});
// What they keep free of: disc, plumb line, foot and lifted wheels, on the view.
std::vector<ViewRect> kept_free(const Drawing& drawing, const Camera& camera, const ViewRect& view, double scale);

// Draws them into an ImGui draw list; `scale` 1 = ordinary screen, 2 = high resolution.
// A label with a tag carries its letter in a small box; a ghost's labels are light pills with a frame instead of dark
// ones. Returns the label whose pill holds `mouse`, if any does.
const Label* draw_labels(ImDrawList& list, const Drawing& drawing, const Camera& camera, const ViewRect& view,
                         double scale, const Drawing* ghost = nullptr, std::span<const ViewRect> taken = {},
                         std::optional<glm::dvec2> mouse = {});

}  // namespace sidehill::screen
