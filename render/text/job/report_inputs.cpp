#include "render/text/job/report_inputs.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/words/words.h"
#include "sim/insight/report_facts.h"
#include "sim/insight/uncertainty.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_lists.h"
#include "sim/scene/tolerances.h"
#include "vehicles/loader_tool.h"

namespace sidehill::text {
namespace {

// A number of a file has no more digits than this in SI; in other units as many as say as much.
int input_digits(double value, Units units) {
  const double size = std::abs(value);
  return is_metric(units) ? 4 : size >= 1000 ? 0 : size >= 100 ? 1 : size >= 10 ? 2 : 3;
}

struct InputGroup {
  std::string_view table, words;
};
constexpr InputGroup kInputGroups[] = {
    {"vehicle.", "Machine"},
    {"ballast.", "Ballast and load"},
    {"terrain.", "Ground"},
    {"start.", "Where it stands"},
    {"job.", "Job"},
    {"programme.", "What it does"},
    {"manoeuvre.", "Bend, braking"},
    {"settings.", "Settings"},
};

std::string group_of(std::string_view key) {
  for (const InputGroup& group : kInputGroups)
    if (key.starts_with(group.table)) return std::string(group.words);
  return {};
}

bool bears_on(const Scene& scene, const Field& field) {
  const std::string_view key = field.key;
  if (field.there && !field.there(scene)) return false;
  if (key == "vehicle.name" || key == "vehicle.note" || group_of(key).empty()) return false;
  if (key.find("price_") != key.npos) return false;
  const BallastPlan& b = scene.ballast;
  if (key.starts_with("ballast.own_medium."))
    return std::ranges::any_of(b.fill,
                               [](const TyreFill& f) { return f.medium == Medium::own && f.fill_fraction > 0; });
  for (std::size_t w = 0; w < kWheels; ++w)
    if (key.starts_with(fmt::format("ballast.{}.", kWheelWords[w].key)) && !key.ends_with(".fill_fraction") &&
        !(b.fill[w].fill_fraction > 0))
      return false;
  if (key.starts_with("ballast.bale.")) return has_bale(b.bale);
  if (key.starts_with("ballast.implement.")) return b.implement.mass > 0;
  if (key.starts_with("ballast.trailer.")) return b.trailer.mass > 0;
  if (key.starts_with("ballast.loader_") || key.starts_with("vehicle.loader.")) return scene.vehicle.loader.fitted;
  if (key.starts_with("ballast.hanging_")) return b.hanging_mass > 0;
  if (key.starts_with("job.")) return scene.job.work != Work::none;
  if (key.starts_with("programme.") || key == "settings.time_step_s" || key == "settings.engine") return moves(scene);
  if (key.starts_with("manoeuvre.")) return scene.manoeuvre.turn_radius > 0 || scene.manoeuvre.braking > 0;
  return true;
}

// What a row says of zero, "0 = not known": then nobody gave a number.
std::string zero_words(std::string_view help) {
  constexpr std::string_view kZero = "0 = ";
  const std::size_t at = help.find(kZero);
  if (at == help.npos || (at > 0 && help[at - 1] != ' ')) return {};  // "-90 = across" is no zero
  const std::string_view words = help.substr(at + kZero.size());
  return std::string(words.substr(0, words.find_first_of(";,(:")));
}

std::string number_words(std::string_view key, double file_value, Units units) {
  const TypedUnit unit = typed_unit(key, units);
  const double value = unit.shown(file_value);
  const std::string number = trimmed_number(value, input_digits(value, units));
  if (unit.unit.empty()) return number;
  if (is_slope(key)) return slope_as_typed(number);
  return number + (unit.unit == "°" ? "" : " ") + unit.unit;
}

template <class T>
std::string value_words(const FieldOf<T>& field, const T& object, Units units) {
  T& readable = const_cast<T&>(object);  // accessors serve both ways
  if (const auto* number = std::get_if<NumberFieldOf<T>>(&field.kind)) {
    if (file_value(*number, object) == 0)
      if (std::string words = zero_words(field.help); !words.empty()) return read_in(words, units);
    return number_words(field.key, file_value(*number, object), units);
  }
  if (const auto* flag = std::get_if<FlagFieldOf<T>>(&field.kind)) return *flag->at(readable) ? "yes" : "no";
  if (const auto* text = std::get_if<TextFieldOf<T>>(&field.kind)) return *text->at(readable);
  if (const auto* count = std::get_if<CountFieldOf<T>>(&field.kind)) return fmt::format("{}", *count->at(readable));
  if (const auto* choice = std::get_if<ChoiceFieldOf<T>>(&field.kind)) {
    const auto index = static_cast<std::size_t>(choice->get(object));
    if (field.key.ends_with("medium")) return std::string(media_choices()[index].name);
    std::string word(choice->choices[index]);
    std::ranges::replace(word, '_', ' ');
    return word;
  }
  return {};
}

bool said_in_file(const Scene& scene, std::string_view key) {
  if (has_tolerance(scene.tolerances, key)) return true;
  return std::ranges::any_of(scene_aliases(), [&](const Alias& alias) {
    return std::ranges::find(alias.targets, key) != std::end(alias.targets) &&
           has_tolerance(scene.tolerances, alias.key);
  });
}

double tolerance_of(const Scene& scene, const Field& field) {
  for (const Tolerance& tolerance : scene.tolerances) {
    if (tolerance.key == field.key) return tolerance.value;
    for (const Alias& alias : scene_aliases())
      if (alias.key == tolerance.key && std::ranges::find(alias.targets, field.key) != std::end(alias.targets))
        return tolerance.value;
  }
  return default_tolerance(field, scene);
}

// A tolerance has no offset: a degree of temperature is a difference.
std::string tolerance_words_of(std::string_view key, double tolerance, Units units) {
  const TypedUnit unit = typed_unit(key, units);
  const std::string number = trimmed_number(tolerance * unit.factor, tolerance * unit.factor >= 10 ? 0 : 3);
  return fmt::format("±{}{}{}", number, unit.unit.empty() || unit.unit == "°" ? "" : " ", unit.unit);
}

template <class T>
void add_entries(std::vector<InputRow>& rows, const SceneList<T>& list, const Scene& scene, Units units) {
  const std::string group = group_of(list.name);
  if (group.empty() || (group == "Job" && scene.job.work == Work::none) ||
      (list.name == "programme.action" && !moves(scene)))
    return;
  std::size_t number = 0;
  for (const T& entry : list.entries(const_cast<Scene&>(scene))) {
    ++number;
    std::string what(list.name.substr(list.name.rfind('.') + 1));
    std::ranges::replace(what, '_', ' ');
    for (const auto& field : list.fields()) {
      const std::string value = value_words(field, entry, units);
      if (value.empty() || field.key.find("price_") != field.key.npos) continue;
      rows.push_back({group, fmt::format("{}[{}].{}", list.name, number - 1, field.key),
                      fmt::format("{} {}: {}", what, number, plain_name(field.key)), value, "", KnownBy::not_asked});
    }
  }
}

}  // namespace

std::vector<InputRow> input_rows(const Scene& scene, Units units) {
  std::vector<InputRow> rows;
  for (const Field& field : scene_fields()) {
    if (!bears_on(scene, field)) continue;
    InputRow row{
        group_of(field.key), std::string(field.key), plain_name(field.key), value_words(field, scene, units), "",
        KnownBy::not_asked};
    if (row.value.empty()) continue;
    if (std::holds_alternative<NumberField>(field.kind)) {
      const double tolerance = tolerance_of(scene, field);
      if (said_in_file(scene, field.key))
        row.by = KnownBy::file;
      else if (tolerance > 0)
        row.by = KnownBy::estimate;
      if (row.by != KnownBy::not_asked) row.known = tolerance_words_of(field.key, tolerance, units);
    }
    rows.push_back(std::move(row));
  }
  for_each_list([&](const auto& list) { add_entries(rows, list, scene, units); });
  std::ranges::stable_sort(rows, {}, [](const InputRow& row) {
    return std::ranges::find(kInputGroups, row.group, &InputGroup::words) - std::begin(kInputGroups);
  });
  return rows;
}

std::string inputs_sentence(const std::vector<InputRow>& rows) {
  const auto count = [&](KnownBy by) { return std::ranges::count(rows, by, &InputRow::by); };
  return fmt::format(
      "Of the {} numbers that are measured or estimated and move the answer, the file says of {} how well they are "
      "known; "
      "of {} it does not, and the program takes its own estimate of what a tape measure, a weighbridge or a gauge "
      "gives "
      "(marked *).",
      count(KnownBy::file) + count(KnownBy::estimate), count(KnownBy::file), count(KnownBy::estimate));
}

}  // namespace sidehill::text
