// Over the picture: the two set-ups side by side, by the rows of `sidehill compare` and in its words, the worst first.
// Knows Dear ImGui, the desk and the rows; works nothing out but the difference of the two.
#pragma once
#include "render/screen/panels/panels.h"

namespace sidehill::screen {

void draw_side_by_side(Ui& ui, const Desk& desk, ViewChoices& choices, const Layout& layout);

}  // namespace sidehill::screen
