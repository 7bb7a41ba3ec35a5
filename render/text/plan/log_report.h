// A plan file's log as words and as JSON: what is not as planned, what was done, what is left, when to look again.
// Knows no file, no clock, no window.
#pragma once
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/job_slope.h"
#include "sim/plan/plan_log.h"

namespace sidehill::text {

// Whether the machine stands on its job's steepest slope, as it is now and as planned; none where there is no job.
struct LogStand {
  std::optional<JobSlope> now, planned;
};

// "rear right tyre: 120 of 200 L"; what is to be had there in one line of work: "fill in 80 L of water".
std::string lack_words(const LogStep& step, const Scene& scene);
std::string step_words(const LogStep& step, const Scene& scene);

// One line, the worst first: another machine, not standing on the job's slope as it is now, what is not as planned,
// checks overdue; else that it is as planned and when to look again.
std::string log_verdict(const Scene& scene, const LogAnswer& answer, const LogStand& stand);

// The whole answer; `today` is a date.
std::string log_table(const Scene& scene, const LogAnswer& answer, const LogStand& stand, const std::string& today,
                      Units units);
nlohmann::ordered_json log_json(const Scene& scene, const LogAnswer& answer, const LogStand& stand,
                                const std::string& today);

}  // namespace sidehill::text
