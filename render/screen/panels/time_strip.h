// The run over time, below the picture: force angle, what happened, where one looks. Click or drag in it to look at
// any moment. It draws by itself: it is an instrument, and the page has no moment looked at, no loop, no second
// set-up in its chart over time. Knows Dear ImGui and the Desk.
#pragma once
#include "render/namespaces.h"
#include "render/screen/desk/desk.h"
#include "render/screen/kit/ui.h"
#include "sim/insight/lesson.h"

namespace sidehill::screen {

// Items "Time strip" (all of it) and "Time line" (where a click seeks). With a lesson the curve is what that asks, and
// the moments that answer it are marked (items "Asked mark 1", or "Asked mark A 1" of two) in place of force angle.
void time_strip(Ui& ui, Rect rect, Desk& desk, const Lesson* lesson = nullptr);

}  // namespace sidehill::screen
