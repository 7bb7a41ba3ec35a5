// Force between a tyre and the ground from where it touches and how it moves: radial spring and damper, and a bristle
// that sticks. Knows the tyre's law and the contact; no engine, no machine, no file.
#pragma once
#include "sim/model/model.h"
#include "sim/model/tyre_contact.h"

namespace sidehill {

// How far the tread's bristles are bent from where they took hold, along and across the way the wheel rolls [m].
struct Bristle {
  double along = 0, across = 0;
};

// Motion at the contact, without the wheel's spin.
struct ContactMotion {
  double closing = 0;  // penetration rate along the normal [m/s]
  double forward =
      0;            // of the free disc's lowest point as if the wheel did not turn, along the contact's forward [m/s]
  double left = 0;  // [m/s]
  double rim_speed = 0;  // spin rate times rolling radius, positive when rolling forward [m/s]
};

struct TyreForce {
  double load = 0;       // along the normal, >= 0 [N]
  double along = 0;      // on the machine, forward [N]
  double across = 0;     // on the machine, to the left [N]
  bool sliding = false;  // adhesion used up
};

// Of the tyre pressed in by `penetration` [m], without damping [N]; beyond nearly all of its section it stands on the
// rim.
double radial_spring(const TyreLaw& tyre, double penetration);
double radial_energy(const TyreLaw& tyre, double penetration);  // stored in it [J]

// How far the load acts to the left of the place under the undeflected disc [m]. The tread stands where it took hold
// and the rim has moved away from it by `bend`, to the left [m]: the load stays behind by its share. A tyre that leans
// has its pressure at its low edge from 10 deg on. `axle_G` to the left and `down_G`, unit; smooth through upright.
// Source: our estimate of both, see docs/answers.md.
double load_moved(const TyreLaw& tyre, double bend, const Vec3& axle_G, const Vec3& down_G);

// Force now; moves `bristle` on by `time_step` [s]. Bristles relax as the tread rolls through the footprint (relaxation
// length), hold for ever while it stands, and give way on the adhesion ellipse. Lengthwise stiffness grows in
// proportion to load, so that a tyre about to leave the ground lets its lengthwise force go smoothly. Source: bristle
// (brush) friction with relaxation as in Pacejka 2012, ch. 5 and 7 (single-contact-point transient model); radial law
// linear, our estimate of stiffness.
TyreForce tyre_force(const TyreLaw& tyre, const Soil& soil, const TyreContact& contact, const ContactMotion& motion,
                     double time_step, Bristle& bristle);

}  // namespace sidehill
