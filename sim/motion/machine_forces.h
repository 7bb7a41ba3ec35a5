// Everything that acts on the machine during one step: ground, driver, rams, what hangs and what is trailed. Knows the
// Moment and the Input; does not know who moves the bodies.
#pragma once
#include "sim/motion/moment.h"
#include "sim/rest/statics.h"

namespace sidehill {

// Everything that acts during the step that starts now; moves the memory in `moment` on (bristles, anchors, driveline).
void machine_forces(const Model& model, const MachineTree& machine, const MachineNow& now, const Input& input,
                    Moment& moment, TreeForces& out);

// Bristles bent, liquid plumb, brakes and drawbar as the balance has them.
void settle(const Model& model, const MachineTree& machine, const Rest& rest, Moment& moment);

}  // namespace sidehill
