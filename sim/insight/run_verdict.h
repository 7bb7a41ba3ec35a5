// What a run comes down to: the worst of how it ended and of the set-up at rest. Knows no words.
#pragma once
#include <vector>

#include "sim/insight/verdict.h"
#include "sim/motion/recording.h"

namespace sidehill {

// How bad an outcome is, on the scale of the answer at rest: overturned = tipped, a wheel that lifts and comes back =
// lifts_under_way, no numbers = unsolved.
StandCause cause_of(Outcome outcome);

struct RunVerdict {
  StandCause headline = StandCause::stands;
  std::vector<StandCause> also;  // everything else that holds, worst first
};
// Of how the run ended and of all that holds at rest. Never better than either.
RunVerdict run_verdict(const StandVerdict& at_rest, Outcome outcome);

}  // namespace sidehill
