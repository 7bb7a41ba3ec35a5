#include "sim/plan/plan.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <bitset>
#include <cmath>
#include <tuple>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/insight/job_slope.h"

namespace sidehill {
namespace {

constexpr double kNever = 90 * kDegree;  // nothing gives way: as far as any slope goes
constexpr double kNoPrice = 1e9;         // [EUR], of what is not given: behind all that is

double gives_way(const PlanMeasures& m) { return m.stand.lost ? 0 : m.stand.gives_way.value_or(kNever); }
double in_steps(double value, double step) { return std::round(value / step); }

// One plan on the way through the search.
struct Tried {
  PlanChoice choice{};
  PlanMeasures measures;
  PlanStand full;         // as filled; measures.stand also knows of it drained
  std::size_t empty = 0;  // the place of the plan that it is once drained; its own where nothing freezes
};

// What decides between two, less is better; a plan's keys are compared in turn.
struct PlanKey {
  PlanLoss loss;
  double value;
};

std::vector<PlanKey> plan_keys(const PlanMeasures& m, PlanAim aim) {
  const PlanCosts costs = costs_of(m);
  const auto goal = [&](PlanLoss loss, PlanGoal of) { return PlanKey{loss, costs[static_cast<std::size_t>(of)]}; };
  std::vector<PlanKey> keys;
  switch (aim) {
    case PlanAim::balanced:
      break;
    case PlanAim::cheapest:
      keys.push_back(goal(PlanLoss::cost, PlanGoal::cost));
      break;
    case PlanAim::lightest:
      keys.push_back({PlanLoss::ballast, in_steps(m.ballast, 1)});
      break;
    case PlanAim::most_stable:
      keys.push_back(goal(PlanLoss::stability, PlanGoal::stability));
      break;
    case PlanAim::least_slip:
      keys.push_back(goal(PlanLoss::slip, PlanGoal::slip));
      break;
    case PlanAim::least_fuel:
      keys.push_back(goal(PlanLoss::fuel, PlanGoal::fuel));
      break;
    case PlanAim::least_soil:
      keys.push_back(goal(PlanLoss::soil, PlanGoal::soil));
      break;
    case PlanAim::least_effort:
      keys.push_back(goal(PlanLoss::effort, PlanGoal::effort));
      break;
  }
  keys.push_back({PlanLoss::targets, static_cast<double>(m.missed.count())});
  keys.push_back({PlanLoss::ballast, in_steps(m.ballast, 1)});
  keys.push_back(goal(PlanLoss::effort, PlanGoal::effort));
  return keys;
}

// The first comparison that tells them apart.
PlanLoss loss_of(const std::vector<PlanKey>& winner, const std::vector<PlanKey>& loser) {
  for (std::size_t i = 0; i < winner.size(); ++i)
    if (winner[i].value != loser[i].value) return winner[i].loss;
  return PlanLoss::alike;
}

bool before(const std::vector<PlanKey>& a, const std::vector<PlanKey>& b) {
  for (std::size_t i = 0; i < a.size(); ++i)
    if (a[i].value != b[i].value) return a[i].value < b[i].value;
  return false;
}

// All plans that are machines and in stock, without where they stand. Stops with those there are; the machine as it is
// comes first and is always measured.
std::vector<Tried> all_plans(const PlanGround& ground, const std::stop_token& stop, PlanProgress* progress) {
  const std::size_t size = ground.space.size();
  std::vector<std::optional<Tried>> tried(size);
  if (progress) progress->of = 2 * size;  // measured, then placed on the slope
  tried[0] = Tried{PlanChoice{}, measure(ground, PlanChoice{}), {}, 0};
  tbb::parallel_for(std::size_t{1}, size, [&](std::size_t i) {
    if (stop.stop_requested()) return;
    const PlanChoice choice = plan_at(ground.space, i);
    if (is_in_stock(ground.scene, ground.space, choice)) {
      try {
        tried[i] = Tried{choice, measure(ground, choice), {}, 0};
      } catch (const InputError&) {  // this ballast makes no machine: no plan
      }
    }
    if (progress) ++progress->done;
  });
  std::vector<Tried> out;
  std::vector<std::size_t> places(size, size);
  for (std::size_t i = 0; i < size; ++i) {
    if (!tried[i]) continue;
    places[i] = out.size();
    out.push_back(*tried[i]);
  }
  for (std::size_t i = 0; i < out.size(); ++i) {
    const std::size_t empty = places[place_of(ground.space, drained(ground, out[i].choice))];
    out[i].empty = empty;  // beyond the list where that plan is none, or was not come to
  }
  return out;
}

struct Search {
  Plan plan;
  std::vector<Tried> tried;
  std::stop_token stop;

  std::vector<Barrier> bars(std::size_t i) const {
    std::vector<Barrier> all = barriers_of(tried[i].measures, plan.question, plan.slope);
    std::erase_if(all, [&](const Barrier& one) {
      return one.what == PlanBar::rule && std::ranges::find(plan.incurable, one) != plan.incurable.end();
    });
    return all;
  }

  // Where plans stand, at the deciding headings or at `all`, drained too.
  void place(const std::vector<std::size_t>& places, bool all, PlanProgress* progress = nullptr) {
    std::vector<std::size_t> open;
    const auto want = [&](std::size_t i) {
      if (i < tried.size() && !(all ? tried[i].full.at_all : tried[i].full.known)) open.push_back(i);
    };
    for (const std::size_t i : places) {
      want(i);
      want(tried[i].empty);
    }
    std::ranges::sort(open);
    open.erase(std::unique(open.begin(), open.end()), open.end());
    if (progress) progress->of = progress->done + open.size();
    tbb::parallel_for(std::size_t{0}, open.size(), [&](std::size_t k) {
      if (stop.stop_requested()) return;
      const PlanStand found = stand_of(plan.ground, tried[open[k]].choice, all, stop);
      if (!stop.stop_requested()) tried[open[k]].full = found;
      if (progress) ++progress->done;
    });
    for (const std::size_t i : places) {
      Tried& one = tried[i];
      one.measures.stand = one.full;
      one.measures.worse_drained = false;
      if (one.empty == i) continue;
      PlanStand empty;
      empty.lost = empty.known = empty.at_all = true;  // it is no machine then
      if (one.empty < tried.size()) empty = tried[one.empty].full;
      one.measures.stand = worse_of(one.full, empty);
      one.measures.worse_drained =
          empty.gives_way && one.measures.stand.gives_way == empty.gives_way && one.full.gives_way != empty.gives_way;
    }
  }
  void look_closely(const std::vector<std::size_t>& places) { place(places, true); }
  bool all_close(const std::vector<std::size_t>& places) const {
    return std::ranges::all_of(places, [&](std::size_t i) { return tried[i].measures.stand.at_all; });
  }

  // Placed nowhere yet: as if the slope were none.
  std::vector<Barrier> bars_but_slope(std::size_t i) const {
    std::vector<Barrier> all = bars(i);
    std::erase_if(all, [](const Barrier& one) { return one.what == PlanBar::slope; });
    return all;
  }

  std::vector<std::size_t> possible() const {
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i < tried.size(); ++i)
      if (tried[i].measures.stand.known && bars(i).empty()) out.push_back(i);
    return out;
  }

  // Few headings make a plan look better than it is or as good, never worse: once all of the front have been looked at
  // closely, a plan that they beat is beaten.
  std::vector<std::size_t> front() {
    for (;;) {
      const std::vector<std::size_t> left = possible();
      std::vector<PlanCosts> costs;
      for (const std::size_t i : left) costs.push_back(costs_of(tried[i].measures));
      std::vector<std::size_t> out;
      for (const std::size_t k : front_of(costs)) out.push_back(left[k]);
      if (stop.stop_requested() || all_close(out)) return out;
      look_closely(out);
    }
  }

  // The best by the aim first.
  std::vector<std::size_t> in_order(std::vector<std::size_t> places, PlanAim aim) const {
    std::vector<std::vector<PlanKey>> keys(tried.size());
    for (const std::size_t i : places) keys[i] = plan_keys(tried[i].measures, aim);
    std::ranges::stable_sort(places, [&](std::size_t a, std::size_t b) { return before(keys[a], keys[b]); });
    return places;
  }

  std::optional<Interval> range_at_place(std::size_t i) const {
    return range_of(plan.ground, tried[i].choice, tried[i].measures);
  }

  ChosenPlan chosen(std::size_t i, PlanReason reason) const {
    ChosenPlan out = chosen_from(plan, {tried[i].choice, tried[i].measures});
    out.reasons = {reason};
    return out;
  }

  void give_rival(ChosenPlan& winner, std::size_t rival, PlanLoss loss) const {
    winner.rival = tried[rival].choice;
    winner.rival_measures = tried[rival].measures;
    winner.rival_lost = loss;
  }
};

// The best by the aim that stands also at the low end of its interval; the next best beside it. Of plans that only may
// hold the most stable.
void choose_best(Search& search, const std::vector<std::size_t>& possible) {
  constexpr std::size_t kMostTries = 6;
  const double asked = search.plan.slope + search.plan.question.left;
  std::vector<std::size_t> order = search.in_order(possible, search.plan.question.aim);
  // How far the low end lies below, taken from the machine as it is: which are worth the time of their own interval.
  const auto own = search.range_at_place(0);
  const double below =
      own && search.tried[0].measures.stand.gives_way ? *search.tried[0].measures.stand.gives_way - own->low : 0;
  std::optional<std::size_t> best, skipped;
  std::optional<Interval> best_range;
  std::size_t tries = 0;
  for (const std::size_t i : order) {
    if (search.stop.stop_requested() || tries >= kMostTries) break;
    if (gives_way(search.tried[i].measures) - 0.7 * below < asked) {
      if (!skipped) skipped = i;
      continue;
    }
    search.look_closely({i});
    if (!search.bars(i).empty()) continue;
    ++tries;
    const auto range = search.range_at_place(i);
    if (!range || range->low >= asked) {
      best = i;
      best_range = range;
      break;
    }
    if (!skipped) skipped = i;
  }
  search.plan.holds = best.has_value();
  if (!best) {
    const std::vector<std::size_t> firm = search.in_order(possible, PlanAim::most_stable);
    for (const std::size_t i : firm) {
      search.look_closely({i});
      if (!search.bars(i).empty()) continue;
      best = i;
      break;
    }
    if (!best) return;
  }
  ChosenPlan first = search.chosen(*best, PlanReason::chosen);
  const std::vector<PlanKey> own_keys = plan_keys(first.measures, search.plan.question.aim);
  if (skipped && search.plan.holds && *skipped != *best &&
      before(plan_keys(search.tried[*skipped].measures, search.plan.question.aim), own_keys)) {
    search.look_closely({*skipped});
    search.give_rival(first, *skipped, PlanLoss::does_not_hold);
  } else {
    for (const std::size_t i : order) {
      if (i == *best || before(plan_keys(search.tried[i].measures, search.plan.question.aim), own_keys)) continue;
      search.look_closely({i});
      search.give_rival(first, i, loss_of(own_keys, plan_keys(search.tried[i].measures, search.plan.question.aim)));
      break;
    }
  }
  search.plan.chosen.push_back(std::move(first));
}

struct Extreme {
  PlanReason reason;
  PlanGoal goal;
  PlanAim aim;
  PlanLoss loss;
};
constexpr Extreme kExtremes[] = {
    {PlanReason::most_stable, PlanGoal::stability, PlanAim::most_stable, PlanLoss::stability},
    {PlanReason::least_slip, PlanGoal::slip, PlanAim::least_slip, PlanLoss::slip},
    {PlanReason::least_fuel, PlanGoal::fuel, PlanAim::least_fuel, PlanLoss::fuel},
    {PlanReason::least_soil, PlanGoal::soil, PlanAim::least_soil, PlanLoss::soil},
    {PlanReason::cheapest, PlanGoal::cost, PlanAim::cheapest, PlanLoss::cost},
    {PlanReason::least_effort, PlanGoal::effort, PlanAim::least_effort, PlanLoss::effort},
};

// A plan for a reason of its own: a new one, or one more reason of one that is there.
void add_extreme(Search& search, const std::vector<std::size_t>& front, const Extreme& what) {
  if (front.empty()) return;
  const std::vector<std::size_t> order = search.in_order(front, what.aim);
  const std::size_t best = order.front();
  const auto goal = static_cast<std::size_t>(what.goal);
  const double value = costs_of(search.tried[best].measures)[goal];
  const bool worth =
      std::ranges::any_of(front, [&](std::size_t i) { return costs_of(search.tried[i].measures)[goal] != value; });
  if (!worth) return;  // all alike in it: no reason
  std::vector<ChosenPlan>& chosen = search.plan.chosen;
  const auto as_good = [&](const ChosenPlan& one) {
    return one.barriers.empty() && costs_of(one.measures)[goal] == value;
  };
  if (const auto there = std::ranges::find_if(chosen, as_good); there != chosen.end()) {
    there->reasons.push_back(what.reason);
    return;
  }
  if (chosen.size() >= kMostChosen) return;
  ChosenPlan more = search.chosen(best, what.reason);
  const auto next =
      std::ranges::find_if(order, [&](std::size_t i) { return costs_of(search.tried[i].measures)[goal] != value; });
  if (next != order.end()) search.give_rival(more, *next, what.loss);
  chosen.push_back(std::move(more));
}

// What alone keeps the most plans out.
void say_what_to_loosen(Search& search) {
  std::vector<std::pair<Barrier, std::size_t>> alone;
  for (std::size_t i = 0; i < search.tried.size(); ++i) {
    if (!search.tried[i].measures.stand.known) continue;
    const std::vector<Barrier> bars = search.bars(i);
    if (bars.size() != 1) continue;
    const auto there = std::ranges::find(alone, bars.front(), &std::pair<Barrier, std::size_t>::first);
    if (there == alone.end())
      alone.emplace_back(bars.front(), 1);
    else
      ++there->second;
  }
  const auto most = std::ranges::max_element(alone, {}, &std::pair<Barrier, std::size_t>::second);
  if (most == alone.end()) return;
  search.plan.loosen = most->first;
  search.plan.loosened = most->second;
}

// The limits that every plan breaks.
std::vector<Barrier> limits_of_all(const Search& search) {
  std::bitset<kRuleIds> all;
  all.set();
  for (const Tried& one : search.tried) all &= one.measures.broken;
  std::vector<Barrier> out;
  for (std::size_t i = 0; i < kRuleIds; ++i)
    if (all.test(i)) out.push_back({PlanBar::rule, static_cast<RuleId>(i)});
  return out;
}

// How steep it may be for the most stable of the plans that break no more limits than every plan does; looked at
// closely.
double best_gives_way(Search& search) {
  for (;;) {
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < search.tried.size(); ++i) {
      if (!search.tried[i].measures.stand.known) continue;
      const std::vector<Barrier> bars = search.bars(i);
      if (std::ranges::any_of(bars, [](const Barrier& one) { return one.what == PlanBar::rule; })) continue;
      if (!best || gives_way(search.tried[i].measures) > gives_way(search.tried[*best].measures)) best = i;
    }
    if (!best) return 0;
    if (search.tried[*best].measures.stand.at_all) return gives_way(search.tried[*best].measures);
    search.look_closely({*best});
  }
}

// Nothing is possible: the one that breaks fewest limits, then is barred by least, of those the most stable. A limit is
// not broken to stand on a slope.
void choose_least_bad(Search& search) {
  std::size_t best = 0;
  const auto key = [&](std::size_t i) {
    const std::vector<Barrier> bars = search.bars(i);
    const auto rules = std::ranges::count(bars, PlanBar::rule, &Barrier::what);
    return std::tuple(rules, bars.size(), -gives_way(search.tried[i].measures), search.tried[i].measures.ballast);
  };
  for (std::size_t i = 1; i < search.tried.size(); ++i)
    if (search.tried[i].measures.stand.known && key(i) < key(best)) best = i;
  search.look_closely({best});
  search.plan.chosen.push_back(search.chosen(best, PlanReason::chosen));
}

void refuse_what_cannot_be_asked(const Scene& scene, const PlanQuestion& question) {
  const Job& job = scene.job;
  if (!scene.plan.made.empty())
    throw InputError(
        "plan.made: this is a plan file, whose machine is the one planned; allowed the machine as it is, which "
        "`sidehill log FILE --now NOW.toml` writes");
  if (job.work == Work::none)
    throw InputError(
        "job.work = none: a plan needs a job, allowed job_file = \"...\" or --set job_file=NAME "
        "(see `sidehill list jobs`)");
  const bool slip = question.slip || question.aim == PlanAim::least_slip;
  if (slip && !(job.pull > 0))
    throw InputError("job.pull_kn = 0: a plan by slip needs the pull of the job, allowed more than 0");
  if (slip && job.ground == JobGround::mud && !(job.cone_index > 0))
    throw InputError("job.ground = mud: slip is not known there, allowed any other ground, or a job.cone_index_kpa");
  const bool priced = std::ranges::any_of(job.media, [](const MediumOnHand& one) { return is_given(one.price); }) ||
                      std::ranges::any_of(job.weights, [](const WeightOnHand& one) { return one.price > 0; }) ||
                      std::ranges::any_of(job.wheels, [](const WheelsOnHand& one) { return one.price > 0; });
  if (question.aim == PlanAim::cheapest && !priced)
    throw InputError(
        "job: no price is given, the cheapest plan needs price_eur of a [[job.weight]] or [[job.wheels]], or "
        "price_high_eur_per_l of a [[job.medium]]");
}

}  // namespace

ChosenPlan chosen_from(const Plan& plan, const FrontPlan& one) {
  ChosenPlan out;
  out.choice = one.choice;
  out.scene = scene_of(plan.ground.scene, plan.ground.space, one.choice);
  out.measures = one.measures;
  out.barriers = barriers_of(one.measures, plan.question, plan.slope);
  return out;
}

std::optional<Interval> range_of(const PlanGround& ground, const PlanChoice& choice, const PlanMeasures& measures,
                                 const std::stop_token& stop) {
  if (!measures.stand.gives_way) return std::nullopt;
  const PlanChoice& worse = measures.worse_drained ? drained(ground, choice) : choice;
  return range_at(scene_of(ground.scene, ground.space, worse), measures.stand.heading, stop);
}

std::vector<Barrier> barriers_of(const PlanMeasures& m, const PlanQuestion& question, double slope) {
  std::vector<Barrier> out;
  if (m.stand.lost || gives_way(m) < slope + question.left) out.push_back({PlanBar::slope, {}});
  for (std::size_t i = 0; i < kRuleIds; ++i)
    if (m.broken.test(i)) out.push_back({PlanBar::rule, static_cast<RuleId>(i)});
  if (m.cannot_pull) out.push_back({PlanBar::pull, {}});
  if (question.slip && m.slip && *m.slip > *question.slip) out.push_back({PlanBar::slip, {}});
  return out;
}

PlanCosts costs_of(const PlanMeasures& m) {
  constexpr double kNoPull = 1e6;
  return {-in_steps(gives_way(m) / kDegree, 0.01), m.cannot_pull ? kNoPull : in_steps(m.slip.value_or(0), 0.0005),
          in_steps(m.fuel.value_or(0), 1),         in_steps(m.soil.value_or(0), 100),
          in_steps(m.cost.value_or(kNoPrice), 1),  in_steps(m.effort, 60)};
}

Plan make_plan(const Scene& scene, const PlanQuestion& question, const std::stop_token& stop, PlanProgress* progress) {
  refuse_what_cannot_be_asked(scene, question);
  Search search;
  search.stop = stop;
  search.plan.question = question;
  search.plan.slope = scene.job.slope;
  search.plan.ground = plan_ground(scene);
  search.tried = all_plans(search.plan.ground, stop, progress);
  Plan& plan = search.plan;
  plan.looked_at = search.tried.size();
  plan.incurable = limits_of_all(search);
  // Only plans that break no limit of their own need to be placed on the slope.
  std::vector<std::size_t> within, all;
  for (std::size_t i = 0; i < search.tried.size(); ++i) {
    all.push_back(i);
    if (search.bars_but_slope(i).empty()) within.push_back(i);
  }
  if (std::ranges::find(within, std::size_t{0}) == within.end()) within.push_back(0);
  search.place(within, false, progress);
  plan.stopped = stop.stop_requested();

  // Stopped, what is there is still looked at to its end: it is little.
  search.stop = {};
  search.look_closely({0});
  const std::vector<std::size_t> front = search.front();
  const std::vector<std::size_t> possible = search.possible();
  if (possible.empty() && !plan.stopped) search.place(all, false, progress);
  plan.possible = possible.size();
  plan.front = front.size();
  for (const std::size_t i : front) plan.on_front.push_back({search.tried[i].choice, search.tried[i].measures});
  plan.best_gives_way = best_gives_way(search);
  if (possible.empty()) {
    choose_least_bad(search);
    say_what_to_loosen(search);
  } else {
    choose_best(search, possible);
  }
  const auto is_today = [](const ChosenPlan& one) { return one.choice == PlanChoice{}; };
  if (const auto today = std::ranges::find_if(plan.chosen, is_today); today != plan.chosen.end())
    today->reasons.push_back(PlanReason::as_it_is);
  else
    plan.chosen.push_back(search.chosen(0, PlanReason::as_it_is));
  for (const Extreme& extreme : kExtremes) add_extreme(search, front, extreme);

  tbb::parallel_for(std::size_t{0}, plan.chosen.size(), [&](std::size_t k) {
    ChosenPlan& one = plan.chosen[k];
    for (std::size_t i = 0; i < search.tried.size(); ++i)
      if (search.tried[i].choice == one.choice) one.range = search.range_at_place(i);
  });
  return std::move(search.plan);
}

}  // namespace sidehill
