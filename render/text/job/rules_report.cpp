#include "render/text/job/rules_report.h"

#include <fmt/format.h>

#include <algorithm>

#include "render/text/job/job_slope_words.h"
#include "render/text/job/rule_words.h"
#include "render/text/job/work_report.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/insight/job_slope.h"
#include "sim/model/fill_frost.h"
#include "sim/scene/scene.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kWhatRulesSay =
    "On level hard ground, rigid, everything as scene and job have it. A rule that is met makes no slope safe, and "
    "this "
    "is no statement of conformity: the maker's limits and the local rules decide.";
constexpr const char* kTrailerNotCounted =
    "Not counted: how the trailer pulls and pushes on a slope or under brakes. Its drawbar's load is.";
constexpr const char* kImplementNotCounted = "Not counted: what the implement pulls in work. Its mass as carried is.";

LoadCheck on_level(const RuleReport& report) {
  LoadCheck level = report.loads;
  level.level = true;
  return level;
}

std::vector<std::string> further_cautions_of(const Scene& scene, const Model& model, const RuleReport& report) {
  std::vector<std::string> all = unknown_ratings(on_level(report));
  all.insert(all.end(), model.cautions.begin(), model.cautions.end());
  all.emplace_back(kWhatRulesSay);
  if (scene.ballast.trailer.mass > 0) all.emplace_back(kTrailerNotCounted);
  if (scene.ballast.implement.mass > 0) all.emplace_back(kImplementNotCounted);
  all.emplace_back(kCautionLine);
  return all;
}

std::vector<std::string> all_cautions(const Scene& scene, const Model& model, const RuleReport& report) {
  std::vector<std::string> all = plan_cautions(scene);
  for (std::string& line : overload_warnings(on_level(report))) all.push_back(std::move(line));
  for (std::string& line : further_cautions_of(scene, model, report)) all.push_back(std::move(line));
  return all;
}

bool is_overload(RuleId id) { return id >= RuleId::front_axle && id <= RuleId::rear_tyres; }

// What is ice or carries too much, and which limits are not met, before the table of all of them. What axles and tyres
// carry is among the overloads already; a target is no fault.
std::string what_is_wrong(const Scene& scene, const Model& model, const RuleReport& report, Units units) {
  std::string text;
  for (const std::string& words : plan_cautions(scene)) text += paragraph("! ", words);
  if (std::ranges::any_of(model.wheels, &WheelModel::ice))
    text += "FROZEN, DO NOT DRIVE: what is in the tyres is ice.\n";
  if (frost_not_known(scene))
    text += "NOT KNOWN WHETHER IT FREEZES: nothing says when what is in the tyres turns to ice.\n";
  for (const std::string& words : overload_warnings(on_level(report))) text += paragraph("! ", read_in(words, units));
  for (const RuleAnswer& rule : worst_first(report.rules))
    if (rule.state == RuleState::not_met && rule.limit && !is_overload(rule.id))
      text += paragraph("Not met: ",
                        fmt::format("{} (asked {}, there {})", read_in(rule_words(rule.id, scene.ballast), units),
                                    asked_words(rule, units), there_words(rule, units)));
  return text;
}

// Whether it stands on the job's slope, then whether ballast has a say in that.
std::string slope_words(const JobSlope& job, const Scene& scene) {
  std::string words = stands_on_job(job.slope, job.as_is, job.range);
  if (const auto left = left_on_job(job.slope, job.as_is)) {
    const auto at = [](const std::optional<EnvelopePoint>& point) {
      return degrees_and_percent(point ? point->gives_way() : std::nullopt);
    };
    words += fmt::format(
        " With no ballast at all it gives way at {}, with both rear tyres three quarters full of brine "
        "at {}",
        at(job.bare), at(job.filled));
    if (job.whatever_the_ballast())
      words += *left < 0 ? ": ballast is not the answer, a grippier ground or a flatter way is"
                         : ": ballast does not change that";
    words += ".";
  }
  if (job.lost > 0) words += fmt::format(" At {} of its headings no balance was found.", job.lost);
  words += " Even ground, standing still. ";
  if (const std::string without = without_implement(scene, true); !without.empty()) words += without + " ";
  return words + grip_sentence(scene);
}

nlohmann::ordered_json slope_json(const JobSlope& job) {
  const auto at = [](const std::optional<EnvelopePoint>& point) {
    return number_or_null(point ? point->gives_way() : std::nullopt, kDegree);
  };
  return {{"slope_deg", job.slope / kDegree},
          {"stands", job.stands()},
          {"gives_way_deg", at(job.as_is)},
          {"gives_way_low_deg", number_or_null(job.range ? std::optional(job.range->low) : std::nullopt, kDegree)},
          {"gives_way_high_deg",
           number_or_null(job.range && !job.range->open ? std::optional(job.range->high) : std::nullopt, kDegree)},
          {"heading_deg", job.as_is ? Json(job.as_is->heading / kDegree) : Json()},
          {"without_ballast_deg", at(job.bare)},
          {"with_rear_brine_deg", at(job.filled)},
          {"ballast_is_no_answer", job.whatever_the_ballast()},
          {"headings_without_answer", job.lost}};
}

// On the level: as the comparison of set-ups has it, and where they differ as the rules have it with what the job hangs
// on, and as the tables mean it.
std::string front_share_words(const Model& model, const RuleReport& report) {
  const auto share = [](const AxleShare& axles) { return percent(axles.front / (axles.front + axles.rear)); };
  const std::string here = share(axle_share(model)), job = share(report.axles), tractor = share(report.tractor);
  std::string words = fmt::format("Front axle's share on the level: {} as the scene loads it", here);
  if (job != here) words += fmt::format(", {} with the job's implement", job);
  if (tractor != here) words += fmt::format(", {} of the tractor with its ballast, no load and no implement", tractor);
  return words + ".";
}

std::string row_words(const RuleAnswer& rule, const Scene& scene, Units units) {
  const std::string key = missing_key(rule);
  if (rule.state == RuleState::not_known && !key.empty())
    return fmt::format("look it up: {}; there {}  ({})", key, there_words(rule, units), rule.source);
  std::string words = fmt::format("asked {}, there {}", asked_words(rule, units), there_words(rule, units));
  if (const std::string margin = margin_words(rule, units); !margin.empty()) words += ", " + margin;
  if (!rule.when.empty()) words += fmt::format("; {}", rule.when);
  words += fmt::format("  ({}: {})", kind_words(rule.kind), rule.source);
  if (const std::string cure = cure_words(rule, scene, units); !cure.empty()) words += ". What helps: " + cure + ".";
  return words;
}

}  // namespace

Json rules_json(const RuleReport& report, const Scene& scene) {
  Json list = Json::array();
  for (const RuleAnswer& rule : worst_first(report.rules)) {
    const bool weights = rule.cure == Cure::front_weights || rule.cure == Cure::rear_weights;
    const std::optional<double> margin = margin_of(rule);
    list.push_back(
        {{"id", rule_key(rule.id)},
         {"rule", rule_words(rule.id, scene.ballast)},
         {"when", rule.when},
         {"asked", asked_words(rule, Units::si)},
         {"there", there_words(rule, Units::si)},
         {"margin", margin && rule.unit != RuleUnit::yes_no ? Json(margin_words(rule, Units::si)) : Json()},
         {"state", rule.state == RuleState::met       ? "met"
                   : rule.state == RuleState::not_met ? "not_met"
                                                      : "not_known"},
         {"met", rule.state == RuleState::not_known ? Json() : Json(rule.state == RuleState::met)},
         {"limit", rule.limit},
         {"cure", cure_words(rule, scene, Units::si)},
         {"lacking_kg", weights && rule.amount > 0 ? Json(rule.amount) : Json()},
         {"on_mount", weights && rule.amount > 0 ? Json(rule.cure == Cure::front_weights ? "front" : "rear") : Json()},
         {"kind", kind_words(rule.kind)},
         {"source", rule.source}});
  }
  return list;
}

Json ballast_json(const Scene& scene, const Model& model) {
  const RuleReport report = rules_on(scene, model);
  const std::optional<JobSlope> slope = slope_of_job(scene, model);
  return {{"program", "sidehill " SIDEHILL_VERSION},
          {"title", scene.title},
          {"vehicle", scene.vehicle.name},
          {"job", job_words(scene.job, Units::si)},
          {"total_mass_kg", total_mass(model)},
          {"on_axles_level_kg", {report.axles.front, report.axles.rear}},
          {"breaks_limit", breaks_limit(report)},
          {"job_slope", slope ? slope_json(*slope) : Json()},
          {"rules", rules_json(report, scene)},
          {"work", scene.job.work == Work::none ? Json() : work_json(at_work(scene, model, report))},
          {"soil", scene.job.work == Work::none ? Json() : soil_json(soil_under(scene, model, report))},
          {"cautions", all_cautions(scene, model, report)}};
}

std::string ballast_table(const Scene& scene, const Model& model, Units units) {
  const RuleReport report = rules_on(scene, model);
  const auto mass = [&](double kg) { return shown(Quantity::mass, kg, units); };
  std::string text = what_is_wrong(scene, model, report, units);
  const std::optional<JobSlope> slope = slope_of_job(scene, model);
  if (slope && !slope->stands()) text = paragraph("! ", read_in(slope_words(*slope, scene), units)) + text;
  const WorkAnswer work = at_work(scene, model, report);
  for (const std::string& words : work_warnings(work, scene, units)) text += paragraph("! ", words);
  if (slope && slope->stands())
    text += paragraph("", read_in(slope_words(*slope, scene), units));  // good news stands below the bad
  if (!text.empty()) text += "\n";
  if (!scene.title.empty()) text += read_in(scene.title, units) + "\n";
  if (const std::string job = job_words(scene.job, units); !job.empty()) text += paragraph("Job: ", job);
  text += fmt::format("{}: {}, on the level {} on the front axle and {} on the rear{}\n\n",
                      read_in(scene.vehicle.name, units), mass(report.axles.front + report.axles.rear),
                      mass(report.axles.front), mass(report.axles.rear),
                      scene.job.implement_mass > 0 ? ", with the job's implement" : "");
  text.pop_back();
  text += paragraph("", front_share_words(model, report)) + "\n";
  const std::vector<RuleAnswer> rules = worst_first(report.rules);
  for (std::size_t i = 0; i < rules.size(); ++i) {
    const RuleAnswer& rule = rules[i];
    const std::string state = rule.limit || rule.state != RuleState::not_met ? state_words(rule.state) : "off target";
    if (i == 0 || rules[i - 1].id != rule.id)
      text += fmt::format("  {}\n", read_in(rule_words(rule.id, scene.ballast), units));
    text += paragraph(fmt::format("    {:10} ", state), read_in(row_words(rule, scene, units), units));
  }
  if (scene.job.work != Work::none) text += "\n" + work_table(work, soil_under(scene, model, report), scene, units);
  text += "\n";
  for (const std::string& caution : further_cautions_of(scene, model, report))
    text += paragraph("  ! ", read_in(caution, units));
  return text;
}

}  // namespace sidehill::text
