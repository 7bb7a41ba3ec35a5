#include "sim/motion/margin_gaps.h"

#include <algorithm>
#include <iterator>

namespace sidehill {

std::vector<GapStretch> margin_gaps(const std::vector<State>& states, const std::vector<Event>& events, double weight) {
  std::vector<GapStretch> gaps;
  if (states.empty()) return gaps;
  const double end = states.back().time;
  double over = 1e300;
  for (const Event& event : events)
    if (event.kind == EventKind::point_of_no_return || event.kind == EventKind::frame_touches)
      over = std::min(over, event.time);
  constexpr double kNothing = 1e-4;  // of the weight: below it a wheel carries nothing
  bool open = false;
  for (const State& state : states) {
    if (state.time >= over) break;
    const auto up =
        std::ranges::count_if(state.wheels, [&](const WheelState& w) { return !(w.load > kNothing * weight); });
    const bool gap = up >= 2 || (up == 1 && state.on_stop);
    if (gap && !open) gaps.push_back({state.time, state.time, MarginGap::in_the_air});
    if (gap || open) gaps.back().to = state.time;
    open = gap;
  }
  if (open) gaps.back().to = std::min(over, end);
  if (over <= end) gaps.push_back({over, end, MarginGap::gone_over});
  return gaps;
}

const GapStretch* gap_at(const std::vector<GapStretch>& gaps, double time) {
  const auto after = std::ranges::upper_bound(gaps, time, {}, &GapStretch::from);
  if (after == gaps.begin()) return nullptr;
  const GapStretch& gap = *std::prev(after);
  const bool inside = gap.why == MarginGap::gone_over || time < gap.to || time == gap.from;
  return inside ? &gap : nullptr;
}

}  // namespace sidehill
