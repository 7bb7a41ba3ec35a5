// How well a machine's numbers are known: said in its file, it goes wherever the machine goes.
#include "sim/scene/tolerances.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/insight/uncertainty.h"
#include "sim/own_machine/made_machine.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "tests/kit/program.h"

using namespace sidehill;

namespace {

std::string class_with(const std::string& tolerances) {
  return read_text(find_vehicle_file("utility_75kw", SIDEHILL_SOURCE_DIR)) + tolerances;
}

std::optional<double> said(const std::vector<Tolerance>& list, std::string_view key) {
  std::optional<double> value;
  for (const Tolerance& one : list)
    if (one.key == key) {
      CHECK_FALSE(value);  // no key twice
      value = one.value;
    }
  return value;
}

constexpr const char* kTrack = "vehicle.rear.track_m";
constexpr const char* kHeight = "vehicle.chassis.centre_of_gravity_z_m";

}  // namespace

TEST_CASE("a machine file's tolerances go into the scene; the scene's own word counts more") {
  const Folder folder;
  save_text(folder / "mine.toml", class_with("\n[[tolerance]]\nkey = \"rear.track_m\"\nvalue = 0.05\n"
                                             "[[tolerance]]\nkey = \"vehicle.chassis.centre_of_gravity_z_m\"\n"
                                             "value = 0.08\n"));
  const MachineFile machine = load_machine("mine.toml", folder.path);
  CHECK(machine.tolerances.size() == 2);
  CHECK(said(machine.tolerances, kTrack) == 0.05);
  CHECK(said(machine.tolerances, kHeight) == 0.08);

  save_text(folder / "s.toml",
            "vehicle_file = \"mine.toml\"\n[[tolerance]]\nkey = \"vehicle.rear.track_m\"\nvalue = 0.01\n"
            "[[tolerance]]\nkey = \"terrain.slope_deg\"\nvalue = 0.3\n");
  const Scene scene = load_scene(folder / "s.toml");
  CHECK(scene.tolerances.size() == 3);
  CHECK(said(scene.tolerances, kTrack) == 0.01);
  CHECK(said(scene.tolerances, kHeight) == 0.08);
  CHECK(said(scene.tolerances, "terrain.slope_deg") == 0.3);
  CHECK(scene.tolerances.front().key == kTrack);  // "tolerance[0]" stays the scene's own first

  // Written out whole and read again it is the same, and again.
  const std::string text = write_scene(scene);
  const Scene back = parse_scene(text, folder / "whole.toml");
  CHECK(write_scene(back) ==
        text.substr(0, text.find("# The machine")) + text.substr(text.find('\n', text.find("# The machine")) + 1));
  CHECK(back.tolerances.size() == 3);

  // Said anew on the command line; the machine changed under the scene: the old one's go, the scene's own stay.
  const std::vector<std::string> anew{"tolerance+={key=\"vehicle.rear.track_m\", value=0.02}"};
  CHECK(said(load_scene(folder / "s.toml", anew).tolerances, kTrack) == 0.02);
  const std::vector<std::string> other{"vehicle_file=compact_26kw"};
  const Scene compact = load_scene(folder / "s.toml", other);
  CHECK_FALSE(said(compact.tolerances, kHeight));
  CHECK(said(compact.tolerances, kTrack) == 0.01);
  Scene changed = load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
  apply_override(changed, "vehicle_file=" + (folder / "mine.toml").string());
  apply_override(changed, "vehicle_file=" + (folder / "mine.toml").string());
  CHECK(said(changed.tolerances, kHeight) == 0.08);
  apply_override(changed, "vehicle_file=compact_26kw");
  CHECK_FALSE(said(changed.tolerances, kHeight));
}

TEST_CASE("a bad tolerance in a machine file is one line with file and line") {
  const Folder folder;
  const std::string file = folder / "mine.toml";
  const long line = std::ranges::count(class_with("\n"), '\n') + 1;
  const auto refused = [&](const std::string& entry, int down, const char* words) {
    save_text(file, class_with("\n" + entry));
    std::string what;
    try {
      load_machine("mine.toml", folder.path);
    } catch (const InputError& error) {
      what = error.what();
    }
    INFO(entry, " said ", what);
    CHECK(what.find("mine.toml:" + std::to_string(line + down) + ": ") != std::string::npos);
    CHECK(what.find(words) != std::string::npos);
    CHECK(what.find('\n') == std::string::npos);
    std::filesystem::remove(file);
  };
  refused("[[tolerance]]\nkey = \"rear.trak_m\"\nvalue = 0.05\n", 0, "\"rear.trak_m\" is no number of a machine");
  refused("[[tolerance]]\nkey = \"terrain.slope_deg\"\nvalue = 1\n", 0, "is no number of a machine");
  refused("[[tolerance]]\nkey = \"name\"\nvalue = 1\n", 0, "is no number of a machine");
  refused("[[tolerance]]\nvalue = 1\n", 0, "is no number of a machine");
  refused("[[tolerance]]\nkey = \"rear.track_m\"\nvalue = -1\n", 2, "-1 is out of range");
  refused("[[tolerance]]\nkey = \"rear.track_m\"\nvalue = \"wide\"\n", 2, "found text where a number belongs");
  refused("[[tolerance]]\nkey = \"rear.track_m\"\nvalu = 1\n", 2, "unknown key");
  refused(
      "[[tolerance]]\nkey = \"rear.track_m\"\nvalue = 1\n[[tolerance]]\nkey = \"vehicle.rear.track_m\"\nvalue = 2\n", 3,
      "is there twice");
}

TEST_CASE("a key twice in a scene's own list is refused") {
  const std::string twice =
      "vehicle_file = \"utility_75kw\"\n[[tolerance]]\nkey = \"terrain.slope_deg\"\nvalue = 1\n"
      "[[tolerance]]\nkey = \"terrain.slope_deg\"\nvalue = 2\n";
  CHECK_THROWS_WITH_AS(parse_scene(twice, SIDEHILL_SOURCE_DIR "/s.toml"),
                       doctest::Contains("s.toml:5: tolerance[].key: \"terrain.slope_deg\" is there twice"),
                       InputError);
}

TEST_CASE("of a machine of any class a scene says as wide an interval as the machine itself") {
  const Folder folder;
  int tried = 0;
  for (const auto& file : vehicle_files()) {
    MachineEntry entry;
    entry.machine_class = file.stem().string();
    const Vehicle like = load_vehicle(entry.machine_class, SIDEHILL_SOURCE_DIR);
    entry.rear_track = like.rear.track + 0.1;
    entry.wheelbase = like.wheelbase;
    const MadeMachine made = make_machine(entry, like);
    INFO(entry.machine_class, ": ", first_grave(made));
    REQUIRE(made.usable);
    save_machine(made, entry, folder / "mine.toml");
    Scene scene = scene_of(made);  // the same ground and set-up, the machine from its file
    const MachineFile machine = load_machine("mine.toml", folder.path);
    CHECK(machine.tolerances.size() == made.tolerances.size());
    CHECK(machine.tolerances.size() > 10);
    const std::string whole = write_scene(scene);
    scene.tolerances.clear();
    scene = with_vehicle(std::move(scene), machine.vehicle, machine.tolerances);
    CHECK(write_scene(scene) == whole);

    // From outside, by a file that only names the machine.
    std::string text = "vehicle_file = \"mine.toml\"\n[terrain.soil]\nadhesion_unlimited = true\n";
    if (made.vehicle.loader.fitted)
      text += "[ballast]\nloader_pin_height_m = " + std::to_string(scene.ballast.loader_pin_height) + "\n";
    save_text(folder / "s.toml", text);
    const Said solved = program("solve '" + (folder / "s.toml").string() + "' --json");
    REQUIRE(solved.code == 0);
    const auto json = nlohmann::json::parse(solved.out);
    const MachineAnswer answer = answer_of(made);
    REQUIRE(answer.first_lift_off);
    CHECK_NEAR(json["first_lift_off_deg"].get<double>(), *answer.first_lift_off / kDegree, 0.1);
    CHECK_NEAR(json["intervals"]["first_lift_off_deg"][0].get<double>(), answer.low / kDegree, 0.1);
    CHECK_NEAR(json["intervals"]["first_lift_off_deg"][1].get<double>(), answer.high / kDegree, 0.1);
    // It matters: without the file's tolerances the interval would be another.
    scene.tolerances.clear();
    const Model model = build(scene);
    const Uncertainty without = uncertainty(scene, model, solve_statics(model));
    CHECK(without.first_lift_off->high - without.first_lift_off->low < 0.9 * (answer.high - answer.low));
    std::filesystem::remove(folder / "mine.toml");
    ++tried;
  }
  CHECK(tried >= 6);
}

TEST_CASE("a made machine says in its note what was measured and what was estimated") {
  MachineEntry entry;
  entry.rear_track = 1.9, entry.front_track = 1.8, entry.wheelbase = 2.5, entry.engine_power = 75e3;
  entry.rear_tyre = "18.4R34";
  const MadeMachine made = make_machine(entry, SIDEHILL_SOURCE_DIR);
  const std::string note = made.vehicle.note;
  INFO(note);
  CHECK(note.find("Measured: 3 (") != std::string::npos);
  CHECK(note.find("rear track") != std::string::npos);
  CHECK(note.find("Read off the plate: 1 (") != std::string::npos);
  CHECK(note.find("Tyre sizes read: 1 (rear)") != std::string::npos);
  CHECK(note.find("Estimated from the class \"utility_75kw\": the rest") != std::string::npos);
  CHECK(make_machine({}, SIDEHILL_SOURCE_DIR).vehicle.note.starts_with("Measured: nothing."));
}
