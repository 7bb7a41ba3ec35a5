// `sidehill trial`: random scenes by the thousand. Reads options and prints; knows no window.
#pragma once
#include <CLI/CLI.hpp>
#include <optional>

namespace sidehill {

struct TrialCommand {
  long runs = 1000;
  std::uint64_t first = 1;
  std::optional<std::uint64_t> scene;
  int cores = 0;
};

void add_trial_flags(CLI::App& sub, TrialCommand& options);
int trial_command(const TrialCommand& options, bool json);  // exit code: 3 if anything gave way

}  // namespace sidehill
