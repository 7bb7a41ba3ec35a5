// A witness: the same tree of bodies moved by the Open Dynamics Engine (double precision), which knows no hinge angles:
// every body is free and the hinges are constraints that push them together. For tests and benchmarks only. It gets
// where the bodies start and from then on what acts; where they are it knows by itself, nothing of ours is handed back
// to it. ODE is included by ode_tree.cpp and nowhere else.
#pragma once
#include <memory>

#include "sim/motion/tree.h"

namespace sidehill {

class OdeTree {
 public:
  OdeTree(const Tree& tree, const TreeMotion& start);
  ~OdeTree();
  OdeTree(OdeTree&&) noexcept;
  OdeTree& operator=(OdeTree&&) noexcept;

  void set(const TreeMotion& motion);
  // One step on from where its own state is; `motion` is written, never read. Hinge angles are read from the attitudes
  // and followed through whole turns: less than half a turn a step.
  void step(const TreeForces& forces, double time_step, TreeMotion& motion);

  // How far the worst hinge has come apart [m].
  double gap() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill
