// Where liquid sits in a tyre: volume, level and centroid by geometry, at any lean. Knows no file, no time, no medium.
// The cavity is a ring between rim and tread with a rounded section.
// Frame: T of the tyre, origin at the wheel centre, y along the axle (towards the lower side when it leans), z in the
// wheel plane pointing as far up as it can, x completing it. The liquid's surface is level in the world.
#pragma once
#include <vector>

#include "sim/base/pose.h"

namespace sidehill {

enum class SectionShape { rectangle, ellipse };  // of the ring's cross-section; tyres are nearer the ellipse

struct Cavity {
  double inner_radius = 0.48;  // rim [m], >= 0
  double outer_radius = 0.85;  // under the tread [m], > inner_radius
  double width = 0.4;          // largest inside width [m], > 0
  SectionShape shape = SectionShape::ellipse;
};

// From a tyre's outside dimensions [m]; wall thickness is our estimate (8 % of the section width under the tread, lugs
// included, 1.5 % at each side), chosen so that common sizes hold 0.67 pi/4 (D^2 - d^2) S, the middle of what printed
// fill charts imply (0.63 to 0.71). If `volume` [m3] > 0 the width is scaled so that the cavity holds exactly that (a
// data-book volume overrides the geometry).
Cavity cavity_of(double free_radius, double rim_radius, double section_width, double volume);

double cavity_volume(const Cavity& cavity);  // [m3], exact (Pappus)

struct LiquidPlace {
  double level = 0;  // height of the surface over the wheel centre, along the world's vertical [m]
  double y = 0;      // centroid along the axle, towards the lower side [m], >= 0
  double z = 0;      // centroid in the wheel plane [m], negative = below the centre
};

// Level and centroid for `fill_fraction` (clamped to 0..1) and `lean` [rad], the angle between the wheel plane and the
// vertical (clamped to 0..pi/2). Error under 0.01 mm down to a fill of 1e-6; below that the lowest point of the cavity,
// which is also the answer for an empty one. Source: circle segments in closed form across the wheel plane,
// Gauss-Legendre quadrature along the axle between the edges of the surface; derived in tests/vehicles/cavity_test.cpp.
LiquidPlace liquid_place(const Cavity& cavity, double fill_fraction, double lean);

// Mean square distance of the liquid from the axle at lean 0 [m2]: its moment of inertia about the axle over its mass.
double liquid_gyration_squared(const Cavity& cavity, double fill_fraction);

// The liquid as a body at rest under any effective gravity: a slope, braking, a bend. Frame H of the wheel: origin at
// its centre, y along the axle, z up and x ahead on level ground (not turning).
struct LiquidBody {
  Vec3 centroid{0.0};  // [m]
  Vec3 up{0, 0, 1};    // unit normal of the surface
  double level = 0;    // height of the surface over the wheel centre, along `up` [m]
  Mat3 inertia{0.0};   // as if frozen, about the centroid over the mass, axes of H [m2]
};

// `gravity` = gravity minus the wheel's acceleration, in H [m/s2], any size and direction; none at all (or nonsense)
// counts as straight down. Fill clamped; an empty cavity gives its lowest point and no inertia.
// Source: closed forms and quadrature as liquid_place.
LiquidBody liquid_body(const Cavity& cavity, double fill_fraction, const Vec3& gravity);

// The same place, tabulated over lean for one fill, for use in inner loops.
struct LiquidTable {
  std::vector<double> y, z;  // from lean 0 to pi/2, closer together towards lying flat; empty = no liquid
};
LiquidTable tabulate(const Cavity& cavity, double fill_fraction);  // empty for a fill of 0
// Linear between the table's places: within 0.4 mm of liquid_place up to 45 deg of lean and 0.7 mm beyond, from 0.5 %
// fill up. Level not filled in; lean clamped to 0..pi/2; an empty table gives the wheel centre.
LiquidPlace lookup(const LiquidTable& table, double lean);

}  // namespace sidehill
