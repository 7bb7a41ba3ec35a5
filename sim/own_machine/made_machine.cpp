#include "sim/own_machine/made_machine.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdlib>

#include "sim/base/errors.h"
#include "sim/base/plain_number.h"
#include "sim/model/model.h"
#include "sim/own_machine/machine_parts.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_checks.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"
#include "sim/scene/spelling.h"
#include "sim/scene/tolerances.h"
#include "vehicles/loader_tool.h"

namespace sidehill {
namespace {

// "Front track" in the middle of a sentence.
std::string lower_first(std::string_view label) {
  std::string text(label);
  if (text.size() > 1 && std::islower(static_cast<unsigned char>(text[1])))
    text[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(text[0])));
  return text;
}

bool printable(std::string_view text) {
  return std::ranges::all_of(text, [](char c) { return static_cast<unsigned char>(c) >= 0x20 && c != 0x7f; });
}

// Every byte above ASCII belongs to a well-formed letter: a file in TOML must be UTF-8.
bool is_utf8(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const std::size_t more = lead < 0x80                   ? 0
                             : lead >= 0xC2 && lead < 0xE0 ? 1
                             : (lead & 0xF0) == 0xE0       ? 2
                             : lead >= 0xF0 && lead < 0xF5 ? 3
                                                           : 9;
    if (more == 9 || i + more >= text.size()) return false;
    unsigned code = more == 0 ? lead : lead & (0x3Fu >> more);
    for (std::size_t k = 1; k <= more; ++k) {
      const auto next = static_cast<unsigned char>(text[i + k]);
      if ((next & 0xC0) != 0x80) return false;
      code = code << 6 | (next & 0x3Fu);
    }
    if ((more == 2 && code < 0x800) || (more == 3 && code < 0x10000) || code > 0x10FFFF ||
        (code >= 0xD800 && code < 0xE000))
      return false;
    i += more + 1;
  }
  return true;
}

// Only what can be: numbers in their ranges, words that can be written. The rest is named and left out.
MachineEntry cleaned(MachineEntry entry, std::vector<EntryCheck>& checks) {
  for (const EntryField& field : entry_fields()) {
    auto& said = entry.*field.at;
    if (!said) continue;
    const double value = *said / field.to_si, slack = 1e-9 * (std::abs(field.min) + std::abs(field.max));
    if (std::isfinite(value) && value >= field.min - slack && value <= field.max + slack) continue;
    checks.push_back({std::string(field.key), Severity::grave,
                      std::isfinite(value) ? fmt::format("{:g} is out of range, {}", value, allowed(field))
                                           : "the number is not finite, " + allowed(field)});
    said.reset();
  }
  for (auto [word, key] :
       {std::pair{&entry.name, "name"}, {&entry.front_tyre, "front_tyre"}, {&entry.rear_tyre, "rear_tyre"}}) {
    if (word->size() <= 120 && printable(*word) && is_utf8(*word)) continue;
    checks.push_back({key, Severity::grave, "is too long or has signs that are no letters, allowed up to 120 letters"});
    word->clear();
  }
  return entry;
}

// The entry key whose datum decides this key of the vehicle, for a refusal by that key.
std::string entry_key_of(const MadeMachine& made, std::string_view key) {
  const DatumOrigin* origin = origin_of(made, key);
  return origin ? origin->entry_key : "";
}

double rounded(double value, int digits) { return std::strtod(fmt::format("{:.{}g}", value, digits).c_str(), nullptr); }

// What of this was found out and what was not, for the machine's note: it travels with the machine, on to every page.
std::string origin_words(const MadeMachine& made, const MachineEntry& entry) {
  const auto list = [&](bool plate) {
    std::vector<std::string> words;
    for (const EntryField& field : entry_fields())
      if (entry.*field.at && (field.group == EntryGroup::plate) == plate) words.push_back(lower_first(field.label));
    return words;
  };
  std::vector<std::string> measured = list(false), sizes;
  const std::vector<std::string> plate = list(true);
  if (!entry.front_tyre.empty()) sizes.push_back("front");
  if (!entry.rear_tyre.empty()) sizes.push_back("rear");
  const auto counted = [](const char* what, const std::vector<std::string>& words) {
    return words.empty() ? std::string() : fmt::format("{}: {} ({}). ", what, words.size(), fmt::join(words, ", "));
  };
  const auto guessed = std::ranges::count(made.origins, DatumFrom::estimated, &DatumOrigin::from);
  return (measured.empty() ? std::string("Measured: nothing. ") : counted("Measured", measured)) +
         counted("Read off the plate", plate) + counted("Tyre sizes read", sizes) +
         fmt::format("Estimated from the class \"{}\": the rest ({} numbers).", entry.machine_class, guessed);
}

// A number as a person would write it: what was measured as it was said, the rest to four digits; exactly what the file
// will say, so that it comes back bit for bit.
void round_numbers(MadeMachine& made) {
  Scene scene;
  scene.vehicle = made.vehicle;
  for (const DatumOrigin& origin : made.origins) {
    const auto& number = std::get<NumberField>(find_field(origin.key)->kind);
    const bool said = origin.from == DatumFrom::measured || origin.from == DatumFrom::plate;
    const double value = file_value(number, scene);
    set_file_value(number, scene, rounded(value, said ? 6 : 4));
  }
  made.vehicle = scene.vehicle;
}

// Every number inside what a machine file allows, and no contradictions: else named by what was said.
void check_limits(MadeMachine& made) {
  Scene scene;
  scene.vehicle = made.vehicle;
  for (const DatumOrigin& origin : made.origins) {
    const Field& field = *find_field(origin.key);
    const auto& number = std::get<NumberField>(field.kind);
    const double value = file_value(number, scene);
    if (std::isfinite(value) && value >= number.min && value <= number.max) continue;
    made.checks.push_back({origin.entry_key, Severity::grave,
                           fmt::format("makes {} {}, {}: these data do not go together", origin.key.substr(8),
                                       plain_number(value), allowed(field))});
    set_file_value(number, scene, std::isfinite(value) ? std::clamp(value, number.min, number.max) : number.min);
  }
  made.vehicle = scene.vehicle;
  if (std::ranges::any_of(made.checks, [](const EntryCheck& check) { return check.severity == Severity::grave; }))
    return;
  Scene stands = scene_of(made);
  if (const auto conflict = find_conflict(stands)) {
    const std::string shown = conflict->key.starts_with("vehicle.") ? conflict->key.substr(8) : conflict->key;
    made.checks.push_back({entry_key_of(made, conflict->key), Severity::grave, shown + ": " + conflict->message});
    return;
  }
  try {
    build(stands);
  } catch (const InputError& error) {
    const std::string message = error.what();
    const std::string key = message.substr(0, message.find_first_of(" :"));
    made.checks.push_back({entry_key_of(made, key), Severity::grave, message});
  }
}

std::string no_such_class(const std::string& typed) {
  std::vector<std::string> classes;
  for (const auto& file : vehicle_files()) classes.push_back(file.stem().string());
  const std::string near = nearest_word(typed, classes);
  std::string text = "there is no class of machine \"" + typed.substr(0, 60) + "\"";
  std::ranges::replace_if(
      text,
      [](char c) {
        return !printable({&c, 1});
      },
      '?');
  if (classes.empty()) return text + ": " + data_sought();
  return text + (near.empty() ? "" : ", did you mean " + near + "?") + " (`sidehill list machines` gives all)";
}

}  // namespace

MadeMachine make_machine(const MachineEntry& given, const Vehicle& like) {
  MadeMachine made;
  const MachineEntry entry = cleaned(given, made.checks);
  const Scales scales = scales_of(entry, like, made);
  scale_parts(entry, like, scales, made);
  place_masses(entry, like, scales, made);
  round_numbers(made);
  check_sense(entry, like, made);
  check_limits(made);
  std::ranges::stable_sort(made.checks, {}, [](const EntryCheck& check) { return check.severity != Severity::grave; });
  made.usable = first_grave(made).empty();
  for (DatumOrigin& origin : made.origins) {
    if (!(origin.tolerance > 0)) continue;
    origin.tolerance = rounded(origin.tolerance, 4);  // as the machine file says it
    made.tolerances.push_back({origin.key, origin.tolerance});
  }
  made.vehicle.note = origin_words(made, entry);
  return made;
}

MadeMachine make_machine(const MachineEntry& entry, const std::filesystem::path& folder) {
  const auto none = [](std::string why) {
    MadeMachine made;
    made.checks.push_back({"class", Severity::grave, std::move(why)});
    return made;
  };
  if (find_vehicle_file(entry.machine_class, folder).empty()) return none(no_such_class(entry.machine_class));
  try {
    return make_machine(entry, load_vehicle(entry.machine_class, folder));
  } catch (const InputError& error) {
    return none(error.what());
  }
}

std::string first_grave(const MadeMachine& made) {
  for (const EntryCheck& check : made.checks)
    if (check.severity == Severity::grave) return (check.key.empty() ? "" : check.key + ": ") + check.sentence;
  return {};
}

const DatumOrigin* origin_of(const MadeMachine& made, std::string_view key) {
  const auto at = std::ranges::find(made.origins, key, [](const DatumOrigin& o) { return std::string_view(o.key); });
  return at == made.origins.end() ? nullptr : &*at;
}

std::string_view word_for(DatumFrom from) {
  switch (from) {
    case DatumFrom::measured:
      return "measured";
    case DatumFrom::plate:
      return "from the plate";
    case DatumFrom::tyre_size:
      return "from the tyre size";
    case DatumFrom::derived:
      return "worked out";
    case DatumFrom::estimated:
      return "estimated";
    case DatumFrom::not_known:
      return "not known";
  }
  return "";
}

Scene scene_of(const MadeMachine& made) {
  Scene scene;
  scene.title = made.vehicle.name;
  scene.vehicle = made.vehicle;
  scene.tolerances = made.tolerances;
  scene.terrain.soil.adhesion_unlimited = true;
  const Loader& loader = made.vehicle.loader;
  if (loader.fitted)
    scene.ballast.loader_pin_height =
        std::clamp(kKneeHigh, std::min(loader.min_pin_height, loader.max_pin_height), loader.max_pin_height);
  return scene;
}

Scene with_machine(Scene scene, const MadeMachine& made) {
  return with_vehicle(std::move(scene), made.vehicle, made.tolerances);
}

Scene with_vehicle(Scene scene, const Vehicle& v, std::span<const Tolerance> tolerances) {
  scene.vehicle = v;
  scene.vehicle_file.clear();
  forget_machine(scene.tolerances);
  scene.tolerances.insert(scene.tolerances.end(), tolerances.begin(), tolerances.end());
  BallastPlan& plan = scene.ballast;
  auto& actions = scene.programme.actions;
  const Loader& loader = v.loader;
  if (loader.fitted) {
    if (lowest_pin_height(loader, plan) > loader.max_pin_height) plan.bale = {};
    const double lowest = lowest_pin_height(loader, plan);
    plan.loader_pin_height = std::clamp(plan.loader_pin_height, lowest, loader.max_pin_height);
    if (plan.hanging_mass > 0 && plan.hanging_rope >= plan.loader_pin_height) plan.hanging_mass = 0;
    for (Action& action : actions)
      if (action.what == ActionKind::loader)
        action.pin_height = std::clamp(action.pin_height, lowest, loader.max_pin_height);
  } else {
    plan.loader_payload = plan.hanging_mass = plan.loader_tool_mass = plan.loader_load_ahead = 0;
    plan.loader_tool = LoaderTool::bucket;
    plan.bale = {};
    std::erase_if(plan.point_masses, [](const PointMass& mass) { return mass.on == Carrier::boom; });
    std::erase_if(actions, [](const Action& action) { return action.what == ActionKind::loader; });
  }
  if (!(v.front_mount.max_mass > 0)) plan.front_weights = 0;
  if (!(v.rear_mount.max_mass > 0)) plan.rear_weights = 0;
  if (!(v.max_wheel_weights > 0)) plan.rear_wheel_weights = 0;
  if (!v.front_drive) {
    scene.programme.front_drive = false;
    std::erase_if(actions, [](const Action& action) { return action.what == ActionKind::front_drive; });
  }
  if (v.front_axle.kind != AxleKind::articulated) scene.start.articulation = 0;
  return scene;
}

}  // namespace sidehill
