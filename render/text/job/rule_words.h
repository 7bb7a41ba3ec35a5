// A rule, what it asks, what is there and what would cure it, in plain words. Knows no window, no file.
#pragma once
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/job/rules.h"

namespace sidehill::text {

const char* rule_key(RuleId id);    // "steering_axle": in JSON
const char* rule_words(RuleId id);  // "steering axle carries at least 20 % of the unladen mass"
std::string rule_words(RuleId id,
                       const BallastPlan& plan);  // the same of this loader's tool: "load on the forks at most"
const char* kind_words(RuleKind kind);
const char* state_words(RuleState state);  // "met", "NOT MET", "not known"

std::string asked_words(const RuleAnswer& rule, Units units);  // "at least 770 kg", "35 to 45 %", "not known"
std::string there_words(const RuleAnswer& rule, Units units);  // "1 850 kg"
// "1 080 kg to spare", "120 kg too little", "12 % too much"; empty where nothing is known.
std::string margin_words(const RuleAnswer& rule, Units units);
// "85 kg more on the front mount, which takes it"; empty where it is met.
std::string cure_words(const RuleAnswer& rule, const Scene& scene, Units units);
// "vehicle.front.capacity_kg": the key to look up; empty where the rule needs none.
std::string missing_key(const RuleAnswer& rule);

// "one bale on a hilly pasture (loader, 5.0 km/h, to 15.0° = 27 %, firm and wet ground, down to -15 °C)"; empty
// without a job.
std::string job_words(const Job& job, Units units);

}  // namespace sidehill::text
