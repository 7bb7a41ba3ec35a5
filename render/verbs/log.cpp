// `sidehill log`: what has been done of a plan, what is left, and the machine as it is now.
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "render/text/plan/log_report.h"
#include "render/verbs/outputs.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/text_file.h"
#include "sim/base/today.h"
#include "sim/model/model.h"
#include "sim/plan/plan_log.h"
#include "sim/scene/machine_mark.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct LogCommand {
  std::string file;
  bool json = false, strict = false, force = false, add = false;
  Units units = Units::si;
  std::string now;  // where the machine as it is now goes; empty = nowhere
  std::string of;   // a scene whose machine it must be; empty = any
  // Of --add, as typed: each names the key of an entry that it sets.
  std::vector<std::pair<std::string, std::string>> values;
};

struct AddOption {
  const char *option, *key, *help, *type;
};
constexpr AddOption kAddOptions[] = {
    {"--date", "date", "when it was done, such as 2026-11-28; default today", "DATE"},
    {"--who", "who", "who did it", "NAME"},
    {"--tyre,--at", "place", "where: rear-left, front-right, rear-axle, front-weights, rear-wheel-weights, machine",
     "PLACE"},
    {"--what", "what",
     "filled, drained, fitted, taken-off, pressure-set, track-set, checked; default filled where "
     "--litres is given, else checked",
     "WORD"},
    {"--litres", "volume_l", "liquid pumped in, let out or found", "NUMBER"},
    {"--kg", "mass_kg", "mass of the weights, or of the liquid", "NUMBER"},
    {"--pressure", "pressure_kpa", "gauge pressure in kPa", "NUMBER"},
    {"--track", "track_m", "track in metres", "NUMBER"},
    {"--medium", "medium", "liquid; default the planned one, else what is in the tyre", "NAME"},
    {"--concentration", "concentration", "mass of dissolved matter over mass of the solution", "NUMBER"},
    {"--next-check", "next_check", "when to look there again, a date", "DATE"},
    {"--note", "note", "anything else", "TEXT"},
};
constexpr bool is_word(std::string_view key) { return key == "who" || key == "medium" || key == "note"; }

// The entry typed, as read by the reader of files: the same ranges, the same messages.
LogEntry typed_entry(const LogCommand& asked, const Scene& scene, const std::string& day) {
  std::string values;
  const auto given = [&](std::string_view key) {
    return std::ranges::any_of(asked.values, [&](const auto& value) { return value.first == key; });
  };
  if (!given("place"))
    throw InputError("log: --add: say where with --tyre or --at: rear-left, front-right, rear-axle, front-weights ...");
  for (auto [key, value] : asked.values) {
    if (key == "place" || key == "what") std::ranges::replace(value, '-', '_');
    const bool quoted = is_word(key) || key == "place" || key == "what" || key == "date" || key == "next_check";
    char* end = nullptr;
    if (!quoted && (std::strtod(value.c_str(), &end), end == value.c_str() || *end != '\0'))
      throw InputError(fmt::format("log: --add: {}: \"{}\" is not readable, allowed a number", key, value));
    values += fmt::format(", {} = {}", key, quoted ? in_quotes(value) : value);
  }
  if (!given("date")) values += fmt::format(", date = {}", day);
  if (!given("what")) values += given("volume_l") ? ", what = \"filled\"" : ", what = \"checked\"";
  Scene with = scene;
  with.plan.log.clear();
  apply_override(with, "plan.log+={" + values.substr(2) + "}", "log: --add");
  return with.plan.log.front();
}

// Who fills a tyre and says no medium means the planned one, where there is one.
void take_planned_medium(LogEntry& entry, const Scene& scene) {
  const auto wheel = static_cast<std::size_t>(entry.place);
  if (entry.what != LogWhat::filled || !entry.medium.empty() || wheel >= kWheels) return;
  const TyreFill& planned = scene.ballast.fill[wheel];
  if (!(planned.fill_fraction > 0)) return;
  entry.medium = info(planned.medium).key;
  if (planned.concentration > 0 && !entry.concentration) entry.concentration = planned.concentration;
}

// The rest of the file stays byte for byte.
void add_entry(const LogCommand& asked, Scene& scene, const std::string& day) {
  if (read_log(scene, asked.file, day).other_machine)
    throw InputError(asked.file + ": plan.machine_mark: the plan was made for another machine than the one in this " +
                     "file, so nothing is logged for it");
  LogEntry entry = typed_entry(asked, scene, day);
  take_planned_medium(entry, scene);
  scene.plan.log.push_back(entry);
  read_log(scene, "log: --add", day);  // refuses what cannot be
  std::string text = read_text(asked.file);
  if (!text.empty() && text.back() != '\n') text += '\n';
  text += "\n" + entry_text(entry);
  parse_scene(text, asked.file);
  check_output(asked.file, true);
  save_text(asked.file, text);
}

void check_machine(const LogCommand& asked, const Scene& scene) {
  if (asked.of.empty()) return;
  const Scene other = load_scene(asked.of);
  const std::string &ours = scene.record.machine_number, &theirs = other.record.machine_number;
  if (!ours.empty() && !theirs.empty() && ours != theirs)
    throw InputError(fmt::format("{}: record.machine_number: the plan is for machine {}, {} is machine {}", asked.file,
                                 ours, asked.of, theirs));
  // Before the plan, or with the wheels that it puts on.
  const std::string mark = machine_mark(other);
  if (mark != machine_mark(before_plan(scene, asked.file)) && mark != machine_mark(scene))
    throw InputError(
        fmt::format("{}: plan.machine_mark: the plan is for another machine than the one in {}: their "
                    "masses, measures or tyres differ",
                    asked.file, asked.of));
}

int log_verb(const LogCommand& asked) {
  if (!asked.add && !asked.values.empty())
    throw InputError("log: --" + asked.values.front().first + " belongs to an entry: give --add as well");
  if (!asked.now.empty()) {
    if (!asked.now.ends_with(".toml"))
      throw InputError("log: --now " + asked.now + ": a scene is written as TOML, give it a name in .toml");
    check_output(asked.now, asked.force);
  }
  const std::string day = today();
  Scene scene = load_scene(asked.file);
  check_machine(asked, scene);
  if (asked.add) add_entry(asked, scene, day);
  const LogAnswer answer = read_log(scene, asked.file, day);
  const LogStand stand = of_scene(asked.file, [&] {
    return LogStand{slope_of_job(answer.machine, build(answer.machine)), slope_of_job(scene, build(scene))};
  });
  asked.json ? print(log_json(scene, answer, stand, day))
             : fmt::print("{}", log_table(scene, answer, stand, day, asked.units));
  if (!asked.now.empty() && answer.other_machine)
    throw InputError(asked.file + ": plan.machine_mark: the plan was made for another machine than the one in this " +
                     "file, so --now writes no scene");
  if (!asked.now.empty()) {
    Scene machine = answer.machine;
    machine.note = fmt::format("As it is on {} by the log of {}.", day, asked.file);
    save_text(asked.now, write_scene(machine));
  }
  const bool behind =
      answer.other_machine || !answer.left.empty() || std::ranges::any_of(answer.checks, &LogCheck::overdue);
  return asked.strict && behind ? kLimitBroken : kAnswered;
}

}  // namespace

VerbAction prepare_log(CLI::App& sub) {
  const auto asked = std::make_shared<LogCommand>();
  sub.add_option("plan", asked->file, "plan file (.toml), as `plan --save` writes it")->required();
  sub.add_flag("--add", asked->add, "append an entry to the file");
  for (const AddOption& option : kAddOptions)
    sub.add_option_function<std::string>(
           option.option,
           [asked, key = option.key](const std::string& value) { asked->values.emplace_back(key, value); }, option.help)
        ->type_name(option.type);
  sub.add_option("--now", asked->now, "write the machine as it is now as a scene")->type_name("FILE.toml");
  sub.add_option("--of", asked->of, "refuse unless the plan is for this scene's machine")->type_name("SCENE.toml");
  add_force_flag(sub, asked->force);
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  sub.add_flag("--strict", asked->strict, "exit code 4 if it is not as planned, or a check is overdue");
  return [asked] { return log_verb(*asked); };
}

}  // namespace sidehill
