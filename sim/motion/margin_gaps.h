// The stretches of a run in which "degrees left" says nothing. Knows states and events; no drawing, no engine.
#pragma once
#include <vector>

#include "sim/motion/recording.h"

namespace sidehill {

// Why the angle says nothing: it is measured to a line between wheels on the ground, so it rises again once they are
// off it, and it may be large while the machine is already falling.
enum class MarginGap { in_the_air, gone_over };

struct GapStretch {
  double from = 0, to = 0;  // [s]
  MarginGap why = MarginGap::in_the_air;
};

// In order, none touching another of its kind. in_the_air: two wheels or more carry nothing, or one does while the
// front axle is on its stop, so that the angle is one to another line. gone_over: from the point
// of no return, or where the roll-over frame touches, to the end of `states`. `weight` of the whole machine [N].
std::vector<GapStretch> margin_gaps(const std::vector<State>& states, const std::vector<Event>& events, double weight);

// Whether a moment lies in one of them.
const GapStretch* gap_at(const std::vector<GapStretch>& gaps, double time);  // nullptr: it does not

}  // namespace sidehill
