// Whether a set-up stands on its job's steepest slope, in words: once for the rules and for set-ups side by side. Knows
// no file, no window.
#pragma once
#include <optional>
#include <string>

#include "render/namespaces.h"
#include "sim/insight/job_slope.h"
#include "sim/insight/uncertainty.h"
#include "sim/rest/statics.h"

namespace sidehill::text {

// "On the job's 15.0° = 27 %". The slope in [rad].
std::string on_job_slope(double slope);

enum class OnJob { stands, may_not_hold, does_not_stand };

// `weakest`: of the job's headings the one at which the least slope is enough, none where nothing gives way at any;
// `range` is where that slope may lie. It may not hold where the range begins below the job's slope.
OnJob on_job(double slope, const std::optional<EnvelopePoint>& weakest, const std::optional<Interval>& range);

// "On the job's 15.0° = 27 % it DOES NOT STAND: it slides at 14.3° = 25 % (12.5° to 16.6°), heading -180°, 0.7° too
// steep."
std::string stands_on_job(double slope, const std::optional<EnvelopePoint>& weakest,
                          const std::optional<Interval>& range);

// What is left of the slope it stands on [rad], as the two angles are shown; below 0 it does not stand. Nothing where
// nothing gives way.
std::optional<double> left_on_job(double slope, const std::optional<EnvelopePoint>& weakest);

// stands_on_job of a set-up, the worst first: at how many headings it is not known stands in front.
std::string job_slope_words(const JobSlope& job);

// On which grip of the ground all slopes of an answer rest, and that the job asks for another one where it says wet and
// the scene's ground is not.
std::string grip_sentence(const Scene& scene);

}  // namespace sidehill::text
