// Which way is down on a slope, and how a machine stands for a heading. Frames: G the ground (x along the contour, y
// uphill, z square to the slope), V the vehicle (x forward, y left, z up). Knows no ground and no machine.
#pragma once
#include <cmath>

#include "sim/base/pose.h"

namespace sidehill {

// Unit vector in G that points down the plumb line, on a slope [rad] that rises along G's y.
inline Vec3 down_G(double slope) { return {0, -std::sin(slope), -std::cos(slope)}; }

// The way a machine on the even slope faces: unit vectors in G. Heading 0 faces uphill, positive turns left [rad].
inline Vec3 forward_G(double heading) { return {-std::sin(heading), std::cos(heading), 0}; }
inline Vec3 left_G(double heading) { return {-std::cos(heading), -std::sin(heading), 0}; }

// Attitude R_GV of a machine that stands square on the even slope with that heading [rad].
inline Mat3 R_GV_at(double heading) { return Mat3(forward_G(heading), left_G(heading), Vec3(0, 0, 1)); }

}  // namespace sidehill
