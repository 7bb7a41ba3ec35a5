// Over the picture: the steepest slope the run ends well on, for several speeds and heights of what lies in the way:
// the table of `sidehill slope-limit`, searched for in the background. Knows Dear ImGui, the desk and the search.
#pragma once
#include <array>
#include <string>

#include "render/screen/background/slope_search.h"
#include "render/screen/panels/panels.h"

namespace sidehill::screen {

struct SlopeLimitDrawer {
  SlopeSearch search;
  // One datum the table runs over: from, to (in the file's unit) and steps.
  struct Axis {
    bool on = false;
    SweptKey key;
  };
  std::array<Axis, 2> axes;  // speed; height of the first thing on the ground
  bool no_roll = false;      // asked: it must not go over; else no wheel may lift
  std::string filled_for;    // name of the first thing on the ground that the axes were filled in for
};

void draw_slope_limit(Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout);

// What the drawer asks of that scene. The axes as `sidehill slope-limit --help` shows them: speeds of 2 to 10 km/h in
// five steps; heights from half of what the scene has to one and a half times as much, in three.
std::array<SlopeLimitDrawer::Axis, 2> usual_axes(const Scene& scene);
SlopeLimitRequest asked_of(const SlopeLimitDrawer& drawer, const Scene& scene);

}  // namespace sidehill::screen
