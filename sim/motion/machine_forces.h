// Everything that acts on the machine during one step: ground, driver, rams, what hangs and what is trailed. Knows the
// MachineState and the Input; does not know who moves the bodies.
#pragma once
#include "sim/motion/machine_state.h"
#include "sim/rest/statics.h"

namespace sidehill {

// Everything that acts during the step that starts now; moves the memory in `moment` on (bristles, anchors, driveline).
void machine_forces(const Model& model, const MachineTree& machine, const MachineNow& now, const Input& input,
                    MachineState& moment, TreeForces& out);

// Bristles bent, liquid plumb, brakes and drawbar as the balance has them.
void settle(const Model& model, const MachineTree& machine, const Rest& rest, MachineState& moment);

}  // namespace sidehill
