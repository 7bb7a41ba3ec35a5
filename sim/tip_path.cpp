#include "sim/tip_path.h"

#include <algorithm>
#include <cmath>

namespace sidehill {
namespace {

constexpr double kDeg = 0.017453292519943295;
constexpr double kStep = 1.0 * kDeg;      // of tilt along the path
constexpr double kLeastStep = kStep / 64;
constexpr double kFurthest = 100 * kDeg;
constexpr double kJump = 8 * kDeg;        // of slope within one step of tilt: more is another branch

// Balances at `tilt`, starting from `guess`.
std::optional<TipPoint> point_at(EquilibriumSystem& system, Question question, double tilt, Trial guess) {
  system.tilt = tilt;
  if (!balance_one_sided(system, question, guess).converged) return std::nullopt;
  return TipPoint{tilt, guess.stop != 0, guess};
}

// A guess for a point further along: turned by the missing tilt, all else as it was.
Trial turned(const Trial& trial, double by) {
  Trial next = trial;
  const Mat3 R(1, 0, 0, 0, std::cos(by), std::sin(by), 0, -std::sin(by), std::cos(by));
  next.X_GV.R = R * trial.X_GV.R;
  return next;
}

// Steepest slope between three neighbouring points, by golden section: the maximum is a kink where a wheel leaves. Each try starts
// from the nearest point known, and one that lands far from its neighbours has jumped to another branch and does not count.
TipPoint refine(EquilibriumSystem& system, const TipPoint& left, const TipPoint& best, const TipPoint& right) {
  constexpr double kGolden = 0.6180339887498949;
  double lo = left.tilt, hi = right.tilt;
  std::vector<TipPoint> known{left, best, right};
  TipPoint top = best;
  const auto try_at = [&](double tilt) -> double {
    std::sort(known.begin(), known.end(), [&](const TipPoint& a, const TipPoint& b) { return std::abs(a.tilt - tilt) < std::abs(b.tilt - tilt); });
    for (std::size_t k = 0; k < 2; ++k) {
      const TipPoint near = known[k];
      const auto point = point_at(system, Question::slope_at_tilt, tilt, turned(near.trial, tilt - near.tilt));
      if (!point || point->trial.slope > best.trial.slope + 0.4 * kJump) continue;
      known.push_back(*point);
      if (point->trial.slope > top.trial.slope && point->on_stop == best.on_stop) top = *point;
      return point->trial.slope;
    }
    return -1e9;
  };
  double a = hi - kGolden * (hi - lo), b = lo + kGolden * (hi - lo);
  double at_a = try_at(a), at_b = try_at(b);
  while (hi - lo > 1e-6) {
    if (at_a > at_b) {
      hi = b, b = a, at_b = at_a;
      a = hi - kGolden * (hi - lo);
      at_a = try_at(a);
    } else {
      lo = a, a = b, at_a = at_b;
      b = lo + kGolden * (hi - lo);
      at_b = try_at(b);
    }
  }
  return top;
}

std::optional<TipPoint> steepest(EquilibriumSystem& system, const std::vector<TipPoint>& points, bool only_on_stop) {
  std::size_t best = points.size();
  for (std::size_t i = 0; i < points.size(); ++i)
    if ((!only_on_stop || points[i].on_stop) && (best == points.size() || points[i].trial.slope > points[best].trial.slope)) best = i;
  if (best == points.size()) return std::nullopt;
  if (best == 0 || best + 1 == points.size()) return points[best];
  return refine(system, points[best - 1], points[best], points[best + 1]);
}

Mat3 inertia_about(const Model& m, const Trial& trial, const Vec3& about_G) {
  // All lumps at their place now; the liquid as points, for it does not turn with the machine.
  Mat3 total(0.0);
  const auto add = [&](const MassProperties& props, const Pose& X_GB) {
    const Mat3 turned_inertia = X_GB.R * props.inertia * glm::transpose(X_GB.R);
    const Vec3 r = X_GB * props.com - about_G;
    total += turned_inertia + props.mass * (glm::dot(r, r) * Mat3(1.0) - glm::outerProduct(r, r));
  };
  const Mat3 R_VA(1, 0, 0, 0, std::cos(trial.axle_angle), std::sin(trial.axle_angle), 0, -std::sin(trial.axle_angle),
                  std::cos(trial.axle_angle));
  const Pose X_GA = trial.X_GV * Pose{R_VA, m.pin};
  add(m.chassis, trial.X_GV);
  add(m.axle, X_GA);
  if (m.loader.fitted) add(m.loader.boom, trial.X_GV * Pose{Mat3(1.0), m.loader.pivot});
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& wheel = m.wheels[i];
    const Pose X_GH = i < 2 ? X_GA * Pose{Mat3(1.0), wheel.centre - m.pin} : trial.X_GV * Pose{Mat3(1.0), wheel.centre};
    add(wheel.dry, X_GH);
    if (wheel.liquid.mass > 0) add(point_mass(wheel.liquid.mass, {0, 0, -wheel.liquid.depth}), X_GH);
  }
  return total;
}

Vec3 axis_between(const Trial& a, const Trial& b) {
  const Quat q = glm::quat_cast(b.X_GV.R * glm::transpose(a.X_GV.R));
  const Vec3 v(q.x, q.y, q.z);
  const double length = glm::length(v);
  return length > 1e-12 ? v / length : Vec3(1, 0, 0);
}

}  // namespace

TipPath tip_path(EquilibriumSystem& system, const Trial& lift_off) {
  TipPath path;
  system.R_tilt_zero = lift_off.X_GV.R;
  path.points.push_back({0, lift_off.stop != 0, lift_off});
  double step = kStep;
  while (path.points.back().tilt < kFurthest) {
    const TipPoint& last = path.points.back();
    const auto next = point_at(system, Question::slope_at_tilt, last.tilt + step, turned(last.trial, step));
    // A balance far from the last one lies on another branch; smaller steps stay on this one. A stop newly met may lift the slope at once.
    const bool jumped = next && std::abs(next->trial.slope - last.trial.slope) > kJump && next->on_stop == last.on_stop;
    if (!next || jumped) {
      step *= 0.5;
      if (step < kLeastStep) break;
      continue;
    }
    path.points.push_back(*next);
    step = std::min(kStep, step * 2);
    if (next->trial.slope < -2 * kDeg) break;
  }
  path.end_on_stop = steepest(system, path.points, true);
  path.steepest = steepest(system, path.points, false);
  return path;
}

bool snap_goes_over(EquilibriumSystem& system, const TipPath& path) {
  if (path.points.empty()) return true;
  const TipPoint& start = path.points.front();
  double energy = 0, last_moment = 0;  // of motion; of the hand that would hold it
  bool met_stop = start.on_stop;
  Trial before = start.trial;
  for (std::size_t i = 1; i < path.points.size(); ++i) {
    const double tilt = path.points[i].tilt;
    Trial guess = path.points[i].trial;  // same tilt, balanced at another slope: near by
    guess.slope = start.trial.slope;
    guess.moment = 0;
    const auto point = point_at(system, Question::moment_at_tilt, tilt, guess);
    if (!point) return true;  // lost its way: say the cautious thing
    const double moment = point->trial.moment;
    energy -= 0.5 * (moment + last_moment) * (tilt - path.points[i - 1].tilt);
    if (point->on_stop && !met_stop) {
      met_stop = true;
      // What is left of the motion when the axis changes: angular momentum about the shared contact, along the new axis.
      std::size_t contact = kRearLeft;
      const Rest rest = rest_of(system, point->trial);
      for (std::size_t w : {std::size_t{kRearLeft}, std::size_t{kRearRight}})
        if (rest.load[w] > rest.load[contact]) contact = w;
      const Mat3 inertia = inertia_about(*system.model, point->trial, rest.contact_G[contact]);
      const Vec3 old_axis = axis_between(before, point->trial);
      if (i + 1 < path.points.size()) {
        const Vec3 new_axis = axis_between(path.points[i].trial, path.points[i + 1].trial);
        const double cross = glm::dot(new_axis, inertia * old_axis);
        const double kept = cross * cross / (glm::dot(new_axis, inertia * new_axis) * glm::dot(old_axis, inertia * old_axis));
        if (std::isfinite(kept)) energy *= std::clamp(kept, 0.0, 1.0);
      }
    }
    if (energy < 0) return false;  // stopped and falls back
    last_moment = moment;
    before = point->trial;
  }
  return true;
}

}  // namespace sidehill
