#include "sim/scene/scene_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <vector>

#include "sim/base/constants.h"
#include "sim/base/date.h"
#include "sim/base/text_file.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_checks.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_lists.h"
#include "sim/scene/tolerances.h"
#include "sim/scene/toml_file.h"

namespace sidehill {
namespace fs = std::filesystem;
namespace {

// Writes one datum, or says why not. `where` is "file:line" or "--set".
template <class T>
struct Setter {
  T& object;
  const FieldOf<T>& field;
  const TomlValue& node;
  const std::string& where;
  std::string_view key;

  [[noreturn]] void refuse(const std::string& found) const {
    refuse_at(where, key, found + ", allowed " + allowed(field));
  }
  [[noreturn]] void refuse_type(const char* wanted) const {
    refuse(fmt::format("found {} where {} belongs", kind_words(node), wanted));
  }
  std::string word() const {
    if (node.kind != TomlKind::text) refuse_type("text");
    return node.text;
  }

  void operator()(const NumberFieldOf<T>& number) const {
    if (!is_number(node)) refuse_type("a number");
    const std::optional<double> value = number_of(node);
    if (!value) refuse(fmt::format("{} is out of range", node.whole));
    if (!std::isfinite(*value)) refuse("the number is not finite");
    if (*value < number.min || *value > number.max) refuse(fmt::format("{:g} is out of range", *value));
    set_file_value(number, object, *value);
  }
  void operator()(const FlagFieldOf<T>& flag) const {
    if (node.kind != TomlKind::flag) refuse_type("true or false");
    *flag.at(object) = node.flag;
  }
  void operator()(const TextFieldOf<T>& text) const {
    if (text.is_date) {
      if (node.kind != TomlKind::text && node.kind != TomlKind::date) refuse_type("a date");
      if (node.kind == TomlKind::date && node.text.empty()) refuse("a date with a time of day");
      if (!node.text.empty() && !is_date(node.text)) refuse("\"" + node.text.substr(0, 40) + "\" is no date");
      *text.at(object) = node.text;
      return;
    }
    const std::string value = word();
    if (value.size() > text.max_length) refuse(fmt::format("{} letters are too many", value.size()));
    const bool printable = std::ranges::all_of(
        value, [](char c) { return static_cast<unsigned char>(c) >= 0x20 ? c != 0x7f : c == '\n' || c == '\t'; });
    if (!printable) refuse("control characters in a text");
    *text.at(object) = value;
  }
  void operator()(const ChoiceFieldOf<T>& choice) const {
    const std::string value = word();
    const auto at = std::ranges::find(choice.choices, std::string_view(value));
    if (at == choice.choices.end()) {
      const auto why_not = choice.by_name ? choice.by_name(object, value) : std::nullopt;
      if (why_not && why_not->empty()) return;
      refuse("\"" + value.substr(0, 60) + "\" " + why_not.value_or("is not known"));
    }
    choice.set(object, static_cast<int>(at - choice.choices.begin()));
  }
  void operator()(const CountFieldOf<T>& count) const {
    if (node.kind != TomlKind::whole) refuse_type("a whole number");
    const std::int64_t value = node.whole;
    if (value < 0 || value > std::int64_t{UINT32_MAX}) refuse(fmt::format("{} is out of range", value));
    *count.at(object) = static_cast<std::uint32_t>(value);
  }
  void operator()(const AnswerFieldOf<T>& answer) const {
    if (node.kind == TomlKind::text && node.text == "never") {
      *answer.at(object) = std::nullopt;
      return;
    }
    if (!is_number(node)) refuse_type("a finite number or \"never\"");
    const std::optional<double> value = number_of(node);
    if (!value) refuse(fmt::format("{} is too large a whole number", node.whole));
    if (!std::isfinite(*value)) refuse_type("a finite number or \"never\"");
    *answer.at(object) = *value;
  }
  void operator()(const MaybeFieldOf<T>& maybe) const {
    if (!is_number(node)) refuse_type("a number");
    const std::optional<double> value = number_of(node);
    if (!value || !std::isfinite(*value) || *value < maybe.min || *value > maybe.max)
      refuse(value ? fmt::format("{:g} is out of range", *value) : fmt::format("{} is out of range", node.whole));
    *maybe.at(object) = *value * maybe.to_si;
  }
};

template <class T>
void set_field(T& object, const FieldOf<T>& field, const TomlValue& node, const std::string& where,
               std::string_view key) {
  std::visit(Setter<T>{object, field, node, where, key}, field.kind);
}

[[noreturn]] void refuse_key(const std::string& where, const std::string& key, std::string_view prefix) {
  std::string near = nearest_key(std::string(prefix) + key);
  if (!prefix.empty() && near.starts_with(prefix)) near = near.substr(prefix.size());
  refuse_at(where, key,
            "unknown key" + (near.empty() ? std::string() : ", did you mean " + near + "?") +
                " (`sidehill list keys` gives all)");
}

template <class T>
T read_entry(const TomlValue& node, std::span<const FieldOf<T>> fields, const TomlSource& origin,
             const std::string& key) {
  if (node.kind != TomlKind::table)
    refuse_at(origin.at(node), key, "found " + std::string(kind_words(node)) + " where a table { ... } belongs");
  for (const FieldOf<T>& field : fields)
    if (field.needed && !entry_of(node, field.key))
      refuse_at(origin.at(node), key + "[]." + std::string(field.key), "is missing, allowed " + allowed(field));
  T entry;
  if constexpr (requires { entry.line; }) entry.line = origin.lines ? node.line : 0;
  for (const TomlValue& value : node.inner) {
    const auto field = std::ranges::find(fields, std::string_view(value.key), &FieldOf<T>::key);
    if (field == fields.end()) refuse_key(origin.at(value), key + "[]." + value.key, "");
    set_field(entry, *field, value, origin.at(value), key + "[]." + value.key);
  }
  return entry;
}

template <class T>
std::vector<T> read_entries(const TomlValue& node, const SceneList<T>& list, const TomlSource& origin) {
  const std::string key(list.name);
  if (node.kind != TomlKind::list)
    refuse_at(origin.at(node), key, "found " + std::string(kind_words(node)) + " where a list [[" + key + "]] belongs");
  if (node.inner.size() < list.least || node.inner.size() > list.most)
    refuse_at(origin.at(node), key,
              fmt::format("{} entries, allowed {} to {}", node.inner.size(), list.least, list.most));
  std::vector<T> entries;
  for (const TomlValue& entry : node.inner) {
    entries.push_back(read_entry(entry, list.fields(), origin, key));
    if constexpr (std::is_same_v<T, Tolerance>)
      if (std::ranges::count(entries, entries.back().key, &Tolerance::key) > 1)
        refuse_at(origin.at(entry), key + "[].key", "\"" + entries.back().key + "\" is there twice, allowed once");
  }
  return entries;
}

// What a machine file says of how well its own numbers are known. Their keys are those of a scene
// ("vehicle.rear.track_m") or, as everywhere in a machine file, without the first part.
void read_machine_tolerances(Scene& scene, const TomlValue& node, const TomlSource& origin) {
  std::vector<Tolerance> list = read_entries(node, std::get<SceneList<Tolerance>>(kSceneLists), origin);
  for (std::size_t i = 0; i < list.size(); ++i) {
    const std::string where = origin.at(node.inner[i]), said = list[i].key;
    if (!said.starts_with("vehicle.")) list[i].key = "vehicle." + said;
    if (targets_of(list[i].key).empty())
      refuse_at(where, "tolerance[].key",
                "\"" + said + "\" is no number of a machine, allowed the vehicle's numbers in `sidehill list keys`");
    if (has_tolerance(scene.tolerances, list[i].key))
      refuse_at(where, "tolerance[].key", "\"" + said + "\" is there twice, allowed once");
    scene.tolerances.push_back(list[i]);
  }
}

struct Leaf {
  std::string key;
  const TomlValue* node;
};

// Every value of a file under its dotted key. An empty table counts, so that a wrong [header] is noticed.
void flatten(const TomlValue& table, const std::string& path, std::vector<Leaf>& leaves) {
  for (const TomlValue& node : table.inner) {
    const std::string key = path.empty() ? node.key : path + "." + node.key;
    if (node.kind == TomlKind::table && !node.inner.empty() && !is_list(key))
      flatten(node, key, leaves);
    else
      leaves.push_back({key, &node});
  }
}

bool is_known_table(const std::string& path) {
  return std::ranges::any_of(scene_fields(), [&](const Field& field) { return field.key.starts_with(path + "."); });
}

using Places = std::map<std::string, std::string, std::less<>>;  // key -> "file:line" that set it last

// A service mark is of the tyre it stands on: with another size it goes, unless whoever says the size says it too.
void forget_marks_of(const std::array<std::string, 2>& sizes, Scene& scene, const TomlSource& origin,
                     const Places& places) {
  for (const bool front : {true, false}) {
    Tyre& tyre = front ? scene.vehicle.front.tyre : scene.vehicle.rear.tyre;
    const auto said = places.find(front ? "vehicle.front.tyre.service" : "vehicle.rear.tyre.service");
    if (tyre.size != sizes[front ? 0 : 1] && (said == places.end() || !said->second.starts_with(origin.name)))
      tyre.service.clear();
  }
}

void apply_leaf(Scene& scene, const Leaf& leaf, const TomlSource& origin, std::string_view prefix,
                const std::vector<Leaf>& others, Places& places) {
  const std::string key = std::string(prefix) + leaf.key;
  const std::string where = origin.at(*leaf.node);
  if (const Field* field = find_field(key)) {
    const std::array<std::string, 2> sizes{scene.vehicle.front.tyre.size, scene.vehicle.rear.tyre.size};
    set_field(scene, *field, *leaf.node, where, leaf.key);
    places[key] = where;
    forget_marks_of(sizes, scene, origin, places);
    return;
  }
  for (const Alias& alias : scene_aliases()) {
    if (alias.key != key) continue;
    for (std::string_view target : alias.targets) {
      if (std::ranges::find(others, target, &Leaf::key) != others.end()) continue;  // the single tyre's own key wins
      set_field(scene, *find_field(target), *leaf.node, where, leaf.key);
      places[std::string(target)] = where;
    }
    return;
  }
  if (with_list(key, [&](const auto& list) {
        auto read = read_entries(*leaf.node, list, origin);
        auto& entries = list.entries(scene);
        if constexpr (std::is_same_v<decltype(read), std::vector<Tolerance>>)
          if (origin.lines) read = over_machines(std::move(read), entries);  // a file adds to the machine file's
        entries = std::move(read);
        places[key] = where;
      }))
    return;
  if (key == "vehicle.tolerance" && !prefix.empty()) return read_machine_tolerances(scene, *leaf.node, origin);
  if (leaf.node->kind == TomlKind::table && is_known_table(key)) return;  // an empty [vehicle.rear]
  refuse_key(where, leaf.key, prefix);
}

// A medium named by its frost says its strength: a strength beside it would make the name a lie.
void refuse_two_strengths(const std::vector<Leaf>& leaves, const TomlSource& origin, std::string_view prefix) {
  const auto tyres_of = [&](const Leaf& leaf, std::string_view ending) {
    std::vector<std::string> tyres;
    const std::string key = std::string(prefix) + leaf.key;
    if (!key.starts_with("ballast.") || !key.ends_with(ending)) return tyres;
    tyres.push_back(key);
    for (const Alias& alias : scene_aliases())
      if (alias.key == key) tyres.assign(std::begin(alias.targets), std::end(alias.targets));
    for (std::string& tyre : tyres) tyre.resize(tyre.size() - ending.size());
    return tyres;
  };
  for (const Leaf& medium : leaves) {
    const std::vector<std::string> named = tyres_of(medium, ".medium");
    if (named.empty() || std::ranges::find(medium_keys(), std::string_view(medium.node->text)) != medium_keys().end())
      continue;
    for (const Leaf& strength : leaves)
      for (const std::string& tyre : tyres_of(strength, ".concentration"))
        if (std::ranges::find(named, tyre) != named.end())
          refuse_at(origin.at(*strength.node), strength.key,
                    "the medium's name, \"" + medium.node->text.substr(0, 60) +
                        "\", says the strength already, allowed one of the two");
  }
}

void apply_table(Scene& scene, const TomlValue& table, const TomlSource& origin, std::string_view prefix,
                 Places& places) {
  std::vector<Leaf> leaves;
  flatten(table, "", leaves);
  std::ranges::stable_sort(leaves, {}, [](const Leaf& leaf) { return leaf.node->line; });
  refuse_two_strengths(leaves, origin, prefix);
  for (const Leaf& leaf : leaves) {
    if (prefix.empty() && (leaf.key == "vehicle_file" || leaf.key == "job_file")) continue;  // already followed
    apply_leaf(scene, leaf, origin, prefix, leaves, places);
  }
}

void read_vehicle(Scene& scene, std::string_view name, const fs::path& folder, const std::string& where,
                  Places& places) {
  const fs::path path = find_vehicle_file(name, folder);
  if (path.empty())
    refuse_at(where, "vehicle_file",
              "there is no machine \"" + std::string(name.substr(0, 100)) + "\" " +
                  (vehicle_files().empty() ? "and " + data_sought() : "(`sidehill list machines` gives all)"));
  const TomlSource origin{path.lexically_normal().string()};
  scene.vehicle = default_scene().vehicle;
  forget_machine(scene.tolerances);
  apply_table(scene, read_toml(read_text(path), origin), origin, "vehicle.", places);
  scene.vehicle_file = std::string(name);
}

// A job's file says its keys without their first part, as a machine's file does.
void read_job(Scene& scene, std::string_view name, const fs::path& folder, const std::string& where, Places& places) {
  const fs::path path = find_job_file(name, folder);
  if (path.empty())
    refuse_at(where, "job_file",
              "there is no job \"" + std::string(name.substr(0, 100)) + "\" " +
                  (job_files().empty() ? "and " + data_sought() : "(`sidehill list jobs` gives all)"));
  const TomlSource origin{path.lexically_normal().string()};
  scene.job = default_scene().job;
  apply_table(scene, read_toml(read_text(path), origin), origin, "job.", places);
  scene.job_file = std::string(name);
}

struct Override {
  std::string key;
  bool append = false;
  TomlValue value;
};

const Field* field_or_alias(std::string_view key) {
  for (const Alias& alias : scene_aliases())
    if (alias.key == key) key = alias.targets[0];
  return find_field(key);
}

// Words need no quotes: --set ballast.rear.medium=water.
bool wants_text(std::string_view key) {
  if (key == "vehicle_file" || key == "job_file") return true;
  const Field* field = field_or_alias(key);
  return field && (std::holds_alternative<TextField>(field->kind) || std::holds_alternative<ChoiceField>(field->kind));
}

std::string trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  return first == text.npos ? std::string() : std::string(text.substr(first, text.find_last_not_of(" \t") - first + 1));
}

// For who typed a slope in per cent; else nothing.
std::string in_degrees(std::string_view key, const std::string& value) {
  char* end = nullptr;
  const double percent = std::strtod(value.c_str(), &end);
  if (!key.ends_with("_deg") || end == value.c_str() || trimmed(end) != "%" || !std::isfinite(percent)) return {};
  return fmt::format("; a slope of {:g} % is {:.1f} degrees", percent, std::atan(percent / 100) / kDegree);
}

// `option` is what messages call the place it comes from.
Override read_override(std::string_view text, const std::string& option) {
  const std::size_t equals = text.find('=');
  if (equals == text.npos || equals == 0)
    refuse_at(option, text, "a key and a value belong here, as in terrain.slope_deg=12");
  Override result;
  result.append = text[equals - 1] == '+';
  result.key = trimmed(text.substr(0, equals - (result.append ? 1 : 0)));
  const std::string value = trimmed(text.substr(equals + 1));
  if (wants_text(result.key) && !value.starts_with('"') && !value.starts_with('\'')) {
    result.value.kind = TomlKind::text;
    result.value.text = value;
    return result;
  }
  if (value.empty() || value.find('\n') != value.npos) refuse_at(option, result.key, "the value is missing");
  std::optional<TomlValue> read = read_toml_value(value);
  if (!read && !field_or_alias(result.key) && result.key.find('[') == std::string::npos) {
    read.emplace();  // the key is wrong, whatever the value: who looks for it says so
    read->kind = TomlKind::text;
    read->text = value;
  }
  if (!read)
    refuse_at(option, result.key,
              "the value \"" + value.substr(0, 100) + "\" is not readable" + in_degrees(result.key, value));
  result.value = std::move(*read);
  return result;
}

// "terrain.feature[0].height_m": false if the key is not of this kind.
bool set_in_entry(Scene& scene, const Override& change, const TomlSource& origin) {
  const std::size_t open = change.key.find('['), close = change.key.find("].");
  if (open == std::string::npos || close == std::string::npos || close < open) return false;
  const std::string digits = change.key.substr(open + 1, close - open - 1), name = change.key.substr(close + 2);
  if (digits.empty() || digits.size() > 6 || digits.find_first_not_of("0123456789") != std::string::npos) return false;
  const std::size_t index = std::stoul(digits);
  return with_list(change.key.substr(0, open), [&](const auto& list) {
    auto& entries = list.entries(scene);
    if (index >= entries.size())
      refuse_at(origin.name, change.key, fmt::format("there are {} entries, counted from 0", entries.size()));
    for (const auto& field : list.fields())
      if (field.key == name) return set_field(entries[index], field, change.value, origin.name, change.key);
    refuse_key(origin.name, change.key.substr(0, open) + "[]." + name, "");
  });
}

void apply_change(Scene& scene, const Override& change, const fs::path& folder, const std::string& option,
                  Places& places) {
  const TomlSource origin{option, false};
  if (change.append) {
    const bool known = with_list(change.key, [&](const auto& list) {
      auto& entries = list.entries(scene);
      if (entries.size() >= list.most)
        refuse_at(origin.name, change.key, fmt::format("more than {} entries", list.most));
      auto entry = read_entry(change.value, list.fields(), origin, change.key);
      if constexpr (std::is_same_v<decltype(entry), Tolerance>)
        std::erase_if(entries, [&](const Tolerance& before) { return before.key == entry.key; });  // said anew
      entries.push_back(std::move(entry));
      places[change.key] = origin.name;
    });
    if (!known) refuse_at(origin.name, change.key, "not a list, so += has no place here");
  } else if (change.key == "vehicle_file") {
    if (change.value.kind != TomlKind::text) refuse_at(origin.name, "vehicle_file", "a name belongs here");
    read_vehicle(scene, change.value.text, folder, origin.name, places);
  } else if (change.key == "job_file") {
    if (change.value.kind != TomlKind::text) refuse_at(origin.name, "job_file", "a name belongs here");
    read_job(scene, change.value.text, folder, origin.name, places);
  } else if (!set_in_entry(scene, change, origin)) {
    apply_leaf(scene, {change.key, &change.value}, origin, "", {}, places);
  }
}

Scene read_scene(std::string_view text, const fs::path& name, std::span<const std::string> override_texts) {
  const TomlSource origin{name.string()};
  const TomlValue table = read_toml(text, origin);
  if (table.inner.empty())
    refuse_at(origin.name + ":1", "", "the scene is empty; it needs at least vehicle_file = \"...\"");
  Scene scene = default_scene();
  Places places;
  std::vector<Override> changes;
  for (const std::string& override_text : override_texts) changes.push_back(read_override(override_text, "--set"));

  const auto other_machine = std::find_if(changes.rbegin(), changes.rend(), [](const Override& change) {
    return change.key == "vehicle_file" && !change.append;
  });
  const TomlValue* machine = entry_of(table, "vehicle_file");
  if (machine && machine->kind != TomlKind::text)
    refuse_at(origin.at(*machine), "vehicle_file",
              "found " + std::string(kind_words(*machine)) + " where a name belongs");
  const fs::path folder = name.parent_path();
  if (other_machine != changes.rend()) {
    if (other_machine->value.kind != TomlKind::text) refuse_at("--set", "vehicle_file", "a name belongs here");
    const std::string other = other_machine->value.text;
    read_vehicle(scene, other, find_vehicle_file(other, ".").empty() ? folder : fs::path("."), "--set", places);
  } else if (machine) {
    read_vehicle(scene, machine->text, folder, origin.at(*machine), places);
  } else if (!entry_of(table, "vehicle") && entry_of(table, "work")) {
    refuse_at(origin.name + ":1", "vehicle_file",
              "missing: this is a job, which needs a machine; name it in a scene, or: sidehill solve SCENE --set "
              "job_file=" +
                  name.stem().string());
  } else if (!entry_of(table, "vehicle")) {
    refuse_at(origin.name + ":1", "vehicle_file", "missing; name a machine (`sidehill list machines` gives all)");
  }

  if (const TomlValue* job = entry_of(table, "job_file")) {
    if (job->kind != TomlKind::text)
      refuse_at(origin.at(*job), "job_file", "found " + std::string(kind_words(*job)) + " where a name belongs");
    read_job(scene, job->text, folder, origin.at(*job), places);
  }
  apply_table(scene, table, origin, "", places);
  for (const Override& change : changes)
    if (change.key != "vehicle_file" || change.append) apply_change(scene, change, ".", "--set", places);
  if (scene.tolerances.size() > kMostListEntries)
    refuse_at(origin.name, "tolerance",
              fmt::format("{} entries with those of the machine file, allowed 0 to {}", scene.tolerances.size(),
                          kMostListEntries));
  if (const auto conflict = find_conflict(scene)) {
    const auto at = places.find(conflict->key.substr(0, conflict->key.find('[')));
    refuse_at(at != places.end() ? at->second : origin.name, conflict->key, conflict->message);
  }
  return scene;
}

}  // namespace

Scene load_scene(const fs::path& path, std::span<const std::string> overrides) {
  const fs::path now = present_name(path);
  return read_scene(read_text(now), now, overrides);
}

Scene parse_scene(std::string_view text, const fs::path& name) { return read_scene(text, name, {}); }

void apply_override(Scene& scene, std::string_view override_text, const std::string& option) {
  Places places;
  Scene changed = scene;  // a refused change leaves no half of itself behind
  apply_change(changed, read_override(override_text, option), ".", option, places);
  scene = std::move(changed);
}

MachineFile load_machine(std::string_view name, const fs::path& folder) {
  Scene scene = default_scene();
  Places places;
  read_vehicle(scene, name, folder, std::string(name), places);
  return {std::move(scene.vehicle), std::move(scene.tolerances)};
}

Job load_job(std::string_view name, const fs::path& folder) {
  Scene scene = default_scene();
  Places places;
  read_job(scene, name, folder, std::string(name), places);
  if (const auto conflict = find_conflict(scene); conflict && conflict->key.starts_with("job."))
    refuse_at(std::string(name), conflict->key, conflict->message);
  return std::move(scene.job);
}

Vehicle load_vehicle(std::string_view name, const fs::path& folder) { return load_machine(name, folder).vehicle; }

}  // namespace sidehill
