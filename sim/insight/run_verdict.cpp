#include "sim/insight/run_verdict.h"

#include <algorithm>
#include <glm/geometric.hpp>

#include "sim/motion/under_way.h"

namespace sidehill {

StandCause cause_of(Outcome outcome) {
  switch (outcome) {
    case Outcome::stands:
      return StandCause::stands;
    case Outcome::slides:
      return StandCause::slides;
    case Outcome::wheel_up:
      return StandCause::wheel_up;
    case Outcome::lifts_and_returns:
      return StandCause::lifts_under_way;
    case Outcome::on_frame:
    case Outcome::rolls_on:
    case Outcome::overturned_rear:
      return StandCause::tipped;
    case Outcome::diverged:
      break;
  }
  return StandCause::unsolved;
}

CutOff cut_off(const Model& model, const Recording& recording) {
  constexpr double kMoves = 0.05;  // [m/s]
  if (recording.states.empty() || overturns(recording.outcome) || recording.outcome == Outcome::diverged)
    return CutOff::no;
  const State& last = recording.states.back();
  if (last.hull_touches) return CutOff::no;
  const bool carried = std::ranges::any_of(last.wheels, [](const WheelState& wheel) { return wheel.load > 0; });
  if (!carried) return glm::length(last.v_G) > kMoves ? CutOff::in_the_air : CutOff::no;
  const auto left = remaining(model, last);
  return left && (left->over || (left->energy < 0 && left->time)) ? CutOff::going_over : CutOff::no;
}

StandCause cause_of(Outcome outcome, CutOff cut) {
  return cut == CutOff::no ? cause_of(outcome) : std::min(cause_of(outcome), StandCause::unsolved);
}

RunVerdict run_verdict(const StandVerdict& at_rest, Outcome outcome, CutOff cut) {
  std::vector<StandCause> all = at_rest.also;
  all.push_back(at_rest.headline);
  all.push_back(cause_of(outcome));
  if (cut != CutOff::no) all.push_back(StandCause::unsolved);
  std::ranges::sort(all);
  all.erase(std::unique(all.begin(), all.end()), all.end());
  if (all.size() > 1) std::erase(all, StandCause::stands);  // it holds only where nothing else does
  return {all.front(), {all.begin() + 1, all.end()}};
}

}  // namespace sidehill
