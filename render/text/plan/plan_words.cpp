#include "render/text/plan/plan_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "render/text/job/job_slope_words.h"
#include "render/text/job/rule_words.h"
#include "render/text/plan/plan_columns.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/plan/plan_log.h"
#include "sim/scene/machine_mark.h"
#include "sim/scene/scene_file.h"
#include "vehicles/liquid.h"

namespace sidehill::text {
namespace {

struct ReasonWords {
  PlanReason reason;
  const char* key;
  const char* words;
};
constexpr std::array kReasonWords{
    ReasonWords{PlanReason::chosen, "chosen", "the one to choose"},
    ReasonWords{PlanReason::as_it_is, "as_it_is", "today's machine"},
    ReasonWords{PlanReason::most_stable, "most_stable", "most stable"},
    ReasonWords{PlanReason::least_slip, "least_slip", "least slip"},
    ReasonWords{PlanReason::least_fuel, "least_fuel", "least fuel"},
    ReasonWords{PlanReason::least_soil, "least_soil", "least stress in the soil"},
    ReasonWords{PlanReason::cheapest, "cheapest", "cheapest"},
    ReasonWords{PlanReason::least_effort, "least_effort", "least effort"},
};
static_assert(is_whole(kReasonWords, &ReasonWords::reason));

struct LossWords {
  PlanLoss loss;
  const char* key;
};
constexpr std::array kLossWords{
    LossWords{PlanLoss::does_not_hold, "does_not_hold"},
    LossWords{PlanLoss::targets, "targets"},
    LossWords{PlanLoss::ballast, "ballast"},
    LossWords{PlanLoss::effort, "effort"},
    LossWords{PlanLoss::stability, "stability"},
    LossWords{PlanLoss::slip, "slip"},
    LossWords{PlanLoss::fuel, "fuel"},
    LossWords{PlanLoss::soil, "soil"},
    LossWords{PlanLoss::cost, "cost"},
    LossWords{PlanLoss::alike, "alike"},
};
static_assert(is_whole(kLossWords, &LossWords::loss));

struct BarWords {
  PlanBar bar;
  const char* key;
};
constexpr std::array kBarWords{BarWords{PlanBar::rule, "rule"}, BarWords{PlanBar::slope, "slope"},
                               BarWords{PlanBar::slip, "slip"}, BarWords{PlanBar::pull, "pull"}};
static_assert(is_whole(kBarWords, &BarWords::bar));

constexpr const char* kPlaces[] = {"on the front mount", "on the rear hitch", "on the front wheels",
                                   "on the rear wheels"};
constexpr const char* kNoWeights[] = {"no weights in front", "no weights behind", "no weights on the front wheels",
                                      "no weights on the rear wheels"};

void add(std::string& all, const std::string& more) { all += (all.empty() ? "" : ", ") + more; }

std::string fill_words(const Scene& scene, const TyreFill& fill, bool front) {
  const char* where = front ? "front tyres" : "rear tyres";
  if (!(fill.fill_fraction > 0)) return fmt::format("{} on air", where);
  return fmt::format("{} in the {} to {}", medium_name({fill.medium, fill.concentration, &scene.ballast.own_medium}),
                     where, percent(fill.fill_fraction));
}

std::string weight_words(const Scene& scene, const WeightState& state, std::size_t place) {
  std::string words;
  for (std::size_t i = 0; i < state.pieces.size(); ++i)
    if (state.pieces[i] > 0) {
      const WeightOnHand& piece = scene.job.weights[i];
      add(words,
          fmt::format("{} x {} {}", state.pieces[i], piece.name.empty() ? "weight" : piece.name, kPlaces[place]));
    }
  return words.empty() ? kNoWeights[place] : words;
}

double litres(const std::optional<double>& fuel) { return fuel.value_or(0) * 1e-3; }  // [m3]

// "1 plan", "12 plans".
std::string plans(std::size_t n) { return fmt::format("{} plan{}", n, n == 1 ? "" : "s"); }

std::string gives_way_words(const PlanMeasures& m, const std::optional<Interval>& range) {
  if (m.stand.lost) return "it is not known at which slope it gives way";
  if (!m.stand.gives_way) return "nothing gives way";
  std::string words =
      fmt::format("it {} at {}", m.stand.by_slide ? "slides" : "lifts a wheel", degrees_and_percent(m.stand.gives_way));
  if (range)
    words += fmt::format(" ({})", shown_interval(Quantity::angle, range->low,
                                                 range->open ? std::nullopt : std::optional(range->high), Units::si));
  words += ", heading " + signed_degrees(m.stand.heading);
  if (m.worse_drained) words += ", with its tyres drained";
  return words;
}

OnJob standing_of(const Plan& plan, const ChosenPlan& one) {
  if (one.measures.stand.lost) return OnJob::does_not_stand;
  if (one.measures.stand.gives_way && *one.measures.stand.gives_way < plan.slope) return OnJob::does_not_stand;
  return one.range && one.range->low < plan.slope ? OnJob::may_not_hold : OnJob::stands;
}

std::string list_of(const std::bitset<kRuleIds>& rules, const BallastPlan& ballast) {
  std::string words;
  for (std::size_t i = 0; i < kRuleIds; ++i)
    if (rules.test(i)) words += (words.empty() ? "" : "; ") + rule_words(static_cast<RuleId>(i), ballast);
  return words;
}

std::string rules_of(const std::vector<Barrier>& bars, const Plan& plan) {
  std::string words;
  for (const Barrier& bar : bars)
    if (bar.what == PlanBar::rule) words += (words.empty() ? "" : "; ") + barrier_words(bar, plan);
  return words;
}

std::string standing(const Plan& plan, const ChosenPlan& one) {
  const char* const kSays[] = {"stands", "MAY NOT HOLD", "DOES NOT STAND"};
  const std::string how = gives_way_words(one.measures, one.range);
  if (!(plan.slope > 0)) return fmt::format("Its job names no slope; {}.", how);
  return fmt::format("{} it {}: {}.", on_job_slope(plan.slope), kSays[static_cast<int>(standing_of(plan, one))], how);
}

// The weights on hand of which not one piece may hang where it goes.
std::string left_out_words(const PlanGround& ground) {
  std::string words;
  for (const std::size_t i : ground.space.left_out) {
    const WeightOnHand& one = ground.scene.job.weights[i];
    add(words, fmt::format("{} of {} {}", one.name.empty() ? "a weight" : one.name,
                           shown(Quantity::mass, one.mass, Units::si), kPlaces[static_cast<std::size_t>(one.place)]));
  }
  return words;
}

std::string nothing_does_it(const Plan& plan) {
  std::string words = fmt::format("NOTHING ON HAND DOES IT: of {} none ", plans(plan.looked_at));
  words += plan.question.left > 0
               ? fmt::format("keeps {} on the job's {}", degrees(plan.question.left), degrees_and_percent(plan.slope))
               : "meets what is asked on the job's " + degrees_and_percent(plan.slope);
  if (plan.question.slip) words += fmt::format(" with at most {} slip", percent(*plan.question.slip));
  words += ".";
  if (plan.best_gives_way > 0)
    words += fmt::format(" The most stable that breaks no other limit gives way at {}.",
                         degrees_and_percent(plan.best_gives_way, 1, true));
  if (plan.loosen)
    words += fmt::format(" What alone keeps {} out: \"{}\". Change that first: the job, the slope, or what is on hand.",
                         plans(plan.loosened), barrier_words(*plan.loosen, plan));
  else
    words += " No single change of what is asked makes one possible.";
  return words;
}

}  // namespace

std::string wheels_words(const WheelsOnHand& pair) {
  return fmt::format("{}{} on the {} axle", pair.fit == WheelsFit::beside ? "dual wheels" : pair.size + " tyres",
                     pair.name.empty() ? "" : " (" + pair.name + ")",
                     pair.axle == WheelsAxle::front ? "front" : "rear");
}

std::string plan_name(const PlanGround& ground, const PlanChoice& choice, const PlanMeasures& measures) {
  std::string name;
  for (const std::size_t axle : {std::size_t{1}, std::size_t{0}})  // behind first: it decides more
    if (choice[fill_part(axle)] > 0)
      add(name, fill_words(ground.scene, ground.space.fills[axle][choice[fill_part(axle)]], axle == 0));
  for (std::size_t place = 0; place < 4; ++place)
    if (choice[weights_part(place)] > 0)
      add(name, weight_words(ground.scene, ground.space.weights[place][choice[weights_part(place)]], place));
  for (const std::size_t axle : {std::size_t{1}, std::size_t{0}})
    if (const auto entry = ground.space.wheels[axle][choice[wheels_part(axle)]].entry)
      add(name, wheels_words(ground.scene.job.wheels[*entry]));
  if (choice[part(PlanPart::pressure)] > 0)
    add(name, fmt::format("{} less pressure", percent(1 - ground.space.pressures[choice[part(PlanPart::pressure)]])));
  if (choice[part(PlanPart::track)] > 0) add(name, "widest track");
  if (name.empty()) name = "as it is";
  if (measures.drained) add(name, "drained before the frost");
  return name;
}

std::vector<std::string> plan_changes(const PlanGround& ground, const PlanChoice& choice) {
  std::vector<std::string> out;
  constexpr const char* kAxles[] = {"front", "rear"};
  for (const std::size_t axle : {std::size_t{0}, std::size_t{1}}) {
    if (choice[fill_part(axle)] == 0) continue;
    const TyreFill& fill = ground.space.fills[axle][choice[fill_part(axle)]];
    if (fill.fill_fraction > 0) {
      out.push_back(fmt::format("ballast.{}.medium={}", kAxles[axle], info(fill.medium).key));
      out.push_back(fmt::format("ballast.{}.concentration=0", kAxles[axle]));
    }
    out.push_back(fmt::format("ballast.{}.fill_fraction={}", kAxles[axle], fill.fill_fraction));
  }
  constexpr const char* kKeys[] = {"front_weights_kg", "rear_weights_kg", "front_wheel_weights_kg",
                                   "rear_wheel_weights_kg"};
  for (std::size_t place = 0; place < 4; ++place)
    if (choice[weights_part(place)] > 0)
      out.push_back(
          fmt::format("ballast.{}={}", kKeys[place], ground.space.weights[place][choice[weights_part(place)]].mass));
  const Scene scene = scene_of(ground.scene, ground.space, choice);
  for (const std::size_t axle : {std::size_t{0}, std::size_t{1}}) {
    const Axle& now = axle == 0 ? scene.vehicle.front : scene.vehicle.rear;
    if (choice[wheels_part(axle)] > 0) {
      for (std::string& setting : changed_settings(ground.scene, scene, fmt::format("vehicle.{}.", kAxles[axle])))
        out.push_back(std::move(setting));
      continue;  // its pressure and track are among them
    }
    if (choice[part(PlanPart::pressure)] > 0)
      out.push_back(fmt::format("vehicle.{}.tyre.pressure_kpa={:.6g}", kAxles[axle], now.tyre.pressure / 1e3));
    if (choice[part(PlanPart::track)] > 0) out.push_back(fmt::format("vehicle.{}.track_m={}", kAxles[axle], now.track));
  }
  return out;
}

std::string barrier_words(const Barrier& barrier, const Plan& plan) {
  switch (barrier.what) {
    case PlanBar::rule:
      return rule_words(barrier.rule, plan.ground.scene.ballast);
    case PlanBar::slope:
      return plan.question.left > 0 ? fmt::format("stands on the job's {} with {} left",
                                                  degrees_and_percent(plan.slope), degrees(plan.question.left))
                                    : fmt::format("stands on the job's {}", degrees_and_percent(plan.slope));
    case PlanBar::slip:
      return fmt::format("slips at most {}", percent(plan.question.slip.value_or(0)));
    case PlanBar::pull:
      return "pulls what the job asks for";
  }
  return "";
}

const char* barrier_key(PlanBar what) { return kBarWords[static_cast<std::size_t>(what)].key; }
const char* reason_key(PlanReason what) { return kReasonWords[static_cast<std::size_t>(what)].key; }
const char* loss_key(PlanLoss what) { return kLossWords[static_cast<std::size_t>(what)].key; }

std::string reasons_words(const ChosenPlan& plan) {
  std::string words;
  for (const PlanReason reason : plan.reasons) {
    if (reason == PlanReason::chosen && !plan.barriers.empty())
      add(words, "comes nearest");
    else
      add(words, kReasonWords[static_cast<std::size_t>(reason)].words);
  }
  return words;
}

std::string rival_words(const Plan& plan, const ChosenPlan& chosen, Units units) {
  if (!chosen.rival) return "";
  const PlanMeasures &ours = chosen.measures, &theirs = chosen.rival_measures;
  const std::string name = plan_name(plan.ground, *chosen.rival, theirs);
  const auto slope = [](const PlanMeasures& m) {
    return m.stand.gives_way ? degrees_and_percent(m.stand.gives_way) : std::string("never");
  };
  const auto slip = [](const PlanMeasures& m) { return fmt::format("{:.1f} %", 100 * m.slip.value_or(0)); };
  const auto fuel = [units](const PlanMeasures& m) { return measured(Quantity::volume, litres(m.fuel), 0, units); };
  const auto soil = [units](const PlanMeasures& m) {
    return measured(Quantity::pressure, m.soil.value_or(0), 0, units);
  };
  const auto two = [&](const char* said, const std::string& other, const std::string& own, const char* unlike) {
    return other == own ? name + unlike : fmt::format(fmt::runtime(said), name, other, own);
  };
  switch (chosen.rival_lost) {
    case PlanLoss::does_not_hold:
      return fmt::format("{} comes first by what was asked, but is not sure to stand on the job's slope.", name);
    case PlanLoss::targets:
      return fmt::format("{} misses {} targets, this one {}.", name, theirs.missed.count(), ours.missed.count());
    case PlanLoss::ballast:
      return fmt::format("{} carries {} more.", name, shown(Quantity::mass, theirs.ballast - ours.ballast, units));
    case PlanLoss::effort:
      return fmt::format("{} takes {}, this one {}.", name, effort_words(theirs.effort), effort_words(ours.effort));
    case PlanLoss::stability:
      return two("{} gives way at {}, this one at {}.", slope(theirs), slope(ours), " is hardly less stable.");
    case PlanLoss::slip:
      if (theirs.cannot_pull) return name + " cannot pull what the job asks for.";
      return two("{} slips {}, this one {}.", slip(theirs), slip(ours), " slips hardly more.");
    case PlanLoss::fuel:
      return two("{} takes {} a year, this one {}.", fuel(theirs), fuel(ours), " takes hardly more fuel.");
    case PlanLoss::soil:
      return two("{} puts {} on the soil 30 cm deep, this one {}.", soil(theirs), soil(ours),
                 " puts hardly more on the soil.");
    case PlanLoss::cost:
      return theirs.cost
                 ? fmt::format("{} costs {:.0f} EUR, this one {:.0f} EUR.", name, *theirs.cost, ours.cost.value_or(0))
                 : fmt::format("{} has no price.", name);
    case PlanLoss::alike:
      return fmt::format("{} is as good by every measure here.", name);
  }
  return "";
}

std::vector<std::string> why_words(const Plan& plan, const ChosenPlan& one, Units units) {
  std::vector<std::string> out;
  if (!one.reasons.empty())
    out.push_back(capital(reasons_words(one)) + ".");
  else
    out.push_back("No other plan is better in one thing without being worse in another.");
  std::string bars;
  for (const Barrier& bar : one.barriers) bars += (bars.empty() ? "" : "; ") + barrier_words(bar, plan);
  if (!bars.empty()) out.push_back("It does not meet: " + bars + ".");
  if (const std::string rival = rival_words(plan, one, units); !rival.empty()) out.push_back("Next: " + rival);
  for (std::string& sentence : out) sentence = read_in(sentence, units);
  return out;
}

std::vector<AskedLine> asked_of(const Plan& plan, const ChosenPlan& one, Units units) {
  std::vector<AskedLine> out;
  const PlanMeasures& m = one.measures;
  const auto add_line = [&](PlanBar what, AskedState state, std::string there) {
    out.push_back({what, state, read_in(barrier_words({what, {}}, plan), units), std::move(there)});
  };
  const auto bars = [&](PlanBar what) {
    return std::ranges::find(one.barriers, what, &Barrier::what) != one.barriers.end();
  };
  if (plan.slope > 0 || plan.question.left > 0) {
    const double asked = plan.slope + plan.question.left;
    std::string there = column_words(PlanColumn::gives_way, m, units);
    if (one.range) there += ", " + range_words(one.range, units);
    add_line(PlanBar::slope,
             m.stand.lost                          ? AskedState::not_known
             : bars(PlanBar::slope)                ? AskedState::not_met
             : m.stand.gives_way && !one.range     ? AskedState::not_known
             : one.range && one.range->low < asked ? AskedState::may_not_hold
                                                   : AskedState::met,
             std::move(there));
  }
  if (plan.ground.scene.job.pull > 0)
    add_line(PlanBar::pull, m.cannot_pull ? AskedState::not_met : m.slip ? AskedState::met : AskedState::not_known, "");
  if (plan.question.slip)
    add_line(PlanBar::slip,
             bars(PlanBar::slip) || m.cannot_pull ? AskedState::not_met
             : m.slip                             ? AskedState::met
                                                  : AskedState::not_known,
             column_words(PlanColumn::slip, m, units));
  return out;
}

std::string count_words(const Plan& plan) {
  return fmt::format(
      "{} set-up{} worth choosing from. Plans looked at: {}; of these at most {} break no limit of their own{}.",
      plan.chosen.size(), plan.chosen.size() == 1 ? "" : "s", plan.looked_at, plan.possible,
      plan.slope > 0 ? " and stand on the job's slope" : "");
}

const char* const kPlanEstimates =
    "Slip, fuel and stress in the soil follow from published equations, effort from our own estimates; none of them is "
    "measured on this machine. The slope is of even ground, standing still: a bump, a hole, a bend or a raised load "
    "takes more. Headings were looked at every 10 degrees, where the job goes any way.";

Scene planned_scene(const Scene& asked, const Plan& plan, const ChosenPlan& one) {
  Scene out = scene_of(asked, plan.ground.space, one.choice);
  out.note = "Planned: " + plan_name(plan.ground, one.choice, one.measures) + ".";
  out.expect.clear();
  return out;
}

Scene plan_file_scene(const Scene& asked, const Plan& plan, const ChosenPlan& one, const std::string& day) {
  Scene out = planned_scene(asked, plan, one);
  out.plan.name = plan_name(plan.ground, one.choice, one.measures);
  out.plan.made = day;
  out.plan.machine_mark = machine_mark(out);
  out.plan.before = differences(asked, out);
  out.plan.log.clear();
  return out;
}

std::string effort_words(double seconds) {
  const int minutes = 5 * static_cast<int>(std::ceil(seconds / 300 - 1e-9));
  if (minutes == 0) return "nothing";
  if (minutes < 60) return fmt::format("{} min", minutes);
  return minutes % 60 == 0 ? fmt::format("{} h", minutes / 60) : fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

std::vector<std::string> plan_head(const Plan& plan, Units units) {
  std::vector<std::string> out;
  const ChosenPlan& first = plan.chosen.front();
  if (plan.stopped)
    out.push_back(fmt::format("STOPPED: {} of {} were looked at; a better one may be among the others.", plan.looked_at,
                              plans(plan.ground.space.size())));
  const bool none = plan.possible == 0;
  if (none) out.push_back(nothing_does_it(plan));
  if (!none && !plan.holds)
    out.push_back(fmt::format("MAY NOT HOLD: no plan looked at is sure to stand on the job's {}{}.",
                              degrees_and_percent(plan.slope),
                              plan.question.left > 0 ? fmt::format(" with {} left", degrees(plan.question.left)) : ""));
  if (const std::string rules = rules_of(plan.incurable, plan); !rules.empty())
    out.push_back("LIMIT NOT MET, whatever is filled in or hung on: " + rules + ".");
  out.push_back(fmt::format("{}: {}. {}",
                            none         ? "Nearest to it"
                            : plan.holds ? "Choose"
                                         : "Most stable of those that break no limit that is known",
                            plan_name(plan.ground, first.choice, first.measures), standing(plan, first)));
  if (const std::string broken = none ? list_of(first.measures.broken, first.scene.ballast) : ""; !broken.empty())
    out.push_back("It breaks: " + broken + ".");
  if (first.measures.not_known.any())
    out.push_back("NOT KNOWN whether it keeps these limits: " + list_of(first.measures.not_known, first.scene.ballast) +
                  ". Look them up before you rely on it.");
  if (!(first.choice == PlanChoice{}))
    for (const ChosenPlan& one : plan.chosen)
      if (one.choice == PlanChoice{}) {
        const std::string broken = list_of(one.measures.broken, one.scene.ballast);
        out.push_back((broken.empty() ? "As it is: " : "As it is it BREAKS A LIMIT (" + broken + "). ") +
                      standing(plan, one));
      }
  if (std::string words = without_implement(plan.ground.scene, true); !words.empty()) out.push_back(std::move(words));
  out.push_back(grip_sentence(plan.ground.scene));
  if (first.measures.missed.any())
    out.push_back(
        "It misses these targets of tables and practice: " + list_of(first.measures.missed, first.scene.ballast) + ".");
  const auto kept = [&](PlanLimit limit) { return plan.ground.space.limits[static_cast<std::size_t>(limit)]; };
  if (kept(PlanLimit::nothing_on_hand))
    out.push_back(
        "The job lists nothing on hand: only emptying, taking off and pressure were looked at. List what you have or "
        "can buy as [[job.medium]], [[job.weight]] and [[job.wheels]].");
  if (kept(PlanLimit::liquid_not_permitted))
    out.push_back("Liquid was left out: the makers of tyre and rim do not permit it.");
  if (kept(PlanLimit::no_place))
    out.push_back(fmt::format("Left out, because this machine has no place for it or it is too heavy there: {}.",
                              left_out_words(plan.ground)));
  if (kept(PlanLimit::too_little_liquid))
    out.push_back("Of some liquid there is too little for the smallest filling of an axle.");
  if (kept(PlanLimit::wheels_do_not_fit))
    out.push_back(
        "Some wheels on hand were left out: dual wheels need a single tyre and more room between them than its width, "
        "other tyres less width than the track and a radius within 3 % of today's.");
  if (kept(PlanLimit::thinned))
    out.push_back("There are more plans than can be looked at: some steps between were left out.");
  for (std::string& line : out) line = read_in(line, units);
  return out;
}

}  // namespace sidehill::text
