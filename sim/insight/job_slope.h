// Whether a set-up stands on the steepest slope of its job, and whether ballast has a say in that. Knows no words, no
// file.
#pragma once
#include <optional>
#include <stop_token>
#include <vector>

#include "sim/insight/uncertainty.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene.h"

namespace sidehill {

// Of a job's headings among these the one at which the least slope is enough; none where nothing gives way at any.
std::optional<EnvelopePoint> weakest_in_job(const std::vector<EnvelopePoint>& by_heading, JobHeadings headings);

// Where the first of two slopes lies [rad]: each end the lesser of both; an open one has no upper end. None where both
// are.
std::optional<Interval> first_of(const std::optional<Interval>& a, const std::optional<Interval>& b);

// Where the slope at which something gives way at this heading lies nineteen times in twenty [rad], on even ground;
// none where nothing gives way there. `open`: it may never. Some hundred answers: 0.1 to 0.3 s. Source: uncertainty.
std::optional<Interval> range_at(const Scene& scene, double heading, const std::stop_token& stop = {});

struct JobSlope {
  double slope = 0;                     // the job's [rad]
  std::optional<EnvelopePoint> as_is;   // weakest at the job's headings; none: nothing gives way
  std::optional<Interval> range;        // of it, see range_at; the other two have none
  std::optional<EnvelopePoint> bare;    // the same without any ballast
  std::optional<EnvelopePoint> filled;  // the same with both rear tyres three quarters full of brine
  std::size_t lost = 0;                 // headings at which no balance was found, as it is
  bool stands() const { return !as_is || *as_is->gives_way() >= slope; }
  // It slides first, and within a degree of that with no ballast at all and with the rear tyres full of brine: ballast
  // has no say in it.
  bool whatever_the_ballast() const;
};

// None without a job or without a slope in it. On even ground, standing still, the implement as the scene hangs it. Up
// to 36 headings of three machines, and one interval: 0.1 to 0.3 s. Throws InputError for an impossible machine.
std::optional<JobSlope> slope_of_job(const Scene& scene, const Model& model);

// Both rear tyres three quarters full of calcium chloride brine, the heaviest usual filling; all else as it is.
Scene with_rear_brine(Scene scene);

// All ballast taken off: tyres on air, no weights. Load, implement and driver stay.
Scene without_ballast(Scene scene);

inline constexpr double kSlideAlike = 0.017453292519943295;  // 1 deg [rad]; our choice

}  // namespace sidehill
