// The overlays of a Drawing as triangles in the world: arrows, rings, outlines, plumb line, the quartered disc. Knows
// no GL.
#pragma once
#include <vector>

#include "render/namespaces.h"
#include "render/screen/scene3d/camera.h"
#include "render/screen/scene3d/drawing.h"
#include "render/screen/scene3d/mesh.h"

namespace sidehill::screen {

// Vertex::paint holds the colour with its opacity in `gloss`; a zero normal means "do not shade".
struct Marks {
  Mesh ground;  // lies on the ground: fills and lines; hidden parts show faintly
  Mesh solid;   // arrows and rings; hidden parts show faintly
  Mesh front;   // plumb line and disc: never hidden
};

// `pixel` is the size of a pixel at distance 1, so that lines keep a width on the screen.
Marks make_marks(const Drawing& drawing, const Camera& camera, double pixel);
void add_marks(Marks& marks, const Drawing& drawing, const Camera& camera, double pixel);  // the same, to others

}  // namespace sidehill::screen
