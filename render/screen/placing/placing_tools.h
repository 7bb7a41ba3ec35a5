// What can be put on the ground by hand, at what size it starts, and the edits of a scene that putting, moving and
// taking away are. Pure functions from scenes to scenes: know no mouse, no camera, no ImGui.
#pragma once
#include <glm/vec2.hpp>
#include <optional>
#include <span>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/ground_words.h"
#include "sim/scene/scene.h"

namespace sidehill::screen {

// look: the mouse turns the camera and touches nothing. move: it takes hold of what stands there. The rest put one.
enum class Tool { look, move, bump, hole, ditch, stump, ridge, ramp, kerb, rough };

struct ToolInfo {
  Tool tool;
  char32_t key;  // typed letter that chooses it
  const char* name;
  const char* help;
};
std::span<const ToolInfo> tools();
const ToolInfo& info(Tool tool);
std::optional<Tool> tool_of_key(char32_t letter);

// What a tool puts, at its usual size (typical, our estimate), to be driven over by a machine heading so [rad]. For
// look and move: a bump.
Feature usual_feature(Tool tool, double heading);
// The tool a feature could have come from. Ridge and ramp are bumps by shape, known by their names.
Tool tool_of(const Feature& feature);
// Seen from the machine at its start: "3.20 m ahead of the rear axle, 0.90 m to the left".
std::string place_words(const Scene& scene, glm::dvec2 p_G);

// Every number inside the range the file allows; what is not a number becomes the default's.
Feature within_limits(Feature feature);
Start within_limits(Start start);

// The same scene with one more, last in the list; unchanged if it is full.
Scene with_feature(const Scene& scene, const Feature& feature);
// Entry `index` changed, or taken away; unchanged if there is none.
Scene with_feature_changed(const Scene& scene, int index, const Feature& feature);
Scene without_feature(const Scene& scene, int index);
// The machine elsewhere, turned otherwise.
Scene with_start(const Scene& scene, const Start& start);

// Directions of a machine at its start, in G.
glm::dvec2 forward_G(double heading);
glm::dvec2 left_G(double heading);
// Between the axles, where it is turned about.
glm::dvec2 machine_middle_G(const Scene& scene);
// True if its left side is the higher one, false if its right; empty facing up or down within 7.5 degrees.
std::optional<bool> left_is_uphill(double heading);

// A feature of the tool's usual size in the way of a wheel: its near edge `ahead` [m] in front of the front wheels'
// middle, its middle on the line the wheel rolls along from the start, narrow enough to leave the other side alone.
Feature before_wheel(const Scene& scene, Tool tool, int wheel, double ahead);

}  // namespace sidehill::screen
