#include "sim/tip_path.h"

#include <algorithm>
#include <cmath>

namespace sidehill {
namespace {

constexpr double kDeg = 0.017453292519943295;
constexpr double kLeastStep = kDeg / 64;  // of tilt along the path
constexpr double kFurthest = 100 * kDeg;
constexpr double kJump = 8 * kDeg;  // of slope within one step of tilt: more is another branch

// Balances at `tilt`, starting from `guess`.
std::optional<TipPoint> point_at(EquilibriumSystem& system, Question question, double tilt, Trial guess) {
  system.tilt = tilt;
  if (!balance_one_sided(system, question, guess).converged) return std::nullopt;
  return TipPoint{tilt, guess.stop != 0, guess};
}

// A guess for a point further along: turned by the missing tilt, all else as it was.
Trial turned(const Trial& trial, double by) {
  Trial next = trial;
  next.X_GV.R = about_x(by) * trial.X_GV.R;
  return next;
}

// The guess two points suggest, `step` of tilt from `last`, as long as they stand on the same contacts.
Trial extrapolated(const TipPoint& before, const TipPoint& last, double step) {
  if (before.trial.touching != last.trial.touching || before.trial.stop != last.trial.stop || last.tilt == before.tilt)
    return turned(last.trial, step);
  const double k = step / (last.tilt - before.tilt);
  Trial next = last.trial;
  const Quat between = glm::quat_cast(last.trial.X_GV.R * glm::transpose(before.trial.X_GV.R));
  const Vec3 v(between.x, between.y, between.z);
  const double length = glm::length(v);
  if (length > 1e-12) {
    const double angle = 2 * k * std::atan2(length, between.w);
    next.X_GV.R = glm::mat3_cast(glm::angleAxis(angle, v / length)) * last.trial.X_GV.R;
  }
  next.X_GV.p += k * (last.trial.X_GV.p - before.trial.X_GV.p);
  next.axle_angle += k * (last.trial.axle_angle - before.trial.axle_angle);
  next.hold += k * (last.trial.hold - before.trial.hold);
  for (std::size_t i = 0; i < next.side.size(); ++i) next.side[i] += k * (last.trial.side[i] - before.trial.side[i]);
  next.slope += k * (last.trial.slope - before.trial.slope);
  return next;
}

bool same_contacts(const TipPoint& a, const TipPoint& b) {
  return a.trial.touching == b.trial.touching && a.trial.stop == b.trial.stop;
}

// Follows the branch of `from` towards `to_tilt` as far as its contacts last, keeping them; the last point on it, to
// 1e-7 rad. `behind` is a neighbour on the other side, for a first guess. Illinois rule on what is left to the next
// change of contact, halving where no balance is found.
TipPoint end_of_branch(EquilibriumSystem& system, const TipPoint& behind, const TipPoint& from, double to_tilt) {
  TipPoint last = from, before = behind;
  double at_last = std::max(contact_slack(system, from.trial), 1e-12), at_beyond = 0;
  double beyond = to_tilt;
  bool known = false;  // what is left at `beyond`
  for (int i = 0; i < 80 && std::abs(beyond - last.tilt) > 1e-7; ++i) {
    const double whole = beyond - last.tilt;
    const double part = i == 0 ? 1 : known ? std::clamp(at_last / (at_last - at_beyond), 0.001, 0.999) : 0.5;
    const double tilt = last.tilt + part * whole;
    Trial guess = extrapolated(before, last, tilt - last.tilt);
    system.tilt = tilt;
    if (!balance(system, Question::slope_at_tilt, guess).converged) {
      beyond = tilt;
      known = false;
      continue;
    }
    const double slack = contact_slack(system, guess);
    if (slack >= 0) {
      if (last.tilt != from.tilt) at_beyond *= 0.5;
      before = last;
      last = {tilt, guess.stop != 0, guess};
      at_last = std::max(slack, 1e-12);
      if (i == 0) break;  // the contacts last all the way
    } else {
      at_last *= known ? 0.5 : 1;
      beyond = tilt;
      at_beyond = slack;
      known = true;
    }
  }
  return last;
}

// Steepest slope near the best of three neighbouring points. Between changes of contact the balanced slope bends
// little, so its maximum is where a wheel leaves or the stop is met: at an end of the branch of one of the three.
TipPoint refine(EquilibriumSystem& system, const TipPoint& left, const TipPoint& best, const TipPoint& right) {
  TipPoint top = best;
  const auto consider = [&](const TipPoint& behind, const TipPoint& from, double to_tilt) {
    const TipPoint end = end_of_branch(system, behind, from, to_tilt);
    const bool plausible = std::abs(end.trial.slope - from.trial.slope) < kJump;
    if (plausible && end.on_stop == best.on_stop && end.trial.slope > top.trial.slope) top = end;
  };
  if (!same_contacts(left, best)) {
    consider(right, best, left.tilt);
    consider(left, left, best.tilt);
  }
  if (!same_contacts(right, best)) {
    consider(left, best, right.tilt);
    consider(right, right, best.tilt);
  }
  return top;
}

std::optional<TipPoint> steepest(EquilibriumSystem& system, const std::vector<TipPoint>& points, bool only_on_stop) {
  std::size_t best = points.size();
  for (std::size_t i = 0; i < points.size(); ++i)
    if ((!only_on_stop || points[i].on_stop) &&
        (best == points.size() || points[i].trial.slope > points[best].trial.slope))
      best = i;
  if (best == points.size()) return std::nullopt;
  if (best == 0 || best + 1 == points.size()) return points[best];
  return refine(system, points[best - 1], points[best], points[best + 1]);
}

// Of the chassis side alone (what moves before the stop is met), or with the front axle and its wheels.
Mat3 inertia_about(const Model& m, const Trial& trial, const Vec3& about_G, bool with_axle) {
  // All lumps at their place now; the liquid as points, for it does not turn with the machine.
  Mat3 total(0.0);
  const auto add = [&](const MassProperties& props, const Pose& X_GB) {
    const Mat3 turned_inertia = X_GB.R * props.inertia * glm::transpose(X_GB.R);
    const Vec3 r = X_GB * props.com - about_G;
    total += turned_inertia + props.mass * (glm::dot(r, r) * Mat3(1.0) - glm::outerProduct(r, r));
  };
  const Pose X_GA = trial.X_GV * Pose{about_x(trial.axle_angle), m.pin};
  add(m.chassis, trial.X_GV);
  if (with_axle) add(m.axle, X_GA);
  if (m.loader.fitted) add(m.loader.boom, trial.X_GV * Pose{Mat3(1.0), m.loader.pivot});
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (i < 2 && !with_axle) continue;
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

TipPath tip_path(EquilibriumSystem& system, const Trial& lift_off, double longest_step) {
  constexpr double kPastPeak =
      3 * kDeg;  // once the balanced slope has fallen this far below peak and lift-off, nothing more is decided
  TipPath path;
  system.R_tilt_zero = lift_off.X_GV.R;
  path.points.push_back({0, lift_off.stop != 0, lift_off});
  const bool fixed = system.model->axle_kind == AxleKind::fixed;
  double step = longest_step, peak = -1e9;
  while (path.points.back().tilt < kFurthest) {
    const TipPoint& last = path.points.back();
    const bool can_extrapolate = path.points.size() > 1;
    const Trial guess =
        can_extrapolate ? extrapolated(path.points[path.points.size() - 2], last, step) : turned(last.trial, step);
    auto next = point_at(system, Question::slope_at_tilt, last.tilt + step, guess);
    if (!next && can_extrapolate)
      next = point_at(system, Question::slope_at_tilt, last.tilt + step, turned(last.trial, step));
    // A balance far from the last one lies on another branch; smaller steps stay on this one. A stop newly met may lift
    // the slope at once.
    const bool jumped = next && std::abs(next->trial.slope - last.trial.slope) > kJump && next->on_stop == last.on_stop;
    if (!next || jumped) {
      step *= 0.5;
      if (step < kLeastStep) break;
      continue;
    }
    path.points.push_back(*next);
    step = std::min(longest_step, step * 2);
    const double slope = next->trial.slope;
    if (next->on_stop || fixed) peak = std::max(peak, slope);
    if (slope < -2 * kDeg || (peak > -1 && slope < std::min(peak, lift_off.slope) - kPastPeak)) break;
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
      // What is left of the motion when the axis changes: angular momentum about the shared contact, along the new
      // axis.
      std::size_t contact = kRearLeft;
      const Rest rest = rest_of(system, point->trial);
      for (std::size_t w : {std::size_t{kRearLeft}, std::size_t{kRearRight}})
        if (rest.load[w] > rest.load[contact]) contact = w;
      const Mat3 before_stop = inertia_about(*system.model, point->trial, rest.contact_G[contact], false);
      const Mat3 after_stop = inertia_about(*system.model, point->trial, rest.contact_G[contact], true);
      const Vec3 old_axis = axis_between(before, point->trial);
      if (i + 1 < path.points.size()) {
        const Vec3 new_axis = axis_between(path.points[i].trial, path.points[i + 1].trial);
        const double cross = glm::dot(new_axis, before_stop * old_axis);
        const double kept =
            cross * cross / (glm::dot(new_axis, after_stop * new_axis) * glm::dot(old_axis, before_stop * old_axis));
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
