// Trees of rigid bodies thrown by dice, for tests that hold one mover of bodies to another.
#pragma once
#include <algorithm>
#include <cmath>
#include <random>

#include "sim/motion/tree.h"

namespace sidehill {

struct Dice {
  std::mt19937 engine;
  double operator()(double low, double high) { return std::uniform_real_distribution<double>(low, high)(engine); }
  Vec3 vec(double size) { return {(*this)(-size, size), (*this)(-size, size), (*this)(-size, size)}; }
};

// Any tree of `n` bodies with any masses, hinges and motion.
inline Tree any_tree(Dice& dice, int n) {
  Tree tree;
  for (int i = 0; i < n; ++i) {
    MassProperties props = solid_box(dice(50, 3000), dice.vec(0.6), {dice(0.3, 2), dice(0.3, 2), dice(0.3, 2)});
    const Mat3 R = about(glm::normalize(dice.vec(1) + Vec3(0, 0, 2)), dice(0, 3));
    props.inertia = R * props.inertia * glm::transpose(R);
    tree.bodies.push_back({i == 0 ? -1 : static_cast<int>(dice(0, i - 1e-9)), dice.vec(1.5),
                           glm::normalize(dice.vec(1) + Vec3(0.1, 0, 0)), props, false});
  }
  return tree;
}

inline TreeMotion any_motion(Dice& dice, const Tree& tree) {
  TreeMotion m;
  m.q_GB = glm::normalize(Quat(dice(-1, 1), dice(-1, 1), dice(-1, 1), dice(0.2, 1)));
  m.com = dice.vec(5), m.v = dice.vec(3), m.w = dice.vec(1);
  for (std::size_t i = 1; i < tree.bodies.size(); ++i) m.angle[i] = dice(-2, 2), m.rate[i] = dice(-4, 4);
  return m;
}

// Anything that may act on it, gathered about any place.
inline TreeForces any_forces(Dice& dice, const Tree& tree, const TreeMotion& motion) {
  TreeNow now;
  look(tree, motion, now);
  TreeForces forces;
  forces.about = dice.vec(3);
  forces.gravity = dice.vec(10);
  for (std::size_t i = 0; i < tree.bodies.size(); ++i) {
    forces.push(static_cast<int>(i), now[i].com + dice.vec(1), dice.vec(2e4));
    if (i > 0) forces.torque[i] = dice(-3000, 3000);
  }
  return forces;
}

// The widest difference of any coordinate, [m], [rad], [m/s], [rad/s] alike.
inline double apart(const TreeMotion& a, const TreeMotion& b) {
  double most = 0;
  for (std::size_t i = 0; i < kMaxBodies; ++i)
    most = std::max({most, std::abs(a.angle[i] - b.angle[i]), std::abs(a.rate[i] - b.rate[i])});
  const Quat turn = a.q_GB * glm::conjugate(b.q_GB);
  return std::max({most, glm::length(a.com - b.com), glm::length(a.v - b.v), glm::length(a.w - b.w),
                   2 * glm::length(Vec3(turn.x, turn.y, turn.z))});
}

}  // namespace sidehill
