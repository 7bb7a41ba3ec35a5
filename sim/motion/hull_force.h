// Force between one corner of hull or protective frame and the ground once the machine lies down: a spring, a damper
// and a grip that sticks and gives way. Knows the ground and the corner; no engine, no machine.
#pragma once
#include <optional>

#include "sim/base/pose.h"
#include "terrain/terrain.h"

namespace sidehill {

// What a corner remembers while it touches.
struct HullContact {
  bool touching = false;
  Vec3 anchor_G{0.0};  // where its grip took hold [m]
};

struct HullForce {
  Vec3 force_G{0.0};          // of the ground [N]
  std::optional<double> ago;  // how long ago it met the ground, where it did not touch before [s]
};

// Of the ground on a corner at `p_G` that moves with `v_G` [m/s]; empty (and the grip forgotten) while it is in the
// air. Source: stiffness, damping and grip of sheet metal and turf are our estimates.
std::optional<HullForce> hull_force(const Terrain& terrain, const Vec3& p_G, const Vec3& v_G, HullContact& contact);

}  // namespace sidehill
