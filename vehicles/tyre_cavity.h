// The room inside a machine's tyre: what a data book says where somebody looked, else from its outside dimensions.
// Knows no file, no medium, no ground.
#pragma once
#include "vehicles/cavity.h"
#include "vehicles/vehicle.h"

namespace sidehill {

// Scaled to hold `tyre.cavity_volume`; where that is 0, what tyre_cavity_volume (vehicles/tyre_size.h) makes of the
// tyre's own radius, rim and width, of the series its size says (drive if it says none). A nominal width is taken for
// what the tyre then measures.
Cavity cavity_of(const Tyre& tyre);

// One standard deviation of the volume over the volume [-]: 1 % of a data-book value, our estimate; for one from the
// dimensions as parse_tyre_size says.
double cavity_uncertainty(const Tyre& tyre);

}  // namespace sidehill
