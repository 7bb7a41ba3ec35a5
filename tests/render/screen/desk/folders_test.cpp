#ifdef SIDEHILL_SCREEN
// Where what is made goes on this desktop, and the program that shows it.
#include "render/screen/desk/folders.h"

#include <doctest/doctest.h>
#include <sys/stat.h>

#include <chrono>
#include <cstdlib>
#include <fstream>
#include <optional>
#include <string>
#include <thread>

#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "tests/kit/folder.h"

using namespace sidehill;
using namespace sidehill::screen;
namespace fs = std::filesystem;

namespace {

// An environment variable for as long as this lives.
struct Variable {
  const char* name;
  std::optional<std::string> before;
  Variable(const char* n, const std::string& value) : name(n) {
    if (const char* was = std::getenv(n)) before = was;
    setenv(n, value.c_str(), 1);
  }
  ~Variable() { before ? setenv(name, before->c_str(), 1) : unsetenv(name); }
  Variable(const Variable&) = delete;
  Variable& operator=(const Variable&) = delete;
};

}  // namespace

TEST_CASE("pictures go where the desktop keeps them, in whatever language that folder has its name") {
  const Folder folder;
  const Variable home("HOME", folder.path.string()), configuration("XDG_CONFIG_HOME", ""),
      asked("XDG_PICTURES_DIR", "");
  CHECK(pictures_folder() == folder.path);  // there is none: home
  fs::create_directories(folder.path / "Pictures");
  CHECK(pictures_folder() == folder.path / "Pictures");
  fs::create_directories(folder.path / "Imagens do campo");
  fs::create_directories(folder.path / ".config");
  const auto says = [&](const char* line) {
    std::ofstream(folder.path / ".config/user-dirs.dirs") << "# a comment\nXDG_MUSIC_DIR=\"$HOME/Music\"\n"
                                                          << line << "\n";
  };
  says("XDG_PICTURES_DIR=\"$HOME/Imagens do campo\"");
  CHECK(pictures_folder() == folder.path / "Imagens do campo");
  says("XDG_PICTURES_DIR=\"$HOME/gone\"");  // named, but not there
  CHECK(pictures_folder() == folder.path / "Pictures");
  says("#XDG_PICTURES_DIR=\"$HOME/Imagens do campo\"");
  CHECK(pictures_folder() == folder.path / "Pictures");
  says("XDG_PICTURES_DIR=\"somewhere\"");  // neither whole nor of home: does not count
  CHECK(pictures_folder() == folder.path / "Pictures");
  const Variable wanted("XDG_PICTURES_DIR", (folder.path / "Imagens do campo").string());
  CHECK(pictures_folder() == folder.path / "Imagens do campo");
  const Variable other("XDG_PICTURES_DIR", "");
  fs::create_directories(folder.path / "own");
  const Variable moved("XDG_CONFIG_HOME", (folder.path / "own").string());
  std::ofstream(folder.path / "own/user-dirs.dirs")
      << "XDG_PICTURES_DIR=\"" << (folder.path / "own").string() << "\"\n";
  CHECK(pictures_folder() == folder.path / "own");
}

TEST_CASE("a name goes into the folder, a name with a place of its own goes there") {
  const Folder folder;
  const Variable home("HOME", folder.path.string());
  CHECK(place_in("/a/b", "picture.png") == fs::path("/a/b/picture.png"));
  CHECK(place_in("/a/b", "sub/picture.png") == fs::path("/a/b/sub/picture.png"));
  CHECK(place_in("/a/b", "/c/picture.png") == fs::path("/c/picture.png"));
  CHECK(place_in("/a/b", "~/picture.png") == folder.path / "picture.png");
  CHECK(place_in("", "picture.png") == fs::current_path() / "picture.png");
}

TEST_CASE("the folder is shown by the desktop's own program, with the folder as its one argument") {
  const Folder folder;
  fs::create_directories(folder.path / "bin");
  const fs::path program = folder.path / "bin/xdg-open", heard = folder.path / "heard";
  std::ofstream(program) << "#!/bin/sh\nprintf '%s|%s' \"$#\" \"$1\" > '" << heard.string() << ".new'\nmv '"
                         << heard.string() << ".new' '" << heard.string() << "'\n";
  chmod(program.c_str(), 0755);
  const Variable path("PATH", (folder.path / "bin").string() + ":/usr/bin:/bin");
  // Nothing of it is read by a shell.
  const fs::path odd = folder.path / "My $(touch hacked) 'pictures'; x";
  fs::create_directories(odd);
  show_folder(odd);
  for (int i = 0; i < 200 && !fs::exists(heard); ++i) std::this_thread::sleep_for(std::chrono::milliseconds(50));
  REQUIRE(fs::exists(heard));
  CHECK(read_text(heard) == "1|" + odd.string());
  const Variable none("PATH", (folder.path / "nowhere").string());
  CHECK_THROWS_AS(show_folder(odd), InputError);
}
#endif
