#include "sim/tip_path.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "vehicles/units.h"

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
Vec3 first_axis(const EquilibriumSystem& system, const Trial& lift_off) {
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
Trial turned(const EquilibriumSystem& system, const Trial& trial, double by) {
  Trial next = trial;
  next.X_GV.R = about(system.tilt_axis, by) * trial.X_GV.R;
  return next;
}

void toggle(Trial& trial, const ContactChange& change) {
  if (change.stop != 0)
    trial.stop = trial.stop == change.stop ? 0 : change.stop;
  else
    trial.touching[change.wheel] = !trial.touching[change.wheel];
}

bool balances_at(EquilibriumSystem& system, double tilt, Trial& trial) {
  system.tilt = tilt;
  return balance(system, Question::slope_at_tilt, trial).converged;
}

bool consistent(const EquilibriumSystem& system, const Trial& trial) {
  const auto left = contact_slacks(system, trial);
  return std::all_of(left.begin(), left.end(), [](double slack) { return slack >= kInconsistent; });
}

// The place from which a branch goes on with the contacts given, and the balance a little ahead of it.
struct Start {
  TipPoint here, ahead;
};

// Looks for a balance a little beyond `here`. A tyre that leaves the ground lets go the side force it still had, and
// the machine settles anew: the branch may start a degree or two further on.
std::optional<Start> start_of_branch(EquilibriumSystem& system, const TipPoint& here, const Trial& contacts) {
  Trial nearest = contacts;  // the furthest balance so far: between hard tyres only a near guess leads to the next
  double come = 0;
  for (int gap : {0, 1, 2, 3, 5, 10}) {
    const double on = gap * kProbe, tilt = here.tilt + on;
    Start start{{tilt, contacts.stop != 0, turned(system, nearest, on - come)}, {}};
    if (!balances_at(system, tilt, start.here.trial)) continue;
    nearest = start.here.trial;
    come = on;
    if (!consistent(system, nearest)) continue;
    for (double probe = kProbe; probe > kLeastProbe; probe *= 0.1) {
      start.ahead = {tilt + probe, start.here.on_stop, turned(system, start.here.trial, probe)};
      if (balances_at(system, tilt + probe, start.ahead.trial) && consistent(system, start.ahead.trial) &&
          std::abs(start.ahead.trial.slope - here.trial.slope) < kJump)
        return start;
    }
  }
  return std::nullopt;
}

// The same on other contacts, where those `here` do not serve: more than one changed at once. Each is given a few
// iterations only; if none serves, the path ends here, which is the cautious thing to say.
std::optional<Start> start_on_other_contacts(const EquilibriumSystem& given, const TipPoint& here) {
  EquilibriumSystem system = given;
  system.most_iterations = 8;
  const Model& m = *system.model;
  const Trial& was = here.trial;
  const bool left = was.touching[kFrontLeft], right = was.touching[kFrontRight];
  if (m.axle_kind != AxleKind::fixed && (left || right || was.stop == 0)) {
    // An axle whose last wheel leaves the ground swings on its pin until the other comes down, or drops to a stop.
    Trial other = was;
    for (int stop : {-1, 1}) {
      other.stop = stop;
      if (was.stop != 0) break;
      if (const auto start = start_of_branch(system, here, other)) return start;
    }
    other = was;
    if (left != right) {
      std::swap(other.touching[kFrontLeft], other.touching[kFrontRight]);
      if (const auto start = start_of_branch(system, here, other)) return start;
    }
    other.touching[kFrontLeft] = other.touching[kFrontRight] = false;
    for (int stop : {-1, 1}) {
      other.stop = stop;
      other.axle_angle = stop * m.stop_angle;
      if (const auto start = start_of_branch(system, here, other)) return start;
    }
  }
  // With rigid tyres a newly met stop leaves no freedom at all, and no balance until some wheel leaves.
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (!was.touching[i]) continue;
    Trial other = was;
    other.touching[i] = false;
    if (const auto start = start_of_branch(system, here, other)) return start;
  }
  return std::nullopt;
}

// Of the changes of contact on the line through `here` and `ahead`, those whose slack would vanish first are tried
// first; the first that leaves every other contact as it is, is it. `nearest`: where the line meets the first of them.
std::optional<std::pair<TipPoint, ContactChange>> change_on_the_line(const EquilibriumSystem& given,
                                                                     const TipPoint& here, const TipPoint& ahead,
                                                                     double& nearest) {
  EquilibriumSystem system = given;
  system.most_iterations = 8;
  const double probe = ahead.tilt - here.tilt;
  const auto now = contact_slacks(system, here.trial), soon = contact_slacks(system, ahead.trial);
  std::array<std::pair<double, std::size_t>, contact_changes.size()> expected;
  for (std::size_t i = 0; i < expected.size(); ++i)
    expected[i] = {soon[i] < now[i] ? probe * now[i] / (now[i] - soon[i]) : 1e9, i};
  std::sort(expected.begin(), expected.end());
  nearest = expected.front().first;
  for (const auto& [by, i] : expected) {
    if (by > kFurthestChange) break;
    Trial trial = on_the_line(here.trial, ahead.trial, std::max(by, probe) / probe);
    system.change = contact_changes[i];
    if (!balance(system, Question::slope_at_change, trial).converged) continue;
    const double tilt = tilt_of(system, trial);
    if (tilt <= here.tilt + 0.01 * probe || tilt > kFurthest) continue;
    if (!consistent(system, trial)) continue;
    return std::pair{TipPoint{tilt, trial.stop != 0, trial}, contact_changes[i]};
  }
  return std::nullopt;
}

// The next change of contact on the branch through `here` and `ahead`. Hard tyres allow no far guess: then the branch
// is followed a part of the way first.
std::optional<std::pair<TipPoint, ContactChange>> next_change(EquilibriumSystem& system, TipPoint here,
                                                              TipPoint ahead) {
  for (int approach = 0; approach < 4; ++approach) {
    double nearest = 0;
    if (const auto change = change_on_the_line(system, here, ahead, nearest)) return change;
    if (nearest > kFurthestChange) return std::nullopt;
    bool closer = false;
    for (double part : {0.5, 0.2, 0.05}) {
      const double tilt = here.tilt + part * nearest;
      if (closer || tilt <= ahead.tilt) break;
      Trial trial = on_the_line(here.trial, ahead.trial, (tilt - here.tilt) / (ahead.tilt - here.tilt));
      if (!balances_at(system, tilt, trial) || !consistent(system, trial)) continue;
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
void add_inner_peak(EquilibriumSystem& system, TipPath& path, const TipPoint& ahead, const TipPoint& end) {
  const TipPoint& here = path.points.back();
  const double probe = ahead.tilt - here.tilt, length = end.tilt - here.tilt;
  const double rise = (ahead.trial.slope - here.trial.slope) / probe;
  const double bend = ((end.trial.slope - here.trial.slope) / length - rise) / (length - probe);
  if (!(rise > 0) || !(bend < 0)) return;
  const double by = 0.5 * (probe - rise / bend);
  if (!(by > 0) || by >= length) return;
  Trial trial = on_the_line(here.trial, end.trial, by / length);
  if (balances_at(system, here.tilt + by, trial)) path.points.push_back({here.tilt + by, here.on_stop, trial});
}

// The last branch: no contact changes any more. Followed until its slope falls, and has fallen below lift-off's.
void follow_to_the_end(EquilibriumSystem& system, TipPath& path, const TipPoint& ahead) {
  const double lift_off = path.points.front().trial.slope;
  TipPoint before = path.points.back(), last = ahead;
  path.points.push_back(last);
  double step = 1 * kDegree;
  while (last.tilt < kFurthest && (last.trial.slope > before.trial.slope || last.trial.slope > lift_off)) {
    Trial trial = on_the_line(before.trial, last.trial, 1 + step / (last.tilt - before.tilt));
    if (!balances_at(system, last.tilt + step, trial)) return;
    const bool over_the_top = last.trial.slope > before.trial.slope && last.trial.slope > trial.slope;
    if (over_the_top) {  // the parabola through the three points
      const double a = (last.trial.slope - before.trial.slope) / (last.tilt - before.tilt);
      const double b = (trial.slope - last.trial.slope) / step;
      const double top = 0.5 * (before.tilt + last.tilt) - a * 0.5 * (last.tilt - before.tilt + step) / (b - a);
      Trial peak = on_the_line(before.trial, last.trial, (top - before.tilt) / (last.tilt - before.tilt));
      if (top > before.tilt && top < last.tilt + step && balances_at(system, top, peak)) {
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
bool whole_axle_up(const EquilibriumSystem& system, const Trial& trial) {
  constexpr double kNothing = 1e-3;  // of the weight
  const Rest rest = rest_of(system, trial);
  return rest.load[kFrontLeft] + rest.load[kFrontRight] < kNothing * system.weight ||
         rest.load[kRearLeft] + rest.load[kRearRight] < kNothing * system.weight;
}

// Whether the machine stays where it balances on the stretch from the one place to the other: a hand that turns it a
// little, about the contour line or about its own length, has to push either way. A balance on two wheels like a stick
// on end gives way to one of them, whichever way the balanced slope runs.
bool stays(const EquilibriumSystem& given, const TipPoint& from, const TipPoint& to) {
  constexpr double kShare = 0.9, kPush = 1e-3 * kDegree, kPushShare = 0.02;
  EquilibriumSystem system = given;
  const double length = to.tilt - from.tilt;
  Trial place = on_the_line(from.trial, to.trial, kShare);
  place.touching = from.trial.touching;
  place.stop = from.trial.stop;
  // A long stretch is better followed by the tilt; where that folds, the slope leads to a rest just as well.
  const auto between = [&](const Trial& trial) {
    return trial.slope > from.trial.slope - 1e-9 && trial.slope < to.trial.slope + 1e-9;
  };
  const Trial guess = place;
  const bool found = balances_at(system, from.tilt + kShare * length, place) && between(place);
  if (!found && !balance(system, Question::pose_at_slope, place = guess).converged) return false;
  system.R_tilt_zero = place.X_GV.R;
  const double push = std::min(kPush, kPushShare * length);
  const Vec3 lengthwise = place.X_GV.R[0] * (place.X_GV.R[0].x < 0 ? -1.0 : 1.0);
  for (const Vec3& axis : {Vec3(1, 0, 0), lengthwise}) {
    system.tilt_axis = system.laterally_rigid ? glm::normalize(Vec3(axis.x, axis.y, 0)) : axis;
    for (const double way : {-1.0, 1.0}) {
      Trial pushed = turned(system, place, way * push);
      pushed.moment = 0;
      system.tilt = way * push;
      if (!balance_one_sided(system, Question::moment_at_tilt, pushed).converged || !(way * pushed.moment > 0))
        return false;
    }
  }
  return true;
}

// Of the points at which it still rests: the first, and those a stretch of the path rises to on which it stays. Where
// the balanced slope falls with the tilt it does not; after a jump such a stretch may begin steeper than any rest.
std::optional<TipPoint> steepest(const EquilibriumSystem& system, const std::vector<TipPoint>& points,
                                 bool only_on_stop) {
  const TipPoint* best = nullptr;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const TipPoint& point = points[i];
    if (only_on_stop && !point.on_stop) continue;
    if (i > 0 && (point.jumped || point.trial.slope < points[i - 1].trial.slope)) continue;
    if (best && point.trial.slope <= best->trial.slope) continue;
    if (i == 0 || stays(system, points[i - 1], point)) best = &point;
  }
  return best ? std::optional(*best) : std::nullopt;
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
  const Pose X_GA = trial.X_GV * Pose{axle_turn(m, trial.axle_angle), m.pin};
  add(m.chassis, trial.X_GV);
  if (with_axle) add(m.axle, X_GA);
  if (m.loader.fitted) add(m.loader.boom, trial.X_GV * Pose{Mat3(1.0), m.loader.pivot});
  if (m.rope_load.mass > 0) add(point_mass(m.rope_load.mass, m.rope_load.from), trial.X_GV);
  if (m.tank_liquid.mass > 0) add(point_mass(m.tank_liquid.mass, m.tank_liquid.from), trial.X_GV);
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

// Up to this point it rests at every slope in between: the first place from which the balanced slope falls, or at which
// another tyre lets go and what it leads to is no rest.
std::size_t let_go(const EquilibriumSystem& system, const std::vector<TipPoint>& points) {
  std::size_t i = points.size() > 1 && points[1].jumped ? 1 : 0;
  while (i + 1 < points.size() && points[i + 1].trial.slope >= points[i].trial.slope &&
         !(i > 1 && points[i].jumped && !stays(system, points[i], points[i + 1])))
    ++i;
  return i;
}

// A place along the path, its balance or near it.
struct Place {
  double tilt = 0;  // [rad]
  Trial trial;
};

// The machine turned along the path by a hand that holds it, at the slope where it let go.
struct HeldPath {
  EquilibriumSystem& system;
  Trial on_path, held;  // the place on the path that was come to, and the balance there at the slope of the start
  double moment = 0;    // of the hand there [N m]
};

// Holds it at the tilt of a place on the path, near which it lies about as far as the one before. Contacts are first
// taken to be those of the path, then those that held last. False: no balance was found.
bool hold_at(HeldPath& path, const Place& place) {
  const Trial& to = place.trial;
  Trial guess = to;
  guess.X_GV.R = path.held.X_GV.R * glm::transpose(path.on_path.X_GV.R) * to.X_GV.R;
  guess.X_GV.p += path.held.X_GV.p - path.on_path.X_GV.p;
  guess.axle_angle += path.held.axle_angle - path.on_path.axle_angle;
  guess.hold += path.held.hold - path.on_path.hold;
  guess.slope = path.held.slope;
  guess.moment = path.moment;
  path.system.tilt = place.tilt;
  for (const Trial* contacts : std::initializer_list<const Trial*>{&to, &path.held}) {
    Trial held = guess;
    held.touching = contacts->touching;
    held.stop = contacts->stop;
    if (!balance_one_sided(path.system, Question::moment_at_tilt, held, false).converged) continue;
    path.on_path = to;
    path.moment = held.moment;
    path.held = held;
    return true;
  }
  return false;
}

enum class Went { on, back, lost };

// Turns it on from one place of the path to the next and counts what the hand would take up as energy of motion [J];
// `back` once there is none left. Simpson's rule on stretches halved until the moment runs nearly straight: between
// hard tyres it jumps where the axle meets its stop.
Went go_on(HeldPath& path, const Place& from, const Place& to, double& energy) {
  constexpr double kLongest = 6 * kDegree, kShortest = 1e-4 * kDegree;
  constexpr double kEnough = 1e-5;  // of the weight, lifted a metre
  const double length = to.tilt - from.tilt;
  const Place middle{from.tilt + 0.5 * length, on_the_line(from.trial, to.trial, 0.5)};
  const double at_start = path.moment;
  HeldPath ahead = path;
  bool found = hold_at(ahead, middle);
  const double at_middle = ahead.moment;
  found = found && hold_at(ahead, to);
  const double bend = std::abs(at_start - 2 * at_middle + ahead.moment) * length / 6;
  const bool halve = !found || length > kLongest || bend > kEnough * path.system.weight;
  if (halve && length > kShortest) {
    const Went half = go_on(path, from, middle, energy);
    return half == Went::on ? go_on(path, middle, to, energy) : half;
  }
  if (!found) return Went::lost;
  energy -= (at_start + 4 * at_middle + ahead.moment) * length / 6;
  path.on_path = ahead.on_path, path.held = ahead.held, path.moment = ahead.moment;
  return energy < 0 ? Went::back : Went::on;
}

// The share of the energy that is left when the axle meets its stop at that point of the path and the axis changes:
// angular momentum about the shared contact, along the new axis.
double kept_at_stop(const Model& m, const TipPath& path, std::size_t met, const HeldPath& held) {
  const auto& points = path.points;
  std::size_t contact = kRearLeft;
  const Rest rest = rest_of(held.system, held.held);
  for (std::size_t w : {std::size_t{kRearLeft}, std::size_t{kRearRight}})
    if (rest.load[w] > rest.load[contact]) contact = w;
  const Mat3 before_stop = inertia_about(m, held.held, rest.contact_G[contact], false);
  const Mat3 after_stop = inertia_about(m, held.held, rest.contact_G[contact], true);
  // Between hard tyres the next point lies so near that the turn to it is all deflection.
  std::size_t next = met + 1;
  while (next + 1 < points.size() && points[next].tilt < points[met].tilt + 0.5 * kProbe) ++next;
  const Vec3 old_axis = axis_between(points[met - 1].trial, points[met].trial);
  const Vec3 new_axis = axis_between(points[met].trial, points[next].trial);
  const double cross = glm::dot(new_axis, before_stop * old_axis);
  const double kept =
      cross * cross / (glm::dot(new_axis, after_stop * new_axis) * glm::dot(old_axis, before_stop * old_axis));
  return std::isfinite(kept) ? std::clamp(kept, 0.0, 1.0) : 1.0;
}

}  // namespace

TipPath tip_path(EquilibriumSystem& system, const Trial& lift_off) {
  TipPath path;
  system.R_tilt_zero = lift_off.X_GV.R;
  system.tilt_axis = first_axis(system, lift_off);
  TipPoint here{0, lift_off.stop != 0, lift_off};
  path.points.push_back(here);
  for (int i = 0; i < kMostChanges; ++i) {
    if (whole_axle_up(system, here.trial)) break;
    auto start = start_of_branch(system, here, here.trial);
    if (!start) start = start_on_other_contacts(system, here);
    if (!start) break;
    start->here.jumped = std::abs(start->here.trial.slope - here.trial.slope) > 1e-9;
    if (!start->here.jumped)
      path.points.back() = start->here;
    else
      path.points.push_back(start->here);
    const auto next = next_change(system, start->here, start->ahead);
    if (!next) {
      follow_to_the_end(system, path, start->ahead);
      break;
    }
    add_inner_peak(system, path, start->ahead, next->first);
    path.points.push_back(next->first);
    if (next->first.trial.slope < -2 * kDegree) break;
    here = next->first;
    toggle(here.trial, next->second);
    here.on_stop = here.trial.stop != 0;
  }
  path.end_on_stop = steepest(system, path.points, true);
  path.steepest = steepest(system, path.points, false);
  path.let_go = let_go(system, path.points);
  return path;
}

std::vector<Trial> places_at(const TipPath& path, double slope) {
  std::vector<Trial> places;
  for (std::size_t i = 1; i < path.points.size(); ++i) {
    const Trial &from = path.points[i - 1].trial, &to = path.points[i].trial;
    if (path.points[i].jumped || !(from.slope <= slope && slope <= to.slope) || from.slope == to.slope) continue;
    Trial place = on_the_line(from, to, (slope - from.slope) / (to.slope - from.slope));
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

bool snap_goes_over(EquilibriumSystem& system, const TipPath& path) {
  if (path.points.empty()) return true;
  const std::size_t first = path.let_go;
  const Trial& start = path.points[first].trial;
  // Where the slope it balances at is steeper than the one it stands on, it is held back; beyond the last such place
  // nothing stops it any more.
  std::size_t last = first;
  for (std::size_t i = first + 1; i < path.points.size(); ++i)
    if (path.points[i].trial.slope > start.slope + 1e-6) last = i;
  if (last == first) return true;
  double energy = 0;  // of motion
  bool met_stop = path.points[first].on_stop;
  HeldPath held{system, start, start, 0};
  for (std::size_t i = first + 1; i < path.points.size() && i <= last + 1; ++i) {
    const TipPoint &from = path.points[i - 1], &to = path.points[i];
    if (from.on_stop && !met_stop) {
      met_stop = true;
      energy *= kept_at_stop(*system.model, path, i - 1, held);
    }
    // Past the last place that holds it back only as far as it is held back.
    const double drop = from.trial.slope - to.trial.slope;
    const double part = i > last && drop > 0 ? std::min(1.0, (from.trial.slope - start.slope) / drop) : 1.0;
    if (!(part * (to.tilt - from.tilt) > 0)) continue;
    // Contacts of the whole stretch: those of `to` may have changed just there.
    Trial begin = from.trial, end = on_the_line(from.trial, to.trial, part);
    const Trial& contacts = to.jumped ? to.trial : from.trial;
    begin.touching = end.touching = contacts.touching;
    begin.stop = end.stop = contacts.stop;
    const auto went = go_on(held, {from.tilt, begin}, {from.tilt + part * (to.tilt - from.tilt), end}, energy);
    if (went == Went::lost) return true;  // say the cautious thing
    if (went == Went::back) return false;
  }
  return true;
}

}  // namespace sidehill
