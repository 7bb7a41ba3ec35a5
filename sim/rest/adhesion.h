// How much of their adhesion the tyres of a machine at rest use, and balances in which none holds more than it has.
#pragma once
#include "sim/rest/equilibrium.h"

namespace sidehill {

// Share of an axle's adhesion that is in use, the larger of both axles; wheels of one axle help each other.
double adhesion_use(const Rest& rest, const Model& model);

// Lets no tyre hold more than its own adhesion from here on, by what its axle uses of it now; beyond the slope that
// slides, no more than the ground must have for the machine to stay. False on ground that holds without limit.
bool hold_within_adhesion(EquilibriumSystem& system, double use);

}  // namespace sidehill
