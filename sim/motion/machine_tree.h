// The machine as a tree of rigid bodies: which body is what, built from a Model. Knows no force, no time, no engine.
#pragma once
#include "sim/model/model.h"
#include "sim/motion/tree.h"

namespace sidehill {

constexpr int kChassis = 0;  // the tree's base; its frame is V

struct MachineTree {
  Tree tree;
  // Body numbers; -1 = not a body of its own.
  int axle = -1;   // hinged on the pin: the front axle, or what joins the front half of an articulated machine
  int front = -1;  // carries the front wheels: the axle, or the front half, which steers on it; -1 = the chassis does
  int boom = -1, bucket = -1;
  int rope = -1, load = -1;  // a load on a rope: its swing about the boom's x, then about its y
  int tank = -1;             // liquid of a round tank, about x
  std::array<int, kWheels> wheel{-1, -1, -1, -1}, liquid{-1, -1, -1, -1};
};

// Throws InputError for what cannot move (rigid tyres, a pivoting axle without mass). A wheel without mass is no body
// and does not turn: such a machine is for standing still and for test rigs.
MachineTree machine_tree(const Model& model);

// Body that carries a wheel's hub.
inline int carrier(const MachineTree& machine, std::size_t wheel) {
  return wheel < 2 && machine.front >= 0 ? machine.front : kChassis;
}

// Of a wheel about its own axle, a frozen fill out of the middle included [kg m2].
double spin_inertia(const WheelModel& wheel);

// "front axle", "rear left wheel", "liquid in the front right tyre" ...
const char* body_name(const MachineTree& machine, int body);

}  // namespace sidehill
