// Mass algebra against closed forms and against itself.
#include "vehicles/mass.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>
#include <glm/gtc/quaternion.hpp>
#include <random>
#include <vector>

#include "tests/kit/near.h"

using namespace sidehill;

namespace {

void check_same(const MassProperties& a, const MassProperties& b, double tolerance) {
  CHECK_NEAR(a.mass, b.mass, tolerance);
  for (int i = 0; i < 3; ++i) {
    CHECK_NEAR(a.com[i], b.com[i], tolerance);
    for (int j = 0; j < 3; ++j) CHECK_NEAR(a.inertia[i][j], b.inertia[i][j], tolerance);
  }
}

struct LumpDice {
  std::mt19937 random{6};
  double operator()(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); }
  Vec3 place() { return Vec3((*this)(-2, 2), (*this)(-2, 2), (*this)(-2, 2)); }
  Pose pose() {
    const Quat q = glm::normalize(Quat((*this)(-1, 1), (*this)(-1, 1), (*this)(-1, 1), (*this)(-1, 1)));
    return {glm::mat3_cast(q), place()};
  }
  MassProperties lump() {
    const MassProperties box =
        solid_box((*this)(1, 300), place(), Vec3((*this)(0.1, 2), (*this)(0.1, 2), (*this)(0.1, 2)));
    return moved(box, pose());
  }
};

}  // namespace

TEST_CASE("two point masses: centre and inertia of a dumb-bell") {
  const MassProperties bell = combine(point_mass(3, Vec3(0, 0, 0)), point_mass(1, Vec3(0, 4, 0)));
  CHECK(bell.mass == 4);
  CHECK_NEAR(bell.com.y, 1, 1e-15);
  CHECK_NEAR(bell.inertia[0][0], 12, 1e-12);  // m1 m2 / (m1 + m2) d^2 = 3/4 * 16
  CHECK_NEAR(bell.inertia[1][1], 0, 1e-12);
  CHECK_NEAR(bell.inertia[2][2], 12, 1e-12);
}

TEST_CASE("a block cut into eight is the block") {
  const MassProperties whole = solid_box(80, Vec3(1, 2, 3), Vec3(2, 1, 0.5));
  CHECK_NEAR(whole.inertia[0][0], 80.0 / 12 * (1 + 0.25), 1e-12);
  MassProperties parts;
  for (const double x : {-0.5, 0.5})
    for (const double y : {-0.25, 0.25})
      for (const double z : {-0.125, 0.125})
        parts = combine(parts, solid_box(10, Vec3(1 + x, 2 + y, 3 + z), Vec3(1, 0.5, 0.25)));
  check_same(parts, whole, 1e-12);
}

TEST_CASE("order, grouping and frame do not matter") {
  LumpDice dice;
  for (int i = 0; i < 200; ++i) {
    const MassProperties a = dice.lump(), b = dice.lump(), c = dice.lump();
    check_same(combine(a, b), combine(b, a), 1e-9);
    check_same(combine(combine(a, b), c), combine(a, combine(b, c)), 1e-9);
    const Pose X = dice.pose();
    check_same(moved(combine(a, b), X), combine(moved(a, X), moved(b, X)), 1e-8);
    check_same(moved(moved(a, X), inverse(X)), a, 1e-9);
  }
}

TEST_CASE("the ledger's sum is the sum, and nothing weighs nothing") {
  LumpDice dice;
  std::vector<LedgerLine> lines;
  MassProperties expected;
  for (int i = 0; i < 9; ++i) {
    LedgerLine line;
    line.name = "lump";
    line.props = dice.lump();
    expected = combine(line.props, expected);
    lines.push_back(line);
  }
  check_same(sum(lines), expected, 1e-8);
  CHECK(sum({}).mass == 0);
  const MassProperties nothing = combine(point_mass(0, Vec3(1, 1, 1)), point_mass(0, Vec3(2, 2, 2)));
  CHECK(nothing.mass == 0);
  CHECK(std::isfinite(nothing.com.x));
  check_same(combine(lines[0].props, point_mass(0, Vec3(5, 5, 5))), lines[0].props, 1e-12);
}

TEST_CASE("principal axes rebuild the inertia, right-handed, and moments do not depend on the frame") {
  LumpDice dice;
  for (int i = 0; i < 300; ++i) {
    const MassProperties lump = combine(dice.lump(), dice.lump());
    const PrincipalInertia p = principal(lump.inertia);
    Mat3 diagonal(0.0);
    for (int k = 0; k < 3; ++k) diagonal[k][k] = p.moments[k];
    const Mat3 back = p.R * diagonal * glm::transpose(p.R), unit = p.R * glm::transpose(p.R);
    const double scale = p.moments.x + p.moments.y + p.moments.z;
    for (int k = 0; k < 3; ++k) {
      for (int j = 0; j < 3; ++j) {
        CHECK_NEAR(back[k][j], lump.inertia[k][j], 1e-13 * scale);
        CHECK_NEAR(unit[k][j], k == j ? 1.0 : 0.0, 1e-14);
      }
      // of a real body: each moment at most the sum of the others
      CHECK(p.moments[k] <= (scale - p.moments[k]) * (1 + 1e-12));
    }
    CHECK_NEAR(glm::determinant(p.R), 1, 1e-14);
    const PrincipalInertia turned = principal(moved(lump, dice.pose()).inertia);
    double a[3] = {p.moments.x, p.moments.y, p.moments.z};
    double b[3] = {turned.moments.x, turned.moments.y, turned.moments.z};
    std::sort(a, a + 3);
    std::sort(b, b + 3);
    for (int k = 0; k < 3; ++k) CHECK_NEAR(a[k], b[k], 1e-12 * scale);
  }
  Mat3 diagonal(0.0);
  diagonal[0][0] = 3;
  diagonal[1][1] = 1;
  diagonal[2][2] = 2;
  CHECK(principal(diagonal).R == Mat3(1.0));
  CHECK(principal(diagonal).moments == Vec3(3, 1, 2));
  CHECK(principal(Mat3(0.0)).moments == Vec3(0.0));
}

TEST_CASE("poses: there and back again, and chained") {
  LumpDice dice;
  for (int i = 0; i < 100; ++i) {
    const Pose X_AB = dice.pose(), X_BC = dice.pose();
    const Vec3 p_C = dice.place();
    CHECK_NEAR(glm::length((X_AB * X_BC) * p_C - X_AB * (X_BC * p_C)), 0, 1e-12);
    CHECK_NEAR(glm::length(inverse(X_AB) * (X_AB * p_C) - p_C), 0, 1e-12);
  }
}
