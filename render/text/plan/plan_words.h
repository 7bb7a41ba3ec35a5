// Plans in plain words: what each is called, why it stays, why its rival lost, and what comes first of all. Knows no
// file, no window.
#pragma once
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/plan/plan.h"

namespace sidehill::text {

// "water in the rear tyres to 75 %, 4 x wheel disc on the rear wheels, drained before the frost"; "as it is".
std::string plan_name(const PlanGround& ground, const PlanChoice& choice, const PlanMeasures& measures);

// "dual wheels (hired pair) on the rear axle", "520/70R38 tyres (wide pair) on the rear axle".
std::string wheels_words(const WheelsOnHand& pair);

// What to type after --set for it, in order; empty for the machine as it is.
std::vector<std::string> plan_changes(const PlanGround& ground, const PlanChoice& choice);

// "rear tyres carry at most their rating", "stands on the job's slope", ...
std::string barrier_words(const Barrier& barrier, const Plan& plan);
const char* barrier_key(PlanBar what);    // in JSON; of a rule its own key
const char* reason_key(PlanReason what);  // "most_stable"
const char* loss_key(PlanLoss what);      // "ballast"

// "most stable, least slip".
std::string reasons_words(const ChosenPlan& plan);
// "Next best: water in the rear tyres to 60 %, which misses one more target."; empty without a rival.
std::string rival_words(const Plan& plan, const ChosenPlan& chosen, Units units);

// Why it is among the few, what it does not meet, and why its rival lost: a sentence each, in these units.
std::vector<std::string> why_words(const Plan& plan, const ChosenPlan& one, Units units);

// What was asked of it beside limits and targets, a line each: the slope, slip, pull.
enum class AskedState { met, may_not_hold, not_met, not_known };
struct AskedLine {
  PlanBar what = PlanBar::slope;
  AskedState state = AskedState::not_known;
  std::string words;  // "stands on the job's 12.0° = 21 %"
  std::string there;  // "19.9°, 18.0° to 21.9°"
};
std::vector<AskedLine> asked_of(const Plan& plan, const ChosenPlan& one, Units units);

// "7 set-ups worth choosing from. Plans looked at: 1 800; ..."
std::string count_words(const Plan& plan);
extern const char* const kPlanEstimates;  // how sure all of it is

// The scene that was asked about with this plan's ballast, pressures and track, and a note that says so: what is saved,
// shown and printed of it.
Scene planned_scene(const Scene& asked, const Plan& plan, const ChosenPlan& one);
// The same as a plan file: with its name, the day it was made ("2026-11-28") and what it was before; its log is empty.
Scene plan_file_scene(const Scene& asked, const Plan& plan, const ChosenPlan& one, const std::string& day);

// "3 h 10 min", in steps of five minutes.
std::string effort_words(double seconds);

// The worst first: that nothing does it, that it may not hold, limits that no plan meets or that are not known; then
// what to choose. At least one line; a sentence each.
std::vector<std::string> plan_head(const Plan& plan, Units units);

}  // namespace sidehill::text
