#include "render/screen/desk/folders.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <spawn.h>
#include <sys/wait.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <string_view>
#include <system_error>
#include <thread>

#include "sim/base/errors.h"

extern char** environ;

namespace sidehill::screen {
namespace fs = std::filesystem;
namespace {

constexpr const char* kPictures = "XDG_PICTURES_DIR";

std::string value_of(const char* name) {
  const char* value = std::getenv(name);
  return value ? value : "";
}

// What stands in quotes after XDG_PICTURES_DIR=, the last such line; "$HOME/..." or a whole path, nothing else counts.
// Source: the xdg-user-dirs file format.
fs::path in_user_dirs(const fs::path& file, const fs::path& home) {
  std::ifstream in(file);
  fs::path found;
  for (std::string line; std::getline(in, line);) {
    const std::size_t first = line.find_first_not_of(" \t");
    if (first == line.npos || !std::string_view(line).substr(first).starts_with(kPictures)) continue;
    const std::size_t open = line.find('"'), end = line.rfind('"');
    if (line.find('=') > open || open == line.npos || end <= open) continue;
    std::string value;
    for (std::size_t i = open + 1; i < end; ++i) {
      if (line[i] == '\\' && i + 1 < end) ++i;
      value += line[i];
    }
    if (value == "$HOME" || value.starts_with("$HOME/"))
      found = home / value.substr(value.size() > 6 ? 6 : value.size());
    else if (value.starts_with('/'))
      found = value;
  }
  return found;
}

}  // namespace

fs::path pictures_folder() {
  std::error_code error;
  const fs::path home = value_of("HOME");
  const std::string asked = value_of(kPictures), own = value_of("XDG_CONFIG_HOME");
  const fs::path configuration = own.empty() ? home / ".config" : fs::path(own);
  for (const fs::path& folder : {fs::path(asked), in_user_dirs(configuration / "user-dirs.dirs", home)})
    if (folder.is_absolute() && fs::is_directory(folder, error)) return folder;
  if (home.empty()) return fs::current_path(error);
  return fs::is_directory(home / "Pictures", error) ? home / "Pictures" : home;
}

fs::path place_in(const fs::path& folder, const std::string& name) {
  std::error_code error;
  if (const std::string home = value_of("HOME"); name.starts_with("~/") && !home.empty())
    return fs::path(home) / name.substr(2);
  const fs::path whole = folder.empty() ? fs::path(name) : folder / name;  // a whole name stays itself
  return fs::absolute(whole, error).lexically_normal();
}

void show_folder(const fs::path& folder) {
  std::error_code ignored;
  std::string program = "xdg-open", place = fs::absolute(folder, ignored).string();
  char* const words[] = {program.data(), place.data(), nullptr};
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, 0, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
  posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
  pid_t child = 0;
  const int error = ::posix_spawnp(&child, words[0], &actions, nullptr, words, environ);
  posix_spawn_file_actions_destroy(&actions);
  if (error != 0)
    throw InputError(
        fmt::format("{} cannot be shown: the program xdg-open {}", place,
                    error == ENOENT ? "is not installed (Debian: apt install xdg-utils)" : std::strerror(error)));
  std::thread([child] {  // nobody is left behind as a zombie
    while (::waitpid(child, nullptr, 0) < 0 && errno == EINTR) {
    }
  })
      .detach();
}

}  // namespace sidehill::screen
