#include "render/screen/desk/files.h"

#include <fmt/chrono.h>
#include <fmt/format.h>
#include <signal.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <ctime>
#include <fstream>
#include <system_error>

#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace fs = std::filesystem;
namespace {

constexpr const char *kRecentFile = "recent", *kUnitsFile = "units";
constexpr std::string_view kUnsaved = "unsaved-", kBeside = "beside-", kEnding = ".toml";

bool make_folder(const fs::path& folder) {
  std::error_code error;
  fs::create_directories(folder, error);
  return !folder.empty() && fs::is_directory(folder, error);
}

// The first `title = "..."` of a scene, without reading the rest of it.
std::string title_of(const fs::path& file) {
  std::ifstream in(file);
  std::string line;
  for (int i = 0; i < 60 && std::getline(in, line); ++i) {
    if (!line.starts_with("title")) continue;
    const std::size_t a = line.find('"'), b = line.rfind('"');
    if (a != std::string::npos && b > a) return line.substr(a + 1, b - a - 1);
  }
  return {};
}

fs::path own_file(const fs::path& folder, std::string_view kind, int number = 0) {
  const std::string which = number > 0 ? fmt::format("-{}", number) : "";
  return folder / fmt::format("{}{}{}{}", kind, getpid(), which, kEnding);
}

bool runs(pid_t process) { return kill(process, 0) == 0 || errno == EPERM; }

// The number in unsaved-<number>.toml; 0 if it is none.
pid_t owner_of(const fs::path& file) {
  const std::string name = file.filename().string();
  if (!name.starts_with(kUnsaved) || !name.ends_with(kEnding)) return 0;
  return static_cast<pid_t>(std::strtol(name.c_str() + kUnsaved.size(), nullptr, 10));
}

}  // namespace

fs::path state_folder() {
  if (const char* state = std::getenv("XDG_STATE_HOME"); state && *state) return fs::path(state) / "sidehill";
  if (const char* home = std::getenv("HOME"); home && *home) return fs::path(home) / ".local/state/sidehill";
  return {};
}

fs::path machines_folder() {
  if (const char* data = std::getenv("XDG_DATA_HOME"); data && *data) return fs::path(data) / "sidehill/machines";
  if (const char* home = std::getenv("HOME"); home && *home) return fs::path(home) / ".local/share/sidehill/machines";
  return {};
}

text::Units kept_units(const fs::path& folder) {
  std::ifstream in(folder / kUnitsFile);
  std::string word;
  in >> word;
  for (const text::Units units : {text::Units::kn, text::Units::us})
    if (word == text::weight_unit(units)) return units;
  return text::Units::si;
}

void keep_units(const fs::path& folder, text::Units units) {
  if (!make_folder(folder)) return;
  try {
    save_text(folder / kUnitsFile, std::string(text::weight_unit(units)) + "\n");
  } catch (const InputError&) {
    // chosen again at the next start
  }
}

std::vector<fs::path> recent_files(const fs::path& folder) {
  std::vector<fs::path> files;
  std::ifstream in(folder / kRecentFile);
  std::string line;
  std::error_code error;
  while (files.size() < kRecent && std::getline(in, line)) {
    if (!line.empty() && fs::is_regular_file(line, error)) files.emplace_back(line);
  }
  return files;
}

void remember_file(const fs::path& folder, const fs::path& file) {
  std::error_code error;
  const fs::path whole = fs::weakly_canonical(file, error);
  if (error || whole.string().find('\n') != std::string::npos || !make_folder(folder)) return;
  std::vector<fs::path> files = recent_files(folder);
  std::erase(files, whole);
  files.insert(files.begin(), whole);
  if (files.size() > kRecent) files.resize(kRecent);
  std::string text;
  for (const fs::path& each : files) text += each.string() + "\n";
  try {
    save_text(folder / kRecentFile, text);
  } catch (const InputError&) {
    // the list is a convenience
  }
}

std::vector<UnsavedWork> unsaved_work(const fs::path& folder) {
  std::vector<std::pair<fs::file_time_type, UnsavedWork>> found;
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error)) {
    const pid_t owner = owner_of(entry->path());
    if (owner <= 0 || owner == getpid() || runs(owner)) continue;  // still running: it is that one's
    std::error_code gone;
    const fs::file_time_type written = fs::last_write_time(entry->path(), gone);
    struct stat about {};
    if (gone || stat(entry->path().c_str(), &about) != 0) continue;
    std::tm local{};
    localtime_r(&about.st_mtime, &local);
    fs::path beside = folder / (std::string(kBeside) + entry->path().filename().string().substr(kUnsaved.size()));
    if (!fs::is_regular_file(beside, gone)) beside.clear();
    found.push_back(
        {written,
         {entry->path(), std::move(beside), title_of(entry->path()), fmt::format("{:%Y-%m-%d %H:%M}", local)}});
  }
  std::ranges::sort(found, [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<UnsavedWork> works;
  for (auto& each : found) works.push_back(std::move(each.second));
  return works;
}

void keep_unsaved(const fs::path& folder, const std::optional<Scene>& scene, const Scene* beside) {
  if (folder.empty()) return;
  std::error_code ignored;
  if (!scene || !beside) fs::remove(own_file(folder, kBeside), ignored);
  if (!scene) {
    fs::remove(own_file(folder, kUnsaved), ignored);
    return;
  }
  if (!make_folder(folder)) return;
  try {
    save_text(own_file(folder, kUnsaved), write_scene(*scene));
    if (beside) save_text(own_file(folder, kBeside), write_scene(*beside));
  } catch (const InputError&) {
    // nowhere to keep it; the work itself goes on
  }
}

void put_by(const fs::path& folder, int number) {
  std::error_code ignored;
  for (const std::string_view kind : {kUnsaved, kBeside}) {
    fs::rename(own_file(folder, kind), own_file(folder, kind, 1 + (number - 1) % kPutBy), ignored);
  }
}

void forget(const UnsavedWork& work) {
  std::error_code ignored;
  fs::remove(work.file, ignored);
  if (!work.beside.empty()) fs::remove(work.beside, ignored);
}

std::vector<FolderEntry> look_into(const fs::path& folder) {
  std::vector<FolderEntry> entries;
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error)) {
    const std::string name = entry->path().filename().string();
    if (name.starts_with('.')) continue;
    std::error_code ignored;
    if (entry->is_directory(ignored)) {
      entries.push_back({entry->path(), true, {}});
    } else if (entry->path().extension() == ".toml") {
      entries.push_back({entry->path(), false, title_of(entry->path())});
    } else if (entry->path().extension() == ".run") {
      entries.push_back({entry->path(), false, "recorded run"});
    }
  }
  std::ranges::sort(entries, [](const FolderEntry& a, const FolderEntry& b) {
    return a.is_folder != b.is_folder ? a.is_folder : a.path < b.path;
  });
  return entries;
}

}  // namespace sidehill::screen
