// The slope and the sum of its features (see terrain.h).
#include "terrain/terrain.h"

#include <algorithm>
#include <cmath>

namespace sidehill {

GroundPoint ground_at(const Terrain& terrain, glm::dvec2 p_G) {
  GroundPoint ground;
  double gx = 0, gy = 0;
  for (const Feature& feature : terrain.features) {
    const HeightAndGradient part = feature_at(feature, p_G);
    ground.height += part.height;
    gx += part.gradient.x;
    gy += part.gradient.y;
  }
  if (gx == 0 && gy == 0) return ground;
  const double scale = 1 / std::sqrt(1 + gx * gx + gy * gy);
  ground.normal = glm::dvec3(-gx * scale, -gy * scale, scale);
  return ground;
}

bool uneven_near(const Terrain& terrain, glm::dvec2 p_G, double radius) {
  return std::any_of(terrain.features.begin(), terrain.features.end(),
                     [&](const Feature& feature) { return feature.height != 0 && feature_near(feature, p_G, radius); });
}

glm::dmat3 R_WG(double slope) {
  const double c = std::cos(slope), s = std::sin(slope);
  return glm::dmat3(glm::dvec3(1, 0, 0), glm::dvec3(0, c, s), glm::dvec3(0, -s, c));  // columns: x, y, z of G in W
}

}  // namespace sidehill
