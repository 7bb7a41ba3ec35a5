// A second machine in the same picture, for comparing two set-ups at the same moment: what is kept of its Drawing, and
// which letter each machine's labels carry. Numbers only: knows no GL, no pixel.
#pragma once
#include <string>

#include "render/namespaces.h"
#include "render/screen/scene3d/drawing.h"

namespace sidehill::screen {

// What a ghost shows of `drawing`: the machine's solid parts, where its centre of gravity lies and is plumbed to, what
// it stands on and how high its tyres are filled (dashed), which wheels are lifted; the labels for these, marked with
// `tag`. Ground, wheel loads, liquids themselves, panes and the angle of the slope are the first machine's alone. A
// fill that is just as in `first` is not traced. Hand it to Renderer::render and draw_labels.
Drawing as_ghost(const Drawing& drawing, const std::string& tag = "B", const Drawing* first = nullptr);

// Marks every label that speaks of the machine (not of slope or features) with the letter of the first machine.
void tag_labels(Drawing& drawing, const std::string& tag = "A");

// Outermost places of both machines in `drawing`, so that a preset view and the shadow hold both (the focus moves
// between them).
void widen_to(Drawing& drawing, const Drawing& ghost);

}  // namespace sidehill::screen
