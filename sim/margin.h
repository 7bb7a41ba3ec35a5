// Stability measures at rest: how far from going over, said in the ways the literature says it. Knows no file, no time.
#pragma once
#include <array>
#include <optional>

#include "sim/statics.h"

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
};

// A rigid lump with its place and inertia in the frame the other vectors are in.
// `from` to `to`: the line, clockwise seen from above, so that the lump lies to its right hand [m]. `gravity` [m/s2]
// gives size and direction of the pull. A lump on or beyond its balance has an energy of 0. A line of no length: zeros.
LineMeasure about_line(const Vec3& from, const Vec3& to, const MassProperties& lump, const Vec3& gravity);

// Load that has moved from left to right over the whole, -1 to 1: positive = the right side carries more. 0 without
// load.
double load_transfer(double left, double right);

enum class TipLine { rear, left, front, right };

// A standing machine about each line. Left and right with the front axle free on its pivot: the line rear contact -
// pivot pin, of all that does not hang on the front axle; on the stop or with a fixed axle: the line of both contacts,
// of everything. Rear and front: the line of their contacts, of everything. Liquid counts where it lies.
struct Measures {
  std::array<LineMeasure, 4> lines;  // order of enum TipLine
  TipLine nearest = TipLine::right;  // the one of least energy
  double front_transfer = 0, rear_transfer = 0, whole_transfer = 0;
};
Measures measures(const Model& model, const Rest& rest);

}  // namespace sidehill
