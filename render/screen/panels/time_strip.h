// The run over time, below the picture: force angle, what happened, where one looks. Click or drag in it to look at
// any moment. It draws by itself: it is an instrument, and the page has no moment looked at, no loop, no second
// set-up in its chart over time. Knows Dear ImGui and the Desk.
#pragma once
#include "render/namespaces.h"
#include "render/screen/desk/desk.h"
#include "render/screen/kit/ui.h"

namespace sidehill::screen {

// Items "Time strip" (all of it) and "Time line" (where a click seeks).
void time_strip(Ui& ui, Rect rect, Desk& desk);

}  // namespace sidehill::screen
