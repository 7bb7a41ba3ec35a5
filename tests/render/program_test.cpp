// The program from outside: exit codes, one line for bad input, JSON that parses.
#include "tests/kit/program.h"

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>
#include <sstream>

#include "tests/kit/folder.h"
#include "tests/kit/near.h"
#include "vehicles/liquid.h"

using namespace sidehill;

namespace {

namespace fs = std::filesystem;
const std::string kScenes = SIDEHILL_SOURCE_DIR "/scenes/";

void check_refused(const std::string& arguments, const std::string& words) {
  CAPTURE(arguments);
  const Said said = program(arguments + " 2>&1 >/dev/null");
  CAPTURE(said.out);
  CHECK(said.code == 2);
  CHECK(said.out.find(words) != said.out.npos);
  CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 1);
  CHECK(program(arguments + " 2>/dev/null").out.empty());  // nothing half-answered
}

}  // namespace

TEST_CASE("solve answers, with --json and --set") {
  const Said text = program("solve '" + kScenes + "first_slope.toml'");
  CHECK(text.code == 0);
  CHECK(text.out.find("STANDS") != text.out.npos);
  const Said json = program("solve '" + kScenes + "first_slope.toml' --set terrain.slope_deg=7 --json");
  CHECK(json.code == 0);
  CHECK_NEAR(nlohmann::json::parse(json.out).at("slope_deg").get<double>(), 7, 1e-9);
  const Said csv = program("solve '" + kScenes + "first_slope.toml' --csv");
  CHECK(csv.out.starts_with("heading_deg,"));
}

TEST_CASE("--set takes one change, wherever it stands") {
  const Folder folder;
  const std::string scene = "'" + kScenes + "first_slope.toml'", file = " '" + (folder / "a.svg").string() + "' ";
  for (const std::string& arguments :
       {scene + " --set terrain.slope_deg=3" + file + "--of why", scene + file + "--set terrain.slope_deg=3 --of why",
        "--set terrain.slope_deg=3 " + scene + file + "--of why --set start.heading_deg=0"}) {
    CAPTURE(arguments);
    CHECK(program("chart " + arguments + " --force").code == 0);
    CHECK(folder.files() == 1);
  }
}

TEST_CASE("run answers, and from another folder too") {
  const Said said = shell("cd / && '" SIDEHILL_PROGRAM "' run '" + kScenes + "first_slope.toml' --json");
  CHECK(said.code == 0);
  const auto json = nlohmann::json::parse(said.out);
  CHECK(json.at("outcome") == "stands");
  CHECK(json.at("events").is_array());
}

TEST_CASE("slope-limit refuses what it cannot judge, and answers its own example with a number") {
  check_refused("slope-limit '" + kScenes + "trailer_pushes.toml'", "cannot judge a trailer that pushes");
  const Said said =
      program("slope-limit '" + kScenes + "over_a_stump.toml' --set 'terrain.feature[0].height_m=0.1' --json");
  CHECK(said.code == 0);
  const auto cell = nlohmann::json::parse(said.out).at("cells").at(0);
  CHECK(cell.at("limit_deg").get<double>() > 5);
  CHECK(cell.at("reason").is_null());
}

TEST_CASE("bad input is one line and exit code 2") {
  const std::string scene = "'" + kScenes + "first_slope.toml'";
  check_refused("", "sidehill");
  check_refused("solve", "scene");
  check_refused("solve /nowhere.toml", "there is no such file");
  check_refused("solve /", "is a folder");
  check_refused("solve /dev/null", "not a plain file");
  check_refused("solve " + scene + " --frobnicate", "--frobnicate");
  check_refused("dance " + scene, "\"dance\" is no command (");  // nothing is near
  check_refused("solv " + scene, "\"solv\" is no command, did you mean solve?");
  check_refused("slove " + scene, "did you mean solve?");
  check_refused("slope_limit " + scene, "did you mean slope-limit?");
  check_refused("solve ''", "\"\": the name of a file belongs here");
  check_refused("solve " + scene + " --csv --json", "--csv and --json");
  check_refused("solve " + scene + " --csv --sensitivity", "--sensitivity");
  check_refused("run " + scene + " --csv --json", "--csv and --json");
  check_refused("run " + scene + " --signals roll_deg", "--signals: needs --csv");
  check_refused("run " + scene + " --json --signals roll_deg", "--signals: needs --csv");
  check_refused("trial --scene -1", "\"-1\" is no whole number in plain digits, allowed 0 to 18446744073709551615");
  check_refused("trial --scene 18446744073709551616", "out of range");
  check_refused("trial --first -1", "\"-1\" is no whole number");
  check_refused("trial --runs 1e3", "--runs: \"1e3\" is no whole number in plain digits, allowed 1 to 100000000");
  check_refused("trial --runs 0", "--runs: \"0\" is out of range, allowed 1 to 100000000");
  check_refused("loader " + scene + " --steps 2.5", "\"2.5\" is no whole number");
  check_refused("solve " + scene + " --set slope=9", "did you mean terrain.slope_deg?");
  check_refused("slope-limit " + scene + " --over ballast.rear.fill_fraction=0:99:3",
                "--over: ballast.rear.fill_fraction: ");
  check_refused("slope-limit " + scene + " --over title=1:2:3", "--over: title: holds no number");
  check_refused("machine --class nope",
                "machine: class: there is no class of machine \"nope\" (`sidehill list machines`");
  check_refused("machine --class utility_76kw", "did you mean utility_75kw?");
  check_refused("solve " + scene + " --set", "--set");
  check_refused("solve " + scene + " --set ballast.rear.fill_fraction=7.5", "allowed 0 to 1");
  check_refused("solve " + scene + " --set vehicle.rear.track_m=0", "allowed 0.2 to 8 m");
  check_refused("solve " + scene + " --set terrain.slope_deg=89", "allowed 0 to 60 deg");
  check_refused("solve " + scene + " --set vehicle.chassis.mass_kg=-1", "allowed 1 to 50000 kg");
  check_refused("run " + scene + " --set vehicle_file=orchard_60kw --set ballast.loader_payload_kg=300", "no loader");
  check_refused("run '" + kScenes + "validate/reference_r.toml'", "rigid");  // rigid tyres cannot be set in motion
  check_refused("list tractors", "tractors");
  check_refused("fill", "tyre");
  check_refused("fill 18.4x38", "did you mean 18.4-38?");
  check_refused("fill nonsense", "forms are");
  check_refused("fill 18.4-38 --medium watr", "did you mean water?");
  check_refused("fill 18.4-38 --fill 75", "allowed 0 to 1");
  check_refused("fill 18.4-38 --fill nan", "allowed 0 to 1");
  check_refused("fill 18.4-38 --valve-clock noon", "9:30");
  check_refused("fill 18.4-38 --price-eur-per-l cheap", "LOW:HIGH");
  check_refused("fill 18.4-38 --tyres 1.5", "--tyres");
  check_refused("fill 18.4-38 --medium own", "--own-density-kg-per-m3 is not given: allowed 500 to 2500 kg/m3");
  check_refused("fill 18.4-38 --medium own --own-first-ice-c -30", "--own-density-kg-per-m3 is not given");
  check_refused("fill 18.4-38 --own-density-kg-per-m3 1250", "give --medium own");
  check_refused("list media --tyre 18.4-38 --price water=cheap", "KEY=LOW..HIGH");
  check_refused("list media --tyre 18.4-38 --price beer=1", "list: --price \"beer\": allowed water");
  check_refused("list media --coldest-c -20", "--tyre");
  check_refused("list tyres --tyre 18.4-38", "for media only");
  check_refused("picture " + scene, "file");
}

TEST_CASE("every broken scene is refused by the program with its message") {
  for (const auto& entry : fs::directory_iterator(kScenes + "broken")) {
    std::ifstream stream(entry.path());
    std::string first;
    std::getline(stream, first);
    REQUIRE(first.starts_with("# expect: "));
    check_refused("check '" + entry.path().string() + "'", first.substr(10));
  }
}

TEST_CASE("check holds the references and the machines") {
  const Said said = program("check '" + kScenes + "'validate/*.toml '" + kScenes +
                            "'*.toml '" SIDEHILL_SOURCE_DIR "'/vehicles/*.toml 2>&1");
  CAPTURE(said.out);
  CHECK(said.code == 0);
  CHECK(said.out.find("answers hold") != said.out.npos);
  CHECK(said.out.find(" 1 answer holds\n") != said.out.npos);
  CHECK(said.out.find(" 1 answers") == said.out.npos);
}

TEST_CASE("without its data folder the program says where it looked") {
  const Folder folder;
  fs::create_directories(folder / "bin");
  fs::copy_file(SIDEHILL_PROGRAM, folder / "bin/sidehill");
  fs::create_directories(folder / "elsewhere");
  const std::string moved = "cd '" + (folder / "elsewhere").string() + "' && ../bin/sidehill ";
  for (const char* arguments :
       {"list machines", "list machines --json", "list scenes", "lesson", "lesson stump", "lesson stump --guess 2",
        "machine --class utility_75kw", "machine", "trial --runs 1", "trial --scene 7"}) {
    CAPTURE(arguments);
    const Said said = shell(moved + arguments + " 2>&1");
    CAPTURE(said.out);
    CHECK(said.code == 2);
    CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 1);
    CHECK(said.out.find("was not found in or above " + fs::canonical(folder / "elsewhere").string()) != said.out.npos);
    CHECK(said.out.find(fs::canonical(folder / "bin").string()) != said.out.npos);
  }
  const Said scene = shell(moved + "solve '" + kScenes + "first_slope.toml' 2>&1");
  CHECK(scene.code == 0);  // a scene finds its machine from its own folder
  CHECK(shell(moved + "list tyres").code == 0);
}

TEST_CASE("the list of keys stands in columns") {
  std::istringstream lines(program("list keys").out);
  std::size_t help = 0, seen = 0, long_ones = 0;
  for (std::string line; std::getline(lines, line); ++seen) {
    CAPTURE(line);
    if (line.starts_with("vehicle_file ")) help = line.find("the machine that vehicle.* then changes");
    REQUIRE(help != 0);
    if (line.size() > help && line.substr(help - 2, 2) != "  ") {  // too much for its column: the meaning is below
      ++long_ones;
      std::getline(lines, line);
    }
    REQUIRE(line.size() > help);
    CHECK(line[help] != ' ');
    CHECK(line.substr(help - 2, 2) == "  ");
  }
  CHECK(seen > 200);
  CHECK(long_ones == 12);  // media: of each tyre, both on an axle, on hand; what an action does; the work; place and
                           // what of a log; the side a scene is seen from
}

TEST_CASE("fill answers, in words and in JSON") {
  const Said text = program("fill 18.4-38");
  CHECK(text.code == 0);
  CHECK(text.out.starts_with("18.4-38 with water, filled up to the valve at 12:00"));
  CHECK(text.out.find("Cautions\n  ! ") != text.out.npos);
  const Said json = program(
      "fill '480/70R38 145D' --medium calcium_chloride --concentration 0.2 --temperature-c 5 --coldest-c -15 "
      "--valve-clock 9:30 --pressure-kpa 140 --load-kg 2000 --cavity-l 450 --price-eur-per-l 0.5:0.9 --tyres 2 "
      "--product pellet_94 --flow-l-per-min 45 --json");
  CHECK(json.code == 0);
  const auto said = nlohmann::json::parse(json.out);
  for (const char* key : {"volume_l", "mass_kg", "level_m", "slush_free_c", "solid_c"}) CHECK(said.at(key).is_number());
  CHECK_NEAR(said.at("valve_clock").get<double>(), 9.5, 1e-9);
  CHECK_NEAR(said.at("cavity_l").get<double>(), 450, 1e-6);
  CHECK(said.at("recipe").at("product") == "pellet_94");
  CHECK(said.at("load_index") == 145);
  CHECK_NEAR(said.at("total").at("price_low_eur").get<double>(), 0.5 * 2 * said.at("volume_l").get<double>(), 1e-6);
}

TEST_CASE("list answers each of its lists") {
  for (const std::string what : {"machines", "scenes", "tyres", "media", "keys"}) {
    CHECK(program("list " + what).out.size() > 100);
    CHECK(nlohmann::json::parse(program("list " + what + " --json").out).is_array());
  }
  CHECK(program("list keys --markdown").out.starts_with("| key |"));
  CHECK(program("list media").out.find("EUR") == std::string::npos);
  const std::string in_tyre =
      "list media --tyre 18.4-38 --coldest-c -20 --price water=0.2..0.6 --own-density-kg-per-m3 1250";
  CHECK(program(in_tyre).out.starts_with("FREEZE SOLID AT -20 °C"));
  const auto json = nlohmann::json::parse(program(in_tyre + " --json").out);
  CHECK(json.at("media").size() == media().size() + 1);
  CHECK_NEAR(json.at("media")[0].at("price_high_eur").get<double>(), 0.6 * json.at("volume_l").get<double>(), 1e-6);
}

TEST_CASE("a filling is asked for by its frost, and by a data sheet") {
  const Said frost = program("fill 18.4-38 --medium calcium_chloride --frost-to-c -24");
  CHECK(frost.code == 0);
  CHECK(frost.out.starts_with("18.4-38 with calcium chloride, to -24 °C"));
  CHECK(frost.out.find("EUR") == std::string::npos);
  const Said own = program(
      "fill 18.4-38 --medium own --own-name 'winter filling' --own-density-kg-per-m3 1250 --own-first-ice-c -30 "
      "--own-rust 'Rusts slowly.' --coldest-c -20 --json");
  CHECK(own.code == 0);
  const auto said = nlohmann::json::parse(own.out);
  CHECK(said.at("what") == "winter filling");
  CHECK(said.at("corrosion") == "Rusts slowly.");
  CHECK_NEAR(said.at("slush_free_c").get<double>(), -30, 1e-9);
  CHECK_NEAR(said.at("mass_kg").get<double>(), 1.25 * said.at("volume_l").get<double>(), 1e-6);
}

TEST_CASE("help is worth reading, version is said") {
  const Said help = program("--help");
  CHECK(help.code == 0);
  for (const char* words : {"solve", "picture", "Exit codes", "No slope is safe", "--set"})
    CHECK(help.out.find(words) != help.out.npos);
  CHECK(program("--version").out.starts_with("sidehill "));
}

TEST_CASE("view without a display is one line and exit code 2") {
  const Said said =
      shell("env -u DISPLAY -u WAYLAND_DISPLAY '" SIDEHILL_PROGRAM "' view '" + kScenes + "first_slope.toml' 2>&1");
  CAPTURE(said.out);
  CHECK(said.code == 2);
  CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 1);
}

TEST_CASE("an answer that cannot be written is not called answered") {
  CHECK(program("solve '" + kScenes + "first_slope.toml' >/dev/full 2>/dev/null").code == 2);
}

TEST_CASE("a megabyte of noise is refused") {
  const fs::path path = fs::temp_directory_path() / "sidehill_noise.toml";
  std::mt19937_64 random(3);
  {
    std::ofstream file(path, std::ios::binary);
    for (int i = 0; i < (1 << 20) / 8; ++i) {
      const std::uint64_t word = random();
      file.write(reinterpret_cast<const char*>(&word), 8);
    }
  }
  check_refused("solve '" + path.string() + "'", path.string() + ":");
  fs::remove(path);
}

#if defined(SIDEHILL_SCREEN) && !defined(SIDEHILL_CHECKED)  // drivers leak, which would count as the program's own
TEST_CASE("picture writes a PNG without a display, whole or not at all") {
  const fs::path path = fs::temp_directory_path() / "sidehill_program_test.png";
  const std::string scene = "picture '" + kScenes + "first_slope.toml' ";
  const Said said = shell("env -u DISPLAY -u WAYLAND_DISPLAY '" SIDEHILL_PROGRAM "' " + scene + "'" + path.string() +
                          "' --width 320 --height 200 --from rear 2>&1");
  CAPTURE(said.out);
  CHECK(said.code == 0);
  std::ifstream file(path, std::ios::binary);
  std::string start(8, ' ');
  file.read(start.data(), 8);
  CHECK(start == "\x89PNG\r\n\x1a\n");
  fs::remove(path);
  check_refused(scene + "/no/such/folder/a.png", "/no/such/folder/a.png");
  check_refused(scene + "a.png --from the_moon", "the_moon");
  check_refused(scene + "a.png --width 9", "--width");
}
#endif
