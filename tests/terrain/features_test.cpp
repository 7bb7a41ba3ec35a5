// Ground features: shapes against their closed forms, gradients against differences, outlines without a step.
#include "terrain/features.h"

#include <cmath>
#include <glm/geometric.hpp>
#include <random>

#include "sim/base/constants.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

Feature feature_of(FeatureKind kind, double length, double width, double height, double angle = 0) {
  Feature feature;
  feature.kind = kind;
  feature.x = 1.5;
  feature.y = -2.25;
  feature.length = length;
  feature.width = width;
  feature.height = height;
  feature.angle = angle;
  feature.seed = 7;
  return feature;
}

const FeatureKind kAll[] = {FeatureKind::bump, FeatureKind::ditch, FeatureKind::hole, FeatureKind::stump,
                            FeatureKind::rough};

// A place given in the feature's own axes.
glm::dvec2 at(const Feature& f, double u, double v) {
  const double c = std::cos(f.angle), s = std::sin(f.angle);
  return glm::dvec2(f.x + c * u - s * v, f.y + s * u + c * v);
}

}  // namespace

TEST_CASE("a bump is h sin^2(pi s / length) along its middle, from one end to the other") {
  // Source: profile of the planar reference machine's bump.
  const Feature bump = feature_of(FeatureKind::bump, 1.0, 2.0, 0.15, 0.4);
  for (double s = 0.005; s < 1.0; s += 0.01) {
    const HeightAndGradient there = feature_at(bump, at(bump, s - 0.5, 0));
    CHECK_NEAR(there.height, 0.15 * std::pow(std::sin(kPi * s), 2), 1e-12);
    // and just the same within the middle 60 % of its ridge line
    CHECK_NEAR(feature_at(bump, at(bump, s - 0.5, 0.59)).height, there.height, 1e-12);
    CHECK_NEAR(feature_at(bump, at(bump, s - 0.5, -0.59)).height, there.height, 1e-12);
  }
  CHECK_NEAR(feature_at(bump, at(bump, 0, 0.8)).height, 0.075, 1e-12);  // half way down the taper
  const Feature ditch = feature_of(FeatureKind::ditch, 1.0, 2.0, 0.15, 0.4);
  CHECK(feature_at(ditch, at(ditch, 0.1, 0.3)).height == -feature_at(bump, at(bump, 0.1, 0.3)).height);
  CHECK(feature_at(ditch, at(ditch, 0.1, 0.3)).gradient == -feature_at(bump, at(bump, 0.1, 0.3)).gradient);
}

TEST_CASE("a stump is flat over the middle 60 % of its diameter and the same all round; a hole is its negative") {
  const Feature stump = feature_of(FeatureKind::stump, 0.5, 9, 0.3);  // the width must not matter
  const Feature hole = feature_of(FeatureKind::hole, 0.5, 0.1, 0.3);
  for (double a = 0; a < 6.2; a += 0.1) {
    const double c = std::cos(a), s = std::sin(a);
    CHECK_NEAR(feature_at(stump, at(stump, 0.149 * c, 0.149 * s)).height, 0.3, 1e-12);
    CHECK_NEAR(feature_at(stump, at(stump, 0.2 * c, 0.2 * s)).height, 0.15, 1e-12);  // half way down the flank
    CHECK_NEAR(feature_at(hole, at(hole, 0.2 * c, 0.2 * s)).height, -0.15, 1e-12);
    CHECK(feature_at(stump, at(stump, 0.2501 * c, 0.2501 * s)).height == 0);
    // steepest there: h pi / (2 * flank), pointing at the middle
    const glm::dvec2 gradient = feature_at(stump, at(stump, 0.2 * c, 0.2 * s)).gradient;
    CHECK_NEAR(gradient.x, -0.3 * kPi / (2 * 0.1) * c, 1e-9);
    CHECK_NEAR(gradient.y, -0.3 * kPi / (2 * 0.1) * s, 1e-9);
  }
  CHECK(feature_at(stump, at(stump, 0, 0)).gradient == glm::dvec2(0.0));
}

TEST_CASE("gradients are the derivatives of the heights") {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> place(-2.5, 2.5), turn(-4, 4), size(0.4, 4);
  for (const FeatureKind kind : kAll) {
    CAPTURE(static_cast<int>(kind));
    int felt = 0;
    for (int i = 0; i < 4000; ++i) {
      const Feature f = feature_of(kind, size(random), size(random), 0.2, turn(random));
      const glm::dvec2 p(f.x + place(random), f.y + place(random));
      const HeightAndGradient here = feature_at(f, p);
      constexpr double kStep = 1e-6;
      const double dx =
          (feature_at(f, p + glm::dvec2(kStep, 0)).height - feature_at(f, p - glm::dvec2(kStep, 0)).height);
      const double dy =
          (feature_at(f, p + glm::dvec2(0, kStep)).height - feature_at(f, p - glm::dvec2(0, kStep)).height);
      // second derivatives jump at outlines (up to h (pi / flank)^2 / 2 = 160 a metre here, times half a step)
      CHECK_NEAR(here.gradient.x, dx / (2 * kStep), 2e-4);
      CHECK_NEAR(here.gradient.y, dy / (2 * kStep), 2e-4);
      felt += here.height != 0;
    }
    CHECK(felt > 400);  // the points did hit the feature
  }
}

TEST_CASE("height and gradient fade to nothing at the outline, and are exactly nothing outside") {
  std::mt19937 random(2);
  std::uniform_real_distribution<double> along(-1, 1), turn(-4, 4);
  for (const FeatureKind kind : kAll) {
    CAPTURE(static_cast<int>(kind));
    const bool round = kind == FeatureKind::hole || kind == FeatureKind::stump;
    for (int i = 0; i < 500; ++i) {
      const Feature f = feature_of(kind, 1.2, 2.0, 0.2, turn(random));
      const double a = along(random);
      glm::dvec2 edge(0.6, a);
      if (i % 2) edge = glm::dvec2(0.6 * a, 1.0);
      if (round) edge = glm::dvec2(0.6 * std::cos(4 * a), 0.6 * std::sin(4 * a));
      const HeightAndGradient inside = feature_at(f, at(f, edge.x * (1 - 1e-6), edge.y * (1 - 1e-6)));
      CHECK_NEAR(inside.height, 0, 1e-9);
      CHECK_NEAR(glm::length(inside.gradient), 0, 1e-3);
      const HeightAndGradient outside = feature_at(f, at(f, edge.x * (1 + 1e-9), edge.y * (1 + 1e-9)));
      CHECK(outside.height == 0);
      CHECK(outside.gradient == glm::dvec2(0.0));
    }
    const Feature f = feature_of(kind, 1.2, 2.0, 0.2);
    CHECK_NEAR(feature_reach(f), round ? 0.6 : std::hypot(0.6, 1.0), 1e-12);
    for (const double bad : {std::nan(""), HUGE_VAL, -HUGE_VAL, 1e300}) {
      CHECK(feature_at(f, glm::dvec2(bad, 0)).height == 0);
      CHECK(feature_at(f, glm::dvec2(0, bad)).gradient == glm::dvec2(0.0));
    }
  }
}

TEST_CASE("outlines are found near, and nothing is felt where they are not") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> place(-4, 4), turn(-4, 4), size(0.3, 3), reach(0, 1.5);
  for (const FeatureKind kind : kAll) {
    int away = 0;
    for (int i = 0; i < 1000; ++i) {
      const Feature f = feature_of(kind, size(random), size(random), 0.2, turn(random));
      const glm::dvec2 p(f.x + place(random), f.y + place(random));
      const double radius = reach(random);
      if (feature_near(f, p, radius)) continue;
      ++away;
      for (double a = 0; a < 6.3; a += 0.3) {
        const glm::dvec2 q = p + 0.999 * radius * glm::dvec2(std::cos(a), std::sin(a));
        CHECK(feature_at(f, q).height == 0);
      }
    }
    CHECK(away > 200);
    CHECK(away < 1000);
  }
  // beside a long narrow bump, well inside the circle around it
  const Feature bump = feature_of(FeatureKind::bump, 0.4, 6, 0.2);
  CHECK_FALSE(feature_near(bump, at(bump, 0.8, 0), 0.5));
  CHECK(feature_near(bump, at(bump, 0.6, 0), 0.5));
}

TEST_CASE("rough ground: spread as asked, another seed other ground, the same seed the same") {
  Feature rough = feature_of(FeatureKind::rough, 60, 60, 0.2);
  double sum = 0, squares = 0, differs = 0;
  int count = 0;
  Feature other = rough;
  other.seed = 8;
  std::mt19937 random(4);
  std::uniform_real_distribution<double> place(-23.9, 23.9);  // where the strip is not faded
  for (int i = 0; i < 40000; ++i) {
    const glm::dvec2 p = at(rough, place(random), place(random));
    const double h = feature_at(rough, p).height;
    sum += h;
    squares += h * h;
    differs += std::abs(h - feature_at(other, p).height);
    ++count;
    CHECK(h == feature_at(rough, p).height);
  }
  // A sum of sixteen waves over an area of six of the longest: the deviation is met within some per cent.
  CHECK_NEAR(std::sqrt(squares / count), 0.05, 0.004);
  CHECK_NEAR(sum / count, 0, 0.01);
  CHECK(differs / count > 0.03);
}
