// Writes a made machine as a machine file whose comments say where each number comes from.
#include <fmt/format.h>

#include <algorithm>
#include <sstream>
#include <system_error>

#include "sim/base/errors.h"
#include "sim/base/plain_number.h"
#include "sim/base/text_file.h"
#include "sim/own_machine/made_machine.h"
#include "sim/scene/data_files.h"
#include "sim/scene/file_format.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

constexpr std::string_view kFirstLine = "# A machine made from what its owner measured, with `sidehill machine`.";
constexpr std::size_t kCommentColumn = 44;

std::string comment_for(const DatumOrigin& origin, std::string_view unit) {
  const std::string_view word = word_for(origin.from);
  std::string text = origin.how.empty() ? std::string(word) : origin.how;
  if (!text.starts_with(word) && origin.from == DatumFrom::estimated && text.find("estimate") == text.npos)
    text = std::string(word) + ": " + text;
  if (origin.tolerance > 0)
    text += fmt::format("; +-{}{}{}", plain_number(origin.tolerance), unit.empty() ? "" : " ", unit);
  return text;
}

}  // namespace

std::string write_machine(const MadeMachine& made, const MachineEntry& entry) {
  Scene scene;
  scene.vehicle = made.vehicle;
  std::string text(kFirstLine);
  text +=
      "\n# Places are metres ahead of the rear axle (x), to the left (y) and above level ground on undeflected tyres "
      "(z).\n"
      "# What could not be measured is estimated from the class \"" +
      entry.machine_class +
      "\"; +- is at two standard deviations.\n"
      "# It answers for the machine as measured: weigh and measure again after every change. No slope is safe: frame\n"
      "# up and belt on, load low, slow; the maker's limits and local rules come first.\n\n";
  text += format_line();
  std::istringstream lines(write_scene(scene));  // the one writer of keys and values, its machine part alone
  bool inside = false;
  for (std::string line, table; std::getline(lines, line);) {
    if (line.starts_with("[")) {
      inside = line.starts_with("[vehicle]") || line.starts_with("[vehicle.");
      table = line.substr(1, line.find(']') - 1);
      if (inside && table != "vehicle") text += "\n[" + table.substr(8) + "]\n";
      continue;
    }
    const std::size_t equals = line.find(" = ");
    if (!inside || equals == line.npos) continue;
    const std::string key = table + "." + line.substr(0, equals);
    text += line;
    if (const DatumOrigin* origin = origin_of(made, key)) {
      text += std::string(line.size() < kCommentColumn ? kCommentColumn - line.size() : 1, ' ') + "# " +
              comment_for(*origin, find_field(key)->unit);
    }
    text += '\n';
  }
  if (!made.tolerances.empty()) {
    text +=
        "\n# How far each estimate may be off, so that every answer with this machine says how sure it is. Measure "
        "one\n"
        "# better and write a smaller value here; a scene may say its own.\n";
    for (const Tolerance& tolerance : made.tolerances)
      text += fmt::format("\n[[tolerance]]\nkey = \"{}\"\nvalue = {}\n", tolerance.key, tolerance.value);
  }
  text += "\n# What it was made from (`sidehill machine --entry FILE`):\n";
  std::istringstream said(write_entry(entry));
  for (std::string line; std::getline(said, line);)
    if (!line.starts_with("#")) text += "#   " + line + "\n";
  return text;
}

void check_machine_name(const std::filesystem::path& path) {
  if (path.extension() != ".toml") throw InputError(path.string() + ": a machine has a name in .toml");
  std::error_code error;
  for (const auto& shipped : vehicle_files())
    if (std::filesystem::equivalent(path, shipped, error) && !read_text(shipped).starts_with(kFirstLine))
      throw InputError(path.string() + ": is a class that came with the program, allowed another name");
}

void save_machine(const MadeMachine& made, const MachineEntry& entry, const std::filesystem::path& path) {
  if (!made.usable) throw InputError(path.string() + ": not written: " + first_grave(made));
  check_machine_name(path);
  save_text(path, write_machine(made, entry));
}

}  // namespace sidehill
