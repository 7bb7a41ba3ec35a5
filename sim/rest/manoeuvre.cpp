#include "sim/rest/manoeuvre.h"

#include <cmath>

#include "sim/base/closed_in.h"

namespace sidehill {
namespace {

constexpr double kMostFelt = 15;  // [m/s2]; no tyre holds more

Model doing(const Model& model, ManoeuvreKind kind, double acceleration) {
  switch (kind) {
    case ManoeuvreKind::turning_left:
      return accelerated(model, acceleration, 0);
    case ManoeuvreKind::turning_right:
      return accelerated(model, -acceleration, 0);
    case ManoeuvreKind::braking:
      break;
  }
  return accelerated(model, 0, acceleration);
}

// The least pull at which the first wheel has lifted on this slope, searched upwards so that the first one is found.
std::optional<double> limit_of(const Model& model, ManoeuvreKind kind, const std::stop_token& stop) {
  const auto lifted = [&](double acceleration) {
    const auto load = least_load_at(doing(model, kind, acceleration), model.terrain.slope, stop);
    return !load || *load <= 0;
  };
  if (lifted(0)) return 0.0;
  double below = 0, above = 0.5;
  while (!lifted(above)) {
    below = above;
    above += 0.5;
    if (above > kMostFelt) return std::nullopt;
  }
  return closed_in(below, above, 1e-5, lifted).second;
}

}  // namespace

bool lifts_under_way(const ManoeuvreAnswer& a) {
  return a.acceleration_at_limit && a.acceleration >= *a.acceleration_at_limit;
}

bool tips_under_way(const ManoeuvreAnswer& a) { return lifts_under_way(a) && !a.rest && !a.lift_off.failed; }

Model accelerated(const Model& model, double lateral, double braking) {
  Model other = model;
  other.inertial_acceleration = {braking, -lateral, 0};
  return other;
}

std::vector<ManoeuvreAnswer> manoeuvres(const Scene& scene, const Model& model, const std::stop_token& stop) {
  std::vector<ManoeuvreAnswer> answers;
  const Manoeuvre& asked = scene.manoeuvre;
  const auto answer = [&](ManoeuvreKind kind, double acceleration) {
    const StaticSolution statics = solve_statics(doing(model, kind, acceleration), stop);
    ManoeuvreAnswer a;
    a.kind = kind;
    a.acceleration = acceleration;
    a.lift_off = {statics.first_lift_off, statics.first_wheel, statics.status == RestStatus::unsolved};
    a.margin = statics.margin;
    a.slide = statics.slide;
    a.rest = statics.rest;
    a.acceleration_at_limit = limit_of(model, kind, stop);
    if (kind != ManoeuvreKind::braking && a.acceleration_at_limit)
      a.speed_at_limit = std::sqrt(*a.acceleration_at_limit * asked.turn_radius);
    answers.push_back(a);
  };
  if (asked.turn_radius > 0) {
    const double acceleration = asked.speed * asked.speed / asked.turn_radius;
    answer(ManoeuvreKind::turning_left, acceleration);
    answer(ManoeuvreKind::turning_right, acceleration);
  }
  if (asked.braking > 0) answer(ManoeuvreKind::braking, asked.braking);
  return answers;
}

}  // namespace sidehill
