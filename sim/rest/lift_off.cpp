#include "sim/rest/lift_off.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace sidehill {
namespace {

constexpr double kRough = 1e-5;  // imbalance of a balance that only shows the way [weight]
constexpr double kLight = 0.12;  // of the weight: a wheel that carries less may be the one that lifts first

// A guess for the balance at `slope` on the line through two others, between them or beyond: where all the load of an
// axle that holds the machine is about to vanish, only a near guess leads to the balance.
TrialPose on_the_way(const TrialPose& a, const TrialPose& b, double slope) {
  if (a.slope == b.slope) return b;
  TrialPose guess = on_the_line(a, b, (slope - a.slope) / (b.slope - a.slope));
  guess.slope = slope;
  return guess;
}

// Balances in a few iterations or not at all: for a try beside which a surer way stands ready.
bool balances_soon(const EquilibriumSystem& system, Question question, TrialPose& trial) {
  question.most_iterations = 5;
  return balance_with_stop(system, question, trial).converged;
}

// The crossing on the line through two balanced slopes, between them or beyond, by Newton's iteration on the load
// itself. The wheels are tried in the order in which their loads would vanish on that line; the first whose balance
// leaves no other load below nothing is the answer. Empty if there is none: then the bracket is closed in.
std::optional<Crossing> crossing_near(EquilibriumSystem& system, const TrialPose& a, const TrialPose& b,
                                      double most_slope) {
  if (uneven_somewhere(system) || a.slope == b.slope) return std::nullopt;
  const Rest at_a = rest_of(system, a), at_b = rest_of(system, b);
  std::array<std::pair<double, std::size_t>, kWheels> expected;
  std::array<double, kWheels> rise{};
  for (std::size_t i = 0; i < kWheels; ++i) {
    rise[i] = (at_b.load[i] - at_a.load[i]) / (b.slope - a.slope);
    expected[i] = {rise[i] < 0 ? b.slope - at_b.load[i] / rise[i] : 1e9, i};
  }
  std::sort(expected.begin(), expected.end());
  for (const auto& [slope, wheel] : expected) {
    if (slope < a.slope || slope > most_slope) break;
    TrialPose trial = on_the_way(a, b, slope);
    if (!balances_soon(system, slope_at_change({wheel, 0}), trial)) return std::nullopt;
    if (trial.slope < a.slope || trial.slope > most_slope) continue;
    const Rest rest = rest_of(system, trial);
    const double least = *std::min_element(rest.load.begin(), rest.load.end());
    if (least > -1e-8 * system.weight) return Crossing{trial, static_cast<int>(wheel), rise};
  }
  return std::nullopt;
}

// Whether a load that changes by `rise` per radian is still there far beyond this slope, farther than letting go
// sideways can move a crossing.
bool far_from_lifting(double load, double rise) {
  constexpr double kFar = 6 * kDegree;
  return load > 0 && (rise >= 0 || load > -rise * kFar);
}

// Moves a crossing to where it is with every other tyre holding no more than its own adhesion, unless the machine
// slides before. On features the kinks are worth more than what that changes.
void hold_within_adhesion(EquilibriumSystem& system, Crossing& crossing) {
  constexpr double kNear = 2 * kDegree;  // more than adhesion changes: another balance
  // Of an axle's adhesion: it slid long before, and which tyre then holds how much has no answer.
  constexpr double kFarBeyondSliding = 3;
  if (uneven_somewhere(system) || system.laterally_rigid) return;
  const double found_at = crossing.trial.slope;
  const Question lifts = slope_at_change({static_cast<std::size_t>(crossing.wheel), 0});
  const auto balances = [&](TrialPose& trial) {
    const TrialPose again = trial;
    return balances_soon(system, lifts, trial) || balance_with_stop(system, lifts, trial = again).converged;
  };
  // What the axles use changes a little with what their tyres may hold.
  for (int round = 0; round < 2; ++round) {
    const double use = adhesion_use(rest_of(system, crossing.trial), *system.model);
    if (use > kFarBeyondSliding || !hold_within_adhesion(system, use)) break;
    TrialPose within = crossing.trial;
    if (!balances(within)) {  // a long way from what tyres without a limit hold: less and less room
      const double least = system.grip;
      within = crossing.trial;
      bool balanced = least > 0;
      for (const double room : {2.0, 1.4, 1.15, 1.0}) {
        system.grip = room * least;
        balanced = balanced && balances(within);
      }
      if (!balanced) break;
    }
    if (within.slope >= 0 && std::abs(within.slope - found_at) < kNear) crossing.trial = within;
  }
  system.within_adhesion = false;
}

// A tyre without load holds nothing sideways. The crossing is moved to where the wheel's load vanishes with its side
// force gone; the other tyres then hold no more than their own adhesion, unless the machine slides before. Where that
// leaves another wheel pulling, that one lifts first, or both let go together. Empty if no balance is found.
std::optional<Crossing> let_go_near(EquilibriumSystem& system, const Crossing& held) {
  // On features the crossing has been closed in with the side force gone; only the last digits are missing.
  const double kFurthest = (uneven_somewhere(system) ? 3.0 : 15.0) * kDegree;
  if (system.laterally_rigid) return held;  // shared in proportion to load: gone already
  const double slack = 1e-7 * system.weight;
  const auto balances = [&](TrialPose& trial, std::size_t wheel) {
    const Question lifts = slope_at_change({wheel, 0});
    const TrialPose again = trial;
    if (!balances_soon(system, lifts, trial)) {
      trial = again;
      if (!balance_with_stop(system, lifts, trial).converged) return false;
    }
    return std::abs(trial.slope - held.trial.slope) <= kFurthest && trial.slope >= 0;
  };
  // The wheel that pulls most, or none (-1).
  const auto pulling = [&](const TrialPose& trial) {
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
    TrialPose trial = held.trial;
    trial.touching[w] = false;
    if (!balances(trial, w)) return std::nullopt;
    const int next = pulling(trial);
    if (next < 0) found = Crossing{trial, wheel, {}};
    wheel = next;
  }
  // Each of them leaves another pulling: they let go together, and the one that lifts first leaves none pressing.
  for (int w = 0; w < kWheels && !found; ++w) {
    if (!free[static_cast<std::size_t>(w)]) continue;
    TrialPose trial = held.trial;
    for (std::size_t i = 0; i < kWheels; ++i)
      if (free[i]) trial.touching[i] = false;
    if (!balances(trial, static_cast<std::size_t>(w)) || pulling(trial) >= 0) continue;
    const auto wheels = wheels_at(system, trial);
    bool clear = true;
    for (std::size_t i = 0; i < kWheels; ++i)
      if (free[i]) clear = clear && wheels[i].penetration * system.model->wheels[i].tyre.vertical_stiffness < slack;
    if (clear) found = Crossing{trial, w, {}};
  }
  if (!found) return std::nullopt;
  // Another light wheel may let go before this one: while it holds sideways it stays down longer.
  for (int w = 0; w < kWheels && !uneven_somewhere(system); ++w) {
    const auto i = static_cast<std::size_t>(w);
    const Rest there = rest_of(system, found->trial);
    if (free[i] || !held.trial.touching[i] || there.load[i] > kLight * system.weight) continue;
    if (held.rise && far_from_lifting(there.load[i], (*held.rise)[i])) continue;
    TrialPose trial = held.trial;
    trial.touching[i] = false;
    if (balances(trial, i) && trial.slope < found->trial.slope && pulling(trial) < 0) found = Crossing{trial, w, {}};
  }
  hold_within_adhesion(system, *found);
  return found;
}

// The same, or the crossing as it was.
Crossing let_go_sideways(EquilibriumSystem& system, const Crossing& held) {
  return let_go_near(system, held).value_or(held);
}

// Marches up in slope with tyres that also pull, so that each load passes smoothly through zero, then closes in by
// Newton's iteration, or by the secant rule kept inside its bracket. `failed` says that the iteration lost its way,
// which is not the same as "never".
std::optional<Crossing> crossing_beyond(EquilibriumSystem& system, TrialPose trial, bool& failed) {
  failed = true;
  const auto least = [&](const TrialPose& t, int& wheel) {
    const Rest rest = rest_of(system, t);
    wheel = least_loaded(rest);
    return rest.load[static_cast<std::size_t>(wheel)];
  };
  int wheel = -1;
  double load = least(trial, wheel);
  if (load <= 0) {  // the ground alone holds a wheel up
    failed = false;
    trial.touching[static_cast<std::size_t>(wheel)] = false;
    return Crossing{trial, wheel, {}};
  }
  TrialPose lower = trial, before = trial;
  double lower_load = load, step = kMarch;
  Question on_the_march = pose_at_slope();  // only shows the way
  if (!system.laterally_rigid) on_the_march.enough = kRough;
  while (load > 0 && lower.slope < kSteepestAsked - 1e-12) {
    const double slope = std::min(lower.slope + step, kSteepestAsked);
    if (const auto crossing = crossing_near(system, before, lower, slope)) {
      failed = false;
      return crossing;
    }
    trial = on_the_way(before, lower, slope);
    trial.slope = slope;
    const bool balanced = balance_with_stop(system, on_the_march, trial).converged;
    if (!balanced) {
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
  TrialPose upper = trial;
  if (const auto crossing = crossing_near(system, lower, upper, upper.slope)) return crossing;
  double lo = lower.slope, hi = trial.slope, at_lo = lower_load, at_hi = load;
  const double enough = 1e-8 * system.weight;
  for (int i = 0; i < 60 && std::abs(load) > enough && hi - lo > 1e-12; ++i) {
    // Illinois rule: the secant, halving the weight of an end that stays.
    double slope = std::clamp(lo + (hi - lo) * at_lo / (at_lo - at_hi), lo + 1e-3 * (hi - lo), hi - 1e-3 * (hi - lo));
    const TrialPose between = on_the_way(lower, upper, slope);
    TrialPose next = between;
    bool balanced = balances_soon(system, pose_at_slope(), next);
    // Even ground: all load of an axle that holds the machine is about to vanish, and its shares swing with every
    // newton; both ends stand, and the loads between them run straight.
    const bool even = !uneven_somewhere(system);
    if (!balanced && even && hi - lo < 0.02 * kDegree) return Crossing{between, wheel, {}};
    if (!balanced) balanced = balance_with_stop(system, pose_at_slope(), next = between).converged;
    if (!balanced && even && hi - lo < 0.2 * kDegree) return Crossing{between, wheel, {}};
    if (!balanced) {
      // On uneven ground the tyre's last touch is a step of a newton or two: no balance exists inside it. Halve the
      // bracket from the side that still stands; a step narrower than 0.01 deg is the answer itself.
      if (hi - lo < 0.01 * kDegree) return Crossing{lower, wheel, {}};
      next = lower;
      next.slope = slope = 0.5 * (lo + hi);
      if (!balance_with_stop(system, pose_at_slope(), next).converged) {
        if (hi - lo < 0.2 * kDegree) return Crossing{lower, wheel, {}};
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
  return Crossing{trial, wheel, {}};
}

// The same on uneven ground, where tyres that pull may find another balance than the one the machine has: here they
// only press, and let go sideways with their load. Marched up from a balance, then closed in from the side that still
// stands.
std::optional<Crossing> crossing_on_features(EquilibriumSystem& system, const TrialPose& from, bool& failed) {
  constexpr double kLeastStep = 0.02 * kDegree, kCloseBy = 0.005 * kDegree;
  constexpr double kLifts = 0.03;  // of the weight: a wheel that carries more has not lifted, the balance is lost
  failed = false;
  const Rest start = rest_of(system, from);
  const auto lightest = [](const Rest& rest) { return rest.load[static_cast<std::size_t>(least_loaded(rest))]; };
  if (lightest(start) <= 0) return Crossing{from, least_loaded(start), {}};
  EquilibriumSystem pressing = system;
  pressing.one_sided = pressing.within_adhesion = pressing.endless_grip = true;
  TrialPose before = from, lower = from;
  double highest = 0, step = kMarch;
  bool beyond = false;
  while (lower.slope < kSteepestAsked - 1e-12) {
    if (beyond && highest - lower.slope < kCloseBy) break;
    const double most = beyond ? lower.slope + 0.5 * (highest - lower.slope) : lower.slope + step;
    TrialPose trial = on_the_way(before, lower, std::min(most, kSteepestAsked));
    trial.slope = std::min(most, kSteepestAsked);
    const bool balanced = balance_with_stop(pressing, pose_at_slope(), trial).converged;
    if (balanced && lightest(rest_of(pressing, trial)) > 0) {
      before = lower;
      lower = trial;
      step = std::min(kMarch, 2 * step);
      continue;
    }
    if (!beyond && step > kLeastStep) {  // a long step may land in another balance
      step *= 0.25;
      continue;
    }
    beyond = true;
    highest = trial.slope;
  }
  if (!beyond) return std::nullopt;
  const Rest last = rest_of(pressing, lower);
  const int wheel = least_loaded(last);
  failed = lightest(last) > kLifts * system.weight;
  const auto wheels = wheels_at(pressing, lower);
  for (std::size_t i = 0; i < kWheels; ++i) lower.touching[i] = wheels[i].penetration > 0;
  lower.stop = stop_borne(*system.model, lower.axle_angle);
  return Crossing{lower, wheel, {}};
}

// A machine on tyres that only press, raised step by step while all its wheels stand.
struct Raised {
  EquilibriumSystem pressing;
  Question question;  // a pose, roughly and soon
  Slopes slopes;
  TrialPose before, lower;  // the last two places where it stood
  std::array<double, kWheels> load_before{}, load{};

  Raised(const EquilibriumSystem& system, const TrialPose& from) : pressing(system), before(from), lower(from) {
    pressing.one_sided = pressing.within_adhesion = pressing.endless_grip = true;
    question.most_iterations = 12;
    question.enough = kRough;
    pressing.slopes = &slopes;
    load = load_before = rest_of(pressing, from).load;
  }
  Raised(const Raised&) = delete;

  // False: it does not stand on all wheels there, or no balance was found; nothing has changed then.
  bool stands_at(double slope) {
    TrialPose trial = on_the_way(before, lower, slope);
    trial.slope = slope;
    if (!balance_with_stop(pressing, question, trial).converged) return false;
    const Rest rest = rest_of(pressing, trial);
    if (rest.load[static_cast<std::size_t>(least_loaded(rest))] <= 0) return false;
    before = std::exchange(lower, trial);
    load_before = std::exchange(load, rest.load);
    return true;
  }

  // The wheel whose load would vanish first if loads ran straight on, and where; -1 = none.
  std::pair<int, double> next_to_lift() const {
    std::pair<int, double> next{-1, 1e9};
    for (std::size_t i = 0; i < kWheels; ++i) {
      const double rise = (load[i] - load_before[i]) / (lower.slope - before.slope);
      if (rise < 0 && lower.slope - load[i] / rise < next.second)
        next = {static_cast<int>(i), lower.slope - load[i] / rise};
    }
    return next;
  }
};

// The quick way on features: raised until a wheel's load is about to vanish, then straight to where it does. Empty
// where that is not confirmed by the machine standing on all wheels just below and no more just above.
std::optional<Crossing> crossing_raised(EquilibriumSystem& system, const TrialPose& from) {
  constexpr double kBelow = 0.01 * kDegree, kAbove = 0.1 * kDegree;
  constexpr double kVanishing = 0.003;  // of the weight: what a wheel carries kBelow its lift-off at most
  Raised raised(system, from);
  if (*std::min_element(raised.load.begin(), raised.load.end()) <= 0) return std::nullopt;
  double step = kMarch;
  while (raised.lower.slope + step < kSteepestAsked) {
    if (!raised.stands_at(raised.lower.slope + step)) return std::nullopt;
    const auto [wheel, slope] = raised.next_to_lift();
    if (wheel < 0 || slope > raised.lower.slope + 3 * kMarch) {
      step = 2 * kMarch;
      continue;
    }
    Crossing guess{on_the_way(raised.before, raised.lower, slope), wheel, {}};
    guess.trial.touching = {true, true, true, true};
    guess.trial.stop = stop_borne(*system.model, guess.trial.axle_angle);
    const auto found = let_go_near(system, guess);
    if (!found || !(found->trial.slope > raised.lower.slope)) return std::nullopt;
    while (raised.lower.slope < found->trial.slope - kBelow - 1e-12)
      if (!raised.stands_at(std::min(raised.lower.slope + 3 * kMarch, found->trial.slope - kBelow)))
        return std::nullopt;
    const bool vanishing = raised.load[static_cast<std::size_t>(found->wheel)] < kVanishing * system.weight;
    if (!vanishing && raised.stands_at(found->trial.slope + kAbove)) return std::nullopt;
    return found;
  }
  return std::nullopt;
}

}  // namespace

int least_loaded(const Rest& rest) {
  return static_cast<int>(std::min_element(rest.load.begin(), rest.load.end()) - rest.load.begin());
}

bool uneven_somewhere(const EquilibriumSystem& system) {
  return std::any_of(system.uneven.begin(), system.uneven.end(), [](bool uneven) { return uneven; });
}

Landing stand_on_level(EquilibriumSystem& system, TrialPose& trial) {
  if (!uneven_somewhere(system)) {
    trial = start_trial(system);
    if (balance_with_stop(system, pose_at_slope(), trial).converged) return Landing::rests;
  }
  return land(system, 0, trial);
}

std::optional<Crossing> first_crossing(EquilibriumSystem& usual, const TrialPose& from, bool& failed) {
  EquilibriumSystem system = usual;
  Slopes slopes;
  system.slopes = &slopes;
  const auto let_go = [&](const std::optional<Crossing>& crossing) {
    return crossing && crossing->trial.slope > 0 ? std::optional(let_go_sideways(system, *crossing)) : crossing;
  };
  if (!uneven_somewhere(system)) return let_go(crossing_beyond(system, from, failed));
  failed = false;
  if (const auto raised = crossing_raised(system, from)) return raised;
  bool lost = false;
  const auto smooth = let_go(crossing_beyond(system, from, lost));
  const auto standing = crossing_on_features(system, from, failed);
  if (failed || !standing || !(standing->trial.slope > from.slope)) return failed ? std::nullopt : standing;
  if (smooth && !lost && smooth->trial.slope > standing->trial.slope - 0.01 * kDegree) return smooth;
  return let_go(standing);
}

Lifting find_lifting(EquilibriumSystem& system) {
  Lifting out;
  out.stands = stand_on_level(system, out.level);
  if (out.stands != Landing::rests) return out;
  out.crossing = first_crossing(system, out.level, out.failed);
  return out;
}

std::optional<Crossing> near_by(EquilibriumSystem& system, const Crossing& before, double turned_by) {
  constexpr double kMostChange = 6 * kDegree;
  if (uneven_somewhere(system)) return std::nullopt;
  const auto wheel = static_cast<std::size_t>(before.wheel);
  TrialPose trial = before.trial;
  const Mat3 R(std::cos(turned_by), std::sin(turned_by), 0, -std::sin(turned_by), std::cos(turned_by), 0, 0, 0, 1);
  const Vec3 start(system.model->start.x, system.model->start.y, 0);
  trial.X_GV = {R * trial.X_GV.R, start + R * (trial.X_GV.p - start)};
  if (!balances_soon(system, slope_at_change({wheel, 0}), trial)) return std::nullopt;
  const double change = trial.slope - before.trial.slope;
  if (!(std::abs(change) < kMostChange) || trial.slope < 0 || trial.slope > kSteepestAsked) return std::nullopt;
  // A lightly loaded wheel may have lifted before and come back: its load is not monotone in the slope.
  TrialPose earlier = trial;
  earlier.slope *= 0.93;
  earlier.touching[wheel] = true;
  Question roughly = pose_at_slope();
  roughly.enough = kRough;
  if (!balances_soon(system, roughly, earlier)) return std::nullopt;
  for (const TrialPose& at : {earlier, trial}) {
    const Rest rest = rest_of(system, at);
    for (std::size_t i = 0; i < kWheels; ++i)
      if (i != wheel && rest.load[i] < kLight * system.weight) return std::nullopt;
  }
  Crossing crossing{trial, before.wheel, {}};
  hold_within_adhesion(system, crossing);
  return crossing;
}

}  // namespace sidehill
