// What of a ring-shaped cavity lies below a level surface: volume, first and second moments. The inside of
// vehicles/cavity; others include that.
//
// A slice square to the axle, at y, is an annulus between radii r1(y) and r2(y). The level surface cuts it along the
// line z = c(y) = (level + y sin lean) / cos lean. Area and moments of the part of a disc below a line are closed
// forms; what is left is an integral over y. It is smooth except where the line touches a circle, |c| = r1 or r2. Those
// y are where the surface meets the wall of the section, so the integral is cut there. Derived in
// tests/vehicles/cavity_test.cpp.
#pragma once
#include "vehicles/cavity.h"

namespace sidehill {

struct Section {
  double middle, half_height, half_width;  // of the ring's section [m]
};
Section section_of(const Cavity& cavity);

struct Lean {
  double sine, cosine;
};
Lean lean_of(double lean);  // [rad], clamped to 0..pi/2

struct Moments {
  double volume = 0;    // [m3]
  double surface = 0;   // d volume / d level [m2]
  double y = 0, z = 0;  // first moments, frame T [m4]
};
Moments moments_below(const Cavity& cavity, Lean lean, double level);

// Second moments about the wheel centre, frame T [m5]; those of xy and xz vanish by symmetry.
struct SecondMoments {
  double xx = 0, yy = 0, zz = 0, yz = 0;
};
SecondMoments second_moments_below(const Cavity& cavity, Lean lean, double level);

}  // namespace sidehill
