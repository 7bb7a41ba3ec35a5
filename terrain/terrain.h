// The ground under the machine: an even slope with features on it. Asked by point; a mesh is only its picture.
// Knows no machine, no file, no time.
// Frames: W world (z up, x east, y north; the slope rises along +y). G the ground's own frame: same origin and x axis,
// y up the slope within it, z along its normal. X_WG is a turn about x by `slope`.
#pragma once
#include <glm/mat3x3.hpp>
#include <glm/vec3.hpp>
#include <vector>

#include "terrain/features.h"
#include "terrain/soil.h"

namespace sidehill {

struct Terrain {
  double slope = 0;  // inclination of the even slope [rad], 0 to 60 deg, rising along +y
  Soil soil;
  std::vector<Feature> features;
};

struct GroundPoint {
  double height = 0;          // of the surface above the even slope, along z of G [m]
  glm::dvec3 normal{0, 0, 1};  // unit, in G, pointing out of the ground
};

// Surface at a place given in G. Closed form: the sum of all features there. Normal is unit for any input.
GroundPoint ground_at(const Terrain& terrain, glm::dvec2 p_G);

// True if any feature can be felt within `radius` [m] of a place in G: false means "an even plane here", exactly.
bool uneven_near(const Terrain& terrain, glm::dvec2 p_G, double radius);

// Turns vectors of G into W for a given slope [rad].
glm::dmat3 R_WG(double slope);

}  // namespace sidehill
