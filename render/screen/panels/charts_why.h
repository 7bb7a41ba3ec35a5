// Charts of reasons, drawn by hand: what each cause adds to the slope that lifts a wheel, and what stands on tyres and
// axles against what they may carry. Know Dear ImGui's draw list and sim's values; change nothing.
#pragma once
#include "render/namespaces.h"
#include "render/screen/kit/ui.h"
#include "sim/insight/breakdown.h"
#include "sim/rest/load_check.h"

namespace sidehill::screen {

// A row per cause with its degrees: a bar to the right of the line in the middle adds, a hatched one to the left takes
// away. First the bare machine, last the whole and what the slope takes. `slope` [rad]. Items "Cause: <name>".
float breakdown_height(const Ui& ui, const Breakdown& breakdown);
void breakdown_chart(Ui& ui, Rect rect, const Breakdown& breakdown, double slope);

// A row per tyre, and per axle whose limit is known: load, limit, a bar with a line at the limit; hatched and "too
// much" beyond. Items "Carries: front left", "Carries: front axle".
float carrying_height(const Ui& ui, const LoadCheck& check);
void carrying_chart(Ui& ui, Rect rect, const LoadCheck& check);

}  // namespace sidehill::screen
