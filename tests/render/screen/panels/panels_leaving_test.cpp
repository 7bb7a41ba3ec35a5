#ifdef SIDEHILL_SCREEN
// Unsaved work does not leave the desk without a question; a lesson is nobody's work.
#include <doctest/doctest.h>

#include <cstring>
#include <filesystem>

#include "sim/base/constants.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/near.h"
#include "tests/kit/table.h"

using namespace sidehill;
namespace fs = std::filesystem;

namespace {

const fs::path kOther = SIDEHILL_SOURCE_DIR "/scenes/bucket_up.toml";

void name_file(Table& table, const fs::path& file) {
  REQUIRE(table.choices.leaving);
  std::strcpy(table.choices.leaving->save_as, file.c_str());
}

}  // namespace

TEST_CASE("opening another scene asks only where something would be lost") {
  const Folder folder;
  Table table;
  const std::string before = table.session.scene().title;
  want_to_open(table.desk, table.choices, kOther);  // nothing was changed
  CHECK_FALSE(table.choices.leaving);
  const std::string other = table.session.scene().title;
  REQUIRE(other != before);

  table.session.set_number("terrain.slope_deg", 7);
  table.frame();
  want_to_open(table.desk, table.choices, SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
  REQUIRE(table.choices.leaving);
  table.frame();
  table.frame();
  CHECK(table.session.scene().title == other);
  for (const char* label : {"Save and go on", "Do not save", "Stay", "Save as"}) CHECK(table.has(label));
  // Nothing else is reached while it is asked: no key, no button behind it.
  CHECK(std::ranges::find(table.ui.order, "Teach") == table.ui.order.end());
  CHECK(carry_out(U't', table.desk, table.choices));
  CHECK(table.desk.task == Task::check);
  table.click("Teach");
  CHECK(table.desk.task == Task::check);
  table.click("Stay");
  CHECK_FALSE(table.choices.leaving);
  CHECK_NEAR(table.session.number("terrain.slope_deg"), 7, 1e-9);

  want_to_open(table.desk, table.choices, SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
  table.frame();
  table.frame();
  const fs::path file = folder.path / "mine.toml";
  name_file(table, file);
  table.click("Save and go on");
  CHECK_FALSE(table.choices.leaving);
  CHECK(table.session.scene().title == before);
  REQUIRE(fs::exists(file));
  CHECK_NEAR(load_scene(file).terrain.slope, 7 * kDegree, 1e-12);
}

TEST_CASE("not saved, the work is still there for Undo; a file that is there is not replaced at the first press") {
  const Folder folder;
  Table table;
  table.session.set_number("terrain.slope_deg", 7);
  table.frame();
  want_to_open(table.desk, table.choices, kOther);
  table.frame();
  table.frame();
  const fs::path file = folder.path / "there.toml";
  save_text(file, "title = \"Somebody's\"\n");
  name_file(table, file);
  table.click("Save and go on");
  REQUIRE(table.choices.leaving);
  CHECK(table.choices.leaving->wrong.find("is there already") != std::string::npos);
  CHECK(read_text(file) == "title = \"Somebody's\"\n");
  table.click("Do not save");
  CHECK_FALSE(table.choices.leaving);
  REQUIRE(table.session.scene().title == load_scene(kOther).title);
  undo(table.desk);
  CHECK_NEAR(table.session.number("terrain.slope_deg"), 7, 1e-9);
}

TEST_CASE("the window that is closed asks too, and what is not wanted is not offered again") {
  Table table;
  want_to_end(table.desk, table.choices);
  CHECK(table.choices.end);  // nothing to lose
  table.choices.end = false;
  table.session.set_number("terrain.slope_deg", 7);
  table.frame();
  want_to_end(table.desk, table.choices);
  CHECK_FALSE(table.choices.end);
  table.frame();
  table.press_key(Table::kEscape);
  CHECK_FALSE(table.choices.leaving);
  want_to_end(table.desk, table.choices);
  table.frame();
  table.frame();
  table.click("Do not save");
  CHECK(table.choices.end);
  CHECK(table.choices.forget_work);
}

TEST_CASE("a lesson is nobody's work: its title does not say so, and it asks for nothing") {
  Table table;
  lay_lesson(table.desk, load_scene(kOther));
  table.desk.session.set_number("terrain.slope_deg", 3);
  table.frame();
  CHECK(window_title(table.desk) == "Sidehill - " + load_scene(kOther).title + " (lesson)");
  want_to_end(table.desk, table.choices);
  CHECK(table.choices.end);
  leave_lesson(table.desk);
  CHECK(window_title(table.desk).find("(") == std::string::npos);
  table.desk.session.set_number("terrain.slope_deg", 3);
  CHECK(window_title(table.desk).ends_with(" (not saved)"));
}

TEST_CASE("a scene with another machine has that machine's name") {
  Table table;
  MachineForm form = open_machine_form({});
  REQUIRE(form.made.usable);
  use_machine(table.desk, form.made);
  CHECK(table.session.scene().title == form.made.vehicle.name);
  CHECK(window_title(table.desk) == "Sidehill - " + form.made.vehicle.name + " (not saved)");
}
#endif
