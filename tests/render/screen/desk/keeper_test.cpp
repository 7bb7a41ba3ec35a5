#ifdef SIDEHILL_SCREEN
// Unsaved work is on the disk whenever the program may end, and only then.
#include "render/screen/desk/keeper.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include "render/screen/desk/files.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene.h"
#include "tests/kit/machines.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;
namespace fs = std::filesystem;

namespace {

struct Kept {
  fs::path folder = fs::temp_directory_path() / ("sidehill_keeper_" + std::to_string(getpid()));
  Keeper keeper{folder};
  double now = 100;
  ~Kept() { fs::remove_all(folder); }
  void turn(const Desk& desk) { look(keeper, desk, now += 3); }
  int count(const char* kind) const {
    int found = 0;
    std::error_code error;
    for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error))
      if (at->path().filename().string().starts_with(kind)) ++found;
    return found;
  }
};

}  // namespace

TEST_CASE("kept when edited, forgotten when saved or undone, not written at every look") {
  Kept kept;
  Desk desk(test_scene("first_slope"));
  kept.turn(desk);
  CHECK(kept.count("unsaved-") == 0);
  desk.session.set_number("terrain.slope_deg", 5);
  note_edits(desk, true);
  look(kept.keeper, desk, kept.now + 0.1);
  kept.turn(desk);
  CHECK(kept.count("unsaved-") == 1);
  undo(desk);
  kept.turn(desk);
  CHECK(kept.count("unsaved-") == 0);
  redo(desk);
  kept.turn(desk);
  CHECK(kept.count("unsaved-") == 1);
  const fs::path file = kept.folder / "saved.toml";
  REQUIRE(save_file(desk, file));
  kept.turn(desk);
  CHECK(kept.count("unsaved-") == 0);
}

TEST_CASE("the second set-up is kept too, though A is saved") {
  Kept kept;
  Desk desk(test_scene("first_slope"));
  go_to(desk, Task::compare);
  kept.turn(desk);
  CHECK(kept.count("unsaved-") == 0);  // the same as A: nothing would be lost
  desk.other->set_number("ballast.rear.fill_fraction", 0);
  note_edits(desk, true);
  kept.turn(desk);
  CHECK(kept.count("unsaved-") == 1);
  CHECK(kept.count("beside-") == 1);
}

TEST_CASE("a lesson is nobody's work, and does not take the place of the person's") {
  Kept kept;
  Desk desk(test_scene("first_slope"));
  desk.session.set_number("terrain.slope_deg", 5.25);
  note_edits(desk, true);
  go_to(desk, Task::teach);
  lay_lesson(desk, test_scene("bucket_up"));
  lay_lesson_beside(desk, test_scene("over_a_stump"));
  kept.turn(desk);
  kept.turn(desk);
  REQUIRE(kept.count("unsaved-") == 1);
  CHECK(kept.count("beside-") == 0);
  for (const auto& entry : fs::directory_iterator(kept.folder))
    CHECK(read_text(entry.path()).find("slope_deg = 5.25") != std::string::npos);
  go_to(desk, Task::check);
  kept.turn(desk);
  CHECK(kept.count("unsaved-") == 1);
  Desk clean(test_scene("first_slope"));
  Kept other;
  other.keeper.folder = kept.folder / "other";
  go_to(clean, Task::teach);
  lay_lesson(clean, test_scene("bucket_up"));
  other.turn(clean);
  finish(other.keeper, clean);
  CHECK_FALSE(fs::exists(other.keeper.folder));
}

TEST_CASE("opening another file over unsaved work puts it by") {
  Kept kept;
  Desk desk(test_scene("first_slope"));
  desk.session.set_number("terrain.slope_deg", 5);
  note_edits(desk, true);
  kept.turn(desk);
  open_scene(desk, test_scene("bucket_up"), "bucket.toml");
  kept.turn(desk);
  CHECK(kept.count("unsaved-") == 1);  // under its second name
  desk.session.set_number("terrain.slope_deg", 6);
  kept.turn(desk);
  CHECK(kept.count("unsaved-") == 2);
}

TEST_CASE("work taken up again stays unsaved until it is saved, whatever is undone") {
  Kept kept;
  Desk desk(test_scene("first_slope"));
  open_unsaved(desk, test_scene("bucket_up"), test_scene("first_slope"));
  CHECK(unsaved(desk));
  CHECK(desk.compares());
  desk.session.set_number("terrain.slope_deg", 5);
  note_edits(desk, true);
  undo(desk);
  CHECK(unsaved(desk));
  finish(kept.keeper, desk);
  CHECK(kept.count("unsaved-") == 1);
  CHECK(kept.count("beside-") == 1);
}
#endif
