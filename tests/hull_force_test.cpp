#include "sim/hull_force.h"

#include <doctest/doctest.h>

#include "tests/near.h"

using namespace sidehill;

TEST_CASE("a corner in the air feels nothing and forgets where it held") {
  HullContact contact{true, {1, 2, 0}};
  CHECK_FALSE(hull_force(Terrain{}, {0, 0, 0.01}, {0, 0, -3}, contact));
  CHECK_FALSE(contact.touching);
}

TEST_CASE("a corner in the ground is pushed out along the normal, and holds until its grip is used up") {
  HullContact contact;
  const auto first = hull_force(Terrain{}, {0, 0, -0.02}, {0, 0, 0}, contact);
  REQUIRE(first);
  CHECK_NEAR(first->x, 0, 1e-9);
  CHECK(first->z > 1000);
  const auto near = hull_force(Terrain{}, {0.001, 0, -0.02}, {0, 0, 0}, contact);
  REQUIRE(near);
  CHECK(near->x < 0);
  const auto far = hull_force(Terrain{}, {0.5, 0, -0.02}, {0, 0, 0}, contact);
  REQUIRE(far);
  CHECK_NEAR(-far->x / far->z, 0.5, 1e-9);                     // half the load, no more
  CHECK_NEAR(contact.anchor_G.x, 0.5 + far->x / 1.5e5, 1e-9);  // dragged along behind
}

TEST_CASE("the ground never pulls a corner that leaves it") {
  HullContact contact;
  const auto leaving = hull_force(Terrain{}, {0, 0, -0.001}, {0, 0, 5}, contact);
  REQUIRE(leaving);
  CHECK_NEAR(glm::length(*leaving), 0, 1e-12);
}
