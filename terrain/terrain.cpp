// The slope and the sum of its features (see terrain.h).
#include "terrain/terrain.h"

#include <algorithm>
#include <cmath>

namespace sidehill {

HeightAndGradient height_at(const Terrain& terrain, glm::dvec2 p_G) {
  HeightAndGradient sum;
  for (const Feature& feature : terrain.features) {
    const HeightAndGradient part = feature_at(feature, p_G);
    sum.height += part.height;
    sum.gradient += part.gradient;
  }
  return sum;
}

GroundPoint ground_at(const Terrain& terrain, glm::dvec2 p_G) {
  const HeightAndGradient there = height_at(terrain, p_G);
  if (there.gradient == glm::dvec2(0.0)) return {there.height};
  return {there.height, normal_of(there.gradient)};
}

bool uneven_near(const Terrain& terrain, glm::dvec2 p_G, double radius) {
  return std::any_of(terrain.features.begin(), terrain.features.end(),
                     [&](const Feature& feature) { return feature.height != 0 && feature_near(feature, p_G, radius); });
}

GroundBound ground_bound(const Terrain& terrain, glm::dvec2 p_G, double radius) {
  GroundBound sum;
  for (const Feature& feature : terrain.features) {
    if (feature.height == 0 || !feature_near(feature, p_G, radius)) continue;
    sum.steepest += feature_steepest(feature);
    sum.highest += feature_highest(feature);
  }
  return sum;
}

glm::dmat3 R_WG(double slope) {
  const double c = std::cos(slope), s = std::sin(slope);
  return glm::dmat3(glm::dvec3(1, 0, 0), glm::dvec3(0, c, s), glm::dvec3(0, -s, c));  // columns: x, y, z of G in W
}

}  // namespace sidehill
