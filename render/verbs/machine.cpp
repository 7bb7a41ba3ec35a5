// The command line of `sidehill machine`: what its owner found out about a machine into a machine file, with a table of
// where each number comes from.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <string>

#include "render/text/machine/machine_report.h"
#include "render/verbs/outputs.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/own_machine/made_machine.h"
#include "sim/scene/scene.h"

namespace sidehill {
namespace {

struct MachineCommand {
  bool json = false;
  Units units = Units::si;
  std::string entry_file, output;
  bool force = false;                           // replace the file
  std::map<std::string, std::string> words;     // by entry key, as typed
  std::map<std::string, double> typed;          // where CLI11 puts them
  std::map<std::string, CLI::Option*> options;  // to see which were given
};

constexpr const char* kMachineExamples = R"(
Examples
  sidehill machine --class utility_75kw --name "the old one" --front-axle-kg 1710 --rear-axle-kg 2740 --driver-kg 85
      --fuel-percent 100 --rear-tyre 18.4R34 --front-tyre 13.6R24 --rear-track-m 1.80 mine.toml
  sidehill machine --entry mine.entry.toml mine.toml      the same from a file: key = value, keys as the options with _
  sidehill solve scenes/first_slope.toml --set vehicle_file=./mine.toml

Everything is optional. The program estimates unknown values from the class and says so. Without a file name it writes
no file. Weigh on level ground, bucket empty with its pin knee-high (0.4 m), nothing on the rear linkage.
No slope is safe. Frame up and belt on, load low, slow; the maker's limits and local rules come first.)";

std::string option_of(std::string_view key) {
  std::string name = "--" + std::string(key);
  std::ranges::replace(name, '_', '-');
  return name;
}

MachineEntry entry_of(const MachineCommand& command) {
  MachineEntry entry = command.entry_file.empty() ? MachineEntry{} : load_entry(command.entry_file);
  for (const EntryWord& word : entry_words()) {
    const auto typed = command.words.find(std::string(word.key));
    if (typed == command.words.end() || typed->second.empty()) continue;
    if (set_entry_word(entry, word.key, typed->second)) continue;
    std::string choices;
    for (const std::string_view choice : word.choices) choices += (choices.empty() ? "" : ", ") + std::string(choice);
    throw InputError(fmt::format("machine: {}: not understood, allowed {}", option_of(word.key),
                                 choices.empty() ? "up to 120 letters" : choices));
  }
  for (const EntryField& field : entry_fields()) {
    const auto typed_as = [&](std::string_view key) {
      const auto option = command.options.find(std::string(key));
      return option != command.options.end() && option->second->count() > 0;
    };
    if (!typed_as(field.key) && !typed_as(field.old_key)) continue;
    if (typed_as(field.key) && typed_as(field.old_key))
      throw InputError(fmt::format("machine: {}: the same value as {}, allowed once", option_of(field.old_key),
                                   option_of(field.key)));
    const double value = command.typed.at(std::string(field.key));
    if (!std::isfinite(value) || value < field.min || value > field.max)
      throw InputError(fmt::format("machine: {}: {} is out of range, {}", option_of(field.key),
                                   std::isfinite(value) ? fmt::format("{:g}", value) : "this", allowed(field)));
    entry.*field.at = value * field.to_si;
  }
  return entry;
}

void add_machine_flags(CLI::App& sub, MachineCommand& command) {
  sub.footer(kMachineExamples);
  sub.add_option("file", command.output, "where the machine file goes (.toml)");
  sub.add_option("--entry", command.entry_file, "file with the values you know (.toml); options change single values");
  add_force_flag(sub, command.force);
  for (const EntryWord& word : entry_words())
    sub.add_option(option_of(word.key), command.words[std::string(word.key)], std::string(word.help));
  for (const EntryField& field : entry_fields()) {
    const std::string key(field.key);
    CLI::Option* option = sub.add_option(option_of(key), command.typed[key], std::string(field.how));
    command.options[key] = option;
    if (field.old_key.empty()) continue;
    const std::string old(field.old_key);  // no group: understood, but not in the help
    command.options[old] = sub.add_option(option_of(old), command.typed[key])->group("");
  }
}

int machine_verb(const MachineCommand& command, bool json) {
  const MachineEntry entry = entry_of(command);
  const MadeMachine made = make_machine(entry);
  std::optional<MachineAnswer> answer;
  if (made.usable) answer = answer_of(made);
  if (made.usable && !command.output.empty()) {
    check_machine_name(command.output);
    check_output(command.output, command.force);
    save_machine(made, entry, command.output);
  }
  if (json)
    print(machine_json(entry, made, answer));
  else if (made.usable)
    fmt::print("{}", machine_table(entry, made, answer, command.units));
  if (made.usable) {
    if (!json && !command.output.empty()) fmt::print("\nWritten: {}\n", command.output);
    return 0;
  }
  fmt::print(stderr, "machine: {}\n", first_grave(made));
  return kBadInput;
}

}  // namespace

VerbAction prepare_machine(CLI::App& sub) {
  const auto asked = std::make_shared<MachineCommand>();
  add_machine_flags(sub, *asked);
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  return [asked] { return machine_verb(*asked, asked->json); };
}

}  // namespace sidehill
