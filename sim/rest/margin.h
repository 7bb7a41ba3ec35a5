// Stability measures at rest: how far from going over, said in the ways the literature says it. Knows no file, no time.
#pragma once
#include <array>
#include <optional>

#include "sim/rest/statics.h"

namespace sidehill {

// Of one line the machine could go over, at rest under gravity. All positive while it stands.
struct LineMeasure {
  double angle = 0;            // between the load's pull and the line, square to it [rad]. Papadopoulos and Rey 1996
  double angle_by_force = 0;   // times the pull [N rad]. Papadopoulos and Rey 1996
  double angle_by_moment = 0;  // times pull square to the line and its arm [N m rad]. Papadopoulos and Rey 2000
  double plumb_line = 0;       // shortest distance of the plumb line through the centre of gravity from the line [m]
  double energy = 0;           // to bring it over the line [J]. Messuri and Klein 1985
  double energy_height = 0;    // the same over its weight [m]: normalised energy stability margin. Hirose et al. 2001
  double critical_rate = 0;    // turning rate about the line that just brings it over [rad/s]
  double inertia = 0;          // of what turns, about the line [kg m2]
  Vec3 axis{0.0};              // unit, along the line; going over it is a turn about minus this
};

// How the pull and a moment on a body stand to one line: the force-angle measure, for a body under way as well. All
// positive while it stays.
struct ForceAngle {
  double angle = 0;      // between the pull and the line, square to it [rad]. Papadopoulos and Rey 1996
  double by_force = 0;   // times the whole pull [N rad]. Papadopoulos and Rey 1996
  double by_moment = 0;  // times the pull square to the line and its arm [N m rad]. Papadopoulos and Rey 2000
  double arm = 0;        // shortest distance of the pull's line of action from the line, positive inside [m]
};

// `from` to `to`: as below. `force` [N] and `moment` [N m] are all that acts on the body except the ground: weight, a
// pull on the hitch, and the forces of its own acceleration, taken together at `centre`. The moment goes in as the
// couple of forces at the centre and on the line that does the same about the line. A line of no length or no force
// across it: zeros. Source: E. Papadopoulos and D. Rey, "A new measure of tipover stability margin for mobile
// manipulators", ICRA 1996; the same, "The force-angle measure of tipover stability margin for mobile manipulators",
// Vehicle System Dynamics 33, 2000.
ForceAngle force_angle(const Vec3& from, const Vec3& to, const Vec3& centre, const Vec3& force,
                       const Vec3& moment = Vec3(0.0));

// A rigid lump with its place and inertia in the frame the other vectors are in.
// `from` to `to`: the line, clockwise seen from above, so that the lump lies to its right hand [m]. `gravity` [m/s2]
// gives size and direction of the pull. A lump on or beyond its balance has an energy of 0. A line of no length: zeros.
// Source: D. A. Messuri and C. A. Klein, "Automatic body regulation for maintaining stability of a legged vehicle
// during rough-terrain locomotion", IEEE J. Robotics and Automation 1(3), 1985, for the energy; over the weight, S.
// Hirose, H. Tsukagoshi and K. Yoneda, "Normalized energy stability margin", ICRA 2001. Friction and tyres left out.
LineMeasure about_line(const Vec3& from, const Vec3& to, const MassProperties& lump, const Vec3& gravity);

// Load that has moved from left to right over the whole, -1 to 1: positive = the right side carries more. 0 without
// load.
double load_transfer(double left, double right);

enum class TipLine { rear, left, front, right };

// A standing machine about each line. Left and right with the front axle free on its pivot: the line rear contact -
// pivot pin, of all that does not hang on the front axle; on the stop or with a fixed axle: the line of both contacts,
// of everything. Rear and front: the line of their contacts, of everything. A wheel in the air bears no line: the two
// that met at it are both the one between its neighbours. Liquid counts where it lies; the pull is weight and what a
// bend or braking adds to it. Rigid tyres on even ground are taken as not giving at all.
struct Measures {
  std::array<LineMeasure, 4> lines;  // order of enum TipLine
  TipLine nearest = TipLine::right;  // the one of least energy
  double front_transfer = 0, rear_transfer = 0, whole_transfer = 0;
};
Measures measures(const Model& model, const Rest& rest);

}  // namespace sidehill
