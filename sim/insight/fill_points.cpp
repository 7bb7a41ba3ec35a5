#include "sim/insight/fill_points.h"

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/insight/job_slope.h"
#include "sim/job/rules.h"
#include "sim/scene/scene.h"

namespace sidehill {
namespace {

std::size_t first_wheel(bool front) { return front ? kFrontLeft : kRearLeft; }

double on_axle(const Facts& facts, bool front) {
  return (facts.load[first_wheel(front)] + facts.load[first_wheel(front) + 1]) / kStandardGravity;
}

// Of the load on one axle about `value` [kg], by everything that was moved.
std::optional<Interval> load_range(const Uncertainty& all, bool front, double value) {
  if (!all.middle.rests) return std::nullopt;
  const double middle = on_axle(all.middle, front);
  Interval range;
  for (const Moved& cause : all.moved)
    for (const std::optional<Facts>& end : cause.ends) {
      if (!end) continue;
      if (!end->rests) {
        range.open = true;
        continue;
      }
      const double change = on_axle(*end, front) - middle;
      double& side = change < 0 ? range.low : range.high;
      side = std::hypot(side, change);
    }
  return Interval{value - range.low, value + range.high, range.open};
}

}  // namespace

std::optional<Interval> FillPoint::range() const { return first_of(slide_range, lift_range); }

Scene filled_scene(const Scene& scene, bool front, Medium medium, double concentration, double fill) {
  Scene out = scene;
  out.terrain.features.clear();
  for (std::size_t wheel = first_wheel(front); wheel < first_wheel(front) + 2; ++wheel) {
    TyreFill& held = out.ballast.fill[wheel];
    held.medium = medium;
    held.concentration = concentration;
    held.fill_fraction = info(medium).turns_with_wheel && fill > 0 ? 1.0 : fill;
  }
  return out;
}

FillPoint fill_point(const Scene& scene, const Model& model, bool front, const std::stop_token& stop) {
  FillPoint point;
  const std::size_t left = first_wheel(front);
  point.fill = std::max(scene.ballast.fill[left].fill_fraction, scene.ballast.fill[left + 1].fill_fraction);
  Model even;
  const bool uneven = !model.terrain.features.empty();
  if (uneven) even = model, even.terrain.features.clear();
  const Model& on = uneven ? even : model;
  const LiftOff lift = first_lift_off(on, stop);
  const std::optional<double> slide = slide_slope(on, stop);
  point.failed = lift.failed;
  if (!lift.failed) point.lift = lift.slope, point.slide = slide;
  const AxleShare axles = rules_on(scene, on).axles;
  point.load = front ? axles.front : axles.rear;
  return point;
}

void add_ranges(FillPoint& point, const Scene& scene, bool front, const std::stop_token& stop) {
  Scene level = scene;
  level.terrain.features.clear();
  level.terrain.slope = 0;
  const Model model = build(level);
  const Uncertainty all = uncertainty(level, model, solve_statics(model, stop), stop);
  if (stop.stop_requested()) return;
  if (point.lift) point.lift_range = all.first_lift_off;
  if (point.slide) point.slide_range = all.slide;
  point.load_range = load_range(all, front, point.load);
  point.ranged = true;
}

}  // namespace sidehill
