// Several set-ups of one scene side by side: each answered as if it stood alone, and every difference to the first with
// its own interval. Knows no words, no file.
#pragma once
#include <optional>
#include <span>
#include <stop_token>
#include <string>
#include <vector>

#include "sim/insight/answer.h"
#include "sim/insight/difference.h"
#include "sim/insight/job_slope.h"
#include "sim/job/at_work.h"

namespace sidehill {

struct NamedScene {
  std::string name;  // as given
  Scene scene;
};

// Each tyre's filling replaced by cast weights of the same mass on its wheel, tyre on air; the mean of both wheels of
// an axle. Throws InputError for an impossible machine.
Scene with_weights_for_liquid(const Scene& scene);

struct SetUpAnswer {
  std::string name;
  Answer answer;  // rest, loads, manoeuvres, limits, headings, worst, intervals
  RuleReport rules;
  WorkAnswer work;
  SoilAnswer soil;
  // On the job's steepest slope, at the worst of the job's headings: what gives way there first. None without a job or
  // without a slope in it.
  std::optional<EnvelopePoint> on_job;
  std::optional<Interval> on_job_range;  // of it, see range_at
};

// The part that follows from scene, model and Answer in some milliseconds: rules, work and soil.
void add_job(SetUpAnswer& set_up);
// Once the Answer has its headings, `on_job` and its range: 0.1 to 0.3 s where the job has a slope.
void add_on_job(SetUpAnswer& set_up, const std::stop_token& stop = {});

struct SetUpComparison {
  std::vector<SetUpAnswer> set_ups;
  std::vector<SetUpDifference> differences;  // of set-up i + 1 minus the first
  // Every one slides before a wheel lifts, all within kSlideAlike of each other, and they differ in ballast by
  // kMuchBallast at least: then no ballast here changes it.
  bool ballast_is_no_answer = false;
};

inline constexpr double kMuchBallast = 0.05;  // of the machine's mass [-]; our choice
bool ballast_is_no_answer(std::span<const SetUpAnswer* const> set_ups);

// Answers them on all cores. Throws InputError for an impossible machine, with the set-up's name in front where there
// are several. At least one set-up.
SetUpComparison compare_set_ups(const std::vector<NamedScene>& set_ups);

}  // namespace sidehill
