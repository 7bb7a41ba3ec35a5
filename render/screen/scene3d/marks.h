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
  Mesh ground;  // on the ground and round the wheels: fills, lines, arrows; hidden parts show faintly
  Mesh front;   // plumb line and disc, and the way from its foot to the nearest edge: never hidden
};

// `pixel` is the size of a pixel at distance 1, so that lines keep a width on the screen; the picture is `high` pixels
// high and `aspect` times as wide.
Marks make_marks(const Drawing& drawing, const Camera& camera, double pixel, double high, double aspect);
// The same, to others.
void add_marks(Marks& marks, const Drawing& drawing, const Camera& camera, double pixel, double high, double aspect);

}  // namespace sidehill::screen
