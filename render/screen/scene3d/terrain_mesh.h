// The ground as triangles, in the ground's own frame G: fine near the machine and over features, coarse towards the
// horizon. The renderer turns it to the slope, so that moving the slope slider makes no new mesh. Knows no GL, no
// machine.
#pragma once
#include "render/namespaces.h"
#include "render/screen/scene3d/drawing.h"
#include "render/screen/scene3d/mesh.h"

namespace sidehill::screen {

constexpr double kGroundReach = 190;  // half side of the ground that is drawn [m]

// Place: (x, y, height) in G; normal in G. Heights and normals are ground_at's, so the wheels stand on what is seen.
Mesh ground_mesh(const GroundPicture& ground);

// Grid lines along one axis: about `fine` [m] apart within 7 m of `centre`, growing outwards to kGroundReach, and dense
// over each interval of `dense` (from, to, step). Rising; never more than 170. For tests and ground_mesh.
struct DenseInterval {
  double from, to, step;
};
std::vector<double> grid_lines(double centre, double fine, const std::vector<DenseInterval>& dense);

// Far from the machine the even slope eases into level country, up and down. How far the slope reaches to either side
// [m].
constexpr double kSlopeReach = 26, kEaseLength = 55;

}  // namespace sidehill::screen
