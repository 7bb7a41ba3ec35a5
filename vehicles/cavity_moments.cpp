// Quadrature over the slices of a ring (see cavity_moments.h).
#include "vehicles/cavity_moments.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "sim/base/constants.h"
#include "vehicles/quadrature.h"

namespace sidehill {
namespace {

// Part of a disc of radius r below z = c: adds `sign` times area, chord and first moment about z = 0.
struct Slice {
  double area = 0, chord = 0, z = 0;
};
inline void add_disc(Slice& slice, double r, double c, double sign) {
  if (c <= -r) return;
  if (c >= r) {
    slice.area += sign * kPi * r * r;
    return;
  }
  const double half_chord = std::sqrt((r - c) * (r + c));
  slice.area += sign * (r * r * std::atan2(half_chord, -c) + c * half_chord);
  slice.chord += sign * 2 * half_chord;
  slice.z -= sign * 2.0 / 3.0 * half_chord * half_chord * half_chord;
}

// Along the axle the quadrature runs over s: y itself in a rectangle, y = half_width sin s in an ellipse (which takes
// the square root out of r1 and r2).
struct Cuts {
  std::array<double, 10> s{};
  int count = 0;
  void add(double value) { s[static_cast<std::size_t>(count++)] = value; }
};
Cuts cuts(const Cavity& cavity, const Section& section, Lean lean, double level) {
  Cuts result;
  if (cavity.shape == SectionShape::rectangle) {
    const double b = section.half_width;
    result.add(-b);
    result.add(b);
    if (lean.sine > 0) {
      for (const double r : {-cavity.outer_radius, -cavity.inner_radius, cavity.inner_radius, cavity.outer_radius}) {
        const double y = (r * lean.cosine - level) / lean.sine;
        if (y > -b && y < b) result.add(y);
      }
    }
  } else {
    result.add(-kPi / 2);
    result.add(kPi / 2);
    // The surface against the two ellipses y = b cos t, z = +-middle + a sin t.
    const double across = section.half_width * lean.sine, up = section.half_height * lean.cosine;
    const double amplitude = std::hypot(across, up), phase = std::atan2(up, -across);
    for (const double side : {-1.0, 1.0}) {
      const double ratio = (level - side * section.middle * lean.cosine) / amplitude;
      if (!(std::abs(ratio) < 1)) continue;
      const double spread = std::acos(ratio);
      for (const double t : {phase - spread, phase + spread}) {
        result.add(std::asin(std::clamp(std::cos(t), -1.0, 1.0)));
      }
    }
  }
  std::sort(result.s.begin(), result.s.begin() + result.count);
  return result;
}

// Calls visit(y, outer radius, inner radius, c, weight) for every node of the quadrature.
template <class Visit>
void for_slices(const Cavity& cavity, Lean lean, double level, Visit visit) {
  const Section section = section_of(cavity);
  const Cuts cut = cuts(cavity, section, lean, level);
  const bool ellipse = cavity.shape == SectionShape::ellipse;
  for (int i = 0; i + 1 < cut.count; ++i) {
    const double start = cut.s[static_cast<std::size_t>(i)], span = cut.s[static_cast<std::size_t>(i) + 1] - start;
    if (!(span > 0)) continue;
    for (std::size_t k = 0; k < 2 * kNode.size(); ++k) {
      const double u = 0.5 * (1 + (k % 2 ? kNode[k / 2] : -kNode[k / 2]));
      // Near a cut the slices grow like a power 3/2; running through it with zero speed makes that a whole power.
      const double s = start + span * u * u * (3 - 2 * u);
      double weight = kWeight[k / 2] / 2 * span * 6 * u * (1 - u);
      double y = s, half_height = section.half_height;
      if (ellipse) {
        const double cosine = std::cos(s);
        y = section.half_width * std::sin(s);
        half_height *= cosine;
        weight *= section.half_width * cosine;
      }
      visit(y, section.middle + half_height, section.middle - half_height, (level + y * lean.sine) / lean.cosine,
            weight);
    }
  }
}

// Second moments of the part of a disc of radius r below z = c, with c = r sin t: along z and polar.
struct DiscSecond {
  double zz = 0, polar = 0;
};
DiscSecond disc_second_below(double r, double c) {
  if (!(r > 0)) return {};
  const double t = std::asin(std::clamp(c / r, -1.0, 1.0)), r4 = r * r * r * r, s4 = std::sin(4 * t);
  return {r4 * (t / 4 + kPi / 8 - s4 / 16), r4 * (t / 2 + kPi / 4 + std::sin(2 * t) / 6 - s4 / 24)};
}

}  // namespace

Section section_of(const Cavity& cavity) {
  return {(cavity.outer_radius + cavity.inner_radius) / 2, (cavity.outer_radius - cavity.inner_radius) / 2,
          cavity.width / 2};
}

Lean lean_of(double lean) {
  const double angle = lean > 0 ? std::min(lean, kPi / 2) : 0.0;
  return {std::sin(angle), std::cos(angle)};  // cos(pi/2) is 6e-17 in doubles, never zero
}

Moments moments_below(const Cavity& cavity, Lean lean, double level) {
  Moments total;
  for_slices(cavity, lean, level, [&](double y, double outer, double inner, double c, double weight) {
    Slice slice;
    add_disc(slice, outer, c, 1);
    add_disc(slice, inner, c, -1);
    total.volume += weight * slice.area;
    total.surface += weight * slice.chord / lean.cosine;
    total.y += weight * slice.area * y;
    total.z += weight * slice.z;
  });
  return total;
}

SecondMoments second_moments_below(const Cavity& cavity, Lean lean, double level) {
  SecondMoments total;
  for_slices(cavity, lean, level, [&](double y, double outer, double inner, double c, double weight) {
    Slice slice;
    add_disc(slice, outer, c, 1);
    add_disc(slice, inner, c, -1);
    const DiscSecond out = disc_second_below(outer, c), in = disc_second_below(inner, c);
    const double zz = out.zz - in.zz, polar = out.polar - in.polar;
    total.zz += weight * zz;
    total.xx += weight * (polar - zz);
    total.yy += weight * slice.area * y * y;
    total.yz += weight * slice.z * y;
  });
  return total;
}

}  // namespace sidehill
