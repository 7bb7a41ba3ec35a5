// A moment between two stored frames, for slow motion and films: poses pass over smoothly, everything that was measured
// is the earlier frame's. Knows only states.
#pragma once
#include "render/namespaces.h"
#include "sim/motion/state.h"

namespace sidehill::screen {

// `share` 0 gives `a` and 1 gives `b`, bit for bit; outside it is clamped. Time, slope, poses, joints, wheels and what
// hangs lie between; loads, forces, velocities and flags are those of `a`.
State between(const State& a, const State& b, double share);

}  // namespace sidehill::screen
