// `sidehill machine` from outside: what it prints, writes and refuses.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "sim/base/text_file.h"
#include "sim/own_machine/made_machine.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/near.h"
#include "tests/kit/program.h"

using namespace sidehill;

namespace {

constexpr const char* kWeighed =
    "machine --class utility_75kw --front-axle-kg 2050 --rear-axle-kg 2700 --driver-kg 85 --fuel-percent 100 "
    "--rear-tyre 18.4R34 --front-tyre 13.6R24 --rear-track-m 1.84 ";

}  // namespace

TEST_CASE("a machine from options: table, file, and a scene that stands on it") {
  const Folder folder;
  const std::string file = folder / "mine.toml";
  const Said said = program(kWeighed + std::string("--name 'the old one' '") + file + "' 2>&1");
  CHECK(said.code == 0);
  for (const char* words : {"the old one", "measured by its owner", "our estimate", "What matters most to measure next",
                            "No slope is safe", "Written: "})
    CHECK_MESSAGE(said.out.find(words) != std::string::npos, std::string(words));
  CHECK(said.out.find("nan") == std::string::npos);
  CHECK(load_vehicle(file, ".").rear.track == 1.84);
  CHECK(program("solve scenes/first_slope.toml --set vehicle_file='" + file + "' 2>&1").out.find("the old one") !=
        std::string::npos);
}

TEST_CASE("a scene on a machine of one's own says in its first line that limits are not known") {
  const Folder folder;
  const std::string file = folder / "mine.toml";
  REQUIRE(program(kWeighed + std::string("'") + file + "' 2>&1").code == 0);
  const std::string solve =
      "solve scenes/first_slope.toml --set ballast.loader_payload_kg=0 --set "
      "ballast.rear.fill_fraction=0 --set vehicle_file='" +
      file + "'";
  CHECK(
      program(solve).out.starts_with("STANDS, limits of axles NOT KNOWN; "));  // the tyres' are typical of their sizes
  // With the plate's figures they are.
  CHECK(program(solve + " --set vehicle.front.capacity_kg=3200 --set vehicle.rear.capacity_kg=4600")
            .out.starts_with("STANDS, 1"));
}

TEST_CASE("a machine's numbers are written out in digits and in words") {
  const Folder folder;
  const std::string file = folder / "mine.toml";
  const Said said =
      program("machine --class row_crop_150kw --front-axle-kg 4100 --rear-axle-kg 120000 '" + file + "' 2>&1");
  const Said usual = program(kWeighed + std::string("'") + file + "' 2>&1");
  REQUIRE(usual.code == 0);
  for (const std::string& text : {said.out, usual.out, read_text(file)}) {
    INFO(text);
    for (const char* bad : {"e+0", "e-0", "class x", "mass x"}) CHECK_MESSAGE(text.find(bad) == std::string::npos, bad);
  }
  CHECK(usual.out.find("times that of its class") != std::string::npos);
  CHECK(read_text(file).find("times that of its class") != std::string::npos);
}

TEST_CASE("the same from an entry file, an option over it, as JSON") {
  const Folder folder;
  const std::string file = folder / "mine.entry.toml";
  save_text(file, "class = \"utility_75kw\"\nrear_track_m = 1.7\nfront_axle_kg = 2050\nrear_axle_kg = 2700\n");
  const Said said = program("machine --entry '" + file + "' --rear-track-m 1.9 --json");
  REQUIRE(said.code == 0);
  const auto json = nlohmann::json::parse(said.out);
  CHECK(json["usable"] == true);
  CHECK(json["first_lift_off_interval_deg"][0] < json["first_lift_off_deg"]);
  CHECK(json["first_lift_off_interval_deg"][1] > json["first_lift_off_deg"]);
  const auto track = std::find_if(json["data"].begin(), json["data"].end(),
                                  [](const auto& datum) { return datum["key"] == "vehicle.rear.track_m"; });
  REQUIRE(track != json["data"].end());
  CHECK_NEAR((*track)["value"].get<double>(), 1.9, 1e-12);
  CHECK((*track)["from"] == "measured");
}

TEST_CASE("an option's earlier name gives the same machine; the help names today's only") {
  const auto answer = [](const char* option) {
    const Said said = program(kWeighed + std::string(option) + " --json");
    CHECK(said.code == 0);
    return said.out;
  };
  CHECK(answer("--rear-iron-kg 300") == answer("--rear-weights-kg 300"));
  CHECK(answer("--rear-iron-kg 300") != answer("--rear-iron-kg 200"));
  const Said both = program(kWeighed + std::string("--rear-iron-kg 300 --rear-weights-kg 300 2>&1 >/dev/null"));
  CHECK(both.code == 2);
  CHECK(both.out == "machine: --rear-iron-kg: the same value as --rear-weights-kg, allowed once\n");
  const Said help = program("machine --help");
  CHECK(help.out.find("--rear-weights-kg") != std::string::npos);
  CHECK(help.out.find("--rear-iron-kg") == std::string::npos);
}

TEST_CASE("what cannot be is one line and exit code 2, and nothing is written") {
  const Folder folder;
  const std::string file = folder / "mine.toml";
  const auto refused = [&](const std::string& arguments, const char* words) {
    const Said said = program(arguments + " 2>&1 >/dev/null");
    INFO(arguments, " said ", said.out);
    CHECK(said.code == 2);
    CHECK(std::ranges::count(said.out, '\n') == 1);
    CHECK(said.out.find(words) != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(file));
  };
  refused(kWeighed + std::string("--mass-kg 6000 '") + file + "'",
          "mass_kg: the axles add up to 4750 kg, 1250 kg less");
  refused("machine --rear-track-m 12 '" + file + "'", "--rear-track-m: 12 is out of range, allowed 0.4 to 6 m");
  refused("machine --rear-track-m wide '" + file + "'", "rear-track-m");
  refused("machine --frame hoop '" + file + "'", "--frame: not understood, allowed none, two_post, cab");
  refused("machine --class none_such '" + file + "'", "none_such");
  refused("machine --rear-tyre 18.4X34 '" + file + "'", "rear_tyre: ");
  refused("machine --entry '" + ((folder / "nothing.toml").string()) + "'", "there is no such file");
  refused("machine '" + ((folder / "mine.txt").string()) + "'", "a machine has a name in .toml");
  refused("machine vehicles/utility_75kw.toml", "is a class that came with the program");
}
