// First swinging frequency against references computed by other means, and against limits with a closed form.
#include "vehicles/slosh.h"

#include <cmath>
#include <numbers>
#include <string>

#include "tests/kit/csv.h"
#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("cylinders and rings swing as fast as the references say") {
  // Source: first modes by finite elements with Richardson extrapolation, computed outside this project (about 1e-3).
  int checked = 0;
  for (const CsvRow& row : read_csv("slosh_reference.csv")) {
    const std::string name = row.at("case");
    const bool ring = name.rfind("ri/Ro=", 0) == 0;
    const double inner = ring ? std::stod(name.substr(6)) : 1e-6, lambda = std::stod(row.at("lambda1=w1^2*R/g"));
    CAPTURE(name);
    const Slosh slosh = first_slosh({inner, 1, 0.4, SectionShape::rectangle}, std::stod(row.at("fill_area_fraction")));
    CHECK_NEAR(slosh.lambda, lambda, 0.002 * lambda);
    CHECK_NEAR(slosh.pendulum_length, std::stod(row.at("pendulum_length_L/R")),
               0.002 * std::stod(row.at("pendulum_length_L/R")));
    // A lump that hangs at the centroid with this inertia swings as fast: omega^2 = g depth / gyration^2.
    const double depth =
        -liquid_place({inner, 1, 0.4, SectionShape::rectangle}, std::stod(row.at("fill_area_fraction")), 0).z;
    CHECK_NEAR(depth / slosh.gyration_squared, slosh.lambda, 1e-9);
    ++checked;
  }
  CHECK(checked == 9);
}

TEST_CASE("limits with a closed form") {
  // A thin ring half full is a bent U-tube: column pi R long, restored by two faces: lambda = 2 / pi on its mean
  // radius.
  const Slosh tube = first_slosh({0.96, 1, 0.4, SectionShape::rectangle}, 0.5);
  CHECK_NEAR(tube.lambda * 0.98, 2 / std::numbers::pi, 0.003);
  // A puddle slides along the round bottom like a bead: lambda = 1 (Lamb, Hydrodynamics, art. 258).
  CHECK_NEAR(first_slosh({0.5, 1, 0.4, SectionShape::rectangle}, 0.002).lambda, 1, 0.01);
  // Half a cylinder: 1.3557 (published by several authors, recalled; Lamb, art. 259, gives 1.169^2 = 1.367 by
  // Rayleigh's method, an upper bound near it).
  CHECK_NEAR(first_slosh({1e-6, 1, 0.4, SectionShape::rectangle}, 0.5).lambda, 1.3557, 0.003);
  // Size does not matter but for the scale.
  CHECK_NEAR(first_slosh({0.3, 0.5, 0.2, SectionShape::ellipse}, 0.6).lambda,
             first_slosh({0.6, 1, 0.4, SectionShape::ellipse}, 0.6).lambda, 1e-9);
}

TEST_CASE("it changes smoothly with the fill, away from the rim's top") {
  for (const SectionShape shape : {SectionShape::rectangle, SectionShape::ellipse})
    for (const double inner : {0.2, 0.4, 0.5, 0.57, 0.65, 0.75}) {
      double before = 0, last = 0;
      for (double fill = 0.01; fill < 0.965; fill += 0.005) {
        const Cavity cavity{inner, 1, 0.5, shape};
        const double lambda = first_slosh(cavity, fill).lambda, level = liquid_place(cavity, fill, 0).level;
        CAPTURE(inner);
        CAPTURE(fill);
        CHECK(lambda > 0.1);
        if (before > 0 && std::abs(level - inner) > 0.03) CHECK_NEAR(lambda, 2 * last - before, 0.03 * lambda);
        before = last, last = lambda;
      }
    }
}

TEST_CASE("18.4-38 at valve level swings at about 0.3 Hz") {
  // Source: trial outside this project: about 0.28 Hz at valve level.
  const Cavity cavity = cavity_of(0.875, 0.4826, 0.467, 0);
  CHECK_NEAR(slosh_frequency(first_slosh(cavity, 0.75), 9.80665), 0.3, 0.04);
  CHECK(first_slosh(cavity, 0).lambda == 0);
  CHECK(first_slosh(cavity, 1).lambda == 0);
  CHECK(first_slosh(cavity, std::nan("")).lambda == 0);
  CHECK(slosh_frequency(Slosh{}, 9.8) == 0);
}
