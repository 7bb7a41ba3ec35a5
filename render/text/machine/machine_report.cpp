#include "render/text/machine/machine_report.h"

#include <fmt/format.h>

#include <cmath>
#include <vector>

#include "render/text/words/columns.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/base/plain_number.h"
#include "sim/scene/scene_fields.h"

namespace sidehill::text {
namespace {

double value_of(const MadeMachine& made, std::string_view key) {
  Scene scene;
  scene.vehicle = made.vehicle;
  return file_value(std::get<NumberField>(find_field(key)->kind), scene);
}

}  // namespace

std::string lift_off_words(const MachineAnswer& answer) {
  if (!answer.first_lift_off) return "no wheel ever lifts";
  return fmt::format("{} ({:.1f}° to {:.1f}°)", degrees_and_percent(answer.first_lift_off), answer.low / kDegree,
                     answer.high / kDegree);
}

std::string machine_table(const MachineEntry& entry, const MadeMachine& made,
                          const std::optional<MachineAnswer>& answer, Units units) {
  std::string text =
      fmt::format("{}\nclass {}; bare machine {}, {:.0f} % of it on the front axle, its centre of gravity {} up\n\n",
                  read_in(made.vehicle.name, units), entry.machine_class, measured(Quantity::mass, made.mass, 0, units),
                  100 * made.weighed_front_share, measured(Quantity::length, made.centre_height, 2, units));
  text += "Where each number comes from (+- at two standard deviations)\n";
  std::vector<std::vector<std::string>> rows;
  for (const DatumOrigin& origin : made.origins) {
    const ReadUnit unit = read_unit(find_field(origin.key)->unit, units, origin.key);
    const std::string off = origin.tolerance > 0 ? "+- " + plain_number(origin.tolerance * unit.factor) : "";
    rows.push_back({std::string(origin.key.substr(8)),
                    plain_number(value_of(made, origin.key) * unit.factor + unit.offset, 5), " " + unit.name, off,
                    std::string(word_for(origin.from)), read_in(origin.how, units)});
  }
  text += lines_of_cells("  ", {{44, false}, {10}, {10, false}, {11, false}, {20, false}}, rows);
  if (!made.checks.empty()) text += "\nTo look at\n";
  for (const EntryCheck& check : made.checks)
    text += fmt::format("  {}{}{}{}\n", check.severity == Severity::grave ? "NOT POSSIBLE: " : "", check.key,
                        check.key.empty() ? "" : ": ", read_in(check.sentence, units));
  if (answer) {
    text += fmt::format("\nAcross an even slope, driver on, tank full, tyres on air{}: first wheel lifts at {}\n",
                        made.vehicle.loader.fitted ? ", bucket empty and knee-high" : "", lift_off_words(*answer));
    if (!answer->next.empty()) text += "\nWhat matters most to measure next\n";
    for (std::size_t i = 0; i < answer->next.size() && i < 5; ++i)
      text += "  " + read_in(answer->next[i].sentence, units) + "\n";
    text += "\nAt rest, on ground without bumps and holes. No slope is safe: frame up and belt on, load low, slow.\n";
  }
  return text;
}

nlohmann::ordered_json machine_json(const MachineEntry& entry, const MadeMachine& made,
                                    const std::optional<MachineAnswer>& answer) {
  nlohmann::ordered_json json = {{"class", entry.machine_class},
                                 {"usable", made.usable},
                                 {"unladen_mass_kg", made.mass},
                                 {"front_share", made.weighed_front_share},
                                 {"centre_of_gravity_height_m", made.centre_height}};
  json["data"] = nlohmann::ordered_json::array();
  for (const DatumOrigin& origin : made.origins)
    json["data"].push_back({{"key", origin.key},
                            {"value", value_of(made, origin.key)},
                            {"from", word_for(origin.from)},
                            {"how", origin.how},
                            {"tolerance", origin.tolerance},
                            {"measure", origin.entry_key}});
  json["checks"] = nlohmann::ordered_json::array();
  for (const EntryCheck& check : made.checks)
    json["checks"].push_back(
        {{"key", check.key}, {"grave", check.severity == Severity::grave}, {"message", check.sentence}});
  if (!answer) return json;
  json["first_lift_off_deg"] =
      answer->first_lift_off ? nlohmann::ordered_json(*answer->first_lift_off / kDegree) : nullptr;
  json["first_lift_off_interval_deg"] =
      answer->first_lift_off ? nlohmann::ordered_json{answer->low / kDegree, answer->high / kDegree} : nullptr;
  json["measure_next"] = nlohmann::ordered_json::array();
  for (const MeasureNext& next : answer->next)
    json["measure_next"].push_back({{"key", next.entry_key}, {"effect_deg", next.effect / kDegree}});
  return json;
}

}  // namespace sidehill::text
