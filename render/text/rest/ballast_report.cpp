#include "render/text/rest/ballast_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "render/text/rest/warnings.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/model/fill_frost.h"
#include "sim/rest/load_check.h"
#include "sim/rest/mass_sums.h"

namespace sidehill::text {
namespace {

const char* kind_words(RuleKind kind) {
  constexpr const char* kWords[] = {"law", "standard", "practice", "maker"};
  return kWords[static_cast<int>(kind)];
}

constexpr const char* kWhatSplitTells =
    "On level hard ground, rigid, everything as the scene has it. A rule that is met makes no slope safe, and this is "
    "no statement of conformity: the maker's limits and the local rules decide.";
constexpr const char* kTrailerNotCounted =
    "Not counted: how the trailer pulls and pushes on a slope or under brakes. Its drawbar's load is.";
constexpr const char* kImplementNotCounted = "Not counted: what the implement pulls in work. Its mass as carried is.";

const char* state_words(RuleState state) {
  constexpr const char* kWords[] = {"met", "NOT MET", "not known"};
  return kWords[static_cast<int>(state)];
}

// What would just meet the rule, and whether its mount takes it together with what hangs there.
std::string lacking_words(const RuleAnswer& a, const Scene& scene) {
  const Mount& mount = a.in_front ? scene.vehicle.front_mount : scene.vehicle.rear_mount;
  const double there = a.in_front ? scene.ballast.front_weights : scene.ballast.rear_weights;
  return fmt::format("{} more on the {} mount would just meet it{}", kilograms(std::ceil(a.lacking)),
                     a.in_front ? "front" : "rear",
                     a.lacking + there > mount.max_mass
                         ? fmt::format(", but it takes {} in all: take the load off", kilograms(mount.max_mass))
                         : "");
}

LoadCheck on_level(const Scene& scene, const Model& model) {
  LoadCheck level = check_loads(scene, model, level_loads(model));
  level.level = true;
  return level;
}

std::vector<std::string> further_cautions_of(const Scene& scene, const Model& model) {
  std::vector<std::string> all = unknown_ratings(on_level(scene, model));
  all.insert(all.end(), model.cautions.begin(), model.cautions.end());
  all.emplace_back(kWhatSplitTells);
  if (scene.ballast.trailer.mass > 0) all.emplace_back(kTrailerNotCounted);
  if (scene.ballast.implement.mass > 0) all.emplace_back(kImplementNotCounted);
  all.emplace_back(kCautionLine);
  return all;
}

std::vector<std::string> all_cautions(const Scene& scene, const Model& model) {
  std::vector<std::string> all = overload_warnings(on_level(scene, model));
  for (std::string& line : further_cautions_of(scene, model)) all.push_back(std::move(line));
  return all;
}

// What is ice or carries too much, and which rules are not met, before the table of all of them. What axles and
// tyres carry is among the overloads already; a target of practice is no fault.
std::string what_is_wrong(const Scene& scene, const Model& model, const std::vector<RuleAnswer>& rules) {
  std::string text;
  if (std::ranges::any_of(model.wheels, &WheelModel::ice))
    text += "FROZEN, DO NOT DRIVE: what is in the tyres is ice.\n";
  if (frost_not_known(scene))
    text += "NOT KNOWN WHETHER IT FREEZES: nothing says when what is in the tyres turns to ice.\n";
  for (const std::string& words : overload_warnings(on_level(scene, model))) text += paragraph("! ", words);
  for (const RuleAnswer& a : rules)
    if (a.state == RuleState::not_met && a.kind != RuleKind::practice &&
        a.rule.find("carries at most") == a.rule.npos && a.rule.find("carry at most") == a.rule.npos)
      text += paragraph("Not met: ", fmt::format("{} (asked {}, there {})", a.rule, a.asked, a.there));
  return text;
}

}  // namespace

nlohmann::ordered_json ballast_json(const Scene& scene, const Model& model) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const RuleAnswer& a : ballast_rules(scene, model))
    list.push_back(
        {{"rule", a.rule},
         {"asked", a.asked},
         {"there", a.there},
         {"met", a.state == RuleState::not_known ? nlohmann::ordered_json()
                                                 : nlohmann::ordered_json(a.state == RuleState::met)},
         {"lacking_kg", a.lacking > 0 ? nlohmann::ordered_json(a.lacking) : nlohmann::ordered_json()},
         {"on_mount", a.lacking > 0 ? nlohmann::ordered_json(a.in_front ? "front" : "rear") : nlohmann::ordered_json()},
         {"kind", kind_words(a.kind)},
         {"source", a.source}});
  const AxleShare axles = axle_share(model);
  return {{"program", "sidehill " SIDEHILL_VERSION},
          {"title", scene.title},
          {"vehicle", scene.vehicle.name},
          {"total_mass_kg", total_mass(model)},
          {"on_axles_level_kg", {axles.front, axles.rear}},
          {"rules", list},
          {"cautions", all_cautions(scene, model)}};
}

std::string ballast_table(const Scene& scene, const Model& model) {
  const AxleShare axles = axle_share(model);
  const std::vector<RuleAnswer> rules = ballast_rules(scene, model);
  std::string text = what_is_wrong(scene, model, rules);
  if (!text.empty()) text += "\n";
  if (!scene.title.empty()) text += scene.title + "\n";
  text += fmt::format("{}: {}, on the level {} on the front axle and {} on the rear\n\n", scene.vehicle.name,
                      kilograms(total_mass(model)), kilograms(axles.front), kilograms(axles.rear));
  for (const RuleAnswer& a : rules) {
    text += fmt::format("  {:9} {}\n            asked {}, there {}  ({}: {})\n", state_words(a.state), a.rule, a.asked,
                        a.there, kind_words(a.kind), a.source);
    if (a.lacking > 0) text += "            " + lacking_words(a, scene) + "\n";
  }
  text += "\n";
  for (const std::string& caution : further_cautions_of(scene, model)) text += paragraph("  ! ", caution);
  return text;
}

}  // namespace sidehill::text
