// How far the difference of two set-ups may be off. What is not known is often the same in both - the machine, the
// ground, a rule of ours - and then cancels for the most part. Works out no answer of its own.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "sim/insight/uncertainty.h"

namespace sidehill {

// One thing that is not known, and what it does to the difference of first lift-off.
struct DifferenceDoubt {
  std::string key;           // as in Doubt
  bool common = false;       // one and the same unknown in both set-ups; else it is one set-up's own
  double low = 0, high = 0;  // change of the difference [rad], at whichever end
};

// Second set-up less first, on the even slope, and where that lies nineteen times in twenty; none = no end to that
// side: there one of the two never lifts, or does not rest.
struct DifferenceOf {
  double value = 0;
  std::optional<double> low, high;
};

struct SetUpDifference {
  std::optional<DifferenceOf> first_lift_off, tip_over, slide, rigid_lift_off, margin;  // [rad]; none: one never does
  std::optional<DifferenceOf> gives_way;  // of the earliest of slide, lift-off and tip-over [rad]; none likewise
  std::array<std::optional<DifferenceOf>, kWheels> load;  // [N]; none: one does not rest
  DifferenceOf mass;                                      // [kg]
  std::array<DifferenceOf, 3> centre_of_gravity;          // [m]
  std::vector<DifferenceDoubt> doubts;                    // largest effect first
  bool same_machine = false;
};

// From both scenes and their own uncertainty() (sim/insight/uncertainty.h); takes well under a millisecond. A cause
// that is one and the same unknown is moved in both at once, to its lower and to its upper end, and the difference of
// the answers compared with the difference of the middle ones; a cause of one set-up alone is moved there alone; all
// are added as squares, up and down apart (k = 2). Two set-ups alike in everything differ by exactly nothing. One and
// the same: a number of the machine, if both have the same machine (name, power, wheelbase) and the number is equal in
// both; a number of the ballast, its liquid included, or of the ground, if it is equal in both; our rules (place of the
// load, sharing, stiffening by liquid) always. Source: differences of the answers themselves.
SetUpDifference difference(const Scene& a, const Uncertainty& of_a, const Scene& b, const Uncertainty& of_b);

// Whether what this key (of a Doubt) stands for is one and the same unknown in both.
bool same_unknown(const Scene& a, const Scene& b, const std::string& key);

}  // namespace sidehill
