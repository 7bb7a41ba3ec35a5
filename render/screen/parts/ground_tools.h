// The panel for ground and machine by hand: tools, what stands there, the chosen thing's measures, the kind of ground.
// Draws into the ImGui window at hand. Knows Dear ImGui, Placing and Scene; no session, no camera, no OpenGL.
#pragma once
#include <optional>

#include "render/namespaces.h"
#include "render/screen/kit/ui.h"
#include "render/screen/placing/placing.h"

namespace sidehill::screen {

// Builds one frame of it. Returns the edited scene if anything was changed; its numbers lie inside the file's ranges.
// Items by label: the tools' names, "Machine", "Thing 1" and "Remove 1" ..., "Before the uphill wheel: bump" and "...
// the downhill wheel: hole" ("left", "right" where it faces straight up or down), "Kind of ground", and sliders by
// their labels.
std::optional<Scene> draw_ground_tools(Ui& ui, Placing& placing, const Scene& scene);

// The menu of a right click, if one is wanted; call once a frame outside any window. Returns the edited scene likewise.
std::optional<Scene> draw_ground_menu(Ui& ui, Placing& placing, const Scene& scene);

// A tool's sign, about `size` [px] wide, round a middle.
void draw_tool_icon(ImDrawList& list, Tool tool, ImVec2 middle, float size, ImU32 ink);

}  // namespace sidehill::screen
