// Our own step of a tree of bodies against the physics engine's, and against what no step may create or lose.
#include "sim/motion/tree.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "sim/motion/tree_bullet.h"
#include "tests/kit/any_tree.h"
#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("one step of any tree under any forces is the physics engine's step") {
  Dice dice{std::mt19937(7)};
  for (int n : {1, 2, 5, 11, kMaxBodies}) {
    for (int trial = 0; trial < 20; ++trial) {
      const Tree tree = any_tree(dice, n);
      TreeMotion ours = any_motion(dice, tree), engines = ours;
      TreeNow now;
      look(tree, ours, now);
      TreeForces forces;
      forces.about = trial % 2 == 0 ? ours.com : dice.vec(3);
      forces.gravity = dice.vec(10);
      for (int i = 0; i < n; ++i) {
        forces.push(i, now[static_cast<std::size_t>(i)].com + dice.vec(1), dice.vec(2e4));
        if (i > 0) forces.torque[static_cast<std::size_t>(i)] = dice(-3000, 3000);
      }
      BulletTree bullet(tree);
      bullet.step(now, forces, 1e-3, engines);
      step(tree, now, forces, 1e-3, ours);
      CHECK(apart(ours, engines) < 1e-9);
    }
  }
}

TEST_CASE("both steps go the same way for a second, a free tree of loose parts in any gravity") {
  Dice dice{std::mt19937(11)};
  const Tree tree = any_tree(dice, 9);
  TreeMotion ours = any_motion(dice, tree), engines = ours;
  BulletTree bullet(tree);
  TreeNow now;
  TreeForces forces;
  forces.gravity = {1, -2, -9};
  for (int i = 0; i < 1000; ++i) {
    look(tree, ours, now);
    forces.about = ours.com;
    step(tree, now, forces, 1e-3, ours);
    look(tree, engines, now);
    forces.about = engines.com;
    bullet.step(now, forces, 1e-3, engines);
  }
  CHECK(apart(ours, engines) < 1e-7);
}

TEST_CASE("a round body may turn or not, its parent moves the same") {
  Dice dice{std::mt19937(3)};
  Tree tree = any_tree(dice, 2);
  MassProperties& wheel = tree.bodies[1].props;
  tree.bodies[1].axis = {0, 1, 0};
  wheel.com = {0, 0.2, 0};
  wheel.inertia = Mat3(20, 0, 0, 0, 35, 0, 0, 0, 20);
  TreeMotion as_round = any_motion(dice, tree), plain = as_round;
  TreeNow now;
  TreeForces forces;
  Tree round = tree;
  round.bodies[1].round = true;
  for (int i = 0; i < 500; ++i) {
    look(tree, plain, now);
    forces.about = plain.com;
    step(tree, now, forces, 1e-3, plain);
    look(round, as_round, now);
    forces.about = as_round.com;
    step(round, now, forces, 1e-3, as_round);
  }
  CHECK(apart(plain, as_round) < 1e-9);
}

TEST_CASE("a free tree keeps momentum to rounding, energy and angular momentum to the first order of the step") {
  Dice dice{std::mt19937(5)};
  const Tree tree = any_tree(dice, 7);
  const TreeMotion start = any_motion(dice, tree);
  const auto drift = [&](double time_step) {
    TreeMotion m = start;
    TreeNow now;
    TreeForces forces;
    look(tree, m, now);
    const Vec3 spin = angular_momentum(tree, now, Vec3(0.0)), push = momentum(tree, now);
    const double energy = kinetic_energy(tree, now);
    for (int i = 0; i < std::lround(0.5 / time_step); ++i) {
      forces.about = m.com;
      step(tree, now, forces, time_step, m);
      look(tree, m, now);
    }
    CHECK(glm::length(momentum(tree, now) - push) < 0.02 * glm::length(push));
    return std::array<double, 2>{glm::length(angular_momentum(tree, now, Vec3(0.0)) - spin) / glm::length(spin),
                                 std::abs(kinetic_energy(tree, now) / energy - 1)};
  };
  const auto coarse = drift(2e-4), fine = drift(1e-4);
  for (std::size_t k = 0; k < 2; ++k) {
    CHECK(coarse[k] < 0.02);
    CHECK_NEAR(fine[k] / coarse[k], 0.5, 0.1);
  }
}
