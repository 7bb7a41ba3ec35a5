#include "sim/scene/scene_fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "sim/base/key_units.h"
#include "sim/scene/field_rows.h"
#include "sim/scene/scene_lists.h"
#include "sim/scene/spelling.h"

namespace sidehill {
namespace {

std::vector<Field> make_scene_fields() {
  std::vector<Field> rows = {
      text("title", at<&Scene::title>(), 120, "what the scene is called"),
      text("note", at<&Scene::note>(), 4000, "what it is for, in plain words"),
  };
  for (auto* part : {vehicle_fields, ballast_fields, ground_fields, programme_fields, job_fields, plan_fields})
    append(rows, part());
  return rows;
}

}  // namespace

std::span<const Field> scene_fields() {
  static const std::vector<Field> kFields = make_scene_fields();
  return kFields;
}

const Field* find_field(std::string_view key) {
  const auto fields = scene_fields();
  const auto at = std::ranges::find(fields, key, &Field::key);
  return at == fields.end() ? nullptr : &*at;
}

std::string plain_name(std::string_view key) {
  if (const Field* field = find_field(key); field && !field->name.empty()) return std::string(field->name);
  for (const Alias& alias : scene_aliases())
    if (alias.key == key && !alias.name.empty()) return std::string(alias.name);
  key = key.substr(0, key.size() - key_unit(key).suffix.size());
  for (std::string_view table : {"vehicle.", "terrain.", "ballast.", "start."})
    if (key.starts_with(table)) key.remove_prefix(table.size());
  std::string text(key);
  std::ranges::replace(text, '.', ' ');
  std::ranges::replace(text, '_', ' ');
  for (const auto& [letter, place] : {std::pair{" x", ", lengthwise"}, {" y", ", sideways"}, {" z", ", height"}})
    if (text.ends_with(letter)) text = text.substr(0, text.size() - 2) + place;
  return text;
}

std::string in_plain_names(std::string_view sentence) {
  const auto in_key = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' || c == '.'; };
  const auto is_key = [](std::string_view word) {
    return word.find('.') != word.npos &&
           (find_field(word) || std::ranges::find(scene_aliases(), word, &Alias::key) != scene_aliases().end());
  };
  std::string out;
  for (std::size_t at = 0; at < sentence.size();) {
    std::size_t end = at;
    while (end < sentence.size() && in_key(sentence[end])) ++end;
    std::string_view word = sentence.substr(at, end - at);
    while (word.ends_with('.')) word.remove_suffix(1);  // of the sentence
    if (word.empty()) {
      out += sentence[at++];
      continue;
    }
    out += is_key(word) ? plain_name(word) : std::string(word);
    at += word.size();
  }
  return out;
}

std::vector<const Field*> targets_of(std::string_view key) {
  std::vector<const Field*> targets;
  const auto consider = [&](std::string_view name) {
    const Field* field = find_field(name);
    if (field && std::holds_alternative<NumberField>(field->kind)) targets.push_back(field);
  };
  consider(key);
  for (const Alias& alias : scene_aliases())
    if (alias.key == key)
      for (std::string_view target : alias.targets) consider(target);
  return targets;
}

template <class T>
std::string allowed(const FieldOf<T>& field) {
  const std::string unit = field.unit.empty() ? std::string() : fmt::format(" {}", field.unit);
  if (const auto* n = std::get_if<NumberFieldOf<T>>(&field.kind))
    return fmt::format("{:g} to {:g}{}", n->min, n->max, unit);
  if (std::holds_alternative<FlagFieldOf<T>>(field.kind)) return "true or false";
  if (const auto* t = std::get_if<TextFieldOf<T>>(&field.kind))
    return t->is_date ? "a date such as 2026-11-28" : fmt::format("text of up to {} letters", t->max_length);
  if (const auto* c = std::get_if<ChoiceFieldOf<T>>(&field.kind)) {
    std::string list;
    for (std::string_view choice : c->choices) list += (list.empty() ? "one of " : ", ") + std::string(choice);
    if (c->by_name) list += ", or a name with its frost as in \"calcium chloride, to -24 C\"";
    return list;
  }
  if (std::holds_alternative<CountFieldOf<T>>(field.kind)) return "a whole number, 0 to 4294967295";
  if (const auto* m = std::get_if<MaybeFieldOf<T>>(&field.kind))
    return fmt::format("{:g} to {:g}{}, may be left out", m->min, m->max, unit);
  return "a number or \"never\"";
}
template std::string allowed(const FieldOf<Scene>&);
template std::string allowed(const FieldOf<Feature>&);
template std::string allowed(const FieldOf<PointMass>&);
template std::string allowed(const FieldOf<Action>&);
template std::string allowed(const FieldOf<WeightOnHand>&);
template std::string allowed(const FieldOf<MediumOnHand>&);
template std::string allowed(const FieldOf<WheelsOnHand>&);
template std::string allowed(const FieldOf<Tolerance>&);
template std::string allowed(const FieldOf<Expect>&);
template std::string allowed(const FieldOf<PlanBefore>&);
template std::string allowed(const FieldOf<LogEntry>&);

std::string allowed_without_numbers(std::string_view key) {
  const auto words_of = [](const auto& field) -> std::string {
    const std::size_t kind =
        field.kind.index();  // in the order of FieldOf: number, flag, text, choice, count, answer, maybe
    return kind >= 1 && kind <= 3 ? allowed(field) : std::string();
  };
  if (key == "vehicle_file") return "a machine's name";
  if (key == "job_file") return "a job's name";
  for (const Alias& alias : scene_aliases())
    if (alias.key == key) key = alias.targets[0];
  if (const Field* field = find_field(key)) return words_of(*field);
  const std::size_t open = key.find('['), close = key.find("].");
  if (open == key.npos || close == key.npos || close < open) return {};
  const std::string_view list = key.substr(0, open), last = key.substr(close + 2);
  std::string words;
  with_list(list, [&](const auto& known) {
    for (const auto& field : known.fields())
      if (field.key == last) words = words_of(field);
  });
  return words;
}

std::string nearest_key(std::string_view wrong_key) {
  std::vector<std::string> keys = {"vehicle_file", "job_file"};
  const auto take = [&](std::string_view list, const auto& fields) {
    for (const auto& field : fields) keys.push_back(std::string(list) + std::string(field.key));
  };
  take("", scene_fields());
  take("", scene_aliases());
  for_each_list([&](const auto& list) { take(std::string(list.name) + "[].", list.fields()); });
  // A key without its unit is the commonest slip: the right one goes on where the wrong one stops.
  for (const std::string& key : keys)
    if (!wrong_key.empty() && key.starts_with(std::string(wrong_key) + "_")) return key;
  const std::string near = nearest_word(wrong_key, keys);
  if (!near.empty() || wrong_key.empty() || wrong_key.find('.') != wrong_key.npos) return near;
  // Then one without its table, "slope" or "slope_deg", if there is only one such.
  std::vector<std::string> ends;
  for (const std::string& key : keys) {
    const std::string_view last = std::string_view(key).substr(key.rfind('.') + 1);
    if (last == wrong_key || last.starts_with(std::string(wrong_key) + "_")) ends.push_back(key);
  }
  return ends.size() == 1 ? ends.front() : std::string();
}

}  // namespace sidehill
