// The lateral stability test of narrow-track tractors, by calculation: how far the part with the heavier axle can be
// tilted on level ground until it balances. The test itself is physical (jack or hoist, both steering locks, 38 deg);
// this is the rigid tractor on hard ground with its wheels straight. Knows no file.
// Source: Commission Delegated Regulation (EU) No 1322/2014, Annex IX, 3.1.3; geometry of section B4, lines 1330-1480.
#pragma once
#include <optional>

#include "sim/base/constants.h"
#include "sim/codes/continuous_rolling.h"

namespace sidehill {

inline constexpr double kLateralStabilityMin = 38 * kDegree;  // 3.1.3.2 [rad]

// Angles [rad]. The downhill contacts lie S/2 from the middle, front and rear, as B4 places them.
struct LateralStability {
  // Slope at which the tractor, standing across it with its axle free on the pivot, balances over the line from the
  // downhill rear contact through the pivot. None: the centre of gravity lies below that line at every slope.
  std::optional<double> table_tip_three_point;
  double table_tip_rigid = 0;  // the same with the front axle locked: over the line of the downhill contacts
  bool stop_reached = false;   // the front axle meets its stop before the chassis balances
  // Tilt of the rear axle from level in unstable balance, level ground, the front axle at its stop if it gets there:
  // what 3.1.3.2 has measured.
  double balance_tilt = 0;
  double height_on_stop = 0;   // centre of gravity above ground where that turn about the pivot line ends [m]
  double lateral_on_stop = 0;  // and inward of the downhill contacts [m]
  bool reaches_minimum() const { return balance_tilt >= kLateralStabilityMin; }
};

// Needs positive lengths. Every number finite.
LateralStability lateral_stability(const RollingTractor& tractor);

}  // namespace sidehill
