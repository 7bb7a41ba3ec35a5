// Things that stick out of or sink into an otherwise even slope: height and gradient in closed form.
// Knows no machine, no file, no time. Frame: G, the ground's own (x along the contour, y uphill in the slope,
// z along the slope's normal), so a feature tilts with the slope it lies on.
#pragma once
#include <cstdint>
#include <glm/vec2.hpp>
#include <string>

namespace sidehill {

enum class FeatureKind { bump, ditch, hole, stump, rough };

struct Feature {
  std::string name;                      // shown to people; may be empty
  FeatureKind kind = FeatureKind::bump;  //
  double x = 0;                          // centre along the contour, in G [m]
  double y = 0;                          // centre up the slope, in G [m]
  double angle = 0;                      // long side turned from G's x axis, anticlockwise [rad]
  double length = 1;                     // bump, ditch: extent across the ridge line, the way one drives over it;
                                         // hole, stump: diameter; rough: extent along x [m], > 0
  double width = 2;                      // bump, ditch: extent along the ridge line; rough: extent along y [m], > 0
  double height = 0.2;                   // bump, stump: height; ditch, hole: depth; rough: about four times the
                                         // standard deviation of the height [m], >= 0
  std::uint32_t seed = 1;                // rough only: picks the strip, same seed same ground
};

struct HeightAndGradient {
  double height = 0;         // above the even slope, along its normal [m]
  glm::dvec2 gradient{0.0};  // d height / d(x, y) in G [-]
};

// Height and gradient of one feature alone at a place in G. Continuous, gradient continuous; exactly zero outside
// the feature's outline. Source: bump and ditch sin^2 profile as in ISO 8608-style obstacle tests, derived in
// tests/features_test.cpp; the others are our own smooth shapes.
HeightAndGradient feature_at(const Feature& feature, glm::dvec2 p_G);

// Radius around (x, y) outside which the feature is exactly flat [m].
double feature_reach(const Feature& feature);

}  // namespace sidehill
