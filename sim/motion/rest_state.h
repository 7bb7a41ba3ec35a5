// A resting pose shown as if it were a moment of a run, so that whoever draws needs to know one kind of value.
// Knows no time step, no drawing.
#pragma once
#include "sim/model/model.h"
#include "sim/motion/state.h"
#include "sim/rest/statics.h"

namespace sidehill {

// State at time 0 with zero velocities: wheel centres, axles, loads, contacts and liquid of `rest`, in G.
State rest_state(const Model& model, const Rest& rest);

// The machine set down square on the even slope at its start place, tyres undeflected, no loads: what is shown of a
// set-up that cannot rest where it stands. Its wheels carry nothing because nothing is known.
State placed_state(const Model& model);

}  // namespace sidehill
