#include "sim/statics.h"

#include <algorithm>
#include <cmath>

#include "sim/equilibrium.h"
#include "sim/ice.h"
#include "sim/landing.h"
#include "sim/tip_path.h"
#include "vehicles/units.h"

namespace sidehill {
namespace {

constexpr double kMarch = 5 * kDegree;      // of the slope while looking for the first lift-off
constexpr double kSteepest = 85 * kDegree;  // nothing stands beyond; "never" from here on

// The first slope at which a load passes zero, with the balanced trial there.
struct Crossing {
  Trial trial;
  int wheel = -1;
};

int least_loaded(const Rest& rest) {
  return static_cast<int>(std::min_element(rest.load.begin(), rest.load.end()) - rest.load.begin());
}

bool uneven_somewhere(const EquilibriumSystem& system) {
  return std::any_of(system.uneven.begin(), system.uneven.end(), [](bool uneven) { return uneven; });
}

// A guess for the balance at `slope` on the line through two others, between them or beyond: where all the load of an
// axle that holds the machine is about to vanish, only a near guess leads to the balance.
Trial on_the_way(const Trial& a, const Trial& b, double slope) {
  if (a.slope == b.slope) return b;
  Trial guess = on_the_line(a, b, (slope - a.slope) / (b.slope - a.slope));
  guess.slope = slope;
  return guess;
}

// Balances in a few iterations or not at all: for a try beside which a surer way stands ready.
bool balances_soon(EquilibriumSystem& system, Question question, Trial& trial) {
  const int usual = system.most_iterations;
  system.most_iterations = 5;
  const bool converged = balance_with_stop(system, question, trial).converged;
  system.most_iterations = usual;
  return converged;
}

// The crossing on the line through two balanced slopes, between them or beyond, by Newton's iteration on the load
// itself. The wheels are tried in the order in which their loads would vanish on that line; the first whose balance
// leaves no other load below nothing is the answer. Empty if there is none: then the bracket is closed in.
std::optional<Crossing> crossing_near(EquilibriumSystem& system, const Trial& a, const Trial& b, double most_slope) {
  if (uneven_somewhere(system) || a.slope == b.slope) return std::nullopt;
  const Rest at_a = rest_of(system, a), at_b = rest_of(system, b);
  std::array<std::pair<double, std::size_t>, kWheels> expected;
  for (std::size_t i = 0; i < kWheels; ++i) {
    const double rise = (at_b.load[i] - at_a.load[i]) / (b.slope - a.slope);
    const double slope = rise < 0 ? b.slope - at_b.load[i] / rise : 1e9;
    expected[i] = {slope, i};
  }
  std::sort(expected.begin(), expected.end());
  for (const auto& [slope, wheel] : expected) {
    if (slope < a.slope || slope > most_slope) break;
    Trial trial = on_the_way(a, b, slope);
    system.change = {wheel, 0};
    if (!balances_soon(system, Question::slope_at_change, trial)) return std::nullopt;
    if (trial.slope < a.slope || trial.slope > most_slope) continue;
    const Rest rest = rest_of(system, trial);
    const double least = *std::min_element(rest.load.begin(), rest.load.end());
    if (least > -1e-8 * system.weight) return Crossing{trial, static_cast<int>(wheel)};
  }
  return std::nullopt;
}

double adhesion_use(const Rest& rest, const Soil& soil);

// A tyre without load holds nothing sideways. The crossing is moved to where the wheel's load vanishes with its side
// force gone; the other tyres then hold no more than their own adhesion, unless the machine slides before. Where that
// leaves another wheel pulling, that one lifts first, or both let go together. Kept as it is if no balance is found.
Crossing let_go_sideways(EquilibriumSystem& system, const Crossing& held) {
  // On features the crossing has been closed in with the side force gone; only the last digits are missing.
  const double kFurthest = (uneven_somewhere(system) ? 3.0 : 15.0) * kDegree;
  if (system.laterally_rigid) return held;  // shared in proportion to load: gone already
  const double slack = 1e-7 * system.weight;
  const auto balances = [&](Trial& trial, std::size_t wheel) {
    system.change = {wheel, 0};
    const Trial again = trial;
    if (!balances_soon(system, Question::slope_at_change, trial)) {
      trial = again;
      if (!balance_with_stop(system, Question::slope_at_change, trial).converged) return false;
    }
    return std::abs(trial.slope - held.trial.slope) <= kFurthest && trial.slope >= 0;
  };
  // The wheel that pulls most, or none (-1).
  const auto pulling = [&](const Trial& trial) {
    const Rest rest = rest_of(system, trial);
    int least = -1;
    for (int w = 0; w < kWheels; ++w) {
      const double load = rest.load[static_cast<std::size_t>(w)];
      if (load < -slack && (least < 0 || load < rest.load[static_cast<std::size_t>(least)])) least = w;
    }
    return least;
  };
  std::array<bool, kWheels> free{};  // that have let go so far
  int wheel = held.wheel;
  std::optional<Crossing> found;
  for (int round = 0; round < 3 && wheel >= 0 && !found; ++round) {
    const auto w = static_cast<std::size_t>(wheel);
    if (free[w]) break;
    free[w] = true;
    Trial trial = held.trial;
    trial.touching[w] = false;
    if (!balances(trial, w)) return held;
    const int next = pulling(trial);
    if (next < 0) found = Crossing{trial, wheel};
    wheel = next;
  }
  // Each of them leaves another pulling: they let go together, and the one that lifts first leaves none pressing.
  for (int w = 0; w < kWheels && !found; ++w) {
    if (!free[static_cast<std::size_t>(w)]) continue;
    Trial trial = held.trial;
    for (std::size_t i = 0; i < kWheels; ++i)
      if (free[i]) trial.touching[i] = false;
    if (!balances(trial, static_cast<std::size_t>(w)) || pulling(trial) >= 0) continue;
    const auto wheels = wheels_at(system, trial);
    bool clear = true;
    for (std::size_t i = 0; i < kWheels; ++i)
      if (free[i]) clear = clear && wheels[i].penetration * system.model->wheels[i].tyre.vertical_stiffness < slack;
    if (clear) found = Crossing{trial, w};
  }
  if (!found) return held;
  const Rest rest = rest_of(system, found->trial);
  const Soil& soil = system.model->terrain.soil;
  if (soil.adhesion_unlimited || adhesion_use(rest, soil) >= 1) return *found;
  Trial within = found->trial;
  system.within_adhesion = true;
  if (balances(within, static_cast<std::size_t>(found->wheel))) found->trial = within;
  system.within_adhesion = false;
  return *found;
}

// Marches up in slope with tyres that also pull, so that each load passes smoothly through zero, then closes in by
// Newton's iteration, or by the secant rule kept inside its bracket. `failed` says that the iteration lost its way,
// which is not the same as "never".
std::optional<Crossing> crossing_beyond(EquilibriumSystem& system, Trial trial, bool& failed) {
  failed = true;
  const auto least = [&](const Trial& t, int& wheel) {
    const Rest rest = rest_of(system, t);
    wheel = least_loaded(rest);
    return rest.load[static_cast<std::size_t>(wheel)];
  };
  int wheel = -1;
  double load = least(trial, wheel);
  if (load <= 0) {  // the ground alone holds a wheel up
    failed = false;
    trial.touching[static_cast<std::size_t>(wheel)] = false;
    return Crossing{trial, wheel};
  }
  Trial lower = trial, before = trial;
  double lower_load = load, step = kMarch;
  while (load > 0 && lower.slope < kSteepest - 1e-12) {
    const double slope = std::min(lower.slope + step, kSteepest);
    if (const auto crossing = crossing_near(system, before, lower, slope)) {
      failed = false;
      return crossing;
    }
    trial = on_the_way(before, lower, slope);
    trial.slope = slope;
    if (!balance_with_stop(system, Question::pose_at_slope, trial).converged) {
      step *= 0.5;
      if (step < kMarch / 64) return std::nullopt;
      continue;
    }
    load = least(trial, wheel);
    if (load <= 0) break;
    before = lower;
    lower = trial;
    lower_load = load;
    step = std::min(kMarch, 2 * step);
  }
  failed = false;
  if (load > 0) return std::nullopt;
  Trial upper = trial;
  if (const auto crossing = crossing_near(system, lower, upper, upper.slope)) return crossing;
  double lo = lower.slope, hi = trial.slope, at_lo = lower_load, at_hi = load;
  const double enough = 1e-8 * system.weight;
  for (int i = 0; i < 60 && std::abs(load) > enough && hi - lo > 1e-12; ++i) {
    // Illinois rule: the secant, halving the weight of an end that stays.
    double slope = std::clamp(lo + (hi - lo) * at_lo / (at_lo - at_hi), lo + 1e-3 * (hi - lo), hi - 1e-3 * (hi - lo));
    const Trial between = on_the_way(lower, upper, slope);
    Trial next = between;
    bool balanced = balances_soon(system, Question::pose_at_slope, next);
    // Even ground: all load of an axle that holds the machine is about to vanish, and its shares swing with every
    // newton; both ends stand, and the loads between them run straight.
    if (!balanced && hi - lo < 0.2 * kDegree && !uneven_somewhere(system)) return Crossing{between, wheel};
    if (!balanced) balanced = balance_with_stop(system, Question::pose_at_slope, next = between).converged;
    if (!balanced) {
      // On uneven ground the tyre's last touch is a step of a newton or two: no balance exists inside it. Halve the
      // bracket from the side that still stands; a step narrower than 0.01 deg is the answer itself.
      if (hi - lo < 0.01 * kDegree) return Crossing{lower, wheel};
      next = lower;
      next.slope = slope = 0.5 * (lo + hi);
      if (!balance_with_stop(system, Question::pose_at_slope, next).converged) {
        if (hi - lo < 0.2 * kDegree) return Crossing{lower, wheel};
        failed = true;
        return std::nullopt;
      }
    }
    trial = next;
    load = least(trial, wheel);
    if (load > 0) {
      lo = slope, at_lo = load, at_hi *= 0.5;
      lower = trial;
    } else {
      hi = slope, at_hi = load, at_lo *= 0.5;
      upper = trial;
    }
  }
  return Crossing{trial, wheel};
}

// The same on uneven ground, where tyres that pull may find another balance than the one the machine has: here they
// only press, and let go sideways with their load. Marched up from a balance, then closed in from the side that still
// stands.
std::optional<Crossing> crossing_on_features(EquilibriumSystem& system, const Trial& from, bool& failed) {
  constexpr double kLeastStep = 0.02 * kDegree, kClose = 0.005 * kDegree;
  constexpr double kLight = 0.03;  // of the weight: a wheel that carries more has not lifted, the balance is lost
  failed = false;
  const Rest start = rest_of(system, from);
  const auto lightest = [](const Rest& rest) { return rest.load[static_cast<std::size_t>(least_loaded(rest))]; };
  if (lightest(start) <= 0) return Crossing{from, least_loaded(start)};
  EquilibriumSystem pressing = system;
  pressing.one_sided = pressing.within_adhesion = pressing.endless_grip = true;
  Trial before = from, lower = from;
  double highest = 0, step = kMarch;
  bool beyond = false;
  while (lower.slope < kSteepest - 1e-12) {
    if (beyond && highest - lower.slope < kClose) break;
    const double most = beyond ? lower.slope + 0.5 * (highest - lower.slope) : lower.slope + step;
    Trial trial = on_the_way(before, lower, std::min(most, kSteepest));
    trial.slope = std::min(most, kSteepest);
    const bool balanced = balance_with_stop(pressing, Question::pose_at_slope, trial).converged;
    if (balanced && lightest(rest_of(pressing, trial)) > 0) {
      before = lower;
      lower = trial;
      step = std::min(kMarch, 2 * step);
      continue;
    }
    if (!balanced && !beyond && step > kLeastStep) {
      step *= 0.25;
      continue;
    }
    beyond = true;
    highest = trial.slope;
  }
  if (!beyond) return std::nullopt;
  const Rest last = rest_of(pressing, lower);
  const int wheel = least_loaded(last);
  failed = lightest(last) > kLight * system.weight;
  if (failed) return std::nullopt;
  const auto wheels = wheels_at(pressing, lower);
  for (std::size_t i = 0; i < kWheels; ++i) lower.touching[i] = wheels[i].penetration > 0;
  lower.stop = stop_borne(*system.model, lower.axle_angle);
  return Crossing{lower, wheel};
}

// The machine on the level, before the ground is tilted. On even ground that is the balance at the start pose, with
// tyres that also pull; else, or where there is none, it is set down from the air.
Landing stand_on_level(EquilibriumSystem& system, Trial& trial) {
  if (!uneven_somewhere(system)) {
    trial = start_trial(system);
    if (balance_with_stop(system, Question::pose_at_slope, trial).converged) return Landing::rests;
  }
  return land(system, 0, trial);
}

// The first slope at which a wheel lifts, tilted from the level. `stands`: how it stands there. `failed` as above.
// The first crossing, tilted on from a balance; the wheel that lifts has let go sideways. On features two ways are
// tried: with tyres that only press it is certain that the machine still stands, with tyres that pull the digits are
// better.
std::optional<Crossing> first_crossing(EquilibriumSystem& system, const Trial& from, bool& failed) {
  const auto let_go = [&](const std::optional<Crossing>& crossing) {
    return crossing && crossing->trial.slope > 0 ? std::optional(let_go_sideways(system, *crossing)) : crossing;
  };
  if (!uneven_somewhere(system)) return let_go(crossing_beyond(system, from, failed));
  const auto standing = crossing_on_features(system, from, failed);
  if (failed || !standing || !(standing->trial.slope > from.slope)) return standing;
  bool lost = false;
  const auto smooth = let_go(crossing_beyond(system, from, lost));
  if (smooth && !lost && smooth->trial.slope > standing->trial.slope - 0.01 * kDegree) return smooth;
  return let_go(standing);
}

struct Lifting {
  Landing stands = Landing::lost;
  Trial level;
  std::optional<Crossing> crossing;
  bool failed = true;
};
Lifting find_lifting(EquilibriumSystem& system) {
  Lifting out;
  out.stands = stand_on_level(system, out.level);
  if (out.stands != Landing::rests) return out;
  out.crossing = first_crossing(system, out.level, out.failed);
  return out;
}

// Share of an axle's adhesion that is in use, the larger of both axles; wheels of one axle help each other.
double adhesion_use(const Rest& rest, const Soil& soil) {
  double most = 0;
  const glm::dvec2 forward = glm::normalize(glm::dvec2(rest.X_GV.R[0]));  // wheels at rest stand straight
  for (std::size_t first : {std::size_t{0}, std::size_t{2}}) {
    double load = 0;
    glm::dvec2 held(0.0);
    for (std::size_t w = first; w < first + 2; ++w) {
      load += rest.load[w];
      held += glm::dvec2(rest.force_G[w]);
    }
    const double across = forward.x * held.y - forward.y * held.x;
    const double demand = std::hypot(glm::dot(forward, held), across / soil.adhesion_across_ratio);
    if (demand > 0) most = std::max(most, load > 0 ? demand / (soil.adhesion * load) : 1e9);
  }
  return most;
}

// Slope at which the first axle has no adhesion left, also beyond first lift-off: the sums of an axle do not care which
// of its wheels carries. On features the normals lean; the share along the even slope is taken. Empty: none up to 85
// deg, or no balance on the way.
std::optional<double> find_slide(EquilibriumSystem& system, const Trial& level, const Soil& soil) {
  Trial trial = level, lower = trial;
  bool lost = false;
  const auto use_at = [&](double slope) {
    trial.slope = slope;
    lost = !balance_with_stop(system, Question::pose_at_slope, trial).converged;
    return lost ? 0.0 : adhesion_use(rest_of(system, trial), soil);
  };
  double lo = 0, hi = -1;
  for (double slope = 0; slope <= kSteepest && hi < 0; slope += 0.5 * kMarch) {
    lower = trial;
    const bool slides = use_at(slope) >= 1;
    if (lost) return std::nullopt;
    (slides ? hi : lo) = slope;
  }
  if (hi < 0) return std::nullopt;
  trial = lower;
  while (hi - lo > 1e-8) {
    const double mid = 0.5 * (lo + hi);
    const bool slides = use_at(mid) >= 1;
    if (lost) return std::nullopt;
    (slides ? hi : lo) = mid;
  }
  return 0.5 * (lo + hi);
}

}  // namespace

namespace {

TipPath path_beyond(EquilibriumSystem& system, const Crossing& crossing) {
  Trial let_go = crossing.trial;
  let_go.touching[static_cast<std::size_t>(crossing.wheel)] = false;
  return tip_path(system, let_go);
}

// Raised slowly it passes lift-off and rests until it lets go. If a resting place lies beyond, it stays there unless
// the snap carries it past.
double tip_over_of(EquilibriumSystem& system, const TipPath& path) {
  const double lets_go = let_go_slope(path);
  const double furthest = path.steepest ? std::max(path.steepest->trial.slope, lets_go) : lets_go;
  return furthest > lets_go + 1e-7 && !snap_goes_over(system, path) ? furthest : lets_go;
}

// The crossing of a heading from that of a heading near by: turned with it, then the same wheel's load brought to
// nothing again. Empty if that is not clearly the answer: then the long search decides.
std::optional<Crossing> near_by(EquilibriumSystem& system, const Crossing& before, double turned_by) {
  constexpr double kMostChange = 6 * kDegree;
  if (uneven_somewhere(system)) return std::nullopt;
  Trial trial = before.trial;
  const Mat3 R(std::cos(turned_by), std::sin(turned_by), 0, -std::sin(turned_by), std::cos(turned_by), 0, 0, 0, 1);
  const Vec3 start(system.model->start.x, system.model->start.y, 0);
  trial.X_GV = {R * trial.X_GV.R, start + R * (trial.X_GV.p - start)};
  system.change = {static_cast<std::size_t>(before.wheel), 0};
  if (!balances_soon(system, Question::slope_at_change, trial)) return std::nullopt;
  const double change = trial.slope - before.trial.slope;
  if (!(std::abs(change) < kMostChange) || trial.slope < 0 || trial.slope > kSteepest) return std::nullopt;
  // A lightly loaded wheel may have lifted before and come back: its load is not monotone in the slope.
  Trial earlier = trial;
  earlier.slope *= 0.93;
  earlier.touching[system.change.wheel] = true;
  if (!balances_soon(system, Question::pose_at_slope, earlier)) return std::nullopt;
  for (const Trial& at : {earlier, trial}) {
    const Rest rest = rest_of(system, at);
    for (std::size_t i = 0; i < kWheels; ++i)
      if (i != system.change.wheel && rest.load[i] < 0.03 * system.weight) return std::nullopt;
  }
  return Crossing{trial, before.wheel};
}

}  // namespace

LiftOff first_lift_off(const Model& model, const std::atomic<bool>* stop) {
  if (const auto iced = with_ice_at_its_worst(model, stop)) return first_lift_off(*iced, stop);
  EquilibriumSystem system = make_system(model, stop);
  const Lifting lifting = find_lifting(system);
  LiftOff out;
  out.failed = lifting.failed;
  if (lifting.crossing) out.slope = lifting.crossing->trial.slope, out.wheel = lifting.crossing->wheel;
  return out;
}

namespace {

// A balance is a rest only if a hand that turns the machine a little further downhill has to push.
bool stays(EquilibriumSystem& system, const Trial& balanced) {
  Trial pushed = balanced;
  system.R_tilt_zero = balanced.X_GV.R;
  system.tilt = 0.002 * kDegree;
  pushed.X_GV.R = about(system.tilt_axis, system.tilt) * pushed.X_GV.R;
  pushed.moment = 0;
  return balance_one_sided(system, Question::moment_at_tilt, pushed).converged && pushed.moment > 0;
}

// From the level up to a slope before lift-off; no tyre then holds more sideways than its own adhesion, unless the
// machine slides.
std::optional<Rest> rest_before(EquilibriumSystem& system, const Trial& level, double slope) {
  Trial trial = level;
  for (double s = 0;; s = std::min(slope, s + kMarch)) {
    trial.slope = s;
    if (!balance_with_stop(system, Question::pose_at_slope, trial).converged) return std::nullopt;
    if (s >= slope) break;
  }
  const Rest rest = rest_of(system, trial);
  const Soil& soil = system.model->terrain.soil;
  if (soil.adhesion_unlimited || adhesion_use(rest, soil) >= 1) return rest;
  system.within_adhesion = true;
  const bool held = balance_with_stop(system, Question::pose_at_slope, trial).converged;
  const Rest within = rest_of(system, trial);
  system.within_adhesion = false;
  return held && *std::min_element(within.load.begin(), within.load.end()) > 0 ? within : rest;
}

// Resting pose on even ground at a slope that lift-off and the tip path have already been found for.
std::optional<Rest> rest_given(EquilibriumSystem& system, const Lifting& lifting, const TipPath& path,
                               std::optional<double> tip_over, double slope) {
  if (!lifting.crossing || slope < lifting.crossing->trial.slope) return rest_before(system, lifting.level, slope);
  if (tip_over && slope > *tip_over) return std::nullopt;
  // Beyond lift-off: the stable place is where the balanced slope rises with the tilt and passes ours. On the stop that
  // stretch may be shorter than a step of the path: both front wheels still carry there, and past it, on the two
  // downhill wheels alone, lies a balance that is no rest.
  const auto rest_from = [&](Trial trial) -> std::optional<Rest> {
    trial.slope = slope;
    if (!balance_one_sided(system, Question::pose_at_slope, trial).converged || !stays(system, trial))
      return std::nullopt;
    return rest_of(system, trial);
  };
  for (const Trial& place : places_at(path, slope))
    if (const auto rest = rest_from(place)) return rest;
  if (path.end_on_stop && slope <= path.end_on_stop->trial.slope) {
    Trial trial = path.end_on_stop->trial;
    trial.touching[kFrontLeft] = trial.touching[kFrontRight] = true;
    if (const auto rest = rest_from(trial)) return rest;
    if (const auto rest = rest_from(path.end_on_stop->trial)) return rest;
  }
  return std::nullopt;
}

// The wheel that hangs highest over the ground.
int highest_wheel(const EquilibriumSystem& system, const Trial& trial) {
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
TipPath say_lifting(EquilibriumSystem& system, const Crossing& crossing, StaticSolution& out) {
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
  Trial trial;
  SetDown down;
  here.endless_grip = out.slide && slope >= *out.slide;
  down.how = land(here, slope, trial);
  if (down.how == Landing::lost && !here.endless_grip) {
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
  return down;
}

}  // namespace

StaticSolution solve_statics(const Model& model, const std::atomic<bool>* stop) {
  if (const auto iced = with_ice_at_its_worst(model, stop)) return solve_statics(*iced, stop);
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
    out.slide = find_slide(sliding, lifting.level, model.terrain.soil);
  }
  SetDown down{lifting.stands, {}, false};
  if (uneven_somewhere(system))
    down = set_down(system, lifting, out);
  else if (lifting.stands == Landing::rests)
    down.rest = rest_given(system, lifting, path, out.tip_over, slope);
  // A balance on its side or back is none that anybody asks for; its wheels would have to pull.
  constexpr double kUpright = 0.5;  // cosine of its lean against the ground
  if (down.rest && down.rest->X_GV.R[2].z < kUpright) down.rest.reset();
  out.rest = down.rest;
  if (!out.rest && down.how == Landing::tips) {
    // It stands on no ground of this shape, or not on the level: its weight lies outside its wheels.
    if (!out.first_lift_off || *out.first_lift_off > slope) {
      out.first_lift_off = 0;
      out.first_wheel = highest_wheel(system, lifting.level);
    }
    if (!out.tip_over || *out.tip_over > slope) out.tip_over = out.first_lift_off;
    out.status = RestStatus::tipped;
  } else if ((lifting.failed && !out.rest) || (!out.rest && !out.first_lift_off)) {
    out.status = RestStatus::unsolved;
    out.rest.reset();
  } else if (!out.rest) {
    out.status = uneven_somewhere(system) ? RestStatus::unsolved : RestStatus::tipped;
  } else {
    const bool up = !all_carry(*out.rest);
    const bool on_stop = model.axle_kind != AxleKind::fixed && std::abs(out.rest->axle_angle) > model.stop_angle;
    out.status = up ? (on_stop ? RestStatus::on_stop : RestStatus::wheel_up) : RestStatus::stands;
    if (down.slides && (!out.slide || *out.slide > slope)) out.slide = slope;
    if (!up && out.slide && slope >= *out.slide) out.status = RestStatus::slides;
  }
  if (out.first_lift_off) out.margin = *out.first_lift_off - slope;
  return out;
}

std::optional<std::array<double, kWheels>> loads_at(const Model& model, double slope, const std::atomic<bool>* stop) {
  EquilibriumSystem system = make_system(model, stop);
  Trial trial;
  if (stand_on_level(system, trial) != Landing::rests) return std::nullopt;
  for (double s = std::min(slope, kMarch);; s = std::min(slope, s + kMarch)) {
    trial.slope = s;
    if (!balance_with_stop(system, Question::pose_at_slope, trial).converged) return std::nullopt;
    if (s >= slope) break;
  }
  return rest_of(system, trial).load;
}

std::optional<double> least_load_at(const Model& model, double slope, const std::atomic<bool>* stop) {
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

std::vector<EnvelopePoint> envelope(const Model& model, int headings, bool with_tip_over,
                                    const std::atomic<bool>* stop) {
  std::vector<EnvelopePoint> points;
  points.reserve(static_cast<std::size_t>(std::max(0, headings)));
  Model turned = model;
  const double step = 6.28318530717958647692 / std::max(1, headings);
  std::optional<Crossing> last;
  for (int i = 0; i < headings; ++i) {
    turned.start.heading = -3.14159265358979323846 + 6.28318530717958647692 * i / headings;
    const auto iced = with_ice_at_its_worst(turned, stop);
    EquilibriumSystem system = make_system(iced ? *iced : turned, stop);
    EnvelopePoint point{turned.start.heading, {}, -1, false, {}};
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
    points.push_back(point);
    last = crossing;
  }
  return points;
}

std::optional<EnvelopePoint> worst_heading(const Model& model, const std::vector<EnvelopePoint>& points,
                                           double preferred_heading, const std::atomic<bool>* stop) {
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
    if (found.slope && *found.slope < *best.first_lift_off) best = {heading, found.slope, found.wheel, false, {}};
    return found.slope.value_or(kSteepest);
  };
  const double step = 6.28318530717958647692 / static_cast<double>(points.size());
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

}  // namespace sidehill
