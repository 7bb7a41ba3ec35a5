// What is shown of placing by hand: outlines on the ground, knobs to take hold of, a line of words. Plain data in W;
// only draw_preview() knows Dear ImGui.
#pragma once
#include <vector>

#include "render/namespaces.h"
#include "render/screen/placing/placing.h"

struct ImDrawList;

namespace sidehill::screen {

struct Knob {
  Grip grip = Grip::none;
  Vec3 place{0.0};  // in W [m]
};

// Where a feature, or the machine at its start, can be taken hold of. Lines lie a little over the ground.
std::vector<Knob> knobs_of(const Scene& scene, double slope, int item);
double ring_radius(const Scene& scene);  // round the machine's middle [m]
std::vector<Vec3> ring_of(const Scene& scene, double slope);

struct PlacingPreview {
  std::vector<Outline> outlines;
  std::vector<Knob> knobs;
  std::vector<Label> labels;  // at most one
  Grip hot = Grip::none;      // this knob is under the mouse or held
};

// Of what is chosen, and of what the tool would put under the mouse. Empty where nothing is to be shown; all finite.
PlacingPreview preview(const Placing& placing, const Scene& scene, const State& shown);

// Over the picture, without drawing the picture anew; behind the panels if the list is ImGui's background.
void draw_preview(ImDrawList& list, const PlacingPreview& preview, const Camera& camera, const ViewRect& view,
                  double scale);

}  // namespace sidehill::screen
