// What a run comes down to: the worst of how it ended and of the set-up at rest. Knows no words.
#pragma once
#include <vector>

#include "sim/insight/verdict.h"
#include "sim/motion/recording.h"

namespace sidehill {

// How bad an outcome is, on the scale of the answer at rest: overturned = tipped, a wheel that lifts and comes back =
// lifts_under_way, no numbers = unsolved.
StandCause cause_of(Outcome outcome);

// The run stopped before it was decided how it ends.
enum class CutOff {
  no,
  in_the_air,  // nothing of it on the ground yet, and moving
  going_over,  // not over yet, but with the energy to go over unless something stops it
};
CutOff cut_off(const Model& model, const Recording& recording);
// The same with what was cut off: never better than `unsolved` then.
StandCause cause_of(Outcome outcome, CutOff cut);

struct RunVerdict {
  StandCause headline = StandCause::stands;
  std::vector<StandCause> also;  // everything else that holds, worst first
};
// Of how the run ended and of all that holds at rest. Never better than either.
// What was cut off is `unsolved` besides, and never just stands.
RunVerdict run_verdict(const StandVerdict& at_rest, Outcome outcome, CutOff cut = CutOff::no);

}  // namespace sidehill
