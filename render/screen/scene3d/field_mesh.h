// What tells the eye how large the field is: tufts of grass near the machine, fences across the slope. Places in the
// ground's own frame G, as in render/screen/scene3d/terrain_mesh. Knows no GL, no machine.
#pragma once
#include "render/namespaces.h"
#include "render/screen/scene3d/drawing.h"
#include "render/screen/scene3d/mesh.h"

namespace sidehill::screen {

constexpr double kGrassReach = 9;     // of the tufts round the focus [m]
constexpr double kFenceHeight = 1.2;  // of a post [m]
constexpr double kFenceFar = 24;      // the fences stand so far up and down from the middle of the ground [m]

// Tufts a hand high, the same ones in the same places whatever the focus; none on bumps, holes and stumps.
Mesh grass_mesh(const GroundPicture& ground);
// Two fences along the contour: posts 4 m apart with two rails.
Mesh fence_mesh();

}  // namespace sidehill::screen
