#include "sim/insight/job_slope.h"

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"

namespace sidehill {
namespace {

std::vector<EnvelopePoint> at_the_jobs_headings(Model model, JobHeadings headings) {
  model.terrain.features.clear();
  std::vector<double> asked;
  if (headings == JobHeadings::across) asked = {-90 * kDegree, 90 * kDegree};
  if (headings == JobHeadings::up_and_down) asked = {0, 180 * kDegree};
  if (headings == JobHeadings::any)
    for (int i = 0; i < 36; ++i) asked.push_back((-180 + 10 * i) * kDegree);
  std::vector<EnvelopePoint> points;
  for (const double heading : asked) points.push_back(point_at_heading(model, heading));
  return points;
}

bool slides_first(const EnvelopePoint& point) {
  return point.slide && (!point.first_lift_off || *point.slide <= *point.first_lift_off);
}

}  // namespace

std::optional<EnvelopePoint> weakest_in_job(const std::vector<EnvelopePoint>& by_heading, JobHeadings headings) {
  const auto asked = [&](const EnvelopePoint& point) {
    const double along = std::abs(std::cos(point.heading));
    return headings == JobHeadings::any || (headings == JobHeadings::across ? along < 0.01 : along > 0.99);
  };
  std::optional<EnvelopePoint> weakest;
  for (const EnvelopePoint& point : by_heading)
    if (!point.failed && asked(point) && point.gives_way() && (!weakest || *point.gives_way() < *weakest->gives_way()))
      weakest = point;
  return weakest;
}

std::optional<Interval> first_of(const std::optional<Interval>& a, const std::optional<Interval>& b) {
  if (!a || !b) return a ? a : b;
  Interval first = a->open ? *b : *a;
  if (!a->open && !b->open) first.high = std::min(a->high, b->high);
  first.low = std::min(a->low, b->low);
  return first;
}

std::optional<Interval> range_at(const Scene& scene, double heading, const std::stop_token& stop) {
  Scene turned = scene;
  turned.start.heading = heading;
  turned.terrain.features.clear();
  const Model model = build(turned);
  const Uncertainty all = uncertainty(turned, model, solve_statics(model, stop), stop);
  return first_of(all.slide, all.first_lift_off);
}

bool JobSlope::whatever_the_ballast() const {
  const auto alike = [&](const std::optional<EnvelopePoint>& other) {
    return other && slides_first(*other) && std::abs(*as_is->gives_way() - *other->gives_way()) <= kSlideAlike;
  };
  return as_is && slides_first(*as_is) && alike(bare) && alike(filled);
}

std::optional<JobSlope> slope_of_job(const Scene& scene, const Model& model) {
  const Job& job = scene.job;
  if (job.work == Work::none || !(job.slope > 0)) return std::nullopt;
  JobSlope out;
  out.slope = job.slope;
  const std::vector<EnvelopePoint> points = at_the_jobs_headings(model, job.headings);
  out.lost = static_cast<std::size_t>(std::ranges::count_if(points, &EnvelopePoint::failed));
  out.as_is = weakest_in_job(points, job.headings);
  if (out.as_is) out.range = range_at(scene, out.as_is->heading);
  out.bare = weakest_in_job(at_the_jobs_headings(build(without_ballast(scene), &model), job.headings), job.headings);
  out.filled = weakest_in_job(at_the_jobs_headings(build(with_rear_brine(scene), &model), job.headings), job.headings);
  return out;
}

Scene with_rear_brine(Scene scene) {
  for (const int wheel : {kRearLeft, kRearRight}) {
    TyreFill& fill = scene.ballast.fill[static_cast<std::size_t>(wheel)];
    fill.medium = Medium::calcium_chloride_3_5;
    fill.concentration = 0;
    fill.fill_fraction = 0.75;
  }
  return scene;
}

Scene without_ballast(Scene scene) {
  for (TyreFill& fill : scene.ballast.fill) fill.fill_fraction = 0;
  BallastPlan& plan = scene.ballast;
  plan.front_weights = plan.rear_weights = plan.front_wheel_weights = plan.rear_wheel_weights = 0;
  return scene;
}

}  // namespace sidehill
