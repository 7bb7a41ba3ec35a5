// Small pieces that placing by mouse and by key share. Knows no camera, no ImGui.
#pragma once
#include <cmath>

#include "render/namespaces.h"
#include "render/screen/placing/placing.h"
#include "sim/base/constants.h"

namespace sidehill::screen {

constexpr double kPlaces = 20, kHeights = 100;  // snaps to so many parts of a metre; our choice
constexpr double kTurnStep = 5 * kDegree;       // and turns by so much [rad]
constexpr double kMeant = 4;                    // a press that moves less is a click [px]

// By division, so that 3.2 is the nearest number to 3.2 and is written so in a file.
inline double snapped(double value, double parts, bool free) {
  return free ? value : std::round(value * parts) / parts;
}
inline glm::dvec2 snapped(glm::dvec2 p, bool free) {
  return {snapped(p.x, kPlaces, free), snapped(p.y, kPlaces, free)};
}

inline bool puts(Tool tool) { return tool != Tool::look && tool != Tool::move; }

// nullptr if there is no such entry.
const Feature* feature_at_index(const Scene& scene, int index);
// Drops what is chosen or held if its entry is gone: after an undo, say.
void forget_what_is_gone(Placing& placing, const Scene& scene);
// As far as placing can change a scene.
bool same(const Scene& a, const Scene& b);
// A thing larger on the ground by 10 % a step, or smaller; and the height by 1 cm a step.
Feature resized(Feature feature, double steps);
Feature raised(Feature feature, double steps);

}  // namespace sidehill::screen
