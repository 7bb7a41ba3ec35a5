// At which slope each thing gives way as the whole ground is tilted at this heading, standing still: the rows that page
// and window list. Knows no words.
#pragma once
#include <optional>
#include <vector>

#include "sim/insight/uncertainty.h"

namespace sidehill {

enum class SlopeOf {
  slide,
  lift_off,  // of the first wheel
  tip_over,  // the slope raised slowly
  rigid,     // first lift-off on rigid tyres, liquid kept in place: to compare
  on_stop,   // end of what could still rest on the front axle's stop
};

struct SlopeRow {
  SlopeOf what = SlopeOf::lift_off;
  std::optional<double> slope;       // [rad]; none: never, or no answer
  std::optional<Interval> interval;  // of `slope` [rad]; none: not worked out, or uneven ground
};

// In the order above; on_stop only where it lies beyond the lift-off, for it is never come to otherwise. No slopes
// where there is no answer (RestStatus::unsolved). `doubts` may be nullptr; on uneven ground they are of the even
// slope, and left out.
std::vector<SlopeRow> slope_rows(const StaticSolution& statics, const Uncertainty* doubts, bool even);

// What comes first stands first, "never" last.
bool sooner(const std::optional<double>& a, const std::optional<double>& b);

}  // namespace sidehill
