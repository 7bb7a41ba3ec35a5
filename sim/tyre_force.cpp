#include "sim/tyre_force.h"

#include <algorithm>
#include <cmath>

namespace sidehill {

TyreForce tyre_force(const TyreLaw& tyre, const Soil& soil, const TyreContact& contact, const ContactMotion& motion, double time_step,
                     Bristle& bristle) {
  TyreForce force;
  if (contact.penetration <= 0) {
    bristle = {};
    return force;
  }
  force.load = std::max(0.0, tyre.vertical_stiffness * contact.penetration + tyre.vertical_damping * motion.closing);
  const double rolled = std::abs(motion.rim_speed);
  const double bend_along = motion.forward - motion.rim_speed - rolled / tyre.relaxation * bristle.along;
  const double bend_across = motion.left - rolled / tyre.relaxation * bristle.across;
  bristle.along += bend_along * time_step;
  bristle.across += bend_across * time_step;
  // By the spring's load, not the damper's: a bounce must not shake the lengthwise hold.
  const double bearing = tyre.vertical_stiffness * contact.penetration / tyre.reference_load;
  const double stiffness_along = tyre.longitudinal_stiffness * bearing;
  const double damping_along = tyre.lateral_damping * std::min(1.0, bearing);
  force.along = -stiffness_along * bristle.along - damping_along * bend_along;
  force.across = -tyre.lateral_stiffness * bristle.across - tyre.lateral_damping * bend_across;
  if (soil.adhesion_unlimited) return force;
  const double limit = soil.adhesion * force.load, wanted = std::hypot(force.along, force.across);
  if (wanted > limit) {
    const double scale = limit / wanted;
    force.along *= scale;
    force.across *= scale;
    force.sliding = true;
    bristle.across = -force.across / tyre.lateral_stiffness;
    bristle.along = stiffness_along > 1 ? -force.along / stiffness_along : 0;
  }
  return force;
}

}  // namespace sidehill
