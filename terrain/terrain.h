// The ground under the machine: an even slope with features on it. Asked by point; a mesh is only its picture.
// Knows no machine, no file, no time.
// Frames: W world (z up, x east, y north; the slope rises along +y). G the ground's own frame: same origin and x axis,
// y up the slope within it, z along its normal. X_WG is a turn about x by `slope`.
#pragma once
#include <cmath>
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
  double height = 0;           // of the surface above the even slope, along z of G [m]
  glm::dvec3 normal{0, 0, 1};  // unit, in G, pointing out of the ground
};

// Surface at a place given in G. Closed form: the sum of all features there. Normal is unit for any input.
GroundPoint ground_at(const Terrain& terrain, glm::dvec2 p_G);

// The same as height and gradient, and the normal of a gradient: for who asks often and needs few normals.
HeightAndGradient height_at(const Terrain& terrain, glm::dvec2 p_G);
inline glm::dvec3 normal_of(glm::dvec2 gradient) {
  const double scale = 1 / std::sqrt(1 + gradient.x * gradient.x + gradient.y * gradient.y);
  return {-gradient.x * scale, -gradient.y * scale, scale};
}

// True if any feature can be felt within `radius` [m] of a place in G: false means "an even plane here", exactly.
bool uneven_near(const Terrain& terrain, glm::dvec2 p_G, double radius);

// What no ground within `radius` [m] of a place in G exceeds: sums of the features that can be felt there.
struct GroundBound {
  double steepest = 0;  // against the even slope [-]
  double highest = 0;   // above it [m]
};
GroundBound ground_bound(const Terrain& terrain, glm::dvec2 p_G, double radius);

// Turns vectors of G into W for a given slope [rad].
glm::dmat3 R_WG(double slope);

}  // namespace sidehill
