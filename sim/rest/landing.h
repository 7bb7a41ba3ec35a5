// The machine set down on uneven ground: lowered from the air along the ground's normal by a soft hand that lets go
// little by little. Each tyre takes hold where it comes down, presses but never pulls, and its side force grows from
// nothing by its sideways stiffness, within adhesion. No time in it: a chain of balances, each with a softer or moved
// hand. Knows the Model; no file.
#pragma once
#include "sim/rest/equilibrium.h"

namespace sidehill {

enum class Landing {
  rests,  // a balance that stays, reached from the air
  tips,   // on the way it leaned so far that nothing holds it
  lost,   // no balance was found on the way: nothing is known
};

// Lowers the machine from its start pose at `slope` [rad] until it rests. `trial`: then the balance, with the set of
// touching tyres and the bearing stop as they are; `system`: where each tyre took hold. Otherwise both mean nothing. A
// tyre still in the air takes hold under the place where it hangs. Source: continuation derived here, held against the
// settled moving machine in tests/sim/rest/landing_test.cpp.
Landing land(EquilibriumSystem& system, double slope, TrialPose& trial);

}  // namespace sidehill
