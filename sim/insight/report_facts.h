// What a report has beside the answer at rest: every rule, the job's slope, the loader's table, what the scene does
// when it moves, and what keeps it from being signed. Knows no words, no paper.
#pragma once
#include <optional>
#include <vector>

#include "sim/insight/answer.h"
#include "sim/insight/job_slope.h"
#include "sim/insight/loader_grid.h"
#include "sim/insight/run_verdict.h"
#include "sim/motion/recording.h"

namespace sidehill {

// Why a report must not be signed, the gravest first.
enum class BarKind {
  other_machine,      // a plan made for another machine
  cause,              // of the verdict at rest: it has given way, is over a limit, may be frozen, has no answer ...
  run,                // what it does when it moves
  other_heading,      // it gives way at another heading below the slope asked about
  without_implement,  // its slopes leave out what the job hangs on, or part of it
  job_slope,          // it does not stand on its job's slope, may not hold there, or that is not known
  limit_broken,       // a rule that is a limit
  limit_unknown,      // likewise, and nobody said what the machine may bear
  typical_rating,     // what the tyres of an axle bear is typical of their size, not read from the sidewall
  not_measured,       // of no number the files say how well it is known: they are of a class, not of this machine
};
struct SignBar {
  BarKind kind = BarKind::cause;
  StandCause cause = StandCause::stands;  // of cause and run
  RuleAnswer rule;                        // of limit_broken and limit_unknown
  int axle = 0;                           // of typical_rating: 0 front, 1 rear
};

struct ReportFacts {
  RuleReport rules;
  std::optional<JobSlope> job_slope;
  std::vector<LoaderCell> loader;  // kLoaderSteps heights by as many loads; empty without a loader
  bool moves = false;              // the scene has a programme
  std::optional<Recording> run;    // of it; none: it only stands, or was not asked for
  std::vector<SignBar> bars;       // none: it may be signed
};

inline constexpr int kLoaderSteps = 3;

// The scene does more than stand where it is set down.
bool moves(const Scene& scene);

// Everything of it; `with_run`: also what the scene does when it moves, which takes about as long as the run is. Each
// rule is named once. Throws InputError for an impossible machine.
ReportFacts report_facts(const Answer& answer, bool with_run);

}  // namespace sidehill
