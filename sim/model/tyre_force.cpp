#include "sim/model/tyre_force.h"

#include <algorithm>
#include <cmath>

namespace sidehill {
namespace {

// The rim's own stiffness over the tyre's, and the share of the section that is rubber the rim never gets through; our
// estimates. They matter only in a crash.
constexpr double kRim = 8, kRubber = 0.15;
constexpr double kMostBearing = 4;  // a tyre squeezed to its rim grips no stiffer than this many loads would make it

double on_rim(const TyreLaw& tyre, double penetration) {
  return tyre.rim_height > 0 ? std::max(0.0, penetration - (1 - kRubber) * tyre.rim_height) : 0.0;
}

}  // namespace

double radial_spring(const TyreLaw& tyre, double penetration) {
  return tyre.vertical_stiffness * (std::max(0.0, penetration) + kRim * on_rim(tyre, penetration));
}

double radial_energy(const TyreLaw& tyre, double penetration) {
  const double depth = std::max(0.0, penetration), rim = on_rim(tyre, penetration);
  return 0.5 * tyre.vertical_stiffness * (depth * depth + kRim * rim * rim);
}

double load_moved(const TyreLaw& tyre, double bend, const Vec3& axle_G, const Vec3& down_G) {
  const double stays = -tyre.side_give_share * bend;
  if (!(tyre.pressure_offset > 0)) return stays;
  return stays + tyre.pressure_offset * std::clamp(glm::dot(axle_G, down_G) / std::sin(0.1745), -1.0, 1.0);
}

TyreForce tyre_force(const TyreLaw& tyre, const Soil& soil, const TyreContact& contact, const ContactMotion& motion,
                     double time_step, Bristle& bristle) {
  TyreForce force;
  if (contact.penetration <= 0) {
    bristle = {};
    return force;
  }
  const double spring = radial_spring(tyre, contact.penetration);
  force.load = std::max(0.0, spring + tyre.vertical_damping * motion.closing);
  const double rolled = std::abs(motion.rim_speed);
  const double bend_along = motion.forward - motion.rim_speed - rolled / tyre.relaxation * bristle.along;
  const double bend_across = motion.left - rolled / tyre.relaxation * bristle.across;
  const Bristle before = bristle;
  bristle.along += bend_along * time_step;
  bristle.across += bend_across * time_step;
  if (tyre.swivels) bristle.across = 0;
  // By the spring's load, not the damper's: a bounce must not shake the lengthwise hold.
  const double bearing = std::min(spring / tyre.reference_load, kMostBearing);
  const double stiffness_along = tyre.longitudinal_stiffness * bearing;
  const double damping_along = tyre.lateral_damping * std::min(1.0, bearing);
  force.along = -stiffness_along * bristle.along - damping_along * bend_along;
  if (!tyre.swivels) force.across = -tyre.lateral_stiffness * bristle.across - tyre.lateral_damping * bend_across;
  if (soil.adhesion_unlimited) return force;
  const double limit = soil.adhesion * force.load;
  const double wanted = std::hypot(force.along, force.across / soil.adhesion_across_ratio);
  if (wanted > limit) {
    const double scale = limit / wanted;
    force.along *= scale;
    force.across *= scale;
    force.sliding = true;
    // Bent just so far, and just so fast in this step, that spring and damper give that force.
    const auto bent = [&](double was, double f, double stiffness, double damping) {
      return stiffness > 1 ? (damping / time_step * was - f) / (stiffness + damping / time_step) : 0;
    };
    if (!tyre.swivels) bristle.across = bent(before.across, force.across, tyre.lateral_stiffness, tyre.lateral_damping);
    bristle.along = bent(before.along, force.along, stiffness_along, damping_along);
  }
  return force;
}

}  // namespace sidehill
