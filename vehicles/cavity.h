// Where liquid sits in a tyre: volume, level and centroid by geometry, at any lean. Knows no file, no time, no medium.
// The cavity is a ring between rim and tread with a rounded section.
// Frame: T of the tyre, origin at the wheel centre, y along the axle (to the left), z in the wheel plane pointing as
// far up as it can, x completing it. The liquid's surface is level in the world.
#pragma once
#include <vector>

namespace sidehill {

enum class SectionShape { rectangle, ellipse };  // of the ring's cross-section; tyres are nearer the ellipse

struct Cavity {
  double inner_radius = 0.48;                    // rim [m]
  double outer_radius = 0.85;                    // under the tread [m]
  double width = 0.4;                            // largest inside width [m]
  SectionShape shape = SectionShape::ellipse;
};

// From a tyre's outside dimensions [m]; wall thickness is our estimate. If `volume` [m3] > 0 the width is scaled so that
// the cavity holds exactly that (a data-book volume overrides the geometry).
Cavity cavity_of(double free_radius, double rim_radius, double section_width, double volume);

double cavity_volume(const Cavity& cavity);  // [m3], exact (Pappus)

struct LiquidPlace {
  double level = 0;  // height of the surface over the wheel centre, along "up" [m]
  double y = 0;      // centroid along the axle, towards the lower side [m]
  double z = 0;      // centroid in the wheel plane [m], negative = below the centre
};

// Level and centroid for `fill_fraction` (0 to 1) and `lean` [rad], the angle between the wheel plane and the vertical,
// 0 to pi/2; at lean > 0 "towards the lower side" is +y. Error under 0.1 mm (see tests/cavity_test.cpp). Source: closed form in one
// direction, Gauss-Legendre quadrature in the other; derived there.
LiquidPlace liquid_place(const Cavity& cavity, double fill_fraction, double lean);

// Mean square distance of the liquid from the axle at lean 0 [m2]: its moment of inertia about the axle over its mass.
double liquid_gyration_squared(const Cavity& cavity, double fill_fraction);

// The same place, tabulated over lean for one fill, for use in inner loops.
struct LiquidTable {
  std::vector<double> y, z;  // at equal steps of lean from 0 to pi/2; empty = no liquid
};
LiquidTable tabulate(const Cavity& cavity, double fill_fraction);
LiquidPlace lookup(const LiquidTable& table, double lean);  // level not filled in; lean clamped to 0..pi/2

}  // namespace sidehill
