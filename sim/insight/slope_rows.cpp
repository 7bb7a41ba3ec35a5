#include "sim/insight/slope_rows.h"

namespace sidehill {

std::vector<SlopeRow> slope_rows(const StaticSolution& statics, const Uncertainty* doubts, bool even) {
  const Uncertainty u = doubts && even ? *doubts : Uncertainty{};
  std::vector<SlopeRow> rows = {{SlopeOf::slide, statics.slide, u.slide},
                                {SlopeOf::lift_off, statics.first_lift_off, u.first_lift_off},
                                {SlopeOf::tip_over, statics.tip_over, u.tip_over},
                                {SlopeOf::rigid, statics.rigid_lift_off, u.rigid_lift_off}};
  if (statics.tip_on_stop && statics.first_lift_off && *statics.tip_on_stop > *statics.first_lift_off)
    rows.push_back({SlopeOf::on_stop, statics.tip_on_stop, {}});
  if (statics.status == RestStatus::unsolved)
    for (SlopeRow& row : rows) row.slope.reset(), row.interval.reset();
  return rows;
}

bool sooner(const std::optional<double>& a, const std::optional<double>& b) {
  if (a && b) return *a < *b;
  return a.has_value() && !b.has_value();
}

}  // namespace sidehill
