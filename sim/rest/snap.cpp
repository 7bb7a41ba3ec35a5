// Whether the snap of the chassis onto its axle stop carries the machine over: energy along the tip path.
#include <algorithm>
#include <cmath>
#include <initializer_list>

#include "sim/base/constants.h"
#include "sim/model/placed.h"
#include "sim/rest/tip_path.h"

namespace sidehill {
namespace {

// Of the chassis side alone (what moves before the stop is met), or with the front axle and its wheels.
Mat3 inertia_about(const Model& m, const TrialPose& trial, const Vec3& about_G, bool with_axle) {
  // All lumps at their place now; the liquid as points, for it does not turn with the machine.
  Mat3 total(0.0);
  const auto add = [&](const MassProperties& props, const Pose& X_GB) {
    const Mat3 turned_inertia = X_GB.R * props.inertia * glm::transpose(X_GB.R);
    const Vec3 r = X_GB * props.com - about_G;
    total += turned_inertia + props.mass * (glm::dot(r, r) * Mat3(1.0) - glm::outerProduct(r, r));
  };
  const PlacedMachine at = placed(m, trial.X_GV, trial.axle_angle);
  add(m.chassis, trial.X_GV);
  if (with_axle) add(m.axle, at.X_GA);
  if (m.loader.fitted) add(m.loader.boom, trial.X_GV * Pose{Mat3(1.0), m.loader.pivot});
  if (m.rope_load.mass > 0) add(point_mass(m.rope_load.mass, m.rope_load.from), trial.X_GV);
  if (m.tank_liquid.mass > 0) add(point_mass(m.tank_liquid.mass, m.tank_liquid.from), trial.X_GV);
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& wheel = m.wheels[i];
    if (wheel.on_axle && !with_axle) continue;
    add(wheel.dry, at.X_GH[i]);
    if (wheel.liquid.mass > 0) add(point_mass(wheel.liquid.mass, {0, 0, -wheel.liquid.depth}), at.X_GH[i]);
  }
  return total;
}

Vec3 axis_between(const TrialPose& a, const TrialPose& b) {
  const Quat q = glm::quat_cast(b.X_GV.R * glm::transpose(a.X_GV.R));
  const Vec3 v(q.x, q.y, q.z);
  const double length = glm::length(v);
  return length > 1e-12 ? v / length : Vec3(1, 0, 0);
}

// A place along the path, its balance or near it.
struct Place {
  double tilt = 0;  // [rad]
  TrialPose trial;
};

// The machine turned along the path by a hand that holds it, at the slope where it let go.
struct HeldPath {
  const EquilibriumSystem& system;
  TiltAxis about;
  TrialPose on_path, held;  // the place on the path that was come to, and the balance there at the slope of the start
  double moment = 0;        // of the hand there [N m]
};

// Holds it at the tilt of a place on the path, near which it lies about as far as the one before. Contacts are first
// taken to be those of the path, then those that held last. False: no balance was found.
bool hold_at(HeldPath& path, const Place& place) {
  const TrialPose& to = place.trial;
  TrialPose guess = to;
  guess.X_GV.R = path.held.X_GV.R * glm::transpose(path.on_path.X_GV.R) * to.X_GV.R;
  guess.X_GV.p += path.held.X_GV.p - path.on_path.X_GV.p;
  guess.axle_angle += path.held.axle_angle - path.on_path.axle_angle;
  guess.hold += path.held.hold - path.on_path.hold;
  guess.slope = path.held.slope;
  guess.moment = path.moment;
  const Question question = at_tilt(Sought::moment_at_tilt, path.about, place.tilt);
  for (const TrialPose* contacts : std::initializer_list<const TrialPose*>{&to, &path.held}) {
    TrialPose held = guess;
    held.touching = contacts->touching;
    held.stop = contacts->stop;
    if (!balance_one_sided(path.system, question, held, false).converged) continue;
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
  constexpr double kNear = 0.1 * kDegree;  // between hard tyres a next point nearer than this is all deflection
  std::size_t next = met + 1;
  while (next + 1 < points.size() && points[next].tilt < points[met].tilt + kNear) ++next;
  const Vec3 old_axis = axis_between(points[met - 1].trial, points[met].trial);
  const Vec3 new_axis = axis_between(points[met].trial, points[next].trial);
  const double cross = glm::dot(new_axis, before_stop * old_axis);
  const double kept =
      cross * cross / (glm::dot(new_axis, after_stop * new_axis) * glm::dot(old_axis, before_stop * old_axis));
  return std::isfinite(kept) ? std::clamp(kept, 0.0, 1.0) : 1.0;
}

}  // namespace

bool snap_goes_over(const EquilibriumSystem& system, const TipPath& path) {
  if (path.points.empty()) return true;
  const std::size_t first = path.let_go;
  const TrialPose& start = path.points[first].trial;
  // Where the slope it balances at is steeper than the one it stands on, it is held back; beyond the last such place
  // nothing stops it any more.
  std::size_t last = first;
  for (std::size_t i = first + 1; i < path.points.size(); ++i)
    if (path.points[i].trial.slope > start.slope + 1e-6) last = i;
  if (last == first) return true;
  double energy = 0;  // of motion
  bool met_stop = path.points[first].on_stop;
  HeldPath held{system, path.about, start, start, 0};
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
    TrialPose begin = from.trial, end = on_the_line(from.trial, to.trial, part);
    const TrialPose& contacts = to.jumped ? to.trial : from.trial;
    begin.touching = end.touching = contacts.touching;
    begin.stop = end.stop = contacts.stop;
    const auto went = go_on(held, {from.tilt, begin}, {from.tilt + part * (to.tilt - from.tilt), end}, energy);
    if (went == Went::lost) return true;  // say the cautious thing
    if (went == Went::back) return false;
  }
  return true;
}

}  // namespace sidehill
