// A witness: the same tree of bodies moved by MuJoCo, which solves in hinge angles by the joint-space inertia matrix.
// For tests and benchmarks only. It gets where the bodies start and from then on what acts; where they are it knows
// by itself, nothing of ours is handed back to it. MuJoCo is included by mujoco_tree.cpp and nowhere else.
#pragma once
#include <memory>

#include "sim/motion/tree.h"

namespace sidehill {

class MujocoTree {
 public:
  MujocoTree(const Tree& tree, const TreeMotion& start);  // throws std::runtime_error with MuJoCo's words
  ~MujocoTree();
  MujocoTree(MujocoTree&&) noexcept;
  MujocoTree& operator=(MujocoTree&&) noexcept;

  void set(const TreeMotion& motion);
  // One step on from where its own state is; `motion` is written, never read. Throws std::runtime_error if the numbers
  // run away.
  void step(const TreeForces& forces, double time_step, TreeMotion& motion);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill
