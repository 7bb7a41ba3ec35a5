// The slope with its features.
#include "terrain/terrain.h"

#include <cmath>
#include <glm/geometric.hpp>
#include <random>

#include "tests/kit/near.h"

using namespace sidehill;

namespace {

Feature feature(FeatureKind kind, double x, double y, double height) {
  Feature f;
  f.kind = kind;
  f.x = x;
  f.y = y;
  f.height = height;
  return f;
}

}  // namespace

TEST_CASE("ground without features is exactly even") {
  const Terrain terrain;
  for (const glm::dvec2 p : {glm::dvec2(0, 0), glm::dvec2(1e6, -3), glm::dvec2(std::nan(""), HUGE_VAL)}) {
    const GroundPoint ground = ground_at(terrain, p);
    CHECK(ground.height == 0);
    CHECK(ground.normal == glm::dvec3(0, 0, 1));
    CHECK_FALSE(uneven_near(terrain, p, 100));
  }
}

TEST_CASE("features add up, the normal is the surface's and of unit length") {
  Terrain terrain;
  terrain.features = {feature(FeatureKind::bump, 0, 0, 0.2), feature(FeatureKind::stump, 0.2, 0.4, 0.3),
                      feature(FeatureKind::hole, -0.2, -0.5, 0.25), feature(FeatureKind::rough, 0, 0, 0.1)};
  terrain.features.back().length = 6;
  terrain.features.back().width = 6;
  std::mt19937 random(5);
  std::uniform_real_distribution<double> place(-2, 2);
  for (int i = 0; i < 2000; ++i) {
    const glm::dvec2 p(place(random), place(random));
    double height = 0;
    for (const Feature& f : terrain.features) height += feature_at(f, p).height;
    const GroundPoint ground = ground_at(terrain, p);
    CHECK_NEAR(ground.height, height, 1e-15);
    CHECK_NEAR(glm::length(ground.normal), 1, 1e-14);
    CHECK(ground.normal.z > 0);
    // square to two directions within the surface
    constexpr double kStep = 1e-5;
    for (const glm::dvec2 d : {glm::dvec2(kStep, 0), glm::dvec2(0, kStep)}) {
      const double rise = ground_at(terrain, p + d).height - ground_at(terrain, p - d).height;
      const glm::dvec3 along = glm::normalize(glm::dvec3(2 * d.x, 2 * d.y, rise));
      CHECK_NEAR(glm::dot(along, ground.normal), 0, 1e-3);
    }
  }
}

TEST_CASE("no place of a feature is steeper or higher than its bounds, and the bounds are not far off") {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> share(0, 1);
  for (const FeatureKind kind : {FeatureKind::bump, FeatureKind::ditch, FeatureKind::hole, FeatureKind::stump,
                                 FeatureKind::kerb, FeatureKind::rough}) {
    for (int round = 0; round < 20; ++round) {
      Feature f;
      f.kind = kind;
      f.angle = share(random);
      f.length = 0.3 + 3 * share(random);
      f.width = 0.5 + 4 * share(random);
      f.height = 0.02 + 0.3 * share(random);
      f.seed = static_cast<std::uint32_t>(round);
      double steepest = 0, highest = 0;
      for (int i = 0; i < 20000; ++i) {
        const glm::dvec2 p = feature_reach(f) * (2.0 * glm::dvec2(share(random), share(random)) - 1.0);
        const HeightAndGradient there = feature_at(f, p);
        steepest = std::max(steepest, std::hypot(there.gradient.x, there.gradient.y));
        highest = std::max(highest, there.height);
      }
      CAPTURE(static_cast<int>(kind));
      CHECK(steepest <= feature_steepest(f) * (1 + 1e-12));
      CHECK(steepest > (kind == FeatureKind::rough ? 0.05 : 0.5) * feature_steepest(f));
      CHECK(highest <= feature_highest(f) * (1 + 1e-12));
      CHECK(highest >= (kind == FeatureKind::rough ? 0.05 : 0.9) * feature_highest(f));
    }
  }
  Terrain two;
  two.features = {feature(FeatureKind::stump, 10, 0, 0.2), feature(FeatureKind::bump, 10, 0.2, 0.1)};
  const GroundBound both = ground_bound(two, {10, 0}, 0.5);
  CHECK_NEAR(both.steepest, feature_steepest(two.features[0]) + feature_steepest(two.features[1]), 1e-15);
  CHECK_NEAR(both.highest, 0.3, 1e-15);
  CHECK(ground_bound(two, {14, 0}, 0.5).steepest == 0);
}

TEST_CASE("uneven is felt where a feature is, and nowhere else") {
  Terrain terrain;
  terrain.features = {feature(FeatureKind::stump, 10, 0, 0.2)};  // 1 m across
  CHECK(uneven_near(terrain, glm::dvec2(9, 0), 0.51));
  CHECK_FALSE(uneven_near(terrain, glm::dvec2(9, 0), 0.49));
  CHECK_FALSE(uneven_near(terrain, glm::dvec2(std::nan(""), 0), 0.49));
  terrain.features[0].height = 0;
  CHECK_FALSE(uneven_near(terrain, glm::dvec2(10, 0), 1));
}

TEST_CASE("the slope rises along +y and turns about x") {
  const double slope = 0.3;
  const glm::dmat3 R = R_WG(slope);
  const glm::dvec3 uphill = R * glm::dvec3(0, 1, 0), normal = R * glm::dvec3(0, 0, 1);
  CHECK_NEAR(uphill.z, std::sin(slope), 1e-15);
  CHECK_NEAR(uphill.y, std::cos(slope), 1e-15);
  CHECK_NEAR(normal.y, -std::sin(slope), 1e-15);
  CHECK_NEAR(normal.z, std::cos(slope), 1e-15);
  CHECK(R * glm::dvec3(1, 0, 0) == glm::dvec3(1, 0, 0));
  CHECK_NEAR(glm::determinant(R), 1, 1e-15);
}
