#include "render/text/job/report_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "render/text/job/job_slope_words.h"
#include "render/text/job/report_inputs.h"
#include "render/text/job/rule_words.h"
#include "render/text/job/rules_report.h"
#include "render/text/motion/outcome_words.h"
#include "render/text/motion/run_report.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/doubt_report.h"
#include "render/text/rest/loader_report.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/scene/scene_fields.h"

namespace sidehill::text {
namespace {

using ReportJson = nlohmann::ordered_json;

// What to do about what is not known of it; empty where it needs nothing.
std::string look_up_words(const RuleAnswer& rule) {
  if (rule.id == RuleId::liquid_permitted) return "ask them";
  if (rule.id == RuleId::tube) return "look whether there are tubes";
  const std::string key = missing_key(rule);
  return key.empty() ? "" : "look up " + plain_name(key);
}

std::string rule_bar(const RuleAnswer& rule, const Scene& scene) {
  const std::string words = capital(rule_words(rule.id, scene.ballast));
  if (rule.state == RuleState::not_met)
    return fmt::format("LIMIT BROKEN: {}: asked {}, there {}.", words, asked_words(rule, Units::si),
                       there_words(rule, Units::si));
  const std::string look_up = look_up_words(rule);
  return fmt::format("NOT KNOWN: {}{}.", words, look_up.empty() ? "" : ": " + look_up);
}

std::string bar_sentence(const SignBar& bar, const Answer& answer, const ReportFacts& facts) {
  const Scene& scene = answer.scene;
  switch (bar.kind) {
    case BarKind::other_machine:
      return other_machine_caution(scene);
    case BarKind::cause:
      return cause_words(bar.cause, verdict_on(answer), scene, answer.statics);
    case BarKind::run:
      return "When it moves: " + outcome_line(scene, *facts.run) + ".";
    case BarKind::other_heading:
      return turned_sentence(answer.by_heading, answer.statics, scene.terrain.slope);
    case BarKind::without_implement:
      return without_implement(scene, true);
    case BarKind::job_slope:
      return job_slope_words(*facts.job_slope);
    case BarKind::limit_broken:
    case BarKind::limit_unknown:
      return rule_bar(bar.rule, scene);
    case BarKind::typical_rating:
      return fmt::format("NOT KNOWN: the {} tyres' rating is what is typical of their size; read it from the sidewall.",
                         bar.axle == 0 ? "front" : "rear");
    case BarKind::not_measured:
      return "NOT MEASURED: of no number of this machine the files say how well it is known. They are numbers of a "
             "class; enter what a weighbridge and a tape measure show.";
  }
  return {};
}

constexpr const char* bar_key(BarKind kind) {
  constexpr const char* kKeys[] = {"other_machine",     "verdict",     "run",          "other_heading",
                                   "without_implement", "job_slope",   "limit_broken", "limit_unknown",
                                   "typical_rating",    "not_measured"};
  static_assert(std::size(kKeys) == count_of<BarKind>());
  return kKeys[static_cast<int>(kind)];
}

std::string state_cell(const RuleAnswer& rule, Units units) {
  const std::string state = rule.limit || rule.state != RuleState::not_met ? state_words(rule.state) : "off target";
  const std::string margin = margin_words(rule, units);
  return margin.empty() ? state : state + ": " + margin;
}

}  // namespace

std::vector<std::string> bar_words(const Answer& answer, const ReportFacts& facts) {
  std::vector<std::string> out;
  for (const SignBar& bar : facts.bars) out.push_back(bar_sentence(bar, answer, facts));
  return out;
}

std::string bars_line(const Answer& answer, const ReportFacts& facts, Units units) {
  if (facts.bars.empty()) return {};
  std::string words = "Not to be signed: " + read_in(bar_sentence(facts.bars.front(), answer, facts), units);
  const std::size_t more = facts.bars.size() - 1;
  if (more > 0)
    words += fmt::format(" The report names {} more.", more == 1 ? "1 reason" : fmt::format("{} reasons", more));
  return words;
}

std::vector<std::vector<std::string>> rule_rows(const ReportFacts& facts, const Scene& scene, Units units) {
  std::vector<std::vector<std::string>> rows{{"rule", "asked", "there", "state", "asked by"}};
  for (const RuleAnswer& rule : worst_first(facts.rules.rules)) {
    std::string words = capital(rule_words(rule.id, scene.ballast));
    if (!rule.when.empty()) words += fmt::format(" ({})", rule.when);
    const std::string look_up = rule.state == RuleState::not_known ? look_up_words(rule) : "";
    rows.push_back({read_in(words, units), look_up.empty() ? asked_words(rule, units) : look_up,
                    there_words(rule, units), state_cell(rule, units),
                    fmt::format("{}{}", rule.limit ? "" : "target, ", kind_words(rule.kind))});
  }
  return rows;
}

std::vector<std::vector<std::string>> loader_rows(const ReportFacts& facts, Units units) {
  std::vector<std::vector<std::string>> rows{
      {"bucket pin", "load", "lifts here", "slides here", "lifts, worst heading", "front axle", "rear axle", ""}};
  for (const LoaderCell& cell : facts.loader)
    rows.push_back({shown(Quantity::length, cell.pin_height, units), shown(Quantity::mass, cell.payload, units),
                    degrees_and_percent(cell.first_lift_off),
                    !cell.slide && cell.first_lift_off ? "lifts first" : degrees_and_percent(cell.slide),
                    degrees_and_percent(cell.worst_lift_off),
                    cell.front_axle_used > 0 ? percent(cell.front_axle_used) : "not known",
                    cell.rear_axle > 0 ? shown(Quantity::mass, cell.rear_axle, units) : "TIPS",
                    load_allowed(cell) ? "" : "TOO MUCH"});
  return rows;
}

std::vector<std::string> moving_words(const Answer& answer, const ReportFacts& facts) {
  std::vector<std::string> out;
  if (!facts.moves) return out;
  if (!facts.run) return {"It moves in this scene; what it does then was not worked out for this page."};
  const Recording& run = *facts.run;
  out.push_back(outcome_line(answer.scene, run) + ".");
  constexpr std::size_t kMostEvents = 8;
  std::string events;
  std::size_t said = 0, more = 0;
  for (const Event& event : run.events) {
    if (event.kind == EventKind::settled) continue;
    if (said == kMostEvents) {
      ++more;
      continue;
    }
    events += fmt::format("{}{:.2f} s: {}", said++ > 0 ? "; " : "", event.time, event_words(event));
  }
  if (more > 0) events += fmt::format("; and {} more", more);
  out.push_back(events.empty() ? "Nothing happens on the way." : "What happens: " + events + ".");
  out.push_back(
      "One run of one machine over one ground: a little faster, another line or another load may end otherwise.");
  return out;
}

ReportJson report_json(const Answer& answer, const ReportFacts& facts) {
  const Scene& scene = answer.scene;
  const PageRecord& record = scene.record;
  const auto word = [](const std::string& text) { return text.empty() ? ReportJson(nullptr) : ReportJson(text); };
  ReportJson out;
  out["record"] = {{"machine_number", word(record.machine_number)},
                   {"owner", word(record.owner)},
                   {"place", word(record.place)},
                   {"asked_by", word(record.asked_by)},
                   {"date", word(record.date)}};
  out["may_be_signed"] = facts.bars.empty();
  out["not_to_be_signed"] = ReportJson::array();
  const std::vector<std::string> words = bar_words(answer, facts);
  for (std::size_t i = 0; i < words.size(); ++i)
    out["not_to_be_signed"].push_back(
        {{"kind", bar_key(facts.bars[i].kind)},
         {"rule", facts.bars[i].kind == BarKind::limit_broken || facts.bars[i].kind == BarKind::limit_unknown
                      ? ReportJson(rule_key(facts.bars[i].rule.id))
                      : ReportJson(nullptr)},
         {"words", words[i]}});
  out["answer"] = facts.run ? to_json(answer, *facts.run) : to_json(answer);
  out["rules"] = rules_json(facts.rules, scene);
  out["job_slope"] =
      facts.job_slope
          ? ReportJson{{"slope_deg", facts.job_slope->slope / kDegree},
                       {"stands", facts.job_slope->stands()},
                       {"gives_way_deg",
                        number_or_null(facts.job_slope->as_is ? facts.job_slope->as_is->gives_way() : std::nullopt,
                                       kDegree)}}
          : ReportJson(nullptr);
  out["loader"] = facts.loader.empty() ? ReportJson(nullptr) : loader_json(scene, facts.loader)["cells"];
  out["moves"] = facts.moves;
  out["moving"] = moving_words(answer, facts);
  out["inputs"] = ReportJson::array();
  constexpr const char* kBy[] = {"not_asked", "file", "estimate"};
  for (const InputRow& row : input_rows(scene, Units::si))
    out["inputs"].push_back({{"key", row.key},
                             {"name", row.name},
                             {"value", row.value},
                             {"known", word(row.known)},
                             {"known_by", kBy[static_cast<int>(row.by)]}});
  return out;
}

}  // namespace sidehill::text
