// The mechanics of a rigid body that rolls over a slope from one contact to the next: energy while it turns about one,
// angular momentum about the next when it strikes. Knows no tractor and no order of events.
// Source: Commission Delegated Regulation (EU) No 1322/2014, Annex IX, 3.1.4.3.2 and section B4; "B4, line" is a line
// number of its program listing.
//
// Places are seen from the contact: x down the slope, z square out of the ground.
#pragma once
#include "sim/base/pose.h"

namespace sidehill {

// What the calculation assumes for every tractor (3.1.4.3.2; B4, lines 1230, 1270 and 3680).
inline constexpr double kRollingSlope = 0.588;       // 1 in 1.5, as the listing rounds it [rad]
inline constexpr double kRollingRestitution = 0.2;   // partly elastic impact [-]
inline constexpr double kRollingPenetration = 0.2;   // frame into the ground plus its own deformation [m]
inline constexpr double kRollingGravity = 9.8;       // [m/s2]
inline constexpr double kRollingBonnetLimit = -0.2;  // bonnet this far through the slope: it came first [m]
inline constexpr double kRollingCrossInertia = 3;    // pitch or yaw over roll moment of inertia (line 2070) [-]

enum class RollingStageKind {
  fall,      // turning about a fixed axis, energy kept
  impact,    // a new place strikes; angular momentum about it is kept but for the rebound
  new_axis,  // the part of the turning that lies along the new axis
  climb      // must the centre of gravity rise over the contact, and is there energy enough?
};

struct RollingStage {
  RollingStageKind kind = RollingStageKind::fall;
  const char* what = "";      // in words
  const char* lines = "";     // of the listing
  int velocity = -1;          // which of O0..O9 it ends with; -1: none
  double before = 0;          // angular velocity before [rad/s]
  double after = 0;           // and after; equal for a climb that is not needed [rad/s]
  double inertia_before = 0;  // about the axis of turning, before [kg m2]
  double inertia = 0;         // and after [kg m2]
  double at_hand = 0;         // energy of turning before; not set for a new axis [J]
  double needed = 0;          // climb: to bring the centre of gravity over the contact; 0 if it is past it already [J]
  double gained = 0;          // fall: from the height lost; impact: energy of motion, rebound and all, less before [J]
  bool passed = true;         // false: the rolling ends here
};

// What turns about which axis, when.
struct Turning {
  double inertia_cog;  // about a parallel to the axis through the centre of gravity [kg m2]
  double mass;         // [kg]
  double slope;        // seen along the axis [rad]

  // About the axis itself, the centre of gravity at (x, z) [kg m2].
  double inertia(double x, double z) const { return inertia_cog + mass * (x * x + z * z); }
};

// Has the centre of gravity, at (x, z), to rise over the contact, and does the turning bring it there? Energy of
// turning against weight times the height missing (B4, lines 2090-2120, 2240-2280, 2680-2720, 3270-3310, 3520-3600).
RollingStage climb(const Turning& turning, double x, double z, double velocity);

// Turning about the contact from one place of the centre of gravity to another: the height lost becomes velocity (B4,
// lines 2130-2140, 3315-3330). Not passed if the energy does not reach that far.
RollingStage fall(const Turning& turning, const Vec3& from, const Vec3& to, double velocity);

// While the body turns about the contact with the centre of gravity at `cog`, a place at (x_new, -depth) strikes.
// Angular momentum about that place is the same before and after; after it the place itself moves away from the slope
// with the restitution times the velocity it came with, x_new * velocity (3.1.4.3.2.4; B4, lines 1780, 2200, 3390).
RollingStage impact(const Turning& turning, const Vec3& cog, double x_new, double depth, double velocity,
                    double restitution = kRollingRestitution);

// Only the part of an angular velocity that lies along the new axis lasts; the rest is stopped by the ground (B4, lines
// 1850, 2560, 2990, 3480). `angle` between the axes [rad].
RollingStage along_new_axis(double angle, double velocity);

const char* to_string(RollingStageKind kind);  // "fall", "impact", "new_axis", "climb"

}  // namespace sidehill
