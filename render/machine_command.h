// The command line of `sidehill machine`: what its owner found out about a machine into a machine file, with a table of
// where each number comes from.
#pragma once
#include <CLI/CLI.hpp>
#include <map>
#include <string>

namespace sidehill {

struct MachineCommand {
  std::string entry_file, output;
  bool force = false;                           // replace the file
  std::map<std::string, std::string> words;     // by entry key, as typed
  std::map<std::string, double> typed;          // where CLI11 puts them
  std::map<std::string, CLI::Option*> options;  // to see which were given
};

void add_machine_flags(CLI::App& sub, MachineCommand& command);

// Prints the table, or JSON; writes the machine file if one was named. Returns the exit code: 0, or 2 if no machine can
// be made of these data (one line on standard error says which forbids it). Throws InputError for what cannot be read.
int machine_command(const MachineCommand& command, bool json);

}  // namespace sidehill
