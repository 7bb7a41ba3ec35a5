#include "sim/rest/statics.h"

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/model/placed.h"
#include "sim/rest/equilibrium.h"
#include "sim/rest/ice.h"
#include "sim/rest/landing.h"
#include "sim/rest/lift_off.h"
#include "sim/rest/tip_path.h"

namespace sidehill {
namespace {

// Slope at which the first axle has no adhesion left, also beyond first lift-off: the sums of an axle do not care which
// of its wheels carries. On features the normals lean; the share along the even slope is taken. Empty: none up to 85
// deg, or no balance on the way.
std::optional<double> find_slide(EquilibriumSystem& system, const TrialPose& level) {
  TrialPose trial = level, lower = trial;
  bool lost = false;
  const auto use_at = [&](double slope) {
    trial.slope = slope;
    lost = !balance_with_stop(system, pose_at_slope(), trial).converged;
    return lost ? 0.0 : adhesion_use(rest_of(system, trial), *system.model);
  };
  double lo = 0, hi = -1, short_of = -1, over = 1;  // of the adhesion, at lo and hi
  for (double slope = 0; slope <= kSteepestAsked && hi < 0; slope += 0.5 * kMarch) {
    lower = trial;
    const double beyond = use_at(slope) - 1;
    if (lost) return std::nullopt;
    if (beyond >= 0)
      hi = slope, over = beyond;
    else
      lo = slope, short_of = beyond;
  }
  if (hi < 0) return std::nullopt;
  trial = lower;
  // By the false position, with the weight of an end that stays halved (Illinois). Every fourth step, and where an axle
  // carries next to nothing, the bracket is halved.
  constexpr double kFarOver = 10, kInside = 2e-9;
  for (int side = 0, step = 1; hi - lo > 1e-8; ++step) {
    const double at = lo + (hi - lo) * short_of / (short_of - over);
    const bool halve = step % 4 == 0 || !(over < kFarOver);
    const double mid = halve ? 0.5 * (lo + hi) : std::clamp(at, lo + kInside, hi - kInside);
    const double beyond = use_at(mid) - 1;
    if (lost) return std::nullopt;
    if (beyond >= 0) {
      hi = mid, over = beyond;
      if (side > 0) short_of *= 0.5;
      side = 1;
    } else {
      lo = mid, short_of = beyond;
      if (side < 0) over *= 0.5;
      side = -1;
    }
  }
  return 0.5 * (lo + hi);
}

}  // namespace

namespace {

TipPath path_beyond(const EquilibriumSystem& system, const Crossing& crossing) {
  TrialPose let_go = crossing.trial;
  let_go.touching[static_cast<std::size_t>(crossing.wheel)] = false;
  return tip_path(system, let_go);
}

// Raised slowly it passes lift-off and rests until it lets go. If a resting place lies beyond, it stays there unless
// the snap carries it past.
double tip_over_of(const EquilibriumSystem& system, const TipPath& path) {
  const double lets_go = let_go_slope(path);
  const double furthest = path.steepest ? std::max(path.steepest->trial.slope, lets_go) : lets_go;
  return furthest > lets_go + 1e-7 && !snap_goes_over(system, path) ? furthest : lets_go;
}

}  // namespace

LiftOff first_lift_off(const Model& model, const std::stop_token& stop) {
  if (const auto iced = with_ice_at_its_worst(model, stop)) return first_lift_off(*iced, stop);
  EquilibriumSystem system = make_system(model, stop);
  const Lifting lifting = find_lifting(system);
  LiftOff out;
  out.failed = lifting.failed;
  if (lifting.crossing) out.slope = lifting.crossing->trial.slope, out.wheel = lifting.crossing->wheel;
  return out;
}

namespace {

// A balance is a rest only if a hand that turns the machine a little further about this axis has to push.
bool stays(const EquilibriumSystem& system, const TrialPose& balanced, const Vec3& axis_G) {
  constexpr double kPush = 0.002 * kDegree;
  TrialPose pushed = balanced;
  const TiltAxis hand{balanced.X_GV.R, axis_G};
  pushed.X_GV.R = about(axis_G, kPush) * pushed.X_GV.R;
  pushed.moment = 0;
  return balance_one_sided(system, at_tilt(Sought::moment_at_tilt, hand, kPush), pushed).converged && pushed.moment > 0;
}

// On casters the uphill rear tyre is the first to use up its grip, long before both do, and the balance that leaves the
// rest to the other lies a long way off: the grip is taken away little by little.
bool closes_in_on_casters(EquilibriumSystem& system, TrialPose& trial) {
  if (!system.model->wheels[kFrontLeft].tyre.swivels) return false;
  const double least = std::max(system.grip, system.model->terrain.soil.adhesion);
  for (double room = 3; room > 1; room = std::max(1.0, 0.99 * room)) {
    system.grip = room * least;
    if (!balance_with_stop(system, pose_at_slope(), trial).converged) return false;
  }
  system.grip = least;
  return balance_with_stop(system, pose_at_slope(), trial).converged;
}

// From the level up to a slope before lift-off; no tyre then holds more sideways than its own adhesion, unless the
// machine slides.
std::optional<Rest> rest_before(EquilibriumSystem& system, const TrialPose& level, double slope) {
  TrialPose trial = level;
  for (double s = 0;; s = std::min(slope, s + kMarch)) {
    trial.slope = s;
    if (!balance_with_stop(system, pose_at_slope(), trial).converged) return std::nullopt;
    if (s >= slope) break;
  }
  const Rest rest = rest_of(system, trial);
  bool held = true;
  for (int round = 0; round < 2 && held; ++round) {  // as at the lift-off
    const TrialPose before = trial;
    held =
        hold_within_adhesion(system, adhesion_use(rest_of(system, trial), *system.model)) &&
        (balance_with_stop(system, pose_at_slope(), trial).converged || closes_in_on_casters(system, trial = before));
  }
  const Rest within = rest_of(system, trial);
  system.within_adhesion = false;
  return held && *std::min_element(within.load.begin(), within.load.end()) > -1e-5 * system.weight ? within : rest;
}

// Resting pose on even ground at a slope that lift-off and the tip path have already been found for.
std::optional<Rest> rest_given(EquilibriumSystem& system, const Lifting& lifting, const TipPath& path,
                               std::optional<double> tip_over, double slope) {
  if (!lifting.crossing || slope < lifting.crossing->trial.slope) return rest_before(system, lifting.level, slope);
  if (tip_over && slope > *tip_over) return std::nullopt;
  // Beyond lift-off: the stable place is where the balanced slope rises with the tilt and passes ours. On the stop that
  // stretch may be shorter than a step of the path: both front wheels still carry there, and past it, on the two
  // downhill wheels alone, lies a balance that is no rest.
  const auto rest_from = [&](TrialPose trial) -> std::optional<Rest> {
    trial.slope = slope;
    if (!balance_one_sided(system, pose_at_slope(), trial).converged || !stays(system, trial, path.about.axis_G))
      return std::nullopt;
    return rest_of(system, trial);
  };
  for (const TrialPose& place : places_at(path, slope))
    if (const auto rest = rest_from(place)) return rest;
  if (path.end_on_stop && slope <= path.end_on_stop->trial.slope) {
    TrialPose trial = path.end_on_stop->trial;
    trial.touching[kFrontLeft] = trial.touching[kFrontRight] = true;
    if (const auto rest = rest_from(trial)) return rest;
    if (const auto rest = rest_from(path.end_on_stop->trial)) return rest;
  }
  return std::nullopt;
}

// The wheel that hangs highest over the ground.
int highest_wheel(const EquilibriumSystem& system, const TrialPose& trial) {
  int highest = 0;
  const auto wheels = wheels_at(system, trial);
  for (int w = 1; w < kWheels; ++w)
    if (wheels[static_cast<std::size_t>(w)].penetration < wheels[static_cast<std::size_t>(highest)].penetration)
      highest = w;
  return highest;
}

bool all_carry(const Rest& rest) {
  return std::all_of(rest.load.begin(), rest.load.end(), [](double load) { return load > 0; });
}

// What lift-off, and what follows it, say in the answer.
TipPath say_lifting(const EquilibriumSystem& system, const Crossing& crossing, StaticSolution& out) {
  out.first_lift_off = crossing.trial.slope;
  out.first_wheel = crossing.wheel;
  TipPath path = path_beyond(system, crossing);
  if (path.end_on_stop && path.end_on_stop->trial.slope > 0) out.tip_on_stop = path.end_on_stop->trial.slope;
  // The jump of a tyre that lets go may leave it less; it does not go over while all wheels carry.
  out.tip_over = std::max(tip_over_of(system, path), crossing.trial.slope);
  return path;
}

// How the machine stands on uneven ground at the scene's slope: set down from the air there, within adhesion unless it
// slides. Where the way down is lost or it goes over, and it would stand tilted from the level, that is taken.
struct SetDown {
  Landing how = Landing::lost;
  std::optional<Rest> rest;
  bool slides = false;  // only ground that holds without limit keeps it there
};
SetDown set_down(EquilibriumSystem& system, const Lifting& lifting, StaticSolution& out) {
  const Model& m = *system.model;
  const double slope = m.terrain.slope;
  EquilibriumSystem here = make_system(m, system.unwanted);
  TrialPose trial;
  SetDown down;
  here.endless_grip = out.slide && slope >= *out.slide;
  down.how = land(here, slope, trial);
  if (down.how != Landing::rests && !here.endless_grip) {
    here.endless_grip = down.slides = true;
    down.how = land(here, slope, trial);
  }
  if (down.how == Landing::rests) {
    down.rest = rest_of(here, trial);
    if (all_carry(*down.rest) && (!out.first_lift_off || *out.first_lift_off <= slope)) {
      // Side forces have a history: set down here it carries on all wheels where tilted from the level it would not.
      bool failed = false;
      const auto crossing = first_crossing(here, trial, failed);
      if (crossing) say_lifting(here, *crossing, out);
    } else if (!all_carry(*down.rest) && out.first_lift_off && *out.first_lift_off > slope) {
      out.first_lift_off = slope;
      out.first_wheel = least_loaded(*down.rest);
      if (out.tip_over) out.tip_over = std::max(*out.tip_over, slope);
    }
  } else if (lifting.stands == Landing::rests && !lifting.failed &&
             (!lifting.crossing || slope < lifting.crossing->trial.slope)) {
    down.rest = rest_before(system, lifting.level, slope);
    if (down.rest) down.how = Landing::rests;
  }
  // Raised slowly from the level it does not go over before a steeper slope: one of the two ways is wrong.
  if (down.how == Landing::tips && lifting.stands == Landing::rests && out.tip_over && *out.tip_over > slope)
    down.how = Landing::lost;
  return down;
}

StaticSolution solve_here(const Model& model, const std::stop_token& stop) {
  StaticSolution out;
  const double slope = model.terrain.slope;
  EquilibriumSystem system = make_system(model, stop);
  const Lifting lifting = find_lifting(system);
  TipPath path;
  if (lifting.crossing) path = say_lifting(system, *lifting.crossing, out);
  out.rigid_lift_off = first_lift_off(rigid_variant(model), stop).slope;
  if (!model.terrain.soil.adhesion_unlimited && lifting.stands == Landing::rests) {
    EquilibriumSystem sliding = make_system(model, stop);
    sliding.reference = system.reference;
    sliding.held_at = system.held_at;
    out.slide = find_slide(sliding, lifting.level);
  }
  SetDown down{lifting.stands, {}, false};
  if (uneven_somewhere(system))
    down = set_down(system, lifting, out);
  else if (lifting.stands == Landing::rests)
    down.rest = rest_given(system, lifting, path, out.tip_over, slope);
  // What stands on no level may still stand facing down a slope. (Bends and braking are asked about on their own.)
  if (!down.rest && !uneven_somewhere(system) && slope > 0 && model.inertial_acceleration == Vec3(0.0) &&
      (!lifting.crossing || lifting.crossing->trial.slope <= 0) && !lifting.failed) {
    out.slide.reset();  // asked from a level it does not stand on
    down = set_down(system, lifting, out);
    if (down.rest && !model.terrain.soil.adhesion_unlimited && adhesion_use(*down.rest, model) >= 1) out.slide = slope;
  }
  // A balance on its side or back is none that anybody asks for; its wheels would have to pull.
  constexpr double kUpright = 0.5;  // cosine of its lean against the ground
  if (down.rest && down.rest->X_GV.R[2].z < kUpright) down.rest.reset();
  out.rest = down.rest;
  if (!out.rest && down.how == Landing::tips) {
    if (!out.first_lift_off) {  // it does not stand on the level either: its weight lies outside its wheels
      out.first_lift_off = 0;
      out.first_wheel = highest_wheel(system, lifting.level);
    }
    if (!out.tip_over || *out.tip_over > slope) out.tip_over = std::max(*out.first_lift_off, 0.0);
    out.status = RestStatus::tipped;
  } else if (!out.first_lift_off ? lifting.failed || !out.rest : !out.rest && down.how == Landing::lost) {
    // Without a lift-off that was looked for to the end nothing may be said: empty means never.
    out.status = RestStatus::unsolved;
    out.rest.reset();
  } else if (!out.rest) {
    out.status = uneven_somewhere(system) ? RestStatus::unsolved : RestStatus::tipped;
  } else {
    const bool up = !all_carry(*out.rest);
    const bool on_stop = beyond_stop(model, out.rest->axle_angle) != 0;
    out.status = up ? (on_stop ? RestStatus::on_stop : RestStatus::wheel_up) : RestStatus::stands;
    if (down.slides && (!out.slide || *out.slide > slope)) out.slide = slope;
    if (!up && out.slide && slope >= *out.slide) out.status = RestStatus::slides;
  }
  if (out.first_lift_off) out.margin = *out.first_lift_off - slope;
  return out;
}

// Whether two answers say the same of one machine. Whether it slides is a matter of its own.
bool same(const StaticSolution& a, const StaticSolution& b, double weight) {
  constexpr double kApart = 0.05 * kDegree, kLoadApart = 0.01;  // [rad], of the weight
  const auto pose = [](RestStatus status) { return status == RestStatus::slides ? RestStatus::stands : status; };
  if (pose(a.status) != pose(b.status) || a.first_lift_off.has_value() != b.first_lift_off.has_value()) return false;
  if (a.first_lift_off && std::abs(*a.first_lift_off - *b.first_lift_off) > kApart) return false;
  for (std::size_t i = 0; a.rest && b.rest && i < kWheels; ++i)
    if (std::abs(a.rest->load[i] - b.rest->load[i]) > kLoadApart * weight) return false;
  return true;
}

StaticSolution not_solved() {
  StaticSolution none;
  none.status = RestStatus::unsolved;
  return none;
}

}  // namespace

StaticSolution solve_statics(const Model& model, const std::stop_token& stop) {
  if (const auto iced = with_ice_at_its_worst(model, stop)) return solve_statics(*iced, stop);
  StaticSolution out = solve_here(model, stop);
  if (out.status == RestStatus::unsolved) return not_solved();
  if (model.terrain.features.empty()) return out;
  const EquilibriumSystem system = make_system(model, stop);
  if (!uneven_somewhere(system)) return out;
  // On uneven ground a machine may come to rest in more than one way. If turning it by 0.001 deg gives another answer,
  // there is no answer. Where it goes over: the earliest of the three, but not before a slope on which it rests.
  constexpr double kHair = 0.001 * kDegree;
  for (const double by : {-kHair, kHair}) {
    Model turned = model;
    turned.start.heading += by;
    const StaticSolution beside = solve_here(turned, stop);
    if (beside.status == RestStatus::unsolved) continue;  // says nothing of this one
    if (!same(out, beside, system.weight)) return not_solved();
    if (beside.tip_over && out.first_lift_off && (!out.tip_over || *beside.tip_over < *out.tip_over))
      out.tip_over = std::max(*beside.tip_over, *out.first_lift_off);
  }
  if (out.rest && out.tip_over) out.tip_over = std::max(*out.tip_over, model.terrain.slope);
  return out;
}

std::optional<std::array<double, kWheels>> loads_at(const Model& model, double slope, const std::stop_token& stop) {
  EquilibriumSystem system = make_system(model, stop);
  TrialPose trial;
  if (stand_on_level(system, trial) != Landing::rests) return std::nullopt;
  for (double s = std::min(slope, kMarch);; s = std::min(slope, s + kMarch)) {
    trial.slope = s;
    if (!balance_with_stop(system, pose_at_slope(), trial).converged) return std::nullopt;
    if (s >= slope) break;
  }
  return rest_of(system, trial).load;
}

std::optional<double> slide_slope(const Model& model, const std::stop_token& stop) {
  if (model.terrain.soil.adhesion_unlimited) return std::nullopt;
  if (const auto iced = with_ice_at_its_worst(model, stop)) return slide_slope(*iced, stop);
  EquilibriumSystem system = make_system(model, stop);
  TrialPose level;
  if (stand_on_level(system, level) != Landing::rests) return std::nullopt;
  return find_slide(system, level);
}

std::optional<double> least_load_at(const Model& model, double slope, const std::stop_token& stop) {
  const auto iced = with_ice_at_its_worst_at(model, slope, stop);
  const auto load = loads_at(iced ? *iced : model, slope, stop);
  if (!load) return std::nullopt;
  return *std::min_element(load->begin(), load->end());
}

std::optional<Rest> rest_at(const Model& model, double slope) {
  Model tilted = model;
  tilted.terrain.slope = slope;
  return solve_statics(tilted).rest;
}

EnvelopePoint point_at_heading(const Model& model, double heading, const std::stop_token& stop) {
  Model turned = model;
  turned.start.heading = heading;
  const auto iced = with_ice_at_its_worst(turned, stop);
  const Model& there = iced ? *iced : turned;
  const LiftOff lift = first_lift_off(there, stop);
  return {heading, lift.slope, lift.wheel, lift.failed, {}, slide_slope(there, stop)};
}

std::vector<EnvelopePoint> envelope(const Model& model, int headings, bool with_tip_over, const std::stop_token& stop) {
  std::vector<EnvelopePoint> points;
  points.reserve(static_cast<std::size_t>(std::max(0, headings)));
  Model turned = model;
  const double step = kTwoPi / std::max(1, headings);
  std::optional<Crossing> last;
  for (int i = 0; i < headings; ++i) {
    turned.start.heading = -kPi + kTwoPi * i / headings;
    const auto iced = with_ice_at_its_worst(turned, stop);
    EquilibriumSystem system = make_system(iced ? *iced : turned, stop);
    EnvelopePoint point{turned.start.heading, {}, -1, false, {}, {}};
    auto crossing = last ? near_by(system, *last, step) : std::nullopt;
    if (!crossing) {
      const Lifting lifting = find_lifting(system);
      crossing = lifting.crossing;
      point.failed = lifting.failed;
    }
    if (crossing) {
      point.first_lift_off = crossing->trial.slope;
      point.wheel = crossing->wheel;
      if (with_tip_over && model.terrain.features.empty())
        point.tip_over = std::max(tip_over_of(system, path_beyond(system, *crossing)), crossing->trial.slope);
    }
    if (with_tip_over) point.slide = slide_slope(iced ? *iced : turned, stop);
    points.push_back(point);
    last = crossing;
  }
  return points;
}

std::optional<EnvelopePoint> worst_heading(const Model& model, const std::vector<EnvelopePoint>& points,
                                           double preferred_heading, const std::stop_token& stop) {
  constexpr double kAlike = 1e-5, kGolden = 0.6180339887498949;
  const EnvelopePoint* worst = nullptr;
  for (const EnvelopePoint& point : points)
    if (point.first_lift_off && (!worst || *point.first_lift_off < *worst->first_lift_off - 1e-6)) worst = &point;
  if (!worst) return std::nullopt;
  for (const EnvelopePoint& point : points)
    if (point.first_lift_off && *point.first_lift_off < *worst->first_lift_off + kAlike &&
        std::sin(point.heading) * std::sin(preferred_heading) > 0) {
      worst = &point;
      break;
    }
  EnvelopePoint best = *worst;
  if (!model.terrain.features.empty() || points.size() < 8) return best;
  Model turned = model;
  const auto at = [&](double heading) {
    turned.start.heading = heading;
    const LiftOff found = first_lift_off(turned, stop);
    if (found.slope && *found.slope < *best.first_lift_off) best = {heading, found.slope, found.wheel, false, {}, {}};
    return found.slope.value_or(kSteepestAsked);
  };
  const double step = kTwoPi / static_cast<double>(points.size());
  double low = worst->heading - step, high = worst->heading + step;
  double a = high - kGolden * (high - low), b = low + kGolden * (high - low), at_a = at(a), at_b = at(b);
  while (high - low > 0.01 * kDegree) {
    if (at_a < at_b) {
      high = b, b = a, at_b = at_a;
      a = high - kGolden * (high - low), at_a = at(a);
    } else {
      low = a, a = b, at_a = at_b;
      b = low + kGolden * (high - low), at_b = at(b);
    }
  }
  return best;
}

std::optional<EnvelopePoint> weakest_heading(const std::vector<EnvelopePoint>& points,
                                             const std::optional<EnvelopePoint>& lifts) {
  constexpr double kAlike = 1e-6;  // a machine alike left and right: the first of the two [rad]
  std::optional<EnvelopePoint> weakest = lifts;
  for (const EnvelopePoint& point : points) {
    if (point.failed || !point.slide) continue;
    const std::optional<double> least = weakest ? weakest->gives_way() : std::nullopt;
    if (!least || *point.slide < *least - kAlike) weakest = point;
  }
  return weakest;
}

}  // namespace sidehill
