// Liquid in a ring-shaped cavity by geometry (see cavity.h and cavity_moments.h).
#include "vehicles/cavity.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include "sim/base/constants.h"
#include "vehicles/cavity_moments.h"

namespace sidehill {
namespace {

constexpr double kTreadOverWidth = 0.08;  // lugs and carcass under the tread over section width; our estimate
constexpr double kSideOverWidth = 0.015;  // one sidewall over section width; our estimate
constexpr double kSmallestFill = 1e-7;    // below it liquid counts as a point
// The liquid runs off to one side within a degree or two of lying flat, so the table's places crowd there: lean =
// pi/2 (1 - (1 - u)^2) with u in equal steps.
constexpr int kTableSteps = 320;

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
    m = moments_below(cavity, lean, level);
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
  const double level = place(cavity, fill, lean_of(0), 1e300).level;
  const SecondMoments m = second_moments_below(cavity, lean_of(0), level);
  return (m.xx + m.zz) / (fill * cavity_volume(cavity));
}

LiquidBody liquid_body(const Cavity& cavity, double fill_fraction, const Vec3& gravity) {
  const double fill = clamp_fill(fill_fraction), strength = glm::length(gravity);
  const bool pulls = strength > 0 && std::isfinite(strength);
  const Vec3 down = pulls ? gravity / strength : Vec3(0, 0, -1);
  const double in_plane = std::hypot(down.x, down.z);
  const double lean = std::atan2(std::abs(down.y), in_plane);
  const LiquidPlace at = liquid_place(cavity, fill, lean);
  // T's axes in the wheel's frame: y to the low side, z as far up as the wheel plane allows.
  const Vec3 y(0, down.y < 0 ? -1.0 : 1.0, 0);
  const Vec3 z = in_plane > 0 ? Vec3(-down.x, 0, -down.z) / in_plane : Vec3(0, 0, 1);
  const Mat3 R(glm::cross(y, z), y, z);
  LiquidBody body;
  body.level = at.level;
  body.up = -down;
  body.centroid = R * Vec3(0, at.y, at.z);
  if (!(fill > kSmallestFill)) return body;
  const SecondMoments m = second_moments_below(cavity, lean_of(lean), at.level);
  const double volume = fill * cavity_volume(cavity);
  const double xx = m.xx / volume, yy = m.yy / volume - at.y * at.y, zz = m.zz / volume - at.z * at.z;
  const double yz = m.yz / volume - at.y * at.z;
  body.inertia = R * Mat3(yy + zz, 0, 0, 0, xx + zz, -yz, 0, -yz, xx + yy) * glm::transpose(R);
  return body;
}

LiquidTable tabulate(const Cavity& cavity, double fill_fraction) {
  const double fill = clamp_fill(fill_fraction);
  LiquidTable table;
  if (!(fill > 0)) return table;
  table.y.reserve(kTableSteps + 1);
  table.z.reserve(kTableSteps + 1);
  double guess = 1e300;
  for (int i = 0; i <= kTableSteps; ++i) {
    const double left = 1 - static_cast<double>(i) / kTableSteps;
    const LiquidPlace at = place(cavity, fill, lean_of(kPi / 2 * (1 - left * left)), guess);
    guess = at.level;  // a good start for the next lean
    table.y.push_back(at.y);
    table.z.push_back(at.z);
  }
  return table;
}

LiquidPlace lookup(const LiquidTable& table, double lean) {
  if (table.y.size() < 2) return {};
  const double last = static_cast<double>(table.y.size() - 1);
  const double part_of_flat = lean > 0 ? std::min(lean * (2 / kPi), 1.0) : 0.0;
  const double at = last * (1 - std::sqrt(1 - part_of_flat));
  const std::size_t i = std::min(static_cast<std::size_t>(at), table.y.size() - 2);
  const double part = at - static_cast<double>(i);
  return {0, table.y[i] + part * (table.y[i + 1] - table.y[i]), table.z[i] + part * (table.z[i + 1] - table.z[i])};
}

}  // namespace sidehill
