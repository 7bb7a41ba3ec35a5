// The angle of the ground, drawn beside the machine: which of several places it stands at depends on where the picture
// is seen from. Numbers only: knows no GL, no pixel.
#pragma once
#include <functional>
#include <optional>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/scene3d/camera.h"
#include "render/screen/scene3d/drawing.h"

namespace sidehill::screen {

// Places for it in the open on every side of the machine; nothing on level ground. `on_ground` gives W of a place in G.
std::optional<SlopeWedge> slope_wedge(const Scene& scene, const State& state,
                                      const std::function<Vec3(glm::dvec2)>& on_ground);

// Of its places the one that the machine hides least and that is seen best: index into SlopeWedge::apexes.
std::size_t wedge_place(const Drawing& drawing, const Camera& camera, double aspect);

// Its face (filled), the ground, the level line (dashed) and the arc, from that apex on.
std::vector<Outline> wedge_outlines(const SlopeWedge& wedge, std::size_t place);
Vec3 wedge_label(const SlopeWedge& wedge, std::size_t place);  // middle of the arc

}  // namespace sidehill::screen
