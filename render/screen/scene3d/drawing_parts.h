// The machine's part of a Drawing: which pieces there are and where. Knows no GL, no overlay.
#pragma once
#include "render/namespaces.h"
#include "render/screen/scene3d/drawing.h"

namespace sidehill::screen {

// Adds parts, liquids and contact places to `drawing` and sets its focus, heading and size.
void add_machine(Drawing& drawing, const Scene& scene, const Model& model, const State& state,
                 const Overlays& overlays);

TyreMeasures tyre_measures(const Vehicle& vehicle, int wheel);

// Pose of the ground's frame G in W.
Pose X_WG(double slope);

}  // namespace sidehill::screen
