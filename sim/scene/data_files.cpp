#include "sim/scene/data_files.h"

#include <algorithm>
#include <string>
#include <system_error>

namespace sidehill {
namespace fs = std::filesystem;
namespace {

struct Renamed {
  std::string_view before, now;  // without folder and ending
};
constexpr Renamed kRenamed[] = {{"liquid_or_iron", "water_or_cast_weights"},
                                {"reference_r_front_iron", "reference_r_front_weights"}};

bool is_file(const fs::path& path) {
  std::error_code error;
  return fs::is_regular_file(path, error);
}

// `start` and every folder above it.
std::vector<fs::path> upward(fs::path start) {
  std::error_code error;
  start = fs::weakly_canonical(start.empty() ? fs::path(".") : start, error);
  std::vector<fs::path> folders;
  for (; !start.empty(); start = start.parent_path()) {
    folders.push_back(start);
    if (start == start.parent_path()) break;
  }
  return folders;
}

// The program's own folder, so that it works from any other; empty if not known.
fs::path program_folder() {
  std::error_code error;
  return fs::read_symlink("/proc/self/exe", error).parent_path();
}

std::vector<fs::path> starting_points() {
  std::error_code error;
  std::vector<fs::path> all = upward(fs::current_path(error));
  if (const fs::path program = program_folder(); !program.empty())
    for (const fs::path& folder : upward(program)) all.push_back(folder);
  return all;
}

// The nearest folder that has both `vehicles` and `scenes` in it is the project; its *.toml in `name`.
std::vector<fs::path> toml_files(const char* name) {
  std::error_code error;
  std::vector<fs::path> files;
  for (const fs::path& folder : starting_points()) {
    if (!fs::is_directory(folder / "vehicles", error) || !fs::is_directory(folder / "scenes", error)) continue;
    for (const auto& entry : fs::directory_iterator(folder / name, error))
      if (entry.path().extension() == ".toml" && is_file(entry.path())) files.push_back(entry.path());
    break;
  }
  std::ranges::sort(files);
  return files;
}

}  // namespace

namespace {

// `below`: the folder in the project where those files are.
fs::path find_file(std::string_view name, const fs::path& folder, const fs::path& below) {
  if (name.empty() || name.size() > 300 || name.find('\0') != name.npos) return {};
  if (name.find('/') != name.npos || name.ends_with(".toml")) {
    const fs::path path = folder / fs::path(name);
    return is_file(path) ? path : fs::path{};
  }
  std::vector<fs::path> folders = upward(folder);
  for (const fs::path& more : starting_points()) folders.push_back(more);
  for (const fs::path& at : folders) {
    const fs::path path = at / below / (std::string(name) + ".toml");
    if (is_file(path)) return path;
  }
  return {};
}

}  // namespace

fs::path find_vehicle_file(std::string_view name, const fs::path& folder) {
  return find_file(name, folder, "vehicles");
}
fs::path find_job_file(std::string_view name, const fs::path& folder) { return find_file(name, folder, "scenes/jobs"); }

std::vector<fs::path> vehicle_files() { return toml_files("vehicles"); }
std::vector<fs::path> scene_files() { return toml_files("scenes"); }
std::vector<fs::path> lesson_files() { return toml_files("scenes/lessons"); }
std::vector<fs::path> job_files() { return toml_files("scenes/jobs"); }

fs::path present_name(const fs::path& path) {
  if (is_file(path)) return path;
  for (const Renamed& one : kRenamed)
    if (path.stem() == one.before && path.extension() == ".toml")
      if (const fs::path now = path.parent_path() / (std::string(one.now) + ".toml"); is_file(now)) return now;
  return path;
}

std::string present_lesson(const std::string& name) {
  for (const Renamed& one : kRenamed)
    if (name == one.before) return std::string(one.now);
  return name;
}

std::string data_sought() {
  std::error_code error;
  const fs::path here = fs::current_path(error), program = program_folder();
  std::string text =
      "the program's folder with `vehicles` and `scenes` in it was not found in or above " + here.string();
  if (!program.empty() && program != here) text += " or in or above " + program.string();
  for (char& c : text)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '?';
  return text;
}

}  // namespace sidehill
