#include "sim/model/tyre_contact.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace sidehill {
namespace {

constexpr std::size_t kSamples = 41;  // along the footprint; force jumps fall with its square
constexpr double kReachOfRim = 0.85;  // sampled part of the disc: +- this times the radius

TyreContact on_plane(const Vec3& centre_G, const Vec3& down_G, const Vec3& forward_G, double radius, double height) {
  TyreContact contact;
  contact.lowest_G = centre_G + radius * down_G;
  contact.penetration = height - contact.lowest_G.z;
  contact.point_G = {contact.lowest_G.x, contact.lowest_G.y, height};
  contact.forward_G = forward_G;
  contact.left_G = {-forward_G.y, forward_G.x, 0};
  return contact;
}

// Rim points of a disc of radius 1, evenly spaced along it, how far each lies below the centre, and the area between
// rim and chord from the point before (small-angle form).
struct Rim {
  std::array<double, kSamples> along{}, drop{}, bulge{};
  Rim() {
    for (std::size_t i = 0; i < kSamples; ++i) {
      along[i] = kReachOfRim * (2.0 * static_cast<double>(i) / (kSamples - 1) - 1);
      drop[i] = std::sqrt(1 - along[i] * along[i]);
      const double step = 2 * kReachOfRim / (kSamples - 1);
      bulge[i] = step * step * step / (12 * drop[i] * drop[i] * drop[i]);
    }
  }
};

// The disc on ground with features: its depth at the samples that are asked for.
struct Footing {
  const Terrain& terrain;
  const Vec3 &centre_G, &down_G, &forward_G;
  double radius, lift, cos_lean;

  struct Sample {
    double depth = 0;
    glm::dvec2 gradient{0.0};
  };
  Sample at(const Rim& rim, std::size_t i) const {
    const Vec3 place = centre_G + radius * (rim.along[i] * forward_G + rim.drop[i] * down_G);
    const HeightAndGradient ground = height_at(terrain, {place.x, place.y});
    return {ground.height + lift - place.z, ground.gradient};
  }
};

// Nothing touches: the contact where the ground is nearest.
TyreContact nearest(const Footing& disc, const Rim& rim) {
  TyreContact contact;
  double least_gap = 1e30;
  std::size_t gap_at = 0;
  for (std::size_t i = 0; i < kSamples; ++i) {
    const Footing::Sample sample = disc.at(rim, i);
    if (!(-sample.depth < least_gap)) continue;
    least_gap = -sample.depth;
    gap_at = i;
    contact.normal_G = normal_of(sample.gradient);
  }
  contact.penetration = -least_gap * contact.normal_G.z;
  contact.lowest_G =
      disc.centre_G + disc.radius * (rim.along[gap_at] * disc.forward_G + rim.drop[gap_at] * disc.down_G);
  return contact;
}

// Depth of the disc under uneven ground. `cos_lean` is the cosine between the disc's plane and z. Where the ground,
// however steep it may be there, cannot rise to the rim, no sample is taken.
TyreContact on_features(const Footing& disc, const Vec3& axle_G) {
  static const Rim rim;
  const double radius = disc.radius, step = radius * (rim.along[1] - rim.along[0]), per_step = 1 / step;
  const GroundBound bound = ground_bound(disc.terrain, {disc.centre_G.x, disc.centre_G.y}, radius);
  // Rim points that lie less far below the centre than this are above all ground.
  const double least_drop = (disc.centre_G.z - disc.lift - bound.highest) / (radius * disc.cos_lean) - 1e-9;
  const double sin_lean = std::sqrt(std::max(0.0, 1 - disc.cos_lean * disc.cos_lean));
  double area = 0, first_moment = 0;
  Vec3 normal_sum(0.0), normal_before(0.0);
  bool touched = false;  // by the sample before: then its normal is known
  Footing::Sample before = disc.at(rim, 0);
  for (std::size_t i = 1; i < kSamples; ++i) {
    if (before.depth <= 0) {
      // The next sample the ground may reach.
      const std::size_t from = i - 1;
      const auto may_touch = [&](std::size_t k) {
        const double drop = rim.drop[k] - rim.drop[from];
        const double aside = rim.along[k] - rim.along[from] + sin_lean * std::abs(drop);
        return rim.drop[k] > least_drop &&
               before.depth + radius * (bound.steepest * aside + disc.cos_lean * drop) > -1e-9;
      };
      while (i < kSamples && !may_touch(i)) ++i;
      if (i == kSamples) break;
      if (i - 1 > from) before = disc.at(rim, i - 1);
    }
    const Footing::Sample now = disc.at(rim, i);
    if (now.depth > 0 || before.depth > 0) {
      // Trapezium between two samples, cut off where the rim leaves the ground; the rim bulges below its chord by the
      // segment that chord cuts off the disc, which a plain trapezium would miss.
      double lo = radius * rim.along[i - 1], hi = radius * rim.along[i], at_lo = before.depth, at_hi = now.depth;
      if (at_lo <= 0) lo = hi - step * at_hi / (at_hi - at_lo), at_lo = 0;
      if (at_hi <= 0) hi = lo + step * at_lo / (at_lo - at_hi), at_hi = 0;
      const double width = hi - lo, trapezium = 0.5 * (at_lo + at_hi) * width;
      const double part = width * per_step;
      const double bulge = rim.bulge[i] * radius * radius * disc.cos_lean * part * part * part;
      const double slice = trapezium + bulge;
      area += slice;
      first_moment += slice * 0.5 * (lo + hi) + (at_hi - at_lo) * width * width / 12;
      const Vec3 normal = normal_of(now.gradient);
      normal_sum += slice * 0.5 * ((touched ? normal_before : normal_of(before.gradient)) + normal);
      normal_before = normal;
    }
    touched = now.depth > 0;
    before = now;
  }
  TyreContact contact;
  if (area > 0) {
    const double along = first_moment / area;
    contact.normal_G = glm::normalize(normal_sum);
    contact.penetration = segment_depth(radius, area / disc.cos_lean) * disc.cos_lean;
    contact.lowest_G =
        disc.centre_G + along * disc.forward_G + std::sqrt(radius * radius - along * along) * disc.down_G;
  } else {
    contact = nearest(disc, rim);
  }
  contact.point_G = contact.lowest_G + contact.penetration * contact.normal_G;
  set_directions(contact, axle_G);
  return contact;
}

}  // namespace

void set_directions(TyreContact& contact, const Vec3& axle_G) {
  const Vec3 forward = glm::cross(axle_G, contact.normal_G);
  const double length = glm::length(forward);
  if (length > 1e-9) contact.forward_G = forward / length;
  contact.left_G = glm::cross(contact.normal_G, contact.forward_G);
}

double segment_area(double radius, double depth) {
  const double d = std::clamp(depth, 0.0, radius);
  return radius * radius * std::acos(1 - d / radius) - (radius - d) * std::sqrt(std::max(0.0, d * (2 * radius - d)));
}

double segment_depth(double radius, double area) {
  if (!(area > 0)) return 0;
  // The first two terms for small depths, area = 4/3 sqrt(2 R) depth^1.5 (1 - 3 depth / (20 R)), start Newton's
  // iteration; d(area)/d(depth) is the chord.
  double depth = std::min(std::cbrt(area * area * (0.28125 / radius)), radius);  // (3/4)^2 / 2
  depth = std::min(depth * (1 + depth / (10 * radius)), radius);
  for (int i = 0; i < 4; ++i) {
    const double chord = 2 * std::sqrt(std::max(1e-18, depth * (2 * radius - depth)));
    const double change = (segment_area(radius, depth) - area) / chord;
    depth = std::clamp(depth - change, 0.0, radius);
    if (std::abs(change) < 1e-9 * depth) break;  // the next would be the square of that
  }
  return depth;
}

TyreContact tyre_contact(const Terrain& terrain, const Vec3& centre_G, const Vec3& axle_G, double radius, double lift,
                         Footprint footprint) {
  // "Down" in the disc's plane, against z of G. A disc lying flat has none; any direction then serves.
  Vec3 forward(axle_G.y, -axle_G.x, 0);  // axle x z
  const double cos_lean = std::sqrt(forward.x * forward.x + forward.y * forward.y);
  forward = cos_lean > 1e-9 ? forward / cos_lean : Vec3(1, 0, 0);
  const Vec3 down = glm::cross(axle_G, forward);
  if (footprint == Footprint::automatic && !uneven_near(terrain, {centre_G.x, centre_G.y}, radius))
    return on_plane(centre_G, down, forward, radius, lift);
  // A disc that nearly lies flat has no footprint along its rim to sample: the ground under its lowest point serves.
  constexpr double kNearlyFlat = 0.35;
  if (cos_lean < kNearlyFlat) {
    const Vec3 lowest = centre_G + radius * down;
    return on_plane(centre_G, down, forward, radius, lift + ground_at(terrain, {lowest.x, lowest.y}).height);
  }
  return on_features({terrain, centre_G, down, forward, radius, lift, cos_lean}, axle_G);
}

HubContact hub_contact(const Terrain& terrain, const Vec3& centre_G, const Vec3& axle_G, double radius, double outward,
                       Footprint footprint) {
  HubContact out{tyre_contact(terrain, centre_G, axle_G, radius, 0, footprint)};
  out.middle_G = out.contact.lowest_G;
  if (outward == 0) return out;
  TyreContact other = tyre_contact(terrain, centre_G + outward * axle_G, axle_G, radius, 0, footprint);
  TyreContact& more = out.contact;
  out.middle_G = 0.5 * (more.lowest_G + other.lowest_G);
  if (other.penetration > more.penetration) std::swap(more, other);
  const double second = std::max(0.0, other.penetration);
  if (!(second > 0)) return out;
  const double share = second / (more.penetration + second);
  more.penetration += second;
  more.point_G += share * (other.point_G - more.point_G);
  more.lowest_G += share * (other.lowest_G - more.lowest_G);
  more.normal_G = glm::normalize(more.normal_G + share * (other.normal_G - more.normal_G));
  set_directions(more, axle_G);
  out.carrying = 1 + std::min(1.0, share / (1 - share));
  return out;
}

}  // namespace sidehill
