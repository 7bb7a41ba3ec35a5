// Mass properties and their algebra, and the ledger that names every kilogram. Knows no file, no time, no machine.
#pragma once
#include <span>
#include <string>
#include <vector>

#include "sim/base/pose.h"

namespace sidehill {

// Of one rigid lump, in some frame F.
struct MassProperties {
  double mass = 0;    // [kg]
  Vec3 com{0.0};      // centre of mass [m]
  Mat3 inertia{0.0};  // about com, axes of F [kg m2]
};

enum class LedgerBody { chassis, front_axle, front_left, front_right, rear_left, rear_right, boom, bucket };
// The bodies of the wheels, in the order of the wheels.
inline constexpr LedgerBody kWheelBodies[] = {LedgerBody::front_left, LedgerBody::front_right, LedgerBody::rear_left,
                                              LedgerBody::rear_right};

// What a line is to its owner: what came with the machine, and what can be put on, filled in or taken off.
enum class LedgerItem {
  machine,
  driver,
  tank,
  fill,
  front_weights,
  rear_weights,
  wheel_weights,
  loader,
  payload,
  added
};

struct LedgerLine {
  std::string name;  // "rear left tyre: water 75 %"
  LedgerItem item = LedgerItem::machine;
  LedgerBody body = LedgerBody::chassis;  // what it moves with
  bool liquid = false;   // true: hangs (in a tyre, in a round tank, on a rope) instead of being bolted on
  MassProperties props;  // in the machine's measuring frame (vehicles/vehicle.h)
  bool ice = false;      // frozen in a tyre: turns with the wheel, its weight out of the middle
};

// Two lumps in the same frame as one. Source: parallel axes theorem.
MassProperties combine(const MassProperties& a, const MassProperties& b);
MassProperties moved(const MassProperties& props, const Pose& X_EF);  // expressed in E instead of F
MassProperties point_mass(double mass, Vec3 place);                   // [kg], [m]; no inertia of its own
MassProperties solid_box(double mass, Vec3 centre, Vec3 size);        // uniform block, edges along F [kg, m, m]
MassProperties sum(std::span<const LedgerLine> lines);                // all lines as one lump; empty = no mass

// Principal moments [kg m2] and axes of a symmetric inertia: R's columns are the axes, right-handed, so that
// inertia = R diag(moments) R^T. Not sorted: an inertia that is diagonal already gives R = identity.
// Source: Jacobi's rotations (C. G. J. Jacobi, 1846).
struct PrincipalInertia {
  Vec3 moments{0.0};
  Mat3 R{1.0};
};
PrincipalInertia principal(const Mat3& inertia);

}  // namespace sidehill
