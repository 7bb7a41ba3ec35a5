// How files are written: whole or not at all, through links, with the mode they had, and never over what is no file.
#include "sim/base/saving.h"

#include <doctest/doctest.h>
#include <sys/stat.h>
#include <sys/sysmacros.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>

#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene.h"
#include "tests/kit/folder.h"
#include "tests/kit/full_disk.h"

using namespace sidehill;

namespace {

namespace fs = std::filesystem;

// Why a text is not saved there, in one line; empty if it is.
std::string refusal_of_save(const fs::path& path, const std::string& text = "new") {
  try {
    save_text(path, text);
  } catch (const InputError& error) {
    const std::string line = error.what();
    CHECK(std::ranges::none_of(line, [](char c) { return static_cast<unsigned char>(c) < 0x20; }));
    return line;
  }
  return "";
}

unsigned mode_of(const fs::path& path) {
  struct stat about {};
  REQUIRE(stat(path.c_str(), &about) == 0);
  return about.st_mode & 07777;
}

}  // namespace

TEST_CASE("a symbolic link stays one, and what it leads to is written") {
  const Folder folder;
  fs::create_directories(folder / "far");
  save_text(folder / "far/real.txt", "old");
  fs::create_symlink("far/real.txt", folder / "link");
  fs::create_symlink("link", folder / "link to link");
  fs::create_symlink("far/not there yet", folder / "loose");
  save_text(folder / "link to link", "new");
  CHECK(fs::is_symlink(folder / "link"));
  CHECK(fs::is_symlink(folder / "link to link"));
  CHECK(read_text(folder / "far/real.txt") == "new");
  save_text(folder / "loose", "first");
  CHECK(fs::is_symlink(folder / "loose"));
  CHECK(read_text(folder / "far/not there yet") == "first");
  fs::create_symlink("round", folder / "about");
  fs::create_symlink("about", folder / "round");
  CHECK(refusal_of_save(folder / "round").find("symbolic links") != std::string::npos);
  CHECK(folder.files() == 6);  // no temporary file is left
}

TEST_CASE("a file keeps its mode, and a write-protected one is left alone") {
  const Folder folder;
  for (const auto& [name, mode] : {std::pair{"private", 0600u}, {"shared", 0664u}, {"script", 0755u}}) {
    save_text(folder / name, "old");
    REQUIRE(chmod((folder / name).c_str(), mode) == 0);
    save_text(folder / name, "new");
    CHECK(mode_of(folder / name) == mode);
    CHECK(read_text(folder / name) == "new");
  }
  save_text(folder / "kept", "old");
  REQUIRE(chmod((folder / "kept").c_str(), 0444) == 0);
  CHECK(refusal_of_save(folder / "kept").find("write-protected") != std::string::npos);
  CHECK(read_text(folder / "kept") == "old");
  CHECK(mode_of(folder / "kept") == 0444u);
  CHECK(folder.files() == 4);
}

TEST_CASE("what is no plain file is not written to") {
  const Folder folder;
  const fs::path pipe = folder / "pipe", device = folder / "device";
  REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
  CHECK(refusal_of_save(pipe).find("is not a plain file") != std::string::npos);
  CHECK(fs::is_fifo(pipe));
  fs::create_symlink("pipe", folder / "link to pipe");
  CHECK(refusal_of_save(folder / "link to pipe").find("is not a plain file") != std::string::npos);
  CHECK(fs::is_fifo(pipe));
  if (mknod(device.c_str(), S_IFCHR | 0600, makedev(1, 3)) == 0) {  // a second null device; only root may make one
    CHECK(refusal_of_save(device).find("is not a plain file") != std::string::npos);
    CHECK(fs::is_character_file(device));
  }
  CHECK(refusal_of_save(folder.path).find("is a folder") != std::string::npos);
  CHECK(refusal_of_save(folder.path / "").find("is a folder") != std::string::npos);
  CHECK(refusal_of_save(folder / "no/such").find("cannot be written") != std::string::npos);
  CHECK_FALSE(refusal_of_save("").empty());
}

TEST_CASE("the standard output and other devices are not written to under their names") {
  // Asked, not written: a program that is wrong here would replace the device for everybody.
  for (const char* name :
       {"/dev/null", "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1", "/dev/new", "/dev/../dev/full"}) {
    CAPTURE(name);
    CHECK_THROWS_WITH_AS(file_to_write(name), doctest::Contains("is not a plain file"), InputError);
  }
  const Folder folder;
  fs::create_symlink("/dev/stdout", folder / "out.json");
  CHECK_THROWS_WITH_AS(file_to_write(folder / "out.json"), doctest::Contains("is not a plain file"), InputError);
  CHECK(file_to_write(folder / "a.json") == folder / "a.json");
}

TEST_CASE("a folder that is not there is seen before anything is computed for its file") {
  const Folder folder;
  CHECK_THROWS_WITH_AS(file_to_write(folder / "no" / "a.json"), doctest::Contains("cannot be written: No such file"),
                       InputError);
  save_text(folder / "plain", "text");
  CHECK_THROWS_WITH_AS(file_to_write(folder / "plain" / "a.json"), doctest::Contains("cannot be written"), InputError);
  CHECK(file_to_write("a_name_alone.json") == "a_name_alone.json");
}

TEST_CASE("a name that is taken by a planted link is not followed") {
  const Folder folder;
  save_text(folder / "victim", "untouched");
  save_text(folder / "a.txt", "old");
  const std::string own = "a.txt." + std::to_string(getpid());
  fs::create_symlink("victim", folder / (own + ".part"));
  save_text(folder / "a.txt", "new");
  CHECK(read_text(folder / "a.txt") == "new");
  CHECK(read_text(folder / "victim") == "untouched");
  CHECK(fs::is_symlink(folder / (own + ".part")));  // somebody else's, left where it is
  CHECK(folder.files() == 3);
}

TEST_CASE("the longest name a folder takes can be written") {
  const Folder folder;
  const std::string longest = std::string(251, 'a') + ".svg";  // 255 bytes, what most file systems allow
  save_text(folder / longest, "text");
  CHECK(read_text(folder / longest) == "text");
  std::string umlauts = "x";
  for (int i = 0; i < 125; ++i) umlauts += "\xC3\xBC";  // a cut must not fall inside a letter
  save_text(folder / umlauts, "text");
  CHECK(read_text(folder / umlauts) == "text");
}

TEST_CASE("a disk that is full loses nothing") {
  const Folder folder;
  save_text(folder / "a.txt", "old");
  std::string said;
  {
    const FullDisk full(1000);
    said = refusal_of_save(folder / "a.txt", std::string(5000, 'x'));
  }
  CHECK(said.find("a.txt: cannot be written: ") != std::string::npos);
  CHECK(read_text(folder / "a.txt") == "old");
  CHECK(folder.files() == 1);
}

TEST_CASE("a new file that is given up leaves nothing") {
  const Folder folder;
  save_text(folder / "a.txt", "old");
  {
    NewFile file(folder / "a.txt");
    file.write("half");
    CHECK(folder.files() == 2);
  }
  CHECK(read_text(folder / "a.txt") == "old");
  CHECK(folder.files() == 1);
}
