// What the commands do to files: nothing is replaced unasked, and what cannot be written leaves the old file.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <vector>

#include "sim/base/text_file.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/program.h"

using namespace sidehill;

namespace {

namespace fs = std::filesystem;
const std::string kScene = "'" SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml' ";
const std::string kMakeMachine = "machine --class utility_75kw --rear-track-m 1.8 ";

struct Writes {
  std::string before, file, after;  // command line around the file's name
};

std::vector<Writes> commands() {
  const std::string short_run = kScene + "--set programme.duration_s=0.2 ";
  std::vector<Writes> all = {
      {kMakeMachine, "a.toml", ""},
      {"chart " + kScene, "a.svg", "--of why"},
      {"report " + kScene, "a.pdf", "--no-picture"},
      {"sheet " + kScene, "a.pdf", ""},
      {"label " + kScene, "a.pdf", ""},
      {"handout side_slope ", "a.pdf", "--no-picture"},
      {"card " + kScene, "a.pdf", "--set vehicle.loader.fitted=false --set ballast.loader_payload_kg=0"},
      {"run " + short_run + "--record ", "a.run", ""},
      {"slope-limit " + short_run + "--output ", "a.json", ""},
  };
#if defined(SIDEHILL_SCREEN) && !defined(SIDEHILL_CHECKED)  // drivers leak, which would count as the program's own
  all.push_back({"picture " + kScene, "a.png", "--width 320 --height 200"});
  all.push_back({"film " + short_run, "a.gif", "--width 64 --height 64 --end-s 0.1"});
#endif
  return all;
}

std::string quoted(const fs::path& path) { return "'" + path.string() + "' "; }
void put(const fs::path& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

void check_not_written(const std::string& arguments, const std::string& words) {
  const Said said = program(arguments + " 2>&1 >/dev/null");
  INFO(arguments, " said ", said.out);
  CHECK(said.code == 2);
  CHECK(said.out.find(words) != said.out.npos);
  CHECK(std::ranges::count(said.out, '\n') == 1);
}

}  // namespace

TEST_CASE("a file that is there is replaced with --force only") {
  for (const Writes& command : commands()) {
    const Folder folder;
    const fs::path file = folder / command.file;
    CAPTURE(command.before);
    CHECK(program(command.before + quoted(file) + command.after).code == 0);
    const std::string first = read_text(file);
    CHECK(first.size() > 100);
    put(file, "my notes");
    check_not_written(command.before + quoted(file) + command.after, "is there already; --force replaces it");
    CHECK(read_text(file) == "my notes");
    CHECK(program(command.before + quoted(file) + command.after + " --force").code == 0);
    CHECK(read_text(file).size() > 100);
    CHECK(folder.files() == 1);
  }
}

TEST_CASE("merge replaces a file with --force only") {
  const Folder folder;
  const std::string scene = kScene + "--set programme.duration_s=0.2 ";
  REQUIRE(program("slope-limit " + scene + "--shard 1/1 --output " + quoted(folder / "part.json")).code == 0);
  put(folder / "whole.json", "my notes");
  const std::string merge = "merge " + quoted(folder / "part.json") + "--output " + quoted(folder / "whole.json");
  check_not_written(merge, "--force");
  CHECK(read_text(folder / "whole.json") == "my notes");
  CHECK(program(merge + "--force").code == 0);
  CHECK(read_text(folder / "whole.json").find("slope_limit") != std::string::npos);
}

TEST_CASE("on a terminal it is asked whether a file is to be replaced") {
  const Folder folder;
  const fs::path file = folder / "a.toml";
  // `script` gives the program a terminal, and types what comes in. Not where the system itself has none to give.
  if (shell("script -qec true /dev/null < /dev/null").code != 0) {
    MESSAGE("no pseudo-terminals here: not asked");
    return;
  }
  const auto typed = [&](const char* answer) {
    put(file, "my notes");
    return shell(std::string("printf '") + answer + "' | script -qec \"'" SIDEHILL_PROGRAM "' " + kMakeMachine +
                 quoted(file) + "\" /dev/null");
  };
  for (const char* no : {"n\\n", "\\n", "perhaps\\n", ""}) {
    CAPTURE(no);
    const Said said = typed(no);
    CHECK(said.out.find("a.toml is there already. Replace it? [y/N]") != std::string::npos);
    CHECK(said.out.find("left as it was") != std::string::npos);
    CHECK(said.code == 2);
    CHECK(read_text(file) == "my notes");
  }
  const Said said = typed("y\\n");
  CAPTURE(said.out);
  CHECK(said.code == 0);
  CHECK(load_vehicle(file.string(), ".").rear.track == 1.8);
}

TEST_CASE("commands write through a link, keep a mode, and refuse what is no plain file") {
  const Folder folder;
  put(folder / "real.toml", "old");
  fs::permissions(folder / "real.toml", fs::perms::owner_read | fs::perms::owner_write);
  fs::create_symlink("real.toml", folder / "link.toml");
  CHECK(program(kMakeMachine + quoted(folder / "link.toml") + "--force").code == 0);
  CHECK(fs::is_symlink(folder / "link.toml"));
  CHECK(read_text(folder / "real.toml").find("rear") != std::string::npos);
  CHECK(fs::status(folder / "real.toml").permissions() == (fs::perms::owner_read | fs::perms::owner_write));
  REQUIRE(shell("mkfifo " + quoted(folder / "pipe.toml")).code == 0);
  check_not_written(kMakeMachine + quoted(folder / "pipe.toml") + "--force", "is not a plain file");
  CHECK(fs::is_fifo(folder / "pipe.toml"));
  fs::create_directory(folder / "folder.toml");
  check_not_written(kMakeMachine + quoted(folder / "folder.toml") + "--force", "is a folder");
  CHECK(folder.files() == 4);
}

TEST_CASE("a table's file is refused before the table is computed") {
  // Were the slope found first, these would take minutes and not milliseconds.
  const std::string table = "slope-limit '" SIDEHILL_SOURCE_DIR
                            "/scenes/over_a_stump.toml' --over programme.speed_kmh=2:9:50 "
                            "--over 'terrain.feature[0].height_m=0.1:0.3:50' ";
  const Folder folder;
  put(folder / "a.json", "my notes");
  check_not_written(table + "--output " + quoted(folder / "a.json"), "--force");
  check_not_written(table + "--force --output /dev/stdout", "/dev/stdout: is not a plain file");
  check_not_written(table + "--force --output " + quoted(folder.path), "is a folder");
}

#if defined(SIDEHILL_SCREEN) && !defined(SIDEHILL_CHECKED)  // drivers leak, which would count as the program's own
TEST_CASE("a picture or a film on a full disk is no answer, and the old one stays") {
  const Folder folder;
  const std::string film =
      "film '" SIDEHILL_SOURCE_DIR "/scenes/over_a_stump.toml' --start-s 1 --end-s 2 --width 320 --height 240 ";
  for (const auto& [command, name] :
       {std::pair{"picture " + kScene + "--width 320 --height 200 ", "a.png"}, {film, "a.mp4"}, {film, "a.webm"}}) {
    const auto& this_command = command;
    CAPTURE(this_command);
    const fs::path file = folder / name;
    put(file, "the old one");
    // A limit of 4 kB on the size of files stands for the full disk.
    const Said said = shell("trap '' XFSZ; ulimit -f 8; '" SIDEHILL_PROGRAM "' " + command + quoted(file) +
                            "--force 2>&1 >/dev/null");
    CAPTURE(said.out);
    CHECK(said.code == 2);
    CHECK(std::ranges::count(said.out, '\n') == 1);
    CHECK(read_text(file) == "the old one");
  }
  CHECK(folder.files() == 3);
}

TEST_CASE("a film that ffmpeg leaves empty is none") {
  const Folder folder;
  fs::create_directories(folder / "bin");
  put(folder / "bin/ffmpeg", "#!/bin/sh\ncat >/dev/null\n");  // a stand-in that eats all and writes nothing
  fs::permissions(folder / "bin/ffmpeg", fs::perms::owner_all);
  put(folder / "a.mp4", "the old one");
  const Said said =
      shell("PATH='" + (folder / "bin").string() + ":/usr/bin:/bin' '" SIDEHILL_PROGRAM "' film " + kScene +
            quoted(folder / "a.mp4") + "--end-s 0.1 --width 64 --height 64 --force 2>&1 >/dev/null");
  CAPTURE(said.out);
  CHECK(said.code == 2);
  CHECK(said.out.find("ffmpeg wrote nothing") != said.out.npos);
  CHECK(read_text(folder / "a.mp4") == "the old one");
  CHECK(folder.files() == 2);
}
#endif
