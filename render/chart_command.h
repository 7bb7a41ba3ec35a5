// `sidehill chart`: one chart of a scene or a recorded run into an SVG or PNG file. What it draws comes from
// render/page/.
#pragma once
#include <CLI/CLI.hpp>
#include <string>
#include <vector>

namespace sidehill {

struct ChartCommand {
  std::string file;            // where the chart goes, .svg or .png
  std::string of = "heading";  // one of heading, time, loads, why, slopes, fills
  bool plain = false;          // heading along an axis in place of around the machine
  double scale = 2;            // pixels a point, for PNG
  bool force = false;          // replace the file
};

void add_chart_flags(CLI::App& sub, ChartCommand& options);

// Returns the exit code. `scene`: a scene file, or for time and loads a recording (.run) too. Throws InputError for bad
// input.
int chart_command(const ChartCommand& options, const std::string& scene, const std::vector<std::string>& changes);

}  // namespace sidehill
