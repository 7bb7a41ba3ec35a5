// The same step by the physics engine (Bullet's btMultiBody, double precision, its articulated-body algorithm called
// directly, no collision world). The engine is included by tree_bullet.cpp and nowhere else.
#pragma once
#include <memory>

#include "sim/motion/tree.h"

namespace sidehill {

class BulletTree {
 public:
  explicit BulletTree(const Tree& tree);
  ~BulletTree();
  BulletTree(BulletTree&&) noexcept;
  BulletTree& operator=(BulletTree&&) noexcept;

  // As step() of sim/motion/tree.h: the same rule, the same forces, another's code. Keeps nothing of one step for the
  // next.
  void step(const TreeNow& now, const TreeForces& forces, double time_step, TreeMotion& motion);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill
