#include "sim/insight/run_verdict.h"

#include <algorithm>

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

RunVerdict run_verdict(const StandVerdict& at_rest, Outcome outcome) {
  std::vector<StandCause> all = at_rest.also;
  all.push_back(at_rest.headline);
  all.push_back(cause_of(outcome));
  std::ranges::sort(all);
  all.erase(std::ranges::unique(all).begin(), all.end());
  if (all.size() > 1) std::erase(all, StandCause::stands);  // it holds only where nothing else does
  return {all.front(), {all.begin() + 1, all.end()}};
}

}  // namespace sidehill
