#ifdef SIDEHILL_SCREEN
// What is kept between two starts: recent files, unsaved work.
#include "render/screen/desk/files.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>

#include "sim/scene/scene_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/machines.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;
namespace fs = std::filesystem;

namespace {

void touch(const fs::path& file, const char* text = "title = \"A\"\n") { std::ofstream(file) << text; }

}  // namespace

TEST_CASE("files opened last come newest first, once each, without those that are gone") {
  const Folder folder;
  for (int i = 0; i < 14; ++i) {
    const fs::path file = folder.path / (std::to_string(i) + ".toml");
    touch(file);
    remember_file(folder.path / "state", file);
  }
  std::vector<fs::path> recent = recent_files(folder.path / "state");
  REQUIRE(recent.size() == kRecent);
  CHECK(recent.front().filename() == "13.toml");
  CHECK(recent.back().filename() == "4.toml");
  remember_file(folder.path / "state", folder.path / "7.toml");
  fs::remove(folder.path / "13.toml");
  recent = recent_files(folder.path / "state");
  CHECK(recent.front().filename() == "7.toml");
  CHECK(std::ranges::count(recent, fs::weakly_canonical(folder.path / "7.toml")) == 1);
  for (const fs::path& file : recent) CHECK(file.filename() != "13.toml");
}

TEST_CASE("unsaved work of a program that is gone is found, that of one still running is left alone") {
  const Folder folder;
  const Scene scene = test_scene("first_slope", {"title=My steep field", "terrain.slope_deg=13.25"});
  keep_unsaved(folder.path, scene);
  CHECK(unsaved_work(folder.path).empty());  // it is ours
  fs::path own;
  for (const auto& entry : fs::directory_iterator(folder.path)) own = entry.path();
  REQUIRE(own.filename().string().starts_with("unsaved-"));
  // A process number nobody has: the largest there can be.
  const fs::path orphan = folder.path / "unsaved-4194303.toml";
  fs::copy_file(own, orphan);
  touch(folder.path / "unsaved-1.toml");      // that one runs
  touch(folder.path / "unsaved-house.toml");  // no number
  const std::vector<UnsavedWork> found = unsaved_work(folder.path);
  REQUIRE(found.size() == 1);
  CHECK(found[0].file == orphan);
  CHECK(found[0].title == "My steep field");
  CHECK(found[0].when.size() == 16);
  Scene same = scene;
  same.vehicle_file.clear();
  CHECK(write_scene(load_scene(found[0].file)) == write_scene(same));
  CHECK(found[0].beside.empty());
  keep_unsaved(folder.path, scene, &same);
  fs::path beside;
  for (const auto& entry : fs::directory_iterator(folder.path))
    if (entry.path().filename().string().starts_with("beside-")) beside = entry.path();
  REQUIRE_FALSE(beside.empty());
  fs::copy_file(beside, folder.path / "beside-4194303.toml");
  const std::vector<UnsavedWork> both = unsaved_work(folder.path);
  REQUIRE(both.size() == 1);
  CHECK(write_scene(load_scene(both[0].beside)) == write_scene(same));
  forget(both[0]);
  CHECK(unsaved_work(folder.path).empty());
  keep_unsaved(folder.path, {});
  CHECK_FALSE(fs::exists(own));
  CHECK_FALSE(fs::exists(beside));
}

TEST_CASE("a folder that cannot be written is no fault") {
  const Scene scene = test_scene("first_slope");
  keep_unsaved("/proc/nowhere", scene);
  keep_unsaved({}, scene);
  remember_file("/proc/nowhere", SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
  CHECK(recent_files("/proc/nowhere").empty());
  CHECK(unsaved_work("/proc/nowhere").empty());
  CHECK(look_into("/proc/nowhere").empty());
}

TEST_CASE("a folder shows its folders, then its scenes with their titles") {
  const std::vector<FolderEntry> entries = look_into(SIDEHILL_SOURCE_DIR "/scenes");
  REQUIRE(entries.size() > 5);
  CHECK(entries.front().is_folder);
  bool seen = false, folders_over = false;
  for (const FolderEntry& entry : entries) {
    if (!entry.is_folder) folders_over = true;
    CHECK_FALSE((folders_over && entry.is_folder));
    if (entry.path.filename() == "over_a_stump.toml") seen = entry.title == "Over a stump";
  }
  CHECK(seen);
}
#endif
