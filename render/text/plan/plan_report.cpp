#include "render/text/plan/plan_report.h"

#include <fmt/format.h>

#include "render/text/job/rule_words.h"
#include "render/text/plan/plan_columns.h"
#include "render/text/plan/plan_words.h"
#include "render/text/words/columns.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

std::string table(const Plan& plan, Units units) {
  std::vector<std::vector<std::string>> rows{{""}};
  for (std::size_t k = 0; k < kPlanColumns; ++k) {
    rows.front().emplace_back(column_names(static_cast<PlanColumn>(k)).head);
    if (k == 0) rows.front().emplace_back("(19 of 20)");
  }
  int n = 0;
  for (const ChosenPlan& one : plan.chosen) {
    std::vector<std::string>& row = rows.emplace_back();
    row.push_back(fmt::format("{}", ++n));
    for (std::size_t k = 0; k < kPlanColumns; ++k) {
      row.push_back(column_words(static_cast<PlanColumn>(k), one.measures, units));
      if (k == 0) row.push_back(range_words(one.range, units));
    }
  }
  return lines_of_cells("  ", {{3, false}, {16}, {16}, {10}, {10}, {11}, {11}, {9}, {11}}, rows);
}

Json keys_of(const std::bitset<kRuleIds>& rules) {
  Json out = Json::array();
  for (std::size_t i = 0; i < kRuleIds; ++i)
    if (rules.test(i)) out.push_back(rule_key(static_cast<RuleId>(i)));
  return out;
}

std::string key_of(const Barrier& barrier) {
  return barrier.what == PlanBar::rule ? rule_key(barrier.rule) : barrier_key(barrier.what);
}

template <class T>
Json or_null(const std::optional<T>& value, double factor) {
  return value ? Json(*value * factor) : Json(nullptr);
}

void add_measures(Json& out, const PlanMeasures& m) {
  out["gives_way_deg"] = m.stand.lost ? Json(nullptr) : or_null(m.stand.gives_way, 1 / kDegree);
  out["gives_way_known"] = !m.stand.lost;
  out["by"] = !m.stand.gives_way ? Json(nullptr) : Json(m.stand.by_slide ? "slide" : "lift_off");
  out["heading_deg"] = m.stand.heading / kDegree;
  out["drained_before_frost"] = m.drained;
  out["worse_drained"] = m.worse_drained;
  out["ballast_kg"] = m.ballast;
  out["total_mass_kg"] = m.mass;
  out["slip"] = or_null(m.slip, 1);
  out["cannot_pull"] = m.cannot_pull;
  out["fuel_l_per_year"] = or_null(m.fuel, 1);
  out["stress_30_cm_kpa"] = or_null(m.soil, 1e-3);
  out["cost_eur"] = or_null(m.cost, 1);
  out["effort_min"] = m.effort / 60;
  out["limits_broken"] = keys_of(m.broken);
  out["limits_not_known"] = keys_of(m.not_known);
  out["targets_missed"] = keys_of(m.missed);
}

}  // namespace

std::string plan_table(const Plan& plan, Units units) {
  std::string text;
  for (const std::string& line : plan_head(plan, units)) text += paragraph("", line);
  text += "\n" + count_words(plan) + "\n";
  text += table(plan, units) + "\n";
  int n = 0;
  for (const ChosenPlan& one : plan.chosen) {
    text +=
        paragraph("  ", read_in(fmt::format("{}  {}", ++n, plan_name(plan.ground, one.choice, one.measures)), units));
    std::string why;
    for (const std::string& sentence : why_words(plan, one, units)) why += (why.empty() ? "" : " ") + sentence;
    text += paragraph("     ", why);
  }
  text += "\n" + paragraph("", read_in(kPlanEstimates, units));
  text += paragraph("", read_in(kCautionLine, units));
  return text;
}

Json plan_json(const Plan& plan) {
  Json out;
  out["aim"] = kPlanAims[static_cast<std::size_t>(plan.question.aim)].key;
  out["left_asked_deg"] = plan.question.left / kDegree;
  out["slip_asked"] = or_null(plan.question.slip, 1);
  out["job_slope_deg"] = plan.slope / kDegree;
  out["plans_looked_at"] = plan.looked_at;
  out["plans_possible"] = plan.possible;
  out["plans_on_front"] = plan.front;
  out["stopped"] = plan.stopped;
  out["verdict"] = plan.possible == 0 ? "nothing_possible" : plan.holds ? "holds" : "may_not_hold";
  out["best_gives_way_deg"] = plan.best_gives_way > 0 ? Json(plan.best_gives_way / kDegree) : Json(nullptr);
  out["bars_every_plan"] = Json::array();
  for (const Barrier& bar : plan.incurable) out["bars_every_plan"].push_back(key_of(bar));
  out["loosen"] = plan.loosen ? Json(key_of(*plan.loosen)) : Json(nullptr);
  out["loosen_frees_plans"] = plan.loosened;
  out["set_ups"] = Json::array();
  for (const ChosenPlan& one : plan.chosen) {
    Json set_up;
    set_up["name"] = plan_name(plan.ground, one.choice, one.measures);
    set_up["set"] = plan_changes(plan.ground, one.choice);
    set_up["reasons"] = Json::array();
    for (const PlanReason reason : one.reasons) set_up["reasons"].push_back(reason_key(reason));
    add_measures(set_up, one.measures);
    set_up["gives_way_low_deg"] = one.range ? Json(one.range->low / kDegree) : Json(nullptr);
    set_up["gives_way_high_deg"] = one.range && !one.range->open ? Json(one.range->high / kDegree) : Json(nullptr);
    set_up["bars"] = Json::array();
    for (const Barrier& bar : one.barriers) set_up["bars"].push_back(key_of(bar));
    if (one.rival) {
      Json rival;
      rival["name"] = plan_name(plan.ground, *one.rival, one.rival_measures);
      rival["lost_by"] = loss_key(one.rival_lost);
      add_measures(rival, one.rival_measures);
      set_up["rival"] = rival;
    } else {
      set_up["rival"] = nullptr;
    }
    out["set_ups"].push_back(set_up);
  }
  return out;
}

}  // namespace sidehill::text
