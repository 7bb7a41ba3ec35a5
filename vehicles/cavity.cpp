// Liquid in a ring-shaped cavity by geometry (see cavity.h).
//
// A slice square to the axle, at y, is an annulus between radii r1(y) and r2(y). The level surface cuts it along the
// line z = c(y) = (level + y sin lean) / cos lean. Area, first and polar moments of the part of a disc below a line are
// closed forms; what is left is an integral over y. It is smooth except where the line touches a circle, |c| = r1 or
// r2. Those y are where the surface meets the wall of the section, so the integral is cut there.
#include "vehicles/cavity.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace sidehill {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kTreadOverWidth = 0.08;  // lugs and carcass under the tread over section width; our estimate
constexpr double kSideOverWidth = 0.015;  // one sidewall over section width; our estimate
constexpr double kSmallestFill = 1e-7;    // below it liquid counts as a point
constexpr int kTableSteps = 128;

// Gauss-Legendre on 0..1, twelve nodes (Source: Abramowitz and Stegun 1964, table 25.4), halved by symmetry.
constexpr std::array<double, 6> kNode{0.1252334085114689, 0.3678314989981802, 0.5873179542866175,
                                      0.7699026741943047, 0.9041172563704749, 0.9815606342467192};
constexpr std::array<double, 6> kWeight{0.2491470458134028, 0.2334925365383548, 0.2031674267230659,
                                        0.1600783285433462, 0.1069393259953184, 0.0471753363865118};

struct Section {
  double middle, half_height, half_width;  // of the ring's section [m]
};
Section section_of(const Cavity& cavity) {
  return {(cavity.outer_radius + cavity.inner_radius) / 2, (cavity.outer_radius - cavity.inner_radius) / 2,
          cavity.width / 2};
}

struct Lean {
  double sine, cosine;
};
Lean lean_of(double lean) {
  const double angle = lean > 0 ? std::min(lean, kPi / 2) : 0.0;
  return {std::sin(angle), std::cos(angle)};  // cos(pi/2) is 6e-17 in doubles, never zero
}

// What lies below the surface.
struct Moments {
  double volume = 0;    // [m3]
  double surface = 0;   // d volume / d level [m2]
  double y = 0, z = 0;  // first moments [m4]
};

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

Moments below(const Cavity& cavity, const Section& section, Lean lean, double level) {
  const Cuts cut = cuts(cavity, section, lean, level);
  const bool ellipse = cavity.shape == SectionShape::ellipse;
  Moments total;
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
      const double c = (level + y * lean.sine) / lean.cosine;
      Slice slice;
      add_disc(slice, section.middle + half_height, c, 1);
      add_disc(slice, section.middle - half_height, c, -1);
      total.volume += weight * slice.area;
      total.surface += weight * slice.chord / lean.cosine;
      total.y += weight * slice.area * y;
      total.z += weight * slice.z;
    }
  }
  return total;
}

// Lowest point of the cavity; its level is minus the half height of the whole ring as seen from the side.
LiquidPlace lowest(const Cavity& cavity, const Section& section, Lean lean) {
  if (cavity.shape == SectionShape::rectangle) {
    return {-(cavity.outer_radius * lean.cosine + section.half_width * lean.sine),
            lean.sine > 0 ? section.half_width : 0.0, -cavity.outer_radius};
  }
  const double across = section.half_width * lean.sine, up = section.half_height * lean.cosine;
  const double amplitude = std::hypot(across, up);
  return {-(section.middle * lean.cosine + amplitude), section.half_width * across / amplitude,
          -section.middle - section.half_height * up / amplitude};
}

// For fills up to a half; `guess` is a level to start from. Newton, kept inside a shrinking bracket.
LiquidPlace place_up_to_half(const Cavity& cavity, double fill, Lean lean, double guess) {
  const Section section = section_of(cavity);
  const LiquidPlace bottom = lowest(cavity, section, lean);
  if (!(fill > kSmallestFill)) return bottom;
  const double wanted = fill * cavity_volume(cavity);
  double low = bottom.level, high = 0;  // the half-full level is 0, by symmetry
  double level = guess > low && guess <= high ? guess : 0.5 * (low + high);
  Moments m;
  for (int i = 0; i < 100; ++i) {
    m = below(cavity, section, lean, level);
    const double missing = wanted - m.volume;
    if (std::abs(missing) <= 1e-12 * wanted) break;
    (missing > 0 ? low : high) = level;
    if (high - low <= 1e-15 * cavity.outer_radius) break;
    double next = m.surface > 0 ? level + missing / m.surface : low;
    // The volume's curvature changes sign, so Newton alone may run off; a step out of the bracket halves it instead.
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (next == level) break;
    level = next;
  }
  return {level, std::max(m.y / m.volume, 0.0), m.z / m.volume};  // y: at lean 0 only rounding is left
}

LiquidPlace place(const Cavity& cavity, double fill, Lean lean, double guess) {
  if (!(fill > 0.5)) return place_up_to_half(cavity, fill, lean, guess);
  // The cavity is its own mirror image through the wheel centre, so the air above is such a liquid upside down.
  const double air = std::max(1 - fill, 0.0);
  const LiquidPlace mirrored = place_up_to_half(cavity, air, lean, -guess);
  const double ratio = air / fill;
  return {-mirrored.level, ratio * mirrored.y, ratio * mirrored.z};
}

// Polar moment about the centre of the part of a disc of radius r below z = c.
double disc_polar_below(double r, double c) {
  const double alpha = std::asin(std::clamp(c / r, -1.0, 1.0));
  return r * r * r * r * (alpha / 2 + kPi / 4 + std::sin(2 * alpha) / 6 - std::sin(4 * alpha) / 24);
}

double clamp_fill(double fill_fraction) { return fill_fraction > 0 ? std::min(fill_fraction, 1.0) : 0.0; }

}  // namespace

Cavity cavity_of(double free_radius, double rim_radius, double section_width, double volume) {
  Cavity cavity;
  cavity.inner_radius = rim_radius;
  cavity.outer_radius = free_radius - std::min(kTreadOverWidth * section_width, (free_radius - rim_radius) / 3);
  cavity.width = section_width * (1 - 2 * kSideOverWidth);
  cavity.shape = SectionShape::ellipse;
  if (volume > 0) cavity.width *= volume / cavity_volume(cavity);
  return cavity;
}

double cavity_volume(const Cavity& cavity) {
  const Section section = section_of(cavity);
  const double corner = cavity.shape == SectionShape::rectangle ? 4 : kPi;
  return 2 * kPi * section.middle * corner * section.half_height * section.half_width;
}

LiquidPlace liquid_place(const Cavity& cavity, double fill_fraction, double lean) {
  return place(cavity, clamp_fill(fill_fraction), lean_of(lean), 1e300);
}

double liquid_gyration_squared(const Cavity& cavity, double fill_fraction) {
  const double fill = clamp_fill(fill_fraction);
  if (!(fill > kSmallestFill)) return cavity.outer_radius * cavity.outer_radius;
  const Section section = section_of(cavity);
  const double level = place(cavity, fill, lean_of(0), 1e300).level;
  const Cuts cut = cuts(cavity, section, lean_of(0), level);
  const bool ellipse = cavity.shape == SectionShape::ellipse;
  double total = 0;
  for (int i = 0; i + 1 < cut.count; ++i) {
    const double start = cut.s[static_cast<std::size_t>(i)], span = cut.s[static_cast<std::size_t>(i) + 1] - start;
    for (std::size_t k = 0; k < 2 * kNode.size(); ++k) {
      const double u = 0.5 * (1 + (k % 2 ? kNode[k / 2] : -kNode[k / 2]));
      const double s = start + span * u * u * (3 - 2 * u);
      double weight = kWeight[k / 2] / 2 * span * 6 * u * (1 - u), half_height = section.half_height;
      if (ellipse) {
        half_height *= std::cos(s);
        weight *= section.half_width * std::cos(s);
      }
      const double outer = section.middle + half_height, inner = section.middle - half_height;
      total += weight * (disc_polar_below(outer, level) - (inner > 0 ? disc_polar_below(inner, level) : 0.0));
    }
  }
  return total / (fill * cavity_volume(cavity));
}

LiquidTable tabulate(const Cavity& cavity, double fill_fraction) {
  const double fill = clamp_fill(fill_fraction);
  LiquidTable table;
  if (!(fill > 0)) return table;
  table.y.reserve(kTableSteps + 1);
  table.z.reserve(kTableSteps + 1);
  double guess = 1e300;
  for (int i = 0; i <= kTableSteps; ++i) {
    const LiquidPlace at = place(cavity, fill, lean_of(i * (kPi / 2 / kTableSteps)), guess);
    guess = at.level;  // a good start for the next lean
    table.y.push_back(at.y);
    table.z.push_back(at.z);
  }
  return table;
}

LiquidPlace lookup(const LiquidTable& table, double lean) {
  if (table.y.size() < 2) return {};
  const double last = static_cast<double>(table.y.size() - 1);
  const double at = lean > 0 ? std::min(lean * (last / (kPi / 2)), last) : 0.0;
  const std::size_t i = std::min(static_cast<std::size_t>(at), table.y.size() - 2);
  const double part = at - static_cast<double>(i);
  return {0, table.y[i] + part * (table.y[i + 1] - table.y[i]), table.z[i] + part * (table.z[i + 1] - table.z[i])};
}

}  // namespace sidehill
