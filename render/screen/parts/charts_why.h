// Charts of reasons: what each cause adds to the slope that lifts a wheel, and what stands on tyres and axles against
// what they may carry. Both are the page's rows of bars, painted. Know the page's charts and sim's values; change
// nothing.
#pragma once
#include "render/namespaces.h"
#include "render/screen/kit/ui.h"
#include "sim/insight/breakdown.h"
#include "sim/rest/load_check.h"

namespace sidehill::screen {

// The page's rows of why (why_rows): each bar begins where the one above ends; a plain one adds, a hatched one takes
// away. `slope` [rad]. Items "Cause: <name>".
float breakdown_height(const Ui& ui, const Breakdown& breakdown, bool on_even_slope);
void breakdown_chart(Ui& ui, Rect rect, const Breakdown& breakdown, double slope, bool on_even_slope);

// A row per tyre, and per axle whose limit is known: load, limit, a bar with a line at the limit; hatched and "too
// much" beyond. Items "Carries: front left", "Carries: front axle".
float carrying_height(const Ui& ui, const LoadCheck& check);
void carrying_chart(Ui& ui, Rect rect, const LoadCheck& check);

}  // namespace sidehill::screen
