// The rigid machine on its pivoting front axle, solved a second time: loads from six balances written out for a level
// of force only, no Newton iteration, no deflection. What the program's own statics is held against at every heading.
// Contacts stay where they are on level ground. Rear wheels are held: the lengthwise force is theirs, in proportion to
// their loads. Front wheels roll freely. Adhesion without limit. Derived here; across the slope it is the closed form
// tan a = b (L - xg) / (h L - hp xg).
#pragma once
#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>

#include "vehicles/vehicle.h"

namespace sidehill {

struct RigidMachine {
  double mass = 3000;                  // without what hangs on the front axle [kg]
  double ahead = 0.9, height = 0.85;   // its centre of mass [m]
  double wheelbase = 2.2, pin = 0.55;  // pin's height [m]
  double rear_track = 1.6, front_track = 1.5;
  double on_axle = 0;  // mass on the front axle at the pin's place [kg]

  static constexpr double kGravity = 9.80665;

  // Unknowns: loads rear left, rear right; side force rear; load and side force of the front axle; hold. In the axes
  // x forward, y left, z out of the ground. `lean` = (left - right) / (left + right) of the rear loads shares the hold.
  std::array<double, 6> forces(double slope, double heading, double lean) const {
    const double gx = -kGravity * std::sin(slope) * std::cos(heading);  // heading 0 faces uphill: pulled back
    const double gy = kGravity * std::sin(slope) * std::sin(heading);   // heading +90: uphill side to the right
    const double gz = -kGravity * std::cos(slope);
    const double b = rear_track / 2, L = wheelbase;
    Eigen::Matrix<double, 6, 6> A = Eigen::Matrix<double, 6, 6>::Zero();
    Eigen::Matrix<double, 6, 1> r;
    const double all = mass + on_axle;
    // Columns: 0 N_left, 1 N_right, 2 S_rear, 3 N_front, 4 S_front, 5 hold. MachineStates about the midpoint of the
    // rear contacts; the front axle's force goes through its pin because nothing else turns the axle about it.
    A.row(0) << 0, 0, 0, 0, 0, 1;
    r[0] = -all * gx;
    A.row(1) << 0, 0, 1, 0, 1, 0;
    r[1] = -all * gy;
    A.row(2) << 1, 1, 0, 1, 0, 0;
    r[2] = -all * gz;
    A.row(3) << b, -b, 0, 0, -pin, 0;  // about x: y Fz - z Fy
    r[3] = mass * height * gy + on_axle * pin * gy;
    A.row(4) << 0, 0, 0, -L, 0, 0;  // about y: z Fx - x Fz
    r[4] = -(mass * (height * gx - ahead * gz) + on_axle * (pin * gx - L * gz));
    A.row(5) << 0, 0, 0, 0, L, -lean * b;  // about z: x Fy - y Fx
    r[5] = -(mass * ahead * gy + on_axle * L * gy);
    const Eigen::Matrix<double, 6, 1> x = A.partialPivLu().solve(r);
    return {x[0], x[1], x[2], x[3], x[4], x[5]};
  }

  // Loads in the order of enum Wheel.
  std::array<double, kWheels> loads(double slope, double heading) const {
    // The difference of the rear loads is linear in the lean that it must equal: two trials give it.
    const auto at0 = forces(slope, heading, 0), at1 = forces(slope, heading, 1);
    const double sum = at0[0] + at0[1], d0 = at0[0] - at0[1], d1 = at1[0] - at1[1];
    const auto f = forces(slope, heading, d0 / (sum - (d1 - d0)));
    // The front axle's force meets the ground at y = pin x side force / load, seen from its middle.
    const double aside = f[4] * pin / front_track;
    return {0.5 * f[3] - aside, 0.5 * f[3] + aside, f[0], f[1]};
  }

  struct First {
    double slope = 0;  // [rad]
    int wheel = -1;
  };
  First first_lift_off(double heading) const {
    const auto least = [&](double slope) {
      const auto all = loads(slope, heading);
      return static_cast<int>(std::min_element(all.begin(), all.end()) - all.begin());
    };
    const auto stands = [&](double slope) {
      const auto all = loads(slope, heading);
      return *std::min_element(all.begin(), all.end()) > 0;
    };
    double hi = 0;
    while (stands(hi)) hi += 1e-3;
    double lo = hi - 1e-3;
    while (hi - lo > 1e-12) {
      const double mid = 0.5 * (lo + hi);
      (stands(mid) ? lo : hi) = mid;
    }
    return {lo, least(hi)};
  }
};

}  // namespace sidehill
