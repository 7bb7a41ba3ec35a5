#include "sim/rest/tip_path.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/base/constants.h"

namespace sidehill {
namespace {

constexpr double kProbe = 0.2 * kDegree;  // of tilt: how things go on from a change of contact is felt this far ahead
constexpr double kLeastProbe = 1e-8;      // between hard tyres a branch may be as short as this
constexpr double kFurthest = 100 * kDegree;       // of tilt
constexpr double kFurthestChange = 30 * kDegree;  // no contact changes further on than this
constexpr double kJump = 8 * kDegree;    // of slope between two points of one branch so near: more is another branch
constexpr double kInconsistent = -1e-6;  // a contact that lies this far on the wrong side is not as it was taken to be
constexpr int kMostChanges = 10;

// The axis the chassis starts to turn about, so that what has lifted goes up. With a rear wheel of a pivoting machine
// in the air that is the line from the other rear contact to the pin, with a front wheel the line of the rear contacts;
// a fixed axle leaves three wheels on the ground and the contour line is as good as any.
Vec3 first_axis(const EquilibriumSystem& system, const TrialPose& lift_off) {
  const Vec3 contour(1, 0, 0);
  const auto up = std::find(lift_off.touching.begin(), lift_off.touching.end(), false);
  if (up == lift_off.touching.end() || system.model->axle_kind == AxleKind::fixed) return contour;
  const auto wheel = static_cast<std::size_t>(up - lift_off.touching.begin());
  const Rest rest = rest_of(system, lift_off);
  const Vec3 pin = lift_off.X_GV * system.model->pin;
  const Vec3 from = wheel == kRearLeft ? rest.contact_G[kRearRight] : rest.contact_G[kRearLeft];
  const Vec3 to = is_front(static_cast<int>(wheel)) ? rest.contact_G[kRearRight] : pin;
  const double length = glm::length(to - from);
  if (!(length > 1e-6)) return contour;
  Vec3 axis = (to - from) / length;
  // Where the heading stays put only level turns are counted: of a slanting axis its level part, or a hand's work would
  // not be its moment times the turn.
  if (system.laterally_rigid) axis = glm::normalize(Vec3(axis.x, axis.y, 0));
  const Vec3 lifted = is_front(static_cast<int>(wheel)) ? pin : rest.contact_G[wheel];
  return glm::cross(axis, lifted - from).z < 0 ? -axis : axis;
}

// A guess for a point further along: turned by the missing tilt, all else as it was.
TrialPose turned(const TiltAxis& axis, const TrialPose& trial, double by) {
  TrialPose next = trial;
  next.X_GV.R = about(axis.axis_G, by) * trial.X_GV.R;
  return next;
}

void toggle(TrialPose& trial, const ContactChange& change) {
  if (change.stop != 0)
    trial.stop = trial.stop == change.stop ? 0 : change.stop;
  else
    trial.touching[change.wheel] = !trial.touching[change.wheel];
}

// The machine on its path, and how long a balance on it may try.
struct OnPath {
  const EquilibriumSystem& system;
  TiltAxis about;
  int most_iterations = Question{}.most_iterations;
};
OnPath briefly(OnPath path) {
  path.most_iterations = 8;
  return path;
}

bool balances_at(const OnPath& path, double tilt, TrialPose& trial) {
  Question question = at_tilt(Sought::slope_at_tilt, path.about, tilt);
  question.most_iterations = path.most_iterations;
  return balance(path.system, question, trial).converged;
}

bool consistent(const EquilibriumSystem& system, const TrialPose& trial) {
  const auto left = contact_slacks(system, trial);
  return std::all_of(left.begin(), left.end(), [](double slack) { return slack >= kInconsistent; });
}

// The place from which a branch goes on with the contacts given, and the balance a little ahead of it.
struct BranchStart {
  TipPoint here, ahead;
};

// Looks for a balance a little beyond `here`. A tyre that leaves the ground lets go the side force it still had, and
// the machine settles anew: the branch may start a degree or two further on.
std::optional<BranchStart> start_of_branch(const OnPath& path, const TipPoint& here, const TrialPose& contacts) {
  TrialPose nearest = contacts;  // the furthest balance so far: between hard tyres only a near guess leads to the next
  double come = 0;
  for (int gap : {0, 1, 2, 3, 5, 10}) {
    const double on = gap * kProbe, tilt = here.tilt + on;
    BranchStart start{{tilt, contacts.stop != 0, turned(path.about, nearest, on - come)}, {}};
    if (!balances_at(path, tilt, start.here.trial)) continue;
    nearest = start.here.trial;
    come = on;
    if (!consistent(path.system, nearest)) continue;
    for (double probe = kProbe; probe > kLeastProbe; probe *= 0.1) {
      start.ahead = {tilt + probe, start.here.on_stop, turned(path.about, start.here.trial, probe)};
      if (balances_at(path, tilt + probe, start.ahead.trial) && consistent(path.system, start.ahead.trial) &&
          std::abs(start.ahead.trial.slope - here.trial.slope) < kJump)
        return start;
    }
  }
  return std::nullopt;
}

// The same on other contacts, where those `here` do not serve: more than one changed at once. Each is given a few
// iterations only; if none serves, the path ends here, which is the cautious thing to say.
std::optional<BranchStart> start_on_other_contacts(const OnPath& given, const TipPoint& here) {
  const OnPath path = briefly(given);
  const Model& m = *path.system.model;
  const TrialPose& was = here.trial;
  const bool left = was.touching[kFrontLeft], right = was.touching[kFrontRight];
  if (m.axle_kind != AxleKind::fixed && (left || right || was.stop == 0)) {
    // An axle whose last wheel leaves the ground swings on its pin until the other comes down, or drops to a stop.
    TrialPose other = was;
    for (int stop : {-1, 1}) {
      other.stop = stop;
      if (was.stop != 0) break;
      if (const auto start = start_of_branch(path, here, other)) return start;
    }
    other = was;
    if (left != right) {
      std::swap(other.touching[kFrontLeft], other.touching[kFrontRight]);
      if (const auto start = start_of_branch(path, here, other)) return start;
    }
    other.touching[kFrontLeft] = other.touching[kFrontRight] = false;
    for (int stop : {-1, 1}) {
      other.stop = stop;
      other.axle_angle = stop * m.stop_angle;
      if (const auto start = start_of_branch(path, here, other)) return start;
    }
  }
  // With rigid tyres a newly met stop leaves no freedom at all, and no balance until some wheel leaves.
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (!was.touching[i]) continue;
    TrialPose other = was;
    other.touching[i] = false;
    if (const auto start = start_of_branch(path, here, other)) return start;
  }
  return std::nullopt;
}

// Of the changes of contact on the line through `here` and `ahead`, those whose slack would vanish first are tried
// first; the first that leaves every other contact as it is, is it. `nearest`: where the line meets the first of them.
std::optional<std::pair<TipPoint, ContactChange>> change_on_the_line(const OnPath& path, const TipPoint& here,
                                                                     const TipPoint& ahead, double& nearest) {
  const EquilibriumSystem& system = path.system;
  const double probe = ahead.tilt - here.tilt;
  const auto now = contact_slacks(system, here.trial), soon = contact_slacks(system, ahead.trial);
  std::array<std::pair<double, std::size_t>, kContactChanges.size()> expected;
  for (std::size_t i = 0; i < expected.size(); ++i)
    expected[i] = {soon[i] < now[i] ? probe * now[i] / (now[i] - soon[i]) : 1e9, i};
  std::sort(expected.begin(), expected.end());
  nearest = expected.front().first;
  for (const auto& [by, i] : expected) {
    if (by > kFurthestChange) break;
    TrialPose trial = on_the_line(here.trial, ahead.trial, std::max(by, probe) / probe);
    Question changes = slope_at_change(kContactChanges[i]);
    changes.most_iterations = briefly(path).most_iterations;
    if (!balance(system, changes, trial).converged) continue;
    const double tilt = tilt_of(path.about, trial);
    if (tilt <= here.tilt + 0.01 * probe || tilt > kFurthest) continue;
    if (!consistent(system, trial)) continue;
    return std::pair{TipPoint{tilt, trial.stop != 0, trial}, kContactChanges[i]};
  }
  return std::nullopt;
}

// The next change of contact on the branch through `here` and `ahead`. Hard tyres allow no far guess: then the branch
// is followed a part of the way first.
std::optional<std::pair<TipPoint, ContactChange>> next_change(const OnPath& path, TipPoint here, TipPoint ahead) {
  for (int approach = 0; approach < 4; ++approach) {
    double nearest = 0;
    if (const auto change = change_on_the_line(path, here, ahead, nearest)) return change;
    if (nearest > kFurthestChange) return std::nullopt;
    bool closer = false;
    for (double part : {0.5, 0.2, 0.05}) {
      const double tilt = here.tilt + part * nearest;
      if (closer || tilt <= ahead.tilt) break;
      TrialPose trial = on_the_line(here.trial, ahead.trial, (tilt - here.tilt) / (ahead.tilt - here.tilt));
      if (!balances_at(path, tilt, trial) || !consistent(path.system, trial)) continue;
      here = ahead;
      ahead = {tilt, ahead.on_stop, trial};
      closer = true;
    }
    if (!closer) return std::nullopt;
  }
  return std::nullopt;
}

// Where the balanced slope passes through its maximum inside a branch that starts by rising, found by the parabola
// through its first two points and its end; added to the path.
void add_inner_peak(const OnPath& on, TipPath& path, const TipPoint& ahead, const TipPoint& end) {
  const TipPoint& here = path.points.back();
  const double probe = ahead.tilt - here.tilt, length = end.tilt - here.tilt;
  const double rise = (ahead.trial.slope - here.trial.slope) / probe;
  const double bend = ((end.trial.slope - here.trial.slope) / length - rise) / (length - probe);
  if (!(rise > 0) || !(bend < 0)) return;
  const double by = 0.5 * (probe - rise / bend);
  if (!(by > 0) || by >= length) return;
  TrialPose trial = on_the_line(here.trial, end.trial, by / length);
  if (balances_at(on, here.tilt + by, trial)) path.points.push_back({here.tilt + by, here.on_stop, trial});
}

// The last branch: no contact changes any more. Followed until its slope falls, and has fallen below lift-off's.
void follow_to_the_end(const OnPath& on, TipPath& path, const TipPoint& ahead) {
  const double lift_off = path.points.front().trial.slope;
  TipPoint before = path.points.back(), last = ahead;
  path.points.push_back(last);
  double step = 1 * kDegree;
  while (last.tilt < kFurthest && (last.trial.slope > before.trial.slope || last.trial.slope > lift_off)) {
    TrialPose trial = on_the_line(before.trial, last.trial, 1 + step / (last.tilt - before.tilt));
    if (!balances_at(on, last.tilt + step, trial)) return;
    const bool over_the_top = last.trial.slope > before.trial.slope && last.trial.slope > trial.slope;
    if (over_the_top) {  // the parabola through the three points
      const double a = (last.trial.slope - before.trial.slope) / (last.tilt - before.tilt);
      const double b = (trial.slope - last.trial.slope) / step;
      const double top = 0.5 * (before.tilt + last.tilt) - a * 0.5 * (last.tilt - before.tilt + step) / (b - a);
      TrialPose peak = on_the_line(before.trial, last.trial, (top - before.tilt) / (last.tilt - before.tilt));
      if (top > before.tilt && top < last.tilt + step && balances_at(on, top, peak)) {
        if (top < last.tilt) path.points.pop_back();
        path.points.push_back({top, last.on_stop, peak});
      }
    }
    before = last;
    last = {last.tilt + step, last.on_stop, trial};
    path.points.push_back(last);
    if (last.trial.slope < before.trial.slope) step *= 2;
  }
}

// Nothing presses under one axle any more: it goes end over end about the other, and rests nowhere.
bool whole_axle_up(const EquilibriumSystem& system, const TrialPose& trial) {
  constexpr double kNothing = 1e-3;  // of the weight
  const Rest rest = rest_of(system, trial);
  return rest.load[kFrontLeft] + rest.load[kFrontRight] < kNothing * system.weight ||
         rest.load[kRearLeft] + rest.load[kRearRight] < kNothing * system.weight;
}

// Whether the machine stays where it balances on the stretch from the one place to the other: a hand that turns it a
// little, about the contour line or about its own length, has to push either way. A balance on two wheels like a stick
// on end gives way to one of them, whichever way the balanced slope runs.
bool stays(const OnPath& on, const TipPoint& from, const TipPoint& to) {
  constexpr double kShare = 0.9, kPush = 1e-3 * kDegree, kPushShare = 0.02;
  const EquilibriumSystem& system = on.system;
  const double length = to.tilt - from.tilt;
  TrialPose place = on_the_line(from.trial, to.trial, kShare);
  place.touching = from.trial.touching;
  place.stop = from.trial.stop;
  // A long stretch is better followed by the tilt; where that folds, the slope leads to a rest just as well.
  const auto between = [&](const TrialPose& trial) {
    return trial.slope > from.trial.slope - 1e-9 && trial.slope < to.trial.slope + 1e-9;
  };
  const TrialPose guess = place;
  const bool found = balances_at(on, from.tilt + kShare * length, place) && between(place);
  if (!found && !balance(system, pose_at_slope(), place = guess).converged) return false;
  const double push = std::min(kPush, kPushShare * length);
  const Vec3 lengthwise = place.X_GV.R[0] * (place.X_GV.R[0].x < 0 ? -1.0 : 1.0);
  for (const Vec3& axis : {Vec3(1, 0, 0), lengthwise}) {
    const TiltAxis hand{place.X_GV.R, system.laterally_rigid ? glm::normalize(Vec3(axis.x, axis.y, 0)) : axis};
    for (const double way : {-1.0, 1.0}) {
      TrialPose pushed = turned(hand, place, way * push);
      pushed.moment = 0;
      const Question held = at_tilt(Sought::moment_at_tilt, hand, way * push);
      if (!balance_one_sided(system, held, pushed).converged || !(way * pushed.moment > 0)) return false;
    }
  }
  return true;
}

// Of the points at which it still rests: the first, and those a stretch of the path rises to on which it stays. Where
// the balanced slope falls with the tilt it does not; after a jump such a stretch may begin steeper than any rest.
std::optional<TipPoint> steepest(const OnPath& on, const std::vector<TipPoint>& points, bool only_on_stop) {
  const TipPoint* best = nullptr;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const TipPoint& point = points[i];
    if (only_on_stop && !point.on_stop) continue;
    if (i > 0 && (point.jumped || point.trial.slope < points[i - 1].trial.slope)) continue;
    if (best && point.trial.slope <= best->trial.slope) continue;
    if (i == 0 || stays(on, points[i - 1], point)) best = &point;
  }
  return best ? std::optional(*best) : std::nullopt;
}

// Up to this point it rests at every slope in between: the first place from which the balanced slope falls, or at which
// another tyre lets go and what it leads to is no rest.
std::size_t let_go(const OnPath& on, const std::vector<TipPoint>& points) {
  std::size_t i = points.size() > 1 && points[1].jumped ? 1 : 0;
  while (i + 1 < points.size() && points[i + 1].trial.slope >= points[i].trial.slope &&
         !(i > 1 && points[i].jumped && !stays(on, points[i], points[i + 1])))
    ++i;
  return i;
}

}  // namespace

TipPath tip_path(const EquilibriumSystem& system, const TrialPose& lift_off) {
  TipPath path;
  path.about = {lift_off.X_GV.R, first_axis(system, lift_off)};
  const OnPath on{system, path.about};
  TipPoint here{0, lift_off.stop != 0, lift_off};
  path.points.push_back(here);
  for (int i = 0; i < kMostChanges; ++i) {
    if (whole_axle_up(system, here.trial)) break;
    auto start = start_of_branch(on, here, here.trial);
    if (!start) start = start_on_other_contacts(on, here);
    if (!start) break;
    start->here.jumped = std::abs(start->here.trial.slope - here.trial.slope) > 1e-9;
    if (!start->here.jumped)
      path.points.back() = start->here;
    else
      path.points.push_back(start->here);
    const auto next = next_change(on, start->here, start->ahead);
    if (!next) {
      follow_to_the_end(on, path, start->ahead);
      break;
    }
    add_inner_peak(on, path, start->ahead, next->first);
    path.points.push_back(next->first);
    if (next->first.trial.slope < -2 * kDegree) break;
    here = next->first;
    toggle(here.trial, next->second);
    here.on_stop = here.trial.stop != 0;
  }
  path.end_on_stop = steepest(on, path.points, true);
  path.steepest = steepest(on, path.points, false);
  path.let_go = let_go(on, path.points);
  return path;
}

std::vector<TrialPose> places_at(const TipPath& path, double slope) {
  std::vector<TrialPose> places;
  for (std::size_t i = 1; i < path.points.size(); ++i) {
    const TrialPose &from = path.points[i - 1].trial, &to = path.points[i].trial;
    if (path.points[i].jumped || !(from.slope <= slope && slope <= to.slope) || from.slope == to.slope) continue;
    TrialPose place = on_the_line(from, to, (slope - from.slope) / (to.slope - from.slope));
    place.touching = from.touching;  // those of `to` may have changed just there
    place.stop = from.stop;
    places.push_back(place);
  }
  return places;
}

double let_go_slope(const TipPath& path) {
  double slope = path.points.front().trial.slope;
  for (std::size_t i = 1; i <= path.let_go; ++i)
    if (!path.points[i].jumped) slope = std::max(slope, path.points[i].trial.slope);
  return slope;
}

}  // namespace sidehill
