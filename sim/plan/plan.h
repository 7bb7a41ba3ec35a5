// The search: every way to ballast a machine for its job with what is on hand, the few worth choosing, why each stays
// and why its nearest rival lost. Knows no words, no file, no terminal.
#pragma once
#include <atomic>
#include <optional>
#include <stop_token>
#include <vector>

#include "sim/insight/uncertainty.h"
#include "sim/plan/plan_front.h"
#include "sim/plan/plan_measures.h"

namespace sidehill {

// What decides between plans that hold.
enum class PlanAim {
  balanced,  // fewest targets missed, then least ballast, then least effort
  cheapest,
  lightest,
  most_stable,
  least_slip,
  least_fuel,
  least_soil,
  least_effort,
};
inline constexpr std::array kPlanAims{
    KeyOf<PlanAim>{PlanAim::balanced, "balanced"},     KeyOf<PlanAim>{PlanAim::cheapest, "cheapest"},
    KeyOf<PlanAim>{PlanAim::lightest, "lightest"},     KeyOf<PlanAim>{PlanAim::most_stable, "most_stable"},
    KeyOf<PlanAim>{PlanAim::least_slip, "least_slip"}, KeyOf<PlanAim>{PlanAim::least_fuel, "least_fuel"},
    KeyOf<PlanAim>{PlanAim::least_soil, "least_soil"}, KeyOf<PlanAim>{PlanAim::least_effort, "least_effort"},
};
static_assert(is_whole(kPlanAims, &KeyOf<PlanAim>::value));

struct PlanQuestion {
  PlanAim aim = PlanAim::balanced;
  double left = 0;             // to keep on the job's slope [rad]
  std::optional<double> slip;  // the most slip at work [-]
  friend bool operator==(const PlanQuestion&, const PlanQuestion&) = default;
};

// How far the search has come, for another thread.
struct PlanProgress {
  std::atomic<std::size_t> done{0}, of{0};
};

// Beside a limit that is broken, what may keep a plan out.
enum class PlanBar { rule, slope, slip, pull };

struct Barrier {
  PlanBar what = PlanBar::slope;
  RuleId rule = RuleId::both_axles;  // of PlanBar::rule
  friend bool operator==(const Barrier&, const Barrier&) = default;
};

// Why a plan is among the few.
enum class PlanReason { chosen, as_it_is, most_stable, least_slip, least_fuel, least_soil, cheapest, least_effort };
inline constexpr std::size_t kPlanReasons = count_of<PlanReason>();

// At which comparison the rival fell behind.
enum class PlanLoss { does_not_hold, targets, ballast, effort, stability, slip, fuel, soil, cost, alike };

struct ChosenPlan {
  PlanChoice choice{};
  Scene scene;
  PlanMeasures measures;            // at all headings of the job
  std::optional<Interval> range;    // of measures.stand, nineteen times in twenty; none: nothing gives way
  std::vector<Barrier> barriers;    // what it breaks; none = it may be chosen
  std::vector<PlanReason> reasons;  // at least one
  // The next best by its first reason.
  std::optional<PlanChoice> rival;
  PlanMeasures rival_measures;
  PlanLoss rival_lost = PlanLoss::alike;
};

// A plan that none beats in everything.
struct FrontPlan {
  PlanChoice choice{};
  PlanMeasures measures;  // at all headings of the job, unless the search was stopped
};

struct Plan {
  PlanQuestion question;
  double slope = 0;  // the job's steepest [rad]
  PlanGround ground;
  std::size_t looked_at = 0;  // plans that are machines and in stock
  std::size_t possible = 0;   // of those, that nothing bars; at most: only those of the front are looked at closely
  std::size_t front = 0;      // of those, that none beats in everything
  std::vector<FrontPlan> on_front;  // these, in the order of the space
  bool stopped = false;             // not all were looked at
  std::vector<ChosenPlan> chosen;   // the best first, at most seven; the machine as it is among them
  bool holds = false;               // the first is barred by nothing, and stands at the low end of its interval as well
  std::vector<Barrier> incurable;   // limits that every plan breaks
  // Where nothing is possible: what alone bars the most plans, and how many.
  std::optional<Barrier> loosen;
  std::size_t loosened = 0;
  // The greatest slope at which a plan gives way that breaks no limit, those of `incurable` apart [rad]; 0 = none does
  // so.
  double best_gives_way = 0;
};

inline constexpr std::size_t kMostChosen = 7;

// On all cores, some seconds at most. Once `stop` is requested it comes back soon with what was found so far, the
// machine as it is at least. Throws InputError for an impossible machine, and for a question that its job cannot answer
// (no job; slip without a pull; cheapest without prices).
Plan make_plan(const Scene& scene, const PlanQuestion& question, const std::stop_token& stop = {},
               PlanProgress* progress = nullptr);

// A plan of the front as one of the few, without reason, rival and interval. No time at all.
ChosenPlan chosen_from(const Plan& plan, const FrontPlan& one);

// Where the slope at which it gives way lies nineteen times in twenty [rad], of it drained where that decides; none:
// nothing gives way. See range_at: 0.1 to 0.3 s.
std::optional<Interval> range_of(const PlanGround& ground, const PlanChoice& choice, const PlanMeasures& measures,
                                 const std::stop_token& stop = {});

// What bars a plan of these measures; `incurable` bars count as well.
std::vector<Barrier> barriers_of(const PlanMeasures& measures, const PlanQuestion& question, double slope);

// By what plans are traded off, in steps that matter: 0.01 deg, 0.05 % slip, 1 L a year, 0.1 kPa, 1 EUR, 1 min.
PlanCosts costs_of(const PlanMeasures& measures);

}  // namespace sidehill
