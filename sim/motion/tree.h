// Rigid bodies on hinges: a free base and a tree of links, how it stands and moves, what acts on it, and one time step
// by the articulated-body rule. Knows no machine, no ground, no engine. Everything in G, an inertial frame.
#pragma once
#include <array>
#include <vector>

#include "vehicles/mass.h"

namespace sidehill {

constexpr int kMaxBodies = 20;

struct TreeBody {
  int parent = -1;       // of the bodies before it; the base (body 0) has none
  Vec3 place{0.0};       // of the hinge, in the parent's frame [m]
  Vec3 axis{0, 1, 0};    // unit, the hinge's, in the parent's frame and its own
  MassProperties props;  // in its own frame: origin on the hinge, along the parent's axes at hinge angle 0
  bool round = false;    // alike about its hinge: its turning about it moves no mass
};

struct Tree {
  std::vector<TreeBody> bodies;  // 1 to kMaxBodies
};

// Where it is and how it moves. The base by its centre of mass; a link by its hinge.
struct TreeMotion {
  Quat q_GB{1, 0, 0, 0};                           // attitude of the base's frame
  Vec3 com{0.0}, v{0.0}, w{0.0};                   // of the base [m], [m/s], [rad/s]
  std::array<double, kMaxBodies> angle{}, rate{};  // by body, [0] unused [rad], [rad/s]
};

// One body now.
struct BodyNow {
  Mat3 R{1.0};            // attitude; of a round body: its parent's
  Vec3 p{0.0}, com{0.0};  // its frame's origin (a link's hinge), its centre of mass [m]
  Vec3 v{0.0}, w{0.0};    // of that origin [m/s]; [rad/s]
  Vec3 axis{0.0};         // of its hinge
};
using TreeNow = std::array<BodyNow, kMaxBodies>;
void look(const Tree& tree, const TreeMotion& motion, TreeNow& now);

// What acts besides gravity during a step, gathered about one point; hinge torques act on the link and back on its
// parent.
struct TreeForces {
  Vec3 about{0.0};                                 // [m]
  Vec3 gravity{0.0};                               // [m/s2]
  std::array<Vec3, kMaxBodies> force{}, moment{};  // [N], [N m]
  std::array<double, kMaxBodies> torque{};         // [N m]

  void push(int body, const Vec3& at, const Vec3& f) {
    force[static_cast<std::size_t>(body)] += f;
    moment[static_cast<std::size_t>(body)] += glm::cross(at - about, f);
  }
};

// Semi-implicit Euler: velocities by the accelerations now, then places by the new velocities. `now` must be of
// `motion`. Source: R. Featherstone, Rigid Body Dynamics Algorithms, 2008, table 7.1, written with all quantities about
// one point and along the axes of G, so that nothing is carried from frame to frame.
void step(const Tree& tree, const TreeNow& now, const TreeForces& forces, double time_step, TreeMotion& motion);

double tree_mass(const Tree& tree);
Vec3 centre_of_mass(const Tree& tree, const TreeNow& now);
double kinetic_energy(const Tree& tree, const TreeNow& now);                     // [J]
Vec3 momentum(const Tree& tree, const TreeNow& now);                             // [kg m/s]
Vec3 angular_momentum(const Tree& tree, const TreeNow& now, const Vec3& about);  // [kg m2/s]

}  // namespace sidehill
