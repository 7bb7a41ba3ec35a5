// Things that stick out of or sink into an otherwise even slope: height and gradient in closed form.
// Knows no machine, no file, no time. Frame: G, the ground's own (x along the contour, y uphill in the slope,
// z along the slope's normal), so a feature tilts with the slope it lies on.
//
// Every feature has its own axes: u is G's x axis turned anticlockwise by `angle`, v is square to it. A bump or a ditch
// is driven over along u: `length` is how long it is on the way, `width` how far its ridge line reaches to either side.
// At angle 0 that suits a machine driving across the slope; turn it by 90 deg for one driving up or down.
#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <glm/vec2.hpp>
#include <string>
#include <string_view>

#include "sim/base/enum_table.h"

namespace sidehill {

enum class FeatureKind { bump, ditch, hole, stump, rough, kerb };

struct FeatureInfo {
  FeatureKind kind;
  std::string_view key;   // in files
  std::string_view name;  // for people
  bool round = false;     // `length` is its diameter, width and angle say nothing
  bool sunk = false;      // goes down into the slope
};
inline constexpr std::array kFeatureKinds{
    FeatureInfo{FeatureKind::bump, "bump", "Bump"},
    FeatureInfo{FeatureKind::ditch, "ditch", "Ditch", false, true},
    FeatureInfo{FeatureKind::hole, "hole", "Hole", true, true},
    FeatureInfo{FeatureKind::stump, "stump", "Stump", true},
    FeatureInfo{FeatureKind::rough, "rough", "Rough strip"},
    FeatureInfo{FeatureKind::kerb, "kerb", "Kerb"},
};
static_assert(is_whole(kFeatureKinds, &FeatureInfo::kind));
constexpr const FeatureInfo& info(FeatureKind kind) { return kFeatureKinds[static_cast<std::size_t>(kind)]; }

struct Feature {
  std::string name;                      // shown to people; may be empty
  FeatureKind kind = FeatureKind::bump;  //
  double x = 0;                          // centre along the contour, in G [m]
  double y = 0;                          // centre up the slope, in G [m]
  double angle = 0;                      // the feature's u axis turned from G's x axis, anticlockwise [rad]
  double length = 1;                     // bump, ditch, rough: extent along u, for bump and ditch the way one drives
                                         // over it; hole, stump: diameter [m], > 0
  double width = 2;                      // bump, ditch: extent along v, the ridge line, tapered ends included; rough:
                                         // extent along v; hole, stump: not used [m], > 0
  double height = 0.2;                   // bump, stump, kerb: height; ditch, hole: depth; rough: about four times the
                                         // standard deviation of the height [m], >= 0
  std::uint32_t seed = 1;                // rough only: picks the strip, same seed same ground
};

struct HeightAndGradient {
  double height = 0;         // above the even slope, along its normal [m]
  glm::dvec2 gradient{0.0};  // d height / d(x, y) in G [-]
};

// Height and gradient of one feature alone at a place in G. Continuous, gradient continuous; exactly zero outside
// the feature's outline (also for a place that is not a number).
//   bump, ditch: +- height sin^2 along the way, full over the middle 60 % of the ridge line, cos^2 to zero at its ends;
//   stump, hole: +- height over the middle 60 % of the diameter, cos^2 to zero at the outline;
//   kerb: level over its length but for edges of 6 cm, full over the middle 60 % of its width, cos^2 to zero at its
//   ends; rough: sixteen waves of 0.5 to 8 m in sixteen directions, height growing with the root of the wave's length,
//   faded out by cos^2 over the outer 20 % of each half extent.
// Source: our own shapes; the bump along its middle line is that of the planar reference machine, sin^2(pi s / length).
// Wave heights follow the fall-off of road and field spectra with the square of the wave number (ISO 8608:2016, clause
// 5), taken at wave numbers in equal ratios.
HeightAndGradient feature_at(const Feature& feature, glm::dvec2 p_G);

// No place of the feature is steeper than this: an upper bound of the length of its gradient [-]. Source: the shapes'
// greatest slopes, in closed form; for rough ground the sum of its waves'.
double feature_steepest(const Feature& feature);
// No place of it is higher above the even slope than this [m], >= 0. Source: likewise.
double feature_highest(const Feature& feature);

// Radius around (x, y) outside which the feature is exactly flat [m].
double feature_reach(const Feature& feature);

// True if the feature's outline (rectangle or circle) comes within `radius` [m] of a place in G.
bool feature_near(const Feature& feature, glm::dvec2 p_G, double radius);

}  // namespace sidehill
