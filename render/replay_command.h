// `sidehill replay`: what a recording says, one moment of it, its scene, or whether running that scene again gives the
// same. What it prints comes from render/text/.
#pragma once
#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

namespace sidehill {

struct ReplayCommand {
  std::string file;
  std::vector<std::string> signals;
  std::optional<double> at;  // [s]
  bool again = false, scene = false, csv = false;
};

void add_replay_flags(CLI::App& sub, ReplayCommand& options);

// Returns the exit code: 3 where the stored run diverged, or where --again gives other bits. Throws InputError for bad
// input.
int replay_command(const ReplayCommand& options, bool json);

}  // namespace sidehill
