#include "render/text/rest/doubt_report.h"

#include <fmt/format.h>

#include <algorithm>

#include "render/text/rest/answer_json.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/base/plain_number.h"
#include "vehicles/loader_tool.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

Json pair(const Interval& interval, double unit) {
  return {number_or_null(interval.low, unit), interval.open ? Json() : number_or_null(interval.high, unit)};
}

Json pair(const std::optional<Interval>& interval, double unit) { return interval ? pair(*interval, unit) : Json(); }

}  // namespace

void add_intervals(Json& json, const Answer& answer) {
  json["intervals"] = nullptr;
  json["doubts"] = nullptr;
  if (!answer.uncertainty) return;
  const Uncertainty& u = *answer.uncertainty;
  Json loads = nullptr, centre = Json::array(), doubts = Json::array();
  if (answer.statics.rest) {
    loads = Json::array();
    for (const Interval& load : u.load) loads.push_back(pair(load, 1));
  }
  for (const Interval& axis : u.centre_of_gravity) centre.push_back(pair(axis, 1));
  json["intervals"] = {{"ground", "even slope, features left out"},
                       {"first_lift_off_deg", pair(u.first_lift_off, kDegree)},
                       {"margin_deg", pair(u.margin, kDegree)},
                       {"tip_over_deg", pair(u.tip_over, kDegree)},
                       {"slide_deg", pair(u.slide, kDegree)},
                       {"rigid_lift_off_deg", pair(u.rigid_lift_off, kDegree)},
                       {"wheel_load_n", loads},
                       {"total_mass_kg", pair(u.mass, 1)},
                       {"centre_of_gravity_level_m", centre}};
  for (const Doubt& doubt : u.doubts)
    doubts.push_back(
        {{"key", doubt.key},
         {"unit", doubt.unit},
         {"tolerance", number_or_null(doubt.tolerance)},
         {"first_lift_off_deg_per_unit", number_or_null(doubt.per_unit, kDegree)},
         {"first_lift_off_change_deg", {number_or_null(doubt.low, kDegree), number_or_null(doubt.high, kDegree)}}});
  json["doubts"] = doubts;
}

std::string datum_words(std::string_view key) {
  constexpr std::pair<std::string_view, std::string_view> kOfAllTyres[] = {
      {"side_give_share of all tyres", "load moving as the tyres bend sideways"},
      {"pressure_offset_m of all tyres, outwards only", "load moving to leaning tyres' lower edge"},
      {"place of the load under the tyres, both together", "place of the load under the tyres"}};
  for (const auto& [whole, words] : kOfAllTyres)
    if (key == whole) return std::string(words);
  return plain_name(key);
}

std::string datum_words(std::string_view key, const BallastPlan& plan) {
  const bool bucket = plan.loader_tool == LoaderTool::bucket;
  if (key == "ballast.loader_payload_kg") return load_words(plan);
  if (!bucket && key == "vehicle.loader.bucket_mass_kg")
    return fmt::format("mass of the {}, an estimate", words_of(plan.loader_tool).name);
  return datum_words(key);
}

std::string interval_words(const std::optional<Interval>& interval) {
  if (!interval) return {};
  if (interval->open) return fmt::format("  ({} or more)", degrees(interval->low));
  return fmt::format("  ({} to {})", degrees(interval->low), degrees(interval->high));
}

std::pair<std::string, std::string> tolerance_words(const Doubt& doubt, Units units) {
  const ReadUnit unit = read_unit(doubt.unit, units, doubt.key);
  return {plain_number(doubt.tolerance * unit.factor), unit.name};
}

std::string doubts_table(const Answer& answer, Units units) {
  if (!answer.uncertainty) return {};
  constexpr std::size_t kMost = 7;
  std::string text =
      "What is not known exactly, and moves the first lift-off most (even slope; two standard deviations either way)\n";
  std::size_t listed = 0;
  for (const Doubt& doubt : answer.uncertainty->doubts) {
    if (std::max(-doubt.low, doubt.high) < 0.005 * kDegree) break;
    // Where a tyre's load acts is always shown: it is the least known of all.
    const bool of_place = doubt.key.find("side_give_share") != doubt.key.npos ||
                          doubt.key.find("pressure_offset") != doubt.key.npos || doubt.key.starts_with("sharing");
    if (listed >= kMost && !of_place) continue;
    const auto [tolerance, unit] = tolerance_words(doubt, units);
    const std::string by = doubt.tolerance > 0 ? fmt::format("+-{:>8}", tolerance) : std::string(10, ' ');
    text += fmt::format("  {:58}{} {:9}{:>8} {:>8}\n", doubt.key, by, unit, degrees(doubt.low, 2),
                        "+" + degrees(doubt.high, 2));
    ++listed;
  }
  if (listed == 0) return {};
  return text +
         "  Set yours: [[tolerance]] key = \"...\", value = ...; a machine file may hold them too. Without it our "
         "estimates are taken.\n";
}

}  // namespace sidehill::text
