// The verbs "slope-limit" and "merge": flags, files, and what is printed.
#pragma once
#include <CLI/CLI.hpp>
#include <string>
#include <vector>

namespace sidehill {

struct SlopeCommand {
  bool no_roll = false;
  std::vector<std::string> over, parts;
  std::string shard, output;
  std::size_t cores = 0;  // 0 = all
  bool force = false;     // replace the file of --output
};

void add_slope_flags(CLI::App& sub, SlopeCommand& options);
void add_merge_flags(CLI::App& sub, SlopeCommand& options);

// Exit codes; throw InputError for bad input.
int limit_slope_command(const SlopeCommand& options, const std::string& scene, const std::vector<std::string>& changes,
                        bool json);
int merge_command(const SlopeCommand& options, bool json);

}  // namespace sidehill
