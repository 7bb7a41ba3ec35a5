#include "sim/tyre_contact.h"

#include <algorithm>
#include <cmath>

namespace sidehill {
namespace {

constexpr int kSamples = 41;          // along the footprint; force jumps fall with its square
constexpr double kReachOfRim = 0.85;  // sampled part of the disc: +- this times the radius

void set_directions(TyreContact& contact, const Vec3& axle_G) {
  const Vec3 forward = glm::cross(axle_G, contact.normal_G);
  const double length = glm::length(forward);
  if (length > 1e-9) contact.forward_G = forward / length;
  contact.left_G = glm::cross(contact.normal_G, contact.forward_G);
}

TyreContact on_plane(const Vec3& centre_G, const Vec3& down_G, const Vec3& axle_G, double radius, double height) {
  TyreContact contact;
  contact.lowest_G = centre_G + radius * down_G;
  contact.penetration = height - contact.lowest_G.z;
  contact.point_G = {contact.lowest_G.x, contact.lowest_G.y, height};
  set_directions(contact, axle_G);
  return contact;
}

// Depth of the disc under uneven ground. `cos_lean` is the cosine between the disc's plane and z.
TyreContact on_features(const Terrain& terrain, const Vec3& centre_G, const Vec3& down_G, const Vec3& forward_G,
                        const Vec3& axle_G, double radius, double lift, double cos_lean) {
  const double reach = kReachOfRim * radius;
  const double step = 2 * reach / (kSamples - 1);
  double area = 0, first_moment = 0, least_gap = 1e30, gap_at = 0;
  Vec3 normal_sum(0.0), gap_normal(0, 0, 1);
  double depth_before = 0, along_before = 0;
  Vec3 normal_before(0, 0, 1);
  for (int i = 0; i < kSamples; ++i) {
    const double along = -reach + i * step;
    const double drop = std::sqrt(radius * radius - along * along);
    const Vec3 rim = centre_G + along * forward_G + drop * down_G;
    const GroundPoint ground = ground_at(terrain, {rim.x, rim.y});
    const double depth = ground.height + lift - rim.z;
    if (-depth < least_gap) {
      least_gap = -depth;
      gap_at = along;
      gap_normal = ground.normal;
    }
    if (i > 0 && (depth > 0 || depth_before > 0)) {
      // Trapezium between two samples, cut off where the rim leaves the ground; the rim bulges below its chord by the
      // segment that chord cuts off the disc (small-angle form), which a plain trapezium would miss.
      double lo = along_before, hi = along, at_lo = depth_before, at_hi = depth;
      if (at_lo <= 0) lo = along - step * at_hi / (at_hi - at_lo), at_lo = 0;
      if (at_hi <= 0) hi = along_before + step * at_lo / (at_lo - at_hi), at_hi = 0;
      const double width = hi - lo;
      const double bulge = width * width * width * radius * radius / (12 * drop * drop * drop) * cos_lean;
      const double slice = 0.5 * (at_lo + at_hi) * width + bulge;
      area += slice;
      first_moment += slice * (0.5 * (lo + hi) + (at_hi - at_lo) * width / (6 * std::max(at_lo + at_hi, 1e-12)));
      normal_sum += slice * 0.5 * (normal_before + ground.normal);
    }
    depth_before = depth;
    along_before = along;
    normal_before = ground.normal;
  }
  TyreContact contact;
  double along = gap_at;
  if (area > 0) {
    along = first_moment / area;
    contact.normal_G = glm::normalize(normal_sum);
    contact.penetration = segment_depth(radius, area / cos_lean) * cos_lean;
  } else {
    contact.normal_G = gap_normal;
    contact.penetration = -least_gap * gap_normal.z;
  }
  contact.lowest_G = centre_G + along * forward_G + std::sqrt(radius * radius - along * along) * down_G;
  contact.point_G = contact.lowest_G + contact.penetration * contact.normal_G;
  set_directions(contact, axle_G);
  return contact;
}

}  // namespace

double segment_area(double radius, double depth) {
  const double d = std::clamp(depth, 0.0, radius);
  return radius * radius * std::acos(1 - d / radius) - (radius - d) * std::sqrt(std::max(0.0, d * (2 * radius - d)));
}

double segment_depth(double radius, double area) {
  if (!(area > 0)) return 0;
  // The small-depth form area = 4/3 sqrt(2 R) depth^1.5 starts Newton; d(area)/d(depth) is the chord.
  double depth = std::min(std::pow(0.75 * area / std::sqrt(2 * radius), 2.0 / 3.0), radius);
  for (int i = 0; i < 4; ++i) {
    const double chord = 2 * std::sqrt(std::max(1e-18, depth * (2 * radius - depth)));
    depth = std::clamp(depth - (segment_area(radius, depth) - area) / chord, 0.0, radius);
  }
  return depth;
}

TyreContact tyre_contact(const Terrain& terrain, const Vec3& centre_G, const Vec3& axle_G, double radius, double lift,
                         Footprint footprint) {
  // "Down" in the disc's plane, against z of G. A disc lying flat has none; any direction then serves.
  Vec3 forward(axle_G.y, -axle_G.x, 0);  // axle x z
  const double cos_lean = std::hypot(forward.x, forward.y);
  forward = cos_lean > 1e-9 ? forward / cos_lean : Vec3(1, 0, 0);
  const Vec3 down = glm::cross(axle_G, forward);
  if (footprint == Footprint::automatic && !uneven_near(terrain, {centre_G.x, centre_G.y}, radius))
    return on_plane(centre_G, down, axle_G, radius, lift);
  // A disc that nearly lies flat has no footprint along its rim to sample: the ground under its lowest point serves.
  constexpr double kNearlyFlat = 0.35;
  if (cos_lean < kNearlyFlat) {
    const Vec3 lowest = centre_G + radius * down;
    return on_plane(centre_G, down, axle_G, radius, lift + ground_at(terrain, {lowest.x, lowest.y}).height);
  }
  return on_features(terrain, centre_G, down, forward, axle_G, radius, lift, cos_lean);
}

HubContact hub_contact(const Terrain& terrain, const Vec3& centre_G, const Vec3& axle_G, double radius, double outward,
                       Footprint footprint) {
  HubContact out{tyre_contact(terrain, centre_G, axle_G, radius, 0, footprint)};
  if (outward == 0) return out;
  TyreContact other = tyre_contact(terrain, centre_G + outward * axle_G, axle_G, radius, 0, footprint);
  TyreContact& more = out.contact;
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
