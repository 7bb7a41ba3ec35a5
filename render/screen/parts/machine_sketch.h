// A line drawing of a machine from the side or from behind, to scale, with one dimension marked: how to measure it.
// Knows ImGui's draw list, no form, no Session.
#pragma once
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "render/namespaces.h"
#include "render/screen/kit/ui.h"
#include "vehicles/vehicle.h"

namespace sidehill::screen {

enum class SketchView { side, behind };

// A line to measure along, in the view's plane: ahead (side) or to the right (behind), and up [m]. `upright`: drawn as
// a height, else as a length along the ground; `straight`: neither, along the two points.
struct SketchDimension {
  SketchView view = SketchView::side;
  double from_across = 0, from_up = 0, to_across = 0, to_up = 0;
};

// Where an entry's datum lies on this machine; none for what is no length. `over_outside`: tracks over the tyres.
std::optional<SketchDimension> dimension_of(std::string_view entry_key, const Vehicle& vehicle, bool over_outside);

// A number that was typed: its entry key and how it is read, "2.45 m".
struct SketchNote {
  std::string key, words;
};

// Draws it into `area`, the dimension with `words` at it; what is weighed is marked by a plate under the wheels it
// stands on. Of `typed` everything that lies in this view stands at a thin arrow of its own, masses below the wheels
// they were weighed on. Items "Drawn <key>" for the numbers that found room.
void draw_machine_sketch(Ui& ui, Rect area, const Vehicle& vehicle, std::string_view entry_key, bool over_outside,
                         std::string_view words, std::span<const SketchNote> typed = {});

}  // namespace sidehill::screen
