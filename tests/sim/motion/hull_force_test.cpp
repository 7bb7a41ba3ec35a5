#include "sim/motion/hull_force.h"

#include <doctest/doctest.h>

#include "tests/kit/near.h"

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
  CHECK_NEAR(first->force_G.x, 0, 1e-9);
  CHECK(first->force_G.z > 1000);
  const auto near = hull_force(Terrain{}, {0.001, 0, -0.02}, {0, 0, 0}, contact);
  REQUIRE(near);
  CHECK(near->force_G.x < 0);
  const auto far = hull_force(Terrain{}, {0.5, 0, -0.02}, {0, 0, 0}, contact);
  REQUIRE(far);
  CHECK_NEAR(-far->force_G.x / far->force_G.z, 0.5, 1e-9);             // half the load, no more
  CHECK_NEAR(contact.anchor_G.x, 0.5 + far->force_G.x / 1.5e5, 1e-9);  // dragged along behind
}

TEST_CASE("the ground never pulls a corner that leaves it") {
  HullContact contact;
  const auto leaving = hull_force(Terrain{}, {0, 0, -0.001}, {0, 0, 5}, contact);
  REQUIRE(leaving);
  CHECK_NEAR(glm::length(leaving->force_G), 0, 1e-12);
}

TEST_CASE("when a corner met the ground is found once, from how deep it is and how fast it goes in") {
  HullContact contact;
  const auto first = hull_force(Terrain{}, {0, 0, -0.002}, {3, 0, -4}, contact);
  REQUIRE(first);
  REQUIRE(first->ago);
  CHECK_NEAR(*first->ago, 0.0005, 1e-15);
  const auto then = hull_force(Terrain{}, {0, 0, -0.006}, {3, 0, -4}, contact);
  REQUIRE(then);
  CHECK_FALSE(then->ago);
}
