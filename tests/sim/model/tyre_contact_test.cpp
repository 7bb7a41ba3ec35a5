// Where a disc meets the ground: closed form on a plane, and the sampled footprint held against it and against a fine
// quadrature of its own definition.
#include "sim/model/tyre_contact.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

Terrain with_bump(double height, double length = 1) {
  Terrain terrain;
  Feature bump;
  bump.kind = FeatureKind::bump;
  bump.x = 0, bump.y = 0, bump.length = length, bump.width = 6, bump.height = height;
  terrain.features.push_back(bump);
  return terrain;
}

// Unit axle of a wheel that heads `yaw` from x and leans `lean` to its right.
Vec3 axle_of_wheel(double yaw, double lean) {
  return {-std::sin(yaw) * std::cos(lean), std::cos(yaw) * std::cos(lean), std::sin(lean)};
}

// The footprint's definition again, with a thousand slices: area between rim and ground, and where its middle is.
double penetration_by_slices(const Terrain& terrain, const Vec3& centre, double radius) {
  constexpr int kSlices = 4000;
  double area = 0;
  for (int i = 0; i < kSlices; ++i) {
    const double along = radius * (2 * (i + 0.5) / kSlices - 1);
    const double rim = centre.z - std::sqrt(radius * radius - along * along);
    area += std::max(0.0, ground_at(terrain, {centre.x + along, centre.y}).height - rim) * 2 * radius / kSlices;
  }
  double lo = 0, hi = radius;  // depth whose segment has that area, by bisection
  while (hi - lo > 1e-12) {
    const double mid = 0.5 * (lo + hi);
    (segment_area(radius, mid) < area ? lo : hi) = mid;
  }
  return lo;
}

// How far the deepest point of the rim is under the ground: what the footprint replaces.
double deepest_point(const Terrain& terrain, const Vec3& centre, double radius) {
  double deepest = -1;
  for (int i = -500; i <= 500; ++i) {
    const double along = radius * i / 501.0;
    const double rim = centre.z - std::sqrt(radius * radius - along * along);
    deepest = std::max(deepest, ground_at(terrain, {centre.x + along, centre.y}).height - rim);
  }
  return deepest;
}

}  // namespace

TEST_CASE("on a plane a disc touches at its lowest point, projected to the ground") {
  const Terrain plane;
  const double r = 0.8;
  const TyreContact upright = tyre_contact(plane, {3, -2, 0.75}, {0, 1, 0}, r);
  CHECK_NEAR(upright.penetration, 0.05, 1e-15);
  CHECK_NEAR(glm::length(upright.point_G - Vec3(3, -2, 0)), 0, 1e-15);
  CHECK_NEAR(glm::length(upright.lowest_G - Vec3(3, -2, -0.05)), 0, 1e-15);
  CHECK_NEAR(glm::length(upright.forward_G - Vec3(1, 0, 0)), 0, 1e-15);
  CHECK_NEAR(glm::length(upright.left_G - Vec3(0, 1, 0)), 0, 1e-15);
  CHECK_NEAR(tyre_contact(plane, {3, -2, 0.75}, {0, 1, 0}, r, 0.02).penetration, 0.07, 1e-15);  // ground raised
  CHECK_NEAR(tyre_contact(plane, {3, -2, 0.9}, {0, 1, 0}, r).penetration, -0.1, 1e-15);         // in the air
  // Leaning: the lowest point is r cos(lean) under the centre and r sin(lean) aside, away from the raised axle end.
  const double lean = 0.3;
  const TyreContact leaning = tyre_contact(plane, {0, 0, 0.75}, axle_of_wheel(0, lean), r);
  CHECK_NEAR(leaning.penetration, r * std::cos(lean) - 0.75, 1e-15);
  CHECK_NEAR(leaning.point_G.y, r * std::sin(lean), 1e-15);
  CHECK_NEAR(leaning.point_G.z, 0, 1e-15);
}

TEST_CASE("the sampled footprint is the closed form on a plane, within 1 % of the penetration") {
  std::mt19937 random(3);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  const Terrain plane;
  double worst = 0;
  for (int i = 0; i < 3000; ++i) {
    const double r = between(0.3, 1.0), lean = between(-0.7, 0.7), depth = between(0.004, 0.2) * r;
    const Vec3 centre(between(-9, 9), between(-9, 9), r * std::cos(lean) - depth);
    const Vec3 axle = axle_of_wheel(between(-kPi, kPi), lean);
    const TyreContact sampled = tyre_contact(plane, centre, axle, r, 0, Footprint::sampled);
    const TyreContact closed = tyre_contact(plane, centre, axle, r);
    worst = std::max(worst, std::abs(sampled.penetration - closed.penetration) / closed.penetration);
    CHECK_NEAR(glm::length(sampled.point_G - closed.point_G), 0, 2e-3);
    CHECK_NEAR(glm::length(sampled.normal_G - closed.normal_G), 0, 1e-12);
  }
  CHECK(worst < 0.01);
}

TEST_CASE("a segment's area and depth are each other's inverse, and the area is what slices say") {
  for (const double r : {0.3, 0.8}) {
    for (double depth = 1e-4; depth < r; depth *= 1.3) {
      CHECK_NEAR(segment_depth(r, segment_area(r, depth)), depth, 1e-7 * r);
      double slices = 0;
      const double half = std::sqrt(depth * (2 * r - depth));
      for (int i = 0; i < 2000; ++i) {
        const double x = half * (2 * (i + 0.5) / 2000 - 1);
        slices += (std::sqrt(r * r - x * x) - (r - depth)) * half / 1000;
      }
      CHECK_NEAR(segment_area(r, depth), slices, 1e-4 * slices);
    }
    CHECK(segment_area(r, 0) == 0);
    CHECK(segment_depth(r, 0) == 0);
    CHECK(segment_depth(r, -1) == 0);
    CHECK_NEAR(segment_area(r, r), kPi * r * r / 2, 1e-12);
  }
}

TEST_CASE("over a bump the penetration is that of a fine quadrature") {
  // 41 samples, of which a third may lie in the footprint; the bump is as short as the disc.
  const Terrain terrain = with_bump(0.15);
  const double r = 0.8;
  for (double x = -1.5; x <= 1.5; x += 0.01) {
    const Vec3 centre(x, 0, 0.78);
    const double expected = penetration_by_slices(terrain, centre, r);
    CHECK_NEAR(tyre_contact(terrain, centre, {0, 1, 0}, r).penetration, expected, 2e-4 + 0.01 * expected);
  }
}

TEST_CASE("the footprint takes a bump of 0.15 m with a fraction of the deepest point's force jumps") {
  const double r = 0.8, stiffness = 350e3;
  const Terrain terrain = with_bump(0.15);
  const auto worst_kink = [&](auto&& force_at) {
    double worst = 0, before = force_at(-1.6), now = force_at(-1.599);
    for (int i = 2; i <= 3200; ++i) {  // 1 mm a step: a second difference is the jump in the change of force
      const double next = force_at(-1.6 + 0.001 * i);
      worst = std::max(worst, std::abs(next - 2 * now + before));
      before = now, now = next;
    }
    return worst;
  };
  const auto footprint = [&](double x) {
    return stiffness * std::max(0.0, tyre_contact(terrain, {x, 0, 0.75}, {0, 1, 0}, r).penetration);
  };
  const auto point = [&](double x) { return stiffness * std::max(0.0, deepest_point(terrain, {x, 0, 0.75}, r)); };
  const double by_footprint = worst_kink(footprint), by_point = worst_kink(point);
  MESSAGE("largest jump in the change of force per mm: footprint ", by_footprint, " N, deepest point ", by_point, " N");
  CHECK(by_footprint < 0.1 * by_point);
  // And the force itself never jumps: the steepest flank of the bump, pi / 2 x 0.15, on 350 N/mm gives 82 N per mm.
  double most = 0;
  for (int i = 1; i <= 3200; ++i)
    most = std::max(most, std::abs(footprint(-1.6 + 0.001 * i) - footprint(-1.601 + 0.001 * i)));
  CHECK(most < 82.5);
}

TEST_CASE("a bump pushes back on the way up, forward on the way down, alike") {
  const Terrain terrain = with_bump(0.15);
  for (double x : {0.1, 0.2, 0.35, 0.5}) {
    const TyreContact up = tyre_contact(terrain, {-x, 0, 0.8}, {0, 1, 0}, 0.8);
    const TyreContact down = tyre_contact(terrain, {x, 0, 0.8}, {0, 1, 0}, 0.8);
    CHECK(up.normal_G.x < 0);
    CHECK_NEAR(up.normal_G.x, -down.normal_G.x, 3e-5);  // a slice's bulge is taken at its far end: 2e-5
    CHECK_NEAR(up.penetration, down.penetration, 1e-5);
    CHECK_NEAR(up.point_G.x, -down.point_G.x, 3e-5);
    CHECK(up.point_G.x > -x);  // met ahead of the lowest point
  }
  CHECK_NEAR(tyre_contact(terrain, {0, 0, 0.8}, {0, 1, 0}, 0.8).normal_G.z, 1, 1e-9);
}

TEST_CASE("directions are unit and square to each other, all numbers finite, for any attitude") {
  std::mt19937 random(5);
  std::normal_distribution<double> normal;
  Terrain rough = with_bump(0.3);
  Feature strip;
  strip.kind = FeatureKind::rough;
  strip.length = strip.width = 20, strip.height = 0.3;
  rough.features.push_back(strip);
  const auto check = [](const TyreContact& c) {
    CHECK(std::isfinite(c.penetration + c.point_G.x + c.point_G.y + c.point_G.z + c.lowest_G.z));
    for (const Vec3& v : {c.normal_G, c.forward_G, c.left_G}) CHECK_NEAR(glm::length(v), 1, 1e-9);
    CHECK_NEAR(glm::dot(c.normal_G, c.forward_G), 0, 1e-9);
    CHECK_NEAR(glm::length(glm::cross(c.normal_G, c.forward_G) - c.left_G), 0, 1e-9);
  };
  for (int i = 0; i < 500; ++i) {
    const Vec3 axle = glm::normalize(Vec3(normal(random), normal(random), normal(random)));
    check(tyre_contact(rough, {normal(random), normal(random), 0.5 + 0.3 * normal(random)}, axle, 0.8));
    check(tyre_contact({}, {normal(random), normal(random), 0.5 + 0.3 * normal(random)}, axle, 0.8));
  }
  for (const Vec3& flat : {Vec3(0, 0, 1), Vec3(0, 0, -1)}) {
    check(tyre_contact(rough, {0, 0, 0.3}, flat, 0.8));
    check(tyre_contact({}, {0, 0, 0.3}, flat, 0.8));
  }
}
