#include "render/text/job/soil_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>
#include <vector>

#include "render/text/words/line_breaks.h"
#include "sim/job/soil_strength.h"

namespace sidehill::text {
namespace {

using SoilJson = nlohmann::ordered_json;

constexpr double kUsualDepths[] = {0.15, 0.30, 0.50};  // ploughed layer, below it, subsoil [m]

constexpr const char* kSoilOff =
    "Models of this kind were seen to be off by up to 7 kPa below a stiff plate of 43 kN and by up to 27 kPa below one "
    "of 85 kN (Lamande et al. 2007).";
constexpr const char* kSoilStands =
    "Not known: how much this soil withstands. That depends on its clay and, more, on how wet it is. The same stress "
    "does little to dry soil and much to wet soil.";
constexpr const char* kSoilStatic =
    "One wheel at rest on level soil, below its middle. Left out: ruts, lugs, slip, the pull, a second wheel beside it "
    "or behind it.";
constexpr const char* kSoilConcentration =
    "The concentration factor 4 for hard, dry soil, 5 for normal and 6 for soft, wet soil is from memory (Soehne): "
    "check "
    "against the print. One public manual has it the other way round.";
constexpr const char* kSoilRecommended =
    "The recommended air pressure was not given. The answer takes the tyre to be at it (--recommended-kpa).";

const char* range_word(StressRange range) {
  constexpr const char* kWords[] = {"within", "peak_too_high", "peak_too_low", "no_patch", "too_wide"};
  return kWords[static_cast<int>(range)];
}

std::string soil_kpa(double pascal, Units units) { return measured(Quantity::pressure, pascal, 0, units); }

std::string soil_row(std::string_view name, const std::string& value, std::string_view note = {}) {
  std::string text = fmt::format("  {:34}{:>10}", name, value);
  if (!note.empty()) text += fmt::format("  {}", note);
  return text + "\n";
}

std::vector<double> depths_of(const SoilQuestion& q) {
  if (q.depth) return {*q.depth};
  return {std::begin(kUsualDepths), std::end(kUsualDepths)};
}

// What holds of every answer.
std::vector<std::string> lasting_cautions(const SoilQuestion& q) {
  std::vector<std::string> all;
  if (!q.recommended_given) all.emplace_back(kSoilRecommended);
  for (const char* caution : {kSoilStands, kSoilOff, kSoilStatic, kSoilConcentration}) all.emplace_back(caution);
  return all;
}

// How far such a model was seen to be off at a load like this.
double off_by(const SoilWheel& wheel) { return wheel.load <= kStressOffLoad ? kStressOffLow : kStressOffHigh; }

// Against the rule for 50 cm, whatever depth is asked.
std::string rule_words(const SoilQuestion& q, const StressField& field, Units units) {
  const auto deep = stress_below(field, q.concentration, kRuleDepth);
  if (!deep) return "";
  const double over = *deep - kRuleStress, off = off_by(q.wheel);
  const std::string depth = units == Units::us ? measured(Quantity::length, kRuleDepth, 2, units) : "50 cm";
  const std::string loud = units == Units::us ? depth : "50 CM";
  const std::string verdict = over > off    ? "MORE THAN THE " + loud + " RULE ALLOWS"
                              : over > -off ? "MAY BE MORE THAN THE " + loud + " RULE ALLOWS"
                                            : "Within the " + depth + " rule";
  return paragraph(
      "", fmt::format("{}: {} at {}, give or take {}. The rule allows {} there (Schjonning et al., from "
                      "memory: check against the print).",
                      verdict, soil_kpa(*deep, units), depth, soil_kpa(off, units), soil_kpa(kRuleStress, units)));
}

std::string first_soil_words(const SoilQuestion& q, const StressField& field, Units units) {
  std::string text;
  for (const std::string& caution : stress_cautions(q.wheel, field)) text += paragraph("", read_in(caution, units));
  return text + rule_words(q, field, units);
}

std::string rules_table(Units units) {
  std::string text = "\nWhat is published; the sources differ, and none is a law\n";
  for (const PublishedFigure& rule : compaction_rules()) {
    const std::string unit = *rule.unit == '-' ? "" : std::string(" ") + rule.unit;
    const std::string figure = read_in(
        rule.high ? fmt::format("{:g} to {:g}{}", rule.low, *rule.high, unit) : fmt::format("{:g}{}", rule.low, unit),
        units);
    text += paragraph("  - ", fmt::format("{}: {} ({}; {})", read_in(rule.what, units), figure,
                                          figure_kind_words(rule.kind), rule.source));
  }
  return text;
}

}  // namespace

std::string soil_table(const SoilQuestion& q, Units units) {
  const StressField field = stress_field(q.wheel);
  const ContactPatch& patch = field.patch;
  std::string text = first_soil_words(q, field, units);
  text += fmt::format("\nA wheel of {} on soil, air pressure {}, concentration factor {:g} ({})\n",
                      measured(Quantity::force, q.wheel.load, 1, units), soil_kpa(q.wheel.pressure, units),
                      q.concentration, concentration_words(q.concentration));
  if (field.range != StressRange::no_patch) {
    text += soil_row("contact area", measured(Quantity::area, patch.area, 3, units),
                     fmt::format("{} long, {} wide", measured(Quantity::length, patch.length, 2, units),
                                 measured(Quantity::length, patch.width, 2, units)));
    text += soil_row("mean contact stress", soil_kpa(patch.mean, units),
                     fmt::format("load over area; a survey takes {} as the threshold", soil_kpa(kRuleMean, units)));
    text += soil_row("greatest contact stress", soil_kpa(patch.peak, units),
                     field.range == StressRange::within ? "" : "by the regression, but see above");
  }
  for (const double depth : depths_of(q)) {
    const auto stress = stress_below(field, q.concentration, depth);
    text += soil_row(read_in(fmt::format("stress at {:g} cm", depth * 100), units),
                     stress ? soil_kpa(*stress, units) : "not known",
                     stress ? fmt::format("give or take {}", soil_kpa(off_by(q.wheel), units)) : "");
  }
  text += rules_table(units);
  text += "\nCautions\n";
  for (const std::string& caution : lasting_cautions(q)) text += paragraph("  - ", read_in(caution, units));
  return text;
}

SoilJson soil_json(const SoilQuestion& q) {
  const StressField field = stress_field(q.wheel);
  const ContactPatch& patch = field.patch;
  const auto if_patch = [&](double value) {
    return field.range != StressRange::no_patch ? SoilJson(value) : SoilJson();
  };
  const bool has_alpha = field.range == StressRange::within || field.range == StressRange::peak_too_high;
  SoilJson json = {{"program", "sidehill " SIDEHILL_VERSION},
                   {"range", range_word(field.range)},
                   {"contact_area_m2", if_patch(patch.area)},
                   {"contact_length_m", if_patch(patch.length)},
                   {"contact_width_m", if_patch(patch.width)},
                   {"contact_exponent", if_patch(patch.exponent)},
                   {"mean_contact_kpa", if_patch(patch.mean * 1e-3)},
                   {"greatest_contact_kpa", if_patch(patch.peak * 1e-3)},
                   {"alpha", has_alpha ? SoilJson(field.alpha) : SoilJson()},
                   {"concentration", q.concentration}};
  SoilJson stresses = SoilJson::array(), depths = SoilJson::array();
  for (const double depth : depths_of(q)) {
    const auto stress = stress_below(field, q.concentration, depth);
    depths.push_back(depth);
    stresses.push_back(stress ? SoilJson(*stress * 1e-3) : SoilJson());
  }
  json["depths_m"] = depths;
  json["stress_kpa"] = q.depth ? stresses.at(0) : stresses;
  json["off_by_kpa"] = {kStressOffLow * 1e-3, kStressOffHigh * 1e-3};
  json["rules"] = SoilJson::array();
  for (const PublishedFigure& rule : compaction_rules())
    json["rules"].push_back({{"what", rule.what},
                             {"low", rule.low},
                             {"high", rule.high ? SoilJson(*rule.high) : SoilJson()},
                             {"unit", rule.unit},
                             {"kind", figure_kind_words(rule.kind)},
                             {"source", rule.source}});
  std::vector<std::string> cautions = stress_cautions(q.wheel, field);
  for (std::string& caution : lasting_cautions(q)) cautions.push_back(std::move(caution));
  json["cautions"] = cautions;
  return json;
}

}  // namespace sidehill::text
