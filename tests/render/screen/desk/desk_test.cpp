#ifdef SIDEHILL_SCREEN
// What lies on the desk: undo and redo, two set-ups side by side, looking back, files.
#include "render/screen/desk/desk.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "sim/base/text_file.h"
#include "sim/motion/recording_file.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;
namespace fs = std::filesystem;

namespace {

// A written scene names its machine's file in a comment only, which reading does not bring back.
std::string bytes(Scene scene) {
  scene.vehicle_file.clear();
  return write_scene(scene);
}
std::string bytes(const Desk& desk) { return bytes(desk.session.scene()); }

fs::path in_temp(const char* name) {
  return fs::temp_directory_path() / (std::string("sidehill_desk_") + std::to_string(getpid()) + name);
}

}  // namespace

TEST_CASE("undo returns the same bytes, redo what was undone, whatever was edited") {
  Desk desk(test_scene("over_a_stump"));
  std::vector<std::string> was{bytes(desk)};
  const auto edit = [&](auto&& change) {
    change();
    CHECK(note_edits(desk, true));
    was.push_back(bytes(desk));
    CHECK(was[was.size() - 1] != was[was.size() - 2]);
  };
  edit([&] { desk.session.set_number("terrain.slope_deg", 11.3); });
  edit([&] { desk.session.set_choice("ballast.rear.medium", 3); });
  edit([&] { desk.session.set_flag("terrain.soil.adhesion_unlimited", true); });
  edit([&] {
    Scene scene = desk.session.scene();
    scene.terrain.features.clear();
    desk.session.edit(scene);
  });
  edit([&] { desk.session.drop(); });  // takes the speed away
  edit([&] { open_scene(desk, test_scene("bucket_up"), {}), desk.session.set_number("terrain.slope_deg", 3); });
  for (std::size_t i = was.size() - 1; i-- > 0;) {
    if (i + 2 == was.size()) undo(desk);  // opening and the edit after it are two
    undo(desk);
    CHECK(bytes(desk) == was[i]);
  }
  CHECK_FALSE(desk.history.can_undo());
  undo(desk);
  CHECK(bytes(desk) == was[0]);
  CHECK_FALSE(desk.session.edited());
  while (desk.history.can_redo()) redo(desk);
  CHECK(bytes(desk) == was.back());
  // An edit after undoing forgets what was undone.
  undo(desk);
  desk.session.set_number("terrain.slope_deg", 1);
  CHECK(note_edits(desk, true));
  CHECK_FALSE(desk.history.can_redo());
}

TEST_CASE("a slider drawn along is one step of the history") {
  Desk desk(test_scene("first_slope"));
  const std::string before = bytes(desk);
  for (double slope = 10; slope < 20; slope += 0.5) {
    desk.session.set_number("terrain.slope_deg", slope);
    CHECK_FALSE(note_edits(desk, false));  // the button is still down
  }
  CHECK(note_edits(desk, true));
  CHECK_FALSE(note_edits(desk, true));
  CHECK(desk.history.size() == 2);
  undo(desk);
  CHECK(bytes(desk) == before);
}

TEST_CASE("two set-ups keep to one ground, whichever is edited, and to one moment") {
  Desk desk(test_scene("over_a_stump"));
  go_to(desk, Task::compare);
  REQUIRE(desk.other);
  desk.other->set_number("ballast.rear.fill_fraction", 0);
  note_edits(desk, true);
  CHECK(desk.session.scene().ballast.fill[kRearLeft].fill_fraction !=
        desk.other->scene().ballast.fill[kRearLeft].fill_fraction);
  for (int step = 0; step < 3; ++step) {  // as a slider of B's panel is drawn along
    desk.other->set_number("terrain.slope_deg", 9 + step);
    note_edits(desk, false);
    CHECK(desk.session.number("terrain.slope_deg") == doctest::Approx(9 + step));
  }
  note_edits(desk, true);
  desk.edits_other = false;
  desk.session.set_number("terrain.slope_deg", 14);
  note_edits(desk, true);
  CHECK_NEAR(desk.other->number("terrain.slope_deg"), 14, 1e-12);

  drive(desk);
  for (int i = 0; i < 200; ++i) {
    advance(desk, 0.02, 1);
    CHECK(std::abs(desk.session.looked_at() - desk.other->looked_at()) < 0.05);
  }
  CHECK(desk.session.looked_at() > 3.5);
  seek(desk, 1.5);
  CHECK_NEAR(desk.session.looked_at(), desk.other->looked_at(), 1e-12);
  undo(desk);
  undo(desk);
  undo(desk);
  undo(desk);
  undo(desk);
  CHECK_FALSE(desk.other);
  while (desk.history.can_redo()) redo(desk);
  REQUIRE(desk.other);
  CHECK(desk.other->scene().ballast.fill[kRearLeft].fill_fraction == 0);
}

TEST_CASE("swapped twice is as before") {
  Desk desk(test_scene("first_slope"));
  lay_beside(desk);
  desk.other->set_number("ballast.rear.fill_fraction", 0);
  note_edits(desk, true);
  const std::string a = bytes(desk), b = bytes(desk.other->scene());
  swap_set_ups(desk);
  CHECK(bytes(desk) == b);
  CHECK(bytes(desk.other->scene()) == a);
  swap_set_ups(desk);
  CHECK(bytes(desk) == a);
}

TEST_CASE("looking back shows the very moments of the run, and replaying its file shows them too") {
  Scene scene = test_scene("over_a_stump", {"programme.duration_s=6"});
  Desk desk(scene);
  play_all(desk);
  while (playing(desk)) advance(desk, 0.05, 10);
  REQUIRE(desk.session.finished());
  const Recording direct = run(scene);
  REQUIRE(desk.session.recording()->states.size() == direct.states.size());
  CHECK_NEAR(desk.session.length(), 6, 0.03);
  const fs::path file = in_temp(".run");
  write_recording(direct, file);
  Desk replayed(test_scene("first_slope"));
  REQUIRE(open_file(replayed, file));
  CHECK(bytes(replayed) == bytes(scene));
  for (const double time : {0.0, 0.5, 1.9, 2.0, 3.333, 5.9, 6.0, 99.0, -1.0}) {
    seek(desk, time);
    seek(replayed, time);
    const State& shown = desk.session.shown();
    CHECK(hash(shown) == hash(replayed.session.shown()));
    const auto stored = static_cast<std::size_t>(std::lround(std::clamp(time, 0.0, 6.0) / direct.frame_step));
    CHECK(hash(shown) == hash(direct.states[std::min(stored, direct.states.size() - 1)]));
  }
  // Played from there it passes through the same moments and stops at the end.
  seek(replayed, 5.5);
  play_all(replayed);
  for (int i = 0; i < 100 && playing(replayed); ++i) advance(replayed, 0.02, 1);
  CHECK_FALSE(playing(replayed));
  CHECK(hash(replayed.session.shown()) == hash(direct.states.back()));
  step_back(replayed);
  CHECK(hash(replayed.session.shown()) == hash(direct.states[direct.states.size() - 2]));
  step_once(replayed);
  CHECK(hash(replayed.session.shown()) == hash(direct.states.back()));
  fs::remove(file);
}

TEST_CASE("the loop goes round from two seconds before the first lift-off") {
  Scene scene = test_scene("over_a_stump");
  Session session(scene);
  session.play();
  session.set_loop(true);
  double lift = -1, longest = 0;
  bool went_back = false;
  for (int i = 0; i < 3000 && !went_back; ++i) {
    const double before = session.looked_at();
    session.advance(0.02, 10);
    for (const Event& event : session.recording()->events)
      if (event.kind == EventKind::lift_off && lift < 0) lift = event.time;
    longest = std::max(longest, session.looked_at());
    went_back = session.looked_at() < before;
  }
  REQUIRE(went_back);
  REQUIRE(lift > 2);
  CHECK_NEAR(session.looked_at(), lift - Playback::kLoopBefore, 0.05);
  CHECK(session.playing());
  CHECK_NEAR(longest, lift + Playback::kLoopAfter, 0.06);
  session.set_loop(false);  // goes on to the newest moment, then live
  for (int i = 0; i < 400 && session.looks_back(); ++i) session.advance(0.02, 10);
  CHECK_FALSE(session.looks_back());
  CHECK(session.playing());
}

TEST_CASE("what a person does not see is not edited: outside Compare every edit is A's") {
  Desk desk(test_scene("first_slope"));
  go_to(desk, Task::compare);
  CHECK(&desk.edited() == desk.other.get());
  go_to(desk, Task::check);
  CHECK(&desk.edited() == &desk.session);
  go_to(desk, Task::compare);
  CHECK(&desk.edited() == desk.other.get());
}

TEST_CASE("laid beside a run, the second set-up is at the same moment; an edit under way starts both anew") {
  Desk desk(test_scene("over_a_stump"));
  drive(desk);
  for (int i = 0; i < 100; ++i) advance(desk, 0.02, 1);
  const std::uint64_t before = hash(desk.session.shown());
  pause(desk);
  go_to(desk, Task::compare);
  CHECK(hash(desk.session.shown()) == before);  // the run is still there
  CHECK_NEAR(desk.other->looked_at(), desk.session.looked_at(), 0.002);
  CHECK(hash(desk.other->shown()) == before);  // the same machine, the same moment, the same bits
  CHECK(same_moment(desk));
  play_all(desk);
  advance(desk, 0.02, 1);
  desk.other->set_number("ballast.rear.fill_fraction", 0);
  note_edits(desk, true);
  for (int i = 0; i < 60; ++i) {
    advance(desk, 0.02, 1);
    CHECK(desk.session.started() == desk.other->started());
    CHECK(std::abs(desk.session.looked_at() - desk.other->looked_at()) < 0.05);
  }
  CHECK(playing(desk));
  // By hand both are driven alike.
  take_over(desk);
  change_speed(desk, 3);
  CHECK(desk.session.by_hand());
  CHECK(desk.other->by_hand());
  CHECK(desk.session.hand().speed == desk.other->hand().speed);
  // Nobody steers what is not seen: looking back lets go.
  for (int i = 0; i < 50; ++i) advance(desk, 0.02, 1);
  step_back(desk);
  CHECK_FALSE(desk.session.by_hand());
}

TEST_CASE("two set-ups loop over one stretch, around the earlier lift-off and the later one") {
  Desk desk(test_scene("over_a_stump"));
  go_to(desk, Task::compare);
  desk.other->set_number("ballast.rear.fill_fraction", 0);
  note_edits(desk, true);
  drive(desk);
  set_loop(desk, true);
  double longest = 0;
  int rounds = 0;
  double before = 0;
  for (int i = 0; i < 1500 && rounds < 3; ++i) {
    advance(desk, 0.02, 1);
    const double now = desk.session.looked_at();
    CHECK(std::abs(now - desk.other->looked_at()) < 0.06);
    if (now < before - 0.5) ++rounds;
    longest = std::max(longest, now);
    before = now;
  }
  CHECK(rounds == 3);
  CHECK(longest < desk.session.scene().programme.duration - 0.5);
}

TEST_CASE("of two runs the first thing that gives way is named, a slide as well as a lift") {
  const auto both_run = [](Desk& desk) {
    drive(desk);
    for (int i = 0; i < 400; ++i) advance(desk, 0.02, 1);
    return first_to_give_way(desk);
  };
  Scene ice = test_scene("first_slope");
  ice.terrain.soil.adhesion = 0.15;
  Desk slippery(ice);
  go_to(slippery, Task::compare);
  slippery.other->set_number("ballast.rear.fill_fraction", 0);
  note_edits(slippery, true);
  const auto slid = both_run(slippery);
  REQUIRE(slid);
  CHECK(slid->slides);
  CHECK(first_words(*slid).find("slides") != std::string::npos);
  CHECK(first_words(*slid).find("lifts a wheel") == std::string::npos);

  Desk rough(test_scene("over_a_stump"));
  go_to(rough, Task::compare);
  rough.other->set_number("ballast.rear.fill_fraction", 0);
  note_edits(rough, true);
  const auto lifted = both_run(rough);
  REQUIRE(lifted);
  const Recording& first = *(lifted->which == 0 ? rough.session : *rough.other).recording();
  REQUIRE(first_lift_off(first.events));
  CHECK(lifted->time <= first_lift_off(first.events)->time);

  CHECK(first_words({0, 1.2, true, {}, false}) == "Only A has given way: it slides at 1.20 s");
  CHECK(first_words({1, 1.2, true, 0.5, false}) == "B slides first, 0.50 s before A lifts a wheel");
}

TEST_CASE("undo after saving neither goes back to the old file nor forgets that the file differs") {
  const fs::path first = in_temp("_1.toml"), second = in_temp("_2.toml");
  Desk desk(test_scene("first_slope"));
  desk.session.set_number("terrain.slope_deg", 5);
  REQUIRE(save_file(desk, first));
  desk.session.set_number("terrain.slope_deg", 6);
  note_edits(desk, true);
  CHECK(unsaved(desk));
  REQUIRE(save_file(desk, second));
  CHECK_FALSE(unsaved(desk));
  undo(desk);
  CHECK(desk.path() == second);
  CHECK(unsaved(desk));
  while (can_undo(desk)) undo(desk);
  CHECK(desk.path() == second);
  CHECK(unsaved(desk));
  while (can_redo(desk)) redo(desk);
  CHECK_FALSE(unsaved(desk));
  // Undoing the opening of another file goes back to this one's.
  REQUIRE(open_file(desk, first));
  CHECK(desk.path() == first);
  undo(desk);
  CHECK(desk.path() == second);
  CHECK_FALSE(unsaved(desk));
  fs::remove(first), fs::remove(second);
}

TEST_CASE("what came with the program is not written over, nor is a run by a scene") {
  Desk desk(test_scene("first_slope"), fs::path(SIDEHILL_SOURCE_DIR) / "scenes/first_slope.toml");
  const std::string was = read_text(desk.path());
  CHECK(came_with_program(desk.path()));
  CHECK(came_with_program(fs::path(SIDEHILL_SOURCE_DIR) / "scenes/lessons/stump.toml"));
  CHECK_FALSE(came_with_program(fs::temp_directory_path() / "scenes/first_slope.toml"));
  desk.session.set_number("terrain.slope_deg", 5);
  CHECK_FALSE(save_file(desk, desk.path()));
  CHECK(desk.message_is_bad);
  CHECK(read_text(desk.path()) == was);
  CHECK_FALSE(save_file(desk, in_temp(".run")));
}

TEST_CASE("a lesson lies on the desk without touching the person's work, which is back when they leave") {
  Desk desk(test_scene("over_a_stump"));
  desk.session.set_number("terrain.slope_deg", 7);
  note_edits(desk, true);
  const std::string own = bytes(desk);
  const std::size_t entries = desk.history.size();
  go_to(desk, Task::teach);
  CHECK(bytes(desk) == own);
  lay_lesson(desk, test_scene("bucket_up"));
  lay_lesson_beside(desk, test_scene("first_slope"));
  play_all(desk);
  advance(desk, 0.1, 1);
  CHECK(unsaved(desk));  // the person's own is
  CHECK_FALSE(can_undo(desk));
  undo(desk);
  CHECK(desk.session.scene().title == "Bucket up");
  CHECK_FALSE(save_file(desk, in_temp(".toml")));
  lay_lesson(desk, test_scene("into_a_hole"));
  go_to(desk, Task::check);
  CHECK(bytes(desk) == own);
  CHECK_FALSE(desk.other);
  CHECK(desk.history.size() == entries);
  undo(desk);
  CHECK(desk.session.number("terrain.slope_deg") != 7);
}

TEST_CASE("a machine's file takes the place of the machine, with none of the other's doubts") {
  Scene scene = test_scene("bucket_up");
  scene.tolerances.push_back({"vehicle.rear.track_m", 0.001});
  Desk desk(scene);
  REQUIRE(open_file(desk, fs::path(SIDEHILL_SOURCE_DIR) / "vehicles/two_wheel_45kw.toml"));
  CHECK(desk.session.scene().vehicle.name.find("45 kW") != std::string::npos);
  CHECK(desk.session.scene().ballast.loader_payload == 0);  // it has no loader
  for (const Tolerance& t : desk.session.scene().tolerances) CHECK_FALSE(t.key.starts_with("vehicle."));
  desk.session.answer(1);
  CHECK(desk.session.refusal().empty());
  undo(desk);
  CHECK(bytes(desk) == bytes(scene));
}

TEST_CASE("files open and are saved, and a bad one changes nothing") {
  Desk desk(test_scene("first_slope"));
  const std::string before = bytes(desk);
  CHECK_FALSE(open_file(desk, "no such file.toml"));
  CHECK(desk.message_is_bad);
  CHECK(desk.message.find('\n') == std::string::npos);
  CHECK_FALSE(open_file(desk, fs::path(SIDEHILL_SOURCE_DIR) / "README.md"));
  CHECK_FALSE(open_file(desk, fs::path(SIDEHILL_SOURCE_DIR) / "scenes/broken/unknown_key.toml"));
  CHECK(bytes(desk) == before);
  CHECK_FALSE(unsaved(desk));
  desk.session.set_number("terrain.slope_deg", 7.7);
  CHECK(unsaved(desk));
  const fs::path file = in_temp(".toml");
  CHECK(save_file(desk, file));
  CHECK_FALSE(unsaved(desk));
  const std::string saved = bytes(desk);
  Desk again(load_scene(file), file);
  CHECK(bytes(again) == saved);
  CHECK_FALSE(save_file(desk, "/no/such/folder/scene.toml"));
  CHECK(desk.message_is_bad);
  undo(desk);
  CHECK(bytes(desk) == before);
  fs::remove(file);
}
#endif
