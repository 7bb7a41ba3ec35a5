// Liquid in a tyre: against exact ring fills, against counting random points, against symmetric limits.
//
// Derivation of what vehicles/cavity.cpp computes. A slice of the ring square to the axle, at y, is an annulus r1 < r <
// r2. With the wheel plane leaning by a, a point is under the surface if -y sin a + z cos a < level, that is z < c with
// c = (level + y sin a) / cos a. Of a disc of radius r the part under c has, with h = sqrt(r^2 - c^2),
//   area r^2 (pi - acos(c / r)) + c h,  first moment about z = 0  -2/3 h^3,
//   second polar moment r^4 (t/2 + pi/4 + sin(2t)/6 - sin(4t)/24), t = asin(c / r),
// and the annulus is the difference of two. The integral over y is Gauss-Legendre between the places where the surface
// meets the section's wall. The fill fixes the level; d volume / d level is the wetted surface's area.
#include "vehicles/cavity.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>
#include <glm/matrix.hpp>
#include <random>
#include <string>
#include <vector>

#include "sim/base/constants.h"
#include "tests/kit/csv.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"

using namespace sidehill;

namespace {

const SectionShape kShapes[] = {SectionShape::rectangle, SectionShape::ellipse};

Cavity ring(SectionShape shape, double inner = 0.42, double outer = 0.72, double width = 0.40) {
  return {inner, outer, width, shape};
}

// Fill, centroid and gyration under a level, by counting points spread evenly over the cavity.
struct Counted {
  double fill = 0, y = 0, z = 0, radius_squared = 0;
};
Counted count_below(const Cavity& cavity, double lean, double level, int points, unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> unit(0, 1);
  const double middle = (cavity.inner_radius + cavity.outer_radius) / 2;
  const double a = (cavity.outer_radius - cavity.inner_radius) / 2, b = cavity.width / 2;
  Counted result;
  long inside = 0, total = 0;
  while (total < points) {
    const double u = 2 * unit(random) - 1, v = 2 * unit(random) - 1;
    if (cavity.shape == SectionShape::ellipse && u * u + v * v > 1) continue;
    const double r = middle + a * u, y = b * v;
    if (unit(random) * cavity.outer_radius > r) continue;  // as many points per volume at every radius
    ++total;
    const double angle = 2 * kPi * unit(random), z = r * std::sin(angle);
    if (-y * std::sin(lean) + z * std::cos(lean) > level) continue;
    ++inside;
    result.y += y;
    result.z += z;
    result.radius_squared += r * r;
  }
  const double n = static_cast<double>(std::max(inside, 1L));
  result.fill = static_cast<double>(inside) / static_cast<double>(total);
  result.y /= n;
  result.z /= n;
  result.radius_squared /= n;
  return result;
}

}  // namespace

TEST_CASE("fills and centroids of an upright ring at given levels") {
  // Source: exact fills of ring cavities, computed outside this project.
  for (const CsvRow& row : read_csv("annulus_fill_cg.csv")) {
    const double inner = std::stod(row.at("ri_over_Ro"));
    const double level = std::stod(row.at("level_y_over_ri")) * inner;
    CAPTURE(inner);
    CAPTURE(level);
    for (const SectionShape shape : kShapes) {
      const bool rect = shape == SectionShape::rectangle;
      const Cavity cavity = ring(shape, inner, 1.0, 0.5);
      const double fraction = std::stod(row.at(rect ? "fraction_rect_section" : "fraction_elliptic_section"));
      const double depth = std::stod(row.at(rect ? "ycg_over_Ro_rect" : "ycg_over_Ro_elliptic"));
      // The file gives the fill at a level; ours gives the level at a fill. Bisect for the fill that has this level.
      double low = 0, high = 1;
      for (int i = 0; i < 60; ++i) {
        const double fill = 0.5 * (low + high);
        (liquid_place(cavity, fill, 0).level < level ? low : high) = fill;
      }
      CHECK_NEAR(low, fraction, 1e-4);
      const LiquidPlace at = liquid_place(cavity, low, 0);
      CHECK_NEAR(at.level, level, 1e-9);
      CHECK_NEAR(at.z, depth, 1e-4);
      CHECK_NEAR(at.y, 0, 1e-12);
    }
  }
}

TEST_CASE("known places at 75, 50 and 25 per cent") {
  // Source: worked out outside this project for a cavity of 0.42 m inner and 0.72 m outer radius, 0.40 m wide.
  const Cavity cavity = ring(SectionShape::ellipse);
  CHECK_NEAR(liquid_place(cavity, 0.75, 0).z, -0.175, 0.001);
  CHECK_NEAR(liquid_place(cavity, 0.50, 0).z, -0.369, 0.001);
  CHECK_NEAR(liquid_place(cavity, 0.25, 0).z, -0.527, 0.001);
  CHECK_NEAR(liquid_place(cavity, 0.75, 20 * kPi / 180).y, 0.004, 0.0005);
  CHECK_NEAR(liquid_place(cavity, 0.75, 40 * kPi / 180).y, 0.010, 0.0005);
}

TEST_CASE("volume is Pappus's, and what random points say") {
  for (const SectionShape shape : kShapes) {
    const Cavity cavity = ring(shape, 0.3, 0.7, 0.5);
    const double section = shape == SectionShape::rectangle ? 0.4 * 0.5 : kPi * 0.2 * 0.25;
    CHECK_NEAR(cavity_volume(cavity), 2 * kPi * 0.5 * section, 1e-12);
    std::mt19937 random(9);
    std::uniform_real_distribution<double> unit(-1, 1);
    int inside = 0;
    constexpr int kPoints = 400000;
    for (int i = 0; i < kPoints; ++i) {
      const double x = 0.7 * unit(random), y = 0.25 * unit(random), z = 0.7 * unit(random), r = std::hypot(x, z);
      if (shape == SectionShape::rectangle) inside += r > 0.3 && r < 0.7;
      if (shape == SectionShape::ellipse) inside += std::pow((r - 0.5) / 0.2, 2) + std::pow(y / 0.25, 2) < 1;
    }
    const double counted = 1.4 * 1.4 * 0.5 * inside / kPoints;
    CHECK_NEAR(counted, cavity_volume(cavity), 4 * 0.98 * 0.5 / std::sqrt(kPoints));  // four standard errors
  }
}

TEST_CASE("level and centroid at any lean are what random points say") {
  constexpr int kPoints = 200000 / kShare;
  unsigned seed = 10;
  for (const SectionShape shape : kShapes) {
    for (const Cavity& cavity : {ring(shape), ring(shape, 0.2, 0.5, 0.1), ring(shape, 0.6, 0.9, 0.7)}) {
      for (const double lean_deg : {0.0, 7.0, 25.0, 45.0, 70.0, 88.0, 90.0}) {
        for (const double fill : {0.03, 0.2, 0.5, 0.75, 0.97}) {
          CAPTURE(static_cast<int>(shape));
          CAPTURE(lean_deg);
          CAPTURE(fill);
          const double lean = lean_deg * kPi / 180;
          const LiquidPlace at = liquid_place(cavity, fill, lean);
          const Counted counted = count_below(cavity, lean, at.level, kPoints, ++seed);
          const double n = kPoints * fill;
          // five standard errors; the spread within the liquid is at most half the width and the outer radius
          CHECK_NEAR(counted.fill, fill, 5 * std::sqrt(fill * (1 - fill) / kPoints));
          CHECK_NEAR(counted.y, at.y, 5 * cavity.width / 2 / std::sqrt(n));
          CHECK_NEAR(counted.z, at.z, 5 * cavity.outer_radius / std::sqrt(n));
          if (lean_deg == 0) {
            CHECK_NEAR(counted.radius_squared, liquid_gyration_squared(cavity, fill),
                       5 * std::pow(cavity.outer_radius, 2) / std::sqrt(n));
          }
        }
      }
    }
  }
}

TEST_CASE("lying flat, the liquid is a layer of the section") {
  for (const double fill : {0.1, 0.5, 0.75}) {
    const LiquidPlace rect = liquid_place(ring(SectionShape::rectangle), fill, kPi / 2);
    CHECK_NEAR(rect.y, 0.4 * (1 - fill) / 2, 1e-9);
    CHECK_NEAR(rect.level, -0.2 + 0.4 * fill, 1e-9);
    CHECK_NEAR(rect.z, 0, 1e-9);
  }
  // half an ellipse: its centroid lies 4 / (3 pi) of the half width from the middle
  const LiquidPlace half = liquid_place(ring(SectionShape::ellipse), 0.5, kPi / 2);
  CHECK_NEAR(half.y, 0.2 * 4 / (3 * kPi), 1e-7);
  CHECK_NEAR(half.level, 0, 1e-9);
}

TEST_CASE("the centroid is where the potential energy has its minimum") {
  // At equilibrium a small further lean changes the height of the centroid only by turning it: d(depth)/d(lean) taken
  // from two solved places equals the turn of the place itself. A check on level, y and z together.
  for (const SectionShape shape : kShapes) {
    const Cavity cavity = ring(shape);
    for (const double fill : {0.01, 0.3, 0.6, 0.9}) {
      for (const double lean : {0.1, 0.5, 1.0, 1.4}) {
        CAPTURE(fill);
        CAPTURE(lean);
        constexpr double kStep = 1e-4;
        const auto height = [&](double angle) {
          const LiquidPlace at = liquid_place(cavity, fill, angle);
          return -at.y * std::sin(angle) + at.z * std::cos(angle);
        };
        const LiquidPlace at = liquid_place(cavity, fill, lean);
        CHECK_NEAR((height(lean + kStep) - height(lean - kStep)) / (2 * kStep),
                   -at.y * std::cos(lean) - at.z * std::sin(lean), 2e-5);
      }
    }
  }
}

TEST_CASE("empty, full, tiny and nearly full: finite, bounded, without a jump") {
  for (const SectionShape shape : kShapes) {
    const Cavity cavity = ring(shape);
    for (double lean = 0; lean <= kPi / 2; lean += kPi / 36) {
      CAPTURE(lean);
      double last_level = -10;
      for (const double fill : {0.0, 1e-15, 1e-9, 0.9e-7, 1.1e-7, 1e-6, 1e-4, 0.01, 0.5 - 1e-9, 0.5 + 1e-9, 0.99,
                                1 - 1e-6, 1 - 1e-9, 1.0}) {
        CAPTURE(fill);
        const LiquidPlace at = liquid_place(cavity, fill, lean);
        CHECK(std::isfinite(at.level));
        CHECK(at.level >= last_level - 1e-12);
        CHECK(at.y >= 0);
        CHECK(at.y <= cavity.width / 2 + 1e-12);
        CHECK(at.z <= 1e-12);
        CHECK(at.z >= -cavity.outer_radius);
        last_level = at.level;
      }
      const LiquidPlace full = liquid_place(cavity, 1, lean), nearly = liquid_place(cavity, 1 - 1e-6, lean);
      CHECK(full.y == 0);
      CHECK(full.z == 0);
      CHECK_NEAR(nearly.z, 0, 1e-6);
      const LiquidPlace under = liquid_place(cavity, 0.5 - 1e-9, lean), over = liquid_place(cavity, 0.5 + 1e-9, lean);
      CHECK_NEAR(under.z, over.z, 1e-8);
      CHECK_NEAR(under.y, over.y, 1e-8);
    }
    CHECK_NEAR(liquid_place(cavity, 0, 0).z, -0.72, 1e-12);
    CHECK_NEAR(liquid_place(cavity, 1e-6, 0).z, -0.72, 1e-3);
    // nonsense is brought back into range
    const LiquidPlace plain = liquid_place(cavity, 1, 0);
    CHECK(liquid_place(cavity, 7.5, 0).level == plain.level);
    CHECK(std::isfinite(liquid_place(cavity, std::nan(""), std::nan("")).level));
    CHECK(liquid_place(cavity, 0.4, 9).y == liquid_place(cavity, 0.4, kPi / 2).y);
  }
}

TEST_CASE("air above and liquid below balance to the ring's middle") {
  for (const SectionShape shape : kShapes) {
    const Cavity cavity = ring(shape);
    for (const double lean : {0.0, 0.4, 1.2}) {
      const LiquidPlace liquid = liquid_place(cavity, 0.3, lean), rest = liquid_place(cavity, 0.7, lean);
      CHECK_NEAR(0.3 * liquid.y, 0.7 * rest.y, 1e-12);
      CHECK_NEAR(0.3 * liquid.z, 0.7 * rest.z, 1e-12);
      CHECK_NEAR(liquid.level, -rest.level, 1e-12);
    }
  }
}

TEST_CASE("gyration of a full ring is that of the solid ring") {
  // Source: torus with elliptic section, mean r^2 = R^2 + 3/4 a^2; hollow cylinder (R1^2 + R2^2) / 2.
  CHECK_NEAR(liquid_gyration_squared(ring(SectionShape::ellipse), 1), 0.57 * 0.57 + 0.75 * 0.15 * 0.15, 1e-6);
  CHECK_NEAR(liquid_gyration_squared(ring(SectionShape::rectangle), 1), (0.42 * 0.42 + 0.72 * 0.72) / 2, 1e-9);
  CHECK_NEAR(liquid_gyration_squared(ring(SectionShape::ellipse), 0.5),
             liquid_gyration_squared(ring(SectionShape::ellipse), 1),
             1e-9);  // by symmetry
  CHECK_NEAR(liquid_gyration_squared(ring(SectionShape::ellipse), 1e-5), 0.72 * 0.72, 3e-3);
  CHECK(std::isfinite(liquid_gyration_squared(ring(SectionShape::ellipse), 0)));
}

TEST_CASE("the table gives the same places within 0.5 mm to 45 deg of lean and 2 mm to 90") {
  double worst_low = 0, worst_high = 0;
  for (const SectionShape shape : kShapes) {
    for (const Cavity& cavity : {ring(shape), ring(shape, 0.15, 0.3, 0.2), ring(shape, 0.53, 1.05, 0.9)}) {
      for (const double fill : {0.005, 0.05, 0.4, 0.75, 0.95, 1.0}) {
        const LiquidTable table = tabulate(cavity, fill);
        REQUIRE(table.y.size() == table.z.size());
        for (double from_flat = 0; from_flat < kPi / 2; from_flat += 1e-5 + 0.0031 * from_flat) {
          const double lean = kPi / 2 - from_flat;
          const LiquidPlace exact = liquid_place(cavity, fill, lean), quick = lookup(table, lean);
          CAPTURE(fill);
          CAPTURE(lean);
          double& worst = lean <= kPi / 4 ? worst_low : worst_high;
          worst = std::max({worst, std::abs(quick.y - exact.y), std::abs(quick.z - exact.z)});
          CHECK_NEAR(std::hypot(quick.y - exact.y, quick.z - exact.z), 0, lean <= kPi / 4 ? 5e-4 : 2e-3);
        }
        CHECK(lookup(table, -1).z == lookup(table, 0).z);
        CHECK(lookup(table, 9).y == table.y.back());
        CHECK(lookup(table, std::nan("")).z == lookup(table, 0).z);
      }
    }
  }
  MESSAGE("worst up to 45 deg ", 1000 * worst_low, " mm, beyond ", 1000 * worst_high, " mm");
  CHECK(tabulate(ring(SectionShape::ellipse), 0).y.empty());
  CHECK(lookup(LiquidTable{}, 0.3).z == 0);
}

TEST_CASE("place and inertia under any effective gravity are what random points say") {
  std::mt19937 random(77);
  std::uniform_real_distribution<double> unit(0, 1);
  std::normal_distribution<double> normal;
  constexpr int kPoints = 200000;
  for (const SectionShape shape : kShapes) {
    const Cavity cavity = ring(shape);
    const double middle = 0.57, a = 0.15, b = cavity.width / 2;
    for (int round = 0; round < 12; ++round) {
      const double fill = round == 0 ? 1 : 0.05 + 0.9 * unit(random);
      Vec3 gravity(normal(random), normal(random), normal(random));
      if (round == 1) gravity = {0, -9.8, 0};
      if (round == 2) gravity = {0, 0, -9.8};
      const LiquidBody body = liquid_body(cavity, fill, gravity);
      const Vec3 up = -glm::normalize(gravity);
      CHECK_NEAR(glm::dot(body.up, up), 1, 1e-12);
      Vec3 first(0.0);
      Mat3 second(0.0);
      long inside = 0, total = 0;
      while (total < kPoints) {
        const double u = 2 * unit(random) - 1, v = 2 * unit(random) - 1;
        if (shape == SectionShape::ellipse && u * u + v * v > 1) continue;
        const double r = middle + a * u;
        if (unit(random) * cavity.outer_radius > r) continue;
        ++total;
        const double angle = 2 * kPi * unit(random);
        const Vec3 p(r * std::cos(angle), b * v, r * std::sin(angle));
        if (glm::dot(p, up) > body.level) continue;
        ++inside;
        first += p;
        const Vec3 d = p - body.centroid;
        second += glm::dot(d, d) * Mat3(1.0) - glm::outerProduct(d, d);
      }
      const double n = static_cast<double>(inside);
      CAPTURE(fill);
      CAPTURE(round);
      CHECK_NEAR(n / kPoints, fill, 5 * std::sqrt(std::max(fill * (1 - fill), 1e-6) / kPoints));
      CHECK_NEAR(glm::length(first / n - body.centroid), 0, 5 * 0.72 / std::sqrt(n));
      for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j) CHECK_NEAR(second[i][j] / n, body.inertia[i][j], 5 * 0.5 / std::sqrt(n));
    }
  }
}

TEST_CASE("a slope, braking and a bend tilt the surface, not the rule") {
  const Cavity cavity = ring(SectionShape::ellipse);
  const double lean = 0.3;
  const LiquidPlace plain = liquid_place(cavity, 0.6, lean);
  const LiquidBody body = liquid_body(cavity, 0.6, 9.8 * Vec3(0, std::sin(lean), -std::cos(lean)));
  CHECK_NEAR(body.centroid.y, plain.y, 1e-12);
  CHECK_NEAR(body.centroid.z, plain.z, 1e-12);
  CHECK_NEAR(body.level, plain.level, 1e-12);
  CHECK_NEAR(liquid_body(cavity, 0.6, 9.8 * Vec3(0, -std::sin(lean), -std::cos(lean))).centroid.y, -plain.y, 1e-12);
  // Braking at 0.4 g: the liquid runs ahead by atan 0.4, as far from the axle as before.
  const LiquidBody braking = liquid_body(cavity, 0.6, Vec3(0.4 * 9.8, 0, -9.8));
  const double depth = -liquid_place(cavity, 0.6, 0).z;
  CHECK_NEAR(std::atan2(braking.centroid.x, -braking.centroid.z), std::atan(0.4), 1e-12);
  CHECK_NEAR(glm::length(braking.centroid), depth, 1e-12);
  CHECK_NEAR(braking.inertia[1][1] + depth * depth, liquid_gyration_squared(cavity, 0.6), 1e-9);
  // Without gravity, or with nonsense: an answer all the same.
  CHECK_NEAR(liquid_body(cavity, 0.6, Vec3(0.0)).centroid.z, -depth, 1e-12);
  CHECK(std::isfinite(liquid_body(cavity, 0.6, Vec3(std::nan(""))).level));
  CHECK(liquid_body(cavity, 0, {0, 0, -9.8}).centroid.z == -0.72);
}

TEST_CASE("a tyre's cavity from its outside; a data-book volume overrides it") {
  const Cavity cavity = cavity_of(0.875, 0.4826, 0.467, 0);  // 18.4R38
  CHECK(cavity.inner_radius == 0.4826);
  CHECK(cavity.outer_radius < 0.875 - 0.02);
  CHECK(cavity.width < 0.467);
  CHECK_NEAR(cavity_volume(cavity_of(0.875, 0.4826, 0.467, 0.55)), 0.55, 1e-12);
  CHECK(cavity_volume(cavity_of(0.5, 0.49, 0.6, 0)) > 0);  // a wide, flat tyre is still a ring
}

TEST_CASE("cavities hold what printed fill charts say, for common drive tyres") {
  // Source: printed US fill chart at valve level, about 75 %; overall diameters and widths are design values.
  std::vector<CsvRow> sizes = read_csv("tyre_dimensions.csv");
  int checked = 0, close = 0;
  for (const CsvRow& chart : read_csv("liquid_fill_table.csv")) {
    const auto size = std::find_if(sizes.begin(), sizes.end(),
                                   [&](const CsvRow& row) { return row.at("designation") == chart.at("tyre_size"); });
    if (size == sizes.end()) continue;
    const Cavity cavity = cavity_of(std::stod(size->at("overall_diameter_mm")) / 2000,
                                    std::stod(size->at("rim_nominal_diameter_mm")) / 2000,
                                    std::stod(size->at("section_width_mm")) / 1000, 0);
    const double litres = 0.75 * 1000 * cavity_volume(cavity), printed = std::stod(chart.at("volume_L"));
    CAPTURE(chart.at("tyre_size"));
    CAPTURE(litres);
    CAPTURE(printed);
    CHECK_NEAR(litres, printed, 0.12 * printed);
    close += std::abs(litres - printed) <= std::max(0.08 * printed, 1.9);
    ++checked;
  }
  CHECK(checked >= 10);
  CHECK(close >= 0.9 * checked);
}
