// `sidehill report`: the engineer's page of a scene as PDF. What stands on it comes from render/page/report; where
// there is a screen part, it gives the picture of the machine.
#pragma once
#include <CLI/CLI.hpp>
#include <string>
#include <vector>

namespace sidehill {

struct ReportCommand {
  std::string file;         // where the report goes, .pdf
  bool no_picture = false;  // words and charts only
  bool force = false;       // replace the file
};

void add_report_flags(CLI::App& sub, ReportCommand& options);

// Returns the exit code; 3 where no balance was found. Throws InputError for bad input.
int report_command(const ReportCommand& options, const std::string& scene, const std::vector<std::string>& changes);

}  // namespace sidehill
