// Over the picture: the job as a form of eight lines, the rules as a checklist with the worst on top, grip and fuel as
// bars, of both set-ups where there are two. Knows Dear ImGui, the desk and sim's values.
#pragma once
#include "render/screen/panels/panels.h"

namespace sidehill::screen {

void draw_job(Ui& ui, Desk& desk, ViewChoices& choices, Rect view);

}  // namespace sidehill::screen
