// Reading, overriding, writing back; and every broken scene gives the message on its first line.
#include "sim/scene/scene_file.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <fstream>
#include <random>

#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_lists.h"
#include "tests/kit/near.h"

using namespace sidehill;
namespace fs = std::filesystem;

namespace {

const fs::path kRoot = SIDEHILL_SOURCE_DIR;

std::vector<fs::path> toml_in(const fs::path& folder) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  return files;
}

template <class Ask>
std::string message_of(Ask ask) {
  try {
    ask();
  } catch (const InputError& error) {
    return error.what();
  }
  return "no error";
}

Scene first_slope(const std::vector<std::string>& changes = {}) {
  return load_scene(kRoot / "scenes/first_slope.toml", changes);
}

std::uint64_t bits(double value) { return std::bit_cast<std::uint64_t>(value); }

// Bit for bit, so that -0.0 is not 0.0.
void check_same_bits(Scene& a, Scene& b) {
  for (const Field& field : scene_fields())
    if (const auto* number = std::get_if<NumberField>(&field.kind)) {
      CAPTURE(std::string(field.key));
      CHECK(bits(*number->at(a)) == bits(*number->at(b)));
    }
  for (std::size_t i = 0; i < a.terrain.features.size(); ++i)
    for (const auto& field : feature_fields())
      if (const auto* number = std::get_if<NumberFieldOf<Feature>>(&field.kind))
        CHECK(bits(*number->at(a.terrain.features[i])) == bits(*number->at(b.terrain.features[i])));
}

}  // namespace

TEST_CASE("every scene that comes with the program is read, and comes back bit for bit from what is written of it") {
  std::vector<fs::path> files = toml_in(kRoot / "scenes");
  for (const fs::path& file : toml_in(kRoot / "scenes/validate")) files.push_back(file);
  REQUIRE(files.size() >= 15);
  for (const fs::path& file : files) {
    CAPTURE(file.string());
    Scene scene = load_scene(file);
    const std::string text = write_scene(scene);
    Scene back = parse_scene(text, "written.toml");
    check_same_bits(scene, back);
    back.vehicle_file = scene.vehicle_file;  // kept in a comment only
    back.job_file = scene.job_file;
    CHECK(write_scene(back) == text);
  }
}

TEST_CASE("random values come back bit for bit") {
  std::mt19937_64 random(20);
  for (int round = 0; round < 50; ++round) {
    Scene scene = first_slope();
    for (const Field& field : scene_fields())
      if (const auto* number = std::get_if<NumberField>(&field.kind))
        set_file_value(*number, scene, std::uniform_real_distribution<double>(number->min, number->max)(random));
    // Contradictions are not what is tried here.
    scene.vehicle.front.tyre.rim_radius = scene.vehicle.rear.tyre.rim_radius = 0.03;
    scene.vehicle.front.tyre.section_width = scene.vehicle.rear.tyre.section_width = 0.125;
    for (Tyre* tyre : {&scene.vehicle.front.tyre, &scene.vehicle.rear.tyre}) tyre->pressure_offset *= 0.1;
    Vec3& inertia = scene.vehicle.chassis.inertia;
    inertia.y = inertia.x;
    inertia.z = std::min(inertia.z, inertia.x + inertia.y);
    scene.vehicle.frame.x_rear = -5;
    scene.vehicle.frame.x_front = 2;
    scene.ballast.trailer.drawbar_load = std::min(scene.ballast.trailer.drawbar_load, scene.ballast.trailer.mass);
    scene.ballast.hanging_mass = 0;
    Bale& bale = scene.ballast.bale;  // round or square, and the only load, clear of the ground
    (round % 2 == 0 ? bale.diameter : bale.width) = 0;
    if (round % 2 == 0 && bale.height > 0) bale.width = std::max(bale.width, 0.1);
    if (round % 2 == 1) bale.height = 0;
    bale.count = std::round(bale.count);
    scene.ballast.loader_payload = 0;
    scene.job.hitch = JobHitch::drawbar;
    scene.job.road_time = 0;
    scene.ballast.loader_pin_height = std::max(scene.ballast.loader_pin_height, 0.2);
    scene.vehicle.front.dual_spacing = scene.vehicle.rear.dual_spacing = 0.5;
    scene.vehicle.loader.min_pin_height = 0;
    scene.vehicle.loader.max_pin_height = 8;
    scene.vehicle.front_mount.max_mass = scene.vehicle.rear_mount.max_mass = scene.vehicle.max_wheel_weights = 100;
    for (TyreFill& fill : scene.ballast.fill) {  // strengths and prices that exist
      fill.price.low = std::min(fill.price.low, fill.price.high);
      fill.medium = Medium::ethylene_glycol;
      fill.concentration = std::max(fill.concentration, strength_range(fill.medium).min);
    }
    OwnMedium& own = scene.ballast.own_medium;
    own.solid = std::min(own.solid, own.first_ice);
    own.price.low = std::min(own.price.low, own.price.high);
    Scene back = parse_scene(write_scene(scene), "written.toml");
    check_same_bits(scene, back);
  }
}

TEST_CASE("defaults, then the machine, then the scene, then --set") {
  const Scene scene = first_slope({"terrain.slope_deg=11", "ballast.rear.medium=water"});
  CHECK_NEAR(scene.terrain.slope * 57.29577951308232, 11, 1e-12);       // --set over the scene
  CHECK(scene.ballast.fill[kRearLeft].medium == Medium::water);         // an alias, and a word without quotes
  CHECK_NEAR(scene.ballast.fill[kRearRight].fill_fraction, 0.75, 0.0);  // from the scene
  CHECK(scene.vehicle.name.starts_with("utility"));                     // from the machine
  CHECK_NEAR(scene.settings.gravity, 9.80665, 0.0);                     // a default
  CHECK(first_slope({"vehicle_file=compact_26kw", "ballast.loader_payload_kg=0"}).vehicle.name.starts_with("compact"));
  const Scene one_tyre =
      parse_scene("[vehicle]\n[ballast]\nrear_left.fill_fraction=0.1\nrear.fill_fraction=0.5\n", "x");
  CHECK_NEAR(one_tyre.ballast.fill[kRearLeft].fill_fraction, 0.1, 0.0);  // one tyre's own key wins over "both"
  CHECK_NEAR(one_tyre.ballast.fill[kRearRight].fill_fraction, 0.5, 0.0);
}

TEST_CASE("lists grow, change and empty by --set") {
  const Scene scene = first_slope({R"(ballast.point_mass+={on="chassis", mass_kg=300, x_m=2.9, z_m=0.6})",
                                   R"(terrain.feature+={kind="bump", x_m=4})", "terrain.feature[0].height_m=0.35"});
  REQUIRE(scene.ballast.point_masses.size() == 1);
  CHECK_NEAR(scene.ballast.point_masses[0].place.x, 2.9, 0.0);
  REQUIRE(scene.terrain.features.size() == 1);
  CHECK_NEAR(scene.terrain.features[0].height, 0.35, 0.0);
  const std::vector<std::string> empty = {"terrain.feature=[]"};
  CHECK(load_scene(kRoot / "scenes/over_a_stump.toml", empty).terrain.features.empty());
}

TEST_CASE("a wrong --set names its key and what is allowed, and changes nothing") {
  struct Case {
    const char *change, *message;
  };
  for (const Case& c :
       {Case{"ballast.rear.fill_fraction=7.5", "7.5 is out of range, allowed 0 to 1"},
        Case{"vehicle.chassis.mass_kg=-3", "-3 is out of range, allowed 1 to 50000 kg"},
        Case{"vehicle.rear.track_m=0", "0 is out of range, allowed 0.2 to 8 m"},
        Case{"terrain.slope_deg=89", "89 is out of range, allowed 0 to 60 deg"},
        Case{"terrain.slope_deg=inf", "not finite"},
        // Beyond 2^53 a whole number has no exact double: refused as it was typed, never read as anything else.
        Case{"terrain.slope_deg=9007199254740993", "9007199254740993 is out of range, allowed 0 to 60 deg"},
        Case{"terrain.slope_deg=9223372036854775807", "9223372036854775807 is out of range, allowed 0 to 60 deg"},
        Case{"terrain.slope_deg=-9223372036854775808", "-9223372036854775808 is out of range, allowed 0 to 60 deg"},
        Case{"ballast.rear.fill_fraction=9007199254740993", "9007199254740993 is out of range, allowed 0 to 1"},
        Case{"terrain.slope_deg=9007199254740992", "9.0072e+15 is out of range, allowed 0 to 60 deg"},
        Case{"expect=[{quantity=\"margin_deg\", value=9007199254740993}]",
             "9007199254740993 is too large a whole number"},
        Case{"terrain.slope_deg=\"9\"", "found text where a number belongs"},
        Case{"terrain.slope_deg=1\nx=2", "value is missing"},
        Case{"terrain.slope=9", "did you mean terrain.slope_deg?"},
        Case{"terrain.slope_dg=steep", "did you mean terrain.slope_deg?"},
        Case{"terrain.slope_deg=27%", "a slope of 27 % is 15.1 degrees"},
        Case{"terrain.slope_deg=steep", "the value \"steep\" is not readable"},
        Case{"terrain.slope_deg", "a key and a value belong here"}, Case{"terrain.slope_deg+=3", "not a list"},
        Case{"terrain.feature[0].x_m=3", "there are 0 entries"},
        Case{"ballast.point_mass+={on=\"roof\"}", "\"roof\" is not known, allowed one of chassis"},
        Case{"vehicle_file=nothing_like_it", "there is no machine"}}) {
    CAPTURE(c.change);
    Scene scene = first_slope();
    const std::string before = write_scene(scene);
    const std::string message = message_of([&] { apply_override(scene, c.change); });
    INFO(message);
    CHECK(message.starts_with("--set: "));
    CHECK(message.find(c.message) != message.npos);
    CHECK(message.find('\n') == message.npos);
    CHECK(write_scene(scene) == before);
  }
}

TEST_CASE("every broken scene gives the message on its first line") {
  const auto files = toml_in(kRoot / "scenes/broken");
  REQUIRE(files.size() >= 20);
  for (const fs::path& file : files) {
    CAPTURE(file.string());
    std::ifstream stream(file);
    std::string first;
    std::getline(stream, first);
    REQUIRE(first.starts_with("# expect: "));
    const std::string message = message_of([&] { load_scene(file); });
    INFO(message);
    CHECK(message.find(first.substr(10)) != message.npos);
    CHECK(message.starts_with(file.string() + ":"));
    CHECK(message.find('\n') == message.npos);
  }
}

TEST_CASE("a table where a list belongs is called so, for every list") {
  for_each_list([](const auto& list) {
    const std::string name(list.name);
    CAPTURE(name);
    const std::string text = "vehicle_file = \"utility_75kw\"\n[" + name + "]\nname = \"x\"\n";
    CHECK(message_of([&] {
            parse_scene(text, kRoot / "scenes/a.toml");
          }).ends_with("a.toml:2: " + name + ": found a table where a list [[" + name + "]] belongs"));
  });
}

TEST_CASE("a whole number too large to be kept is refused by file and line") {
  const std::string text = "vehicle_file = \"utility_75kw\"\n[terrain]\nslope_deg = 9007199254740993\n";
  CHECK(message_of([&] { parse_scene(text, "a.toml"); }) ==
        "a.toml:3: terrain.slope_deg: 9007199254740993 is out of range, allowed 0 to 60 deg");
}

TEST_CASE("a change says which option it comes from") {
  Scene scene = first_slope();
  for (const char* change : {"terrain.slope_deg=99", "terrain.slope=9", "terrain.slope_deg", "terrain.slope_deg=",
                             "terrain.slope_deg=[", "vehicle_file=nothing_like_it", "terrain.slope_deg+=3"}) {
    CAPTURE(change);
    CHECK(message_of([&] { apply_override(scene, change, "--over"); }).starts_with("--over: "));
  }
}

TEST_CASE("what is no scene is refused in one line") {
  CHECK(message_of([] { load_scene(""); }) == "\"\": the name of a file belongs here");
  CHECK(message_of([] { load_scene("/nowhere/at/all.toml"); }).find("there is no such file") != std::string::npos);
  CHECK(message_of([] { load_scene(kRoot); }).find("is a folder") != std::string::npos);
  CHECK(message_of([] { load_scene("/dev/null"); }).find("not a plain file") != std::string::npos);
  CHECK(message_of([] { parse_scene("", "empty.toml"); }).find("empty.toml:1: the scene is empty") == 0);
  std::string deep = "a";
  for (int i = 0; i < 100000; ++i) deep += ".a";  // a table per dot: must not exhaust the stack
  CHECK(message_of([&] { parse_scene(deep + "=1\n", "deep.toml"); }).find("deep.toml:1: ") == 0);
  const std::string brackets(100000, '[');
  CHECK(message_of([&] { parse_scene("a=" + brackets, "deep.toml"); }).find("deep.toml:1: ") == 0);
}

TEST_CASE("saving replaces the file whole, or leaves it alone") {
  const fs::path folder = fs::temp_directory_path() / "sidehill_scene_file_test";
  fs::create_directories(folder);
  save_text(folder / "a.toml", "one");
  save_text(folder / "a.toml", "two");
  CHECK(read_text(folder / "a.toml") == "two");
  CHECK(std::distance(fs::directory_iterator(folder), fs::directory_iterator()) == 1);  // no temporary file stays
  CHECK(message_of([&] { save_text(folder / "no/such/folder.toml", "x"); }).find("cannot be written") !=
        std::string::npos);
  fs::remove_all(folder);
}

TEST_CASE("machines are found by name from any folder") {
  CHECK(find_vehicle_file("utility_75kw", kRoot / "scenes") == kRoot / "vehicles/utility_75kw.toml");
  CHECK(find_vehicle_file("utility_75kw", kRoot / "scenes/validate").filename() == "utility_75kw.toml");
  CHECK(find_vehicle_file("../vehicles/utility_75kw.toml", kRoot / "scenes").filename() == "utility_75kw.toml");
  CHECK(find_vehicle_file("no_such_machine", kRoot / "scenes").empty());
  CHECK(vehicle_files().size() >= 5);
  CHECK(load_vehicle("orchard_60kw", kRoot).name.find("orchard") != std::string::npos);
}

TEST_CASE("an own medium is read from the scene, and what is not given stays not known when it is written") {
  const Scene scene = first_slope({"ballast.rear.medium=own", "ballast.own_medium.name=winter filling",
                                   "ballast.own_medium.density_kg_per_m3=1250", "ballast.own_medium.solid_c=-40"});
  CHECK(scene.ballast.fill[kRearRight].medium == Medium::own);
  const Mix mix = mix_of(scene.ballast, kRearRight);
  CHECK(medium_name(mix) == "winter filling");
  CHECK_NEAR(density(mix, 283.15), 1250, 1e-9);
  const Scene back = parse_scene(write_scene(scene), "written.toml");
  CHECK_FALSE(first_ice_of(back.ballast.own_medium));
  CHECK_NEAR(*solid_of(back.ballast.own_medium), 233.15, 1e-9);
  CHECK_THROWS_AS(first_slope({"ballast.rear.medium=own", "ballast.own_medium.density_kg_per_m3=1.25"}), InputError);
  CHECK_THROWS_AS(first_slope({"ballast.own_medium.first_ice_c=-30", "ballast.own_medium.solid_c=-20"}), InputError);
}

TEST_CASE("a medium may be named by the frost it stands; the old names still read") {
  const auto rear = [](const std::vector<std::string>& more) { return first_slope(more).ballast.fill[kRearLeft]; };
  const TyreFill named = rear({"ballast.rear.medium=calcium chloride, to -24 C"});
  CHECK(named.medium == Medium::calcium_chloride);
  CHECK_NEAR(slush_free(named.medium, named.concentration), 273.15 - 24, 1e-6);
  const TyreFill mix = rear({"ballast.rear.medium=calcium chloride, to -23 °C (3.5 lb/US gal)"});
  CHECK(mix.medium == Medium::calcium_chloride_3_5);
  CHECK(rear({"ballast.rear.medium=calcium_chloride_3_5"}).medium == Medium::calcium_chloride_3_5);
  // A name says its strength: what stood there before goes, and one beside it is refused.
  CHECK(rear({"ballast.rear.medium=methanol", "ballast.rear.concentration=0.2",
              "ballast.rear.medium=methanol and water, to -25 C"})
            .concentration == 0);
  // Written and read again it is the same.
  const Scene scene = first_slope({"ballast.rear_left.medium=propylene glycol, to -12 C"});
  CHECK(parse_scene(write_scene(scene), "written.toml").ballast.fill[kRearLeft].concentration ==
        scene.ballast.fill[kRearLeft].concentration);

  const auto refused = [](const std::string& text) { return message_of([&] { parse_scene(text, "bad.toml"); }); };
  const std::string both = refused(
      "vehicle_file = \"utility_75kw\"\n[ballast]\nrear.medium = \"calcium chloride, to -24 C\"\n"
      "rear_left.concentration = 0.1\n");
  CAPTURE(both);
  CHECK(both.starts_with("bad.toml:4: ballast.rear_left.concentration: "));
  CHECK(both.find("says the strength already") != both.npos);
  const std::string cold =
      refused("vehicle_file = \"utility_75kw\"\n[ballast]\nrear.medium = \"magnesium chloride, to -60 C\"\n");
  CAPTURE(cold);
  CHECK(
      cold.starts_with("bad.toml:3: ballast.rear.medium: \"magnesium chloride, to -60 C\" is too cold: it stands -3"));
  CHECK(refused("vehicle_file = \"utility_75kw\"\n[ballast]\nrear.medium = \"brine\"\n")
            .find("is not known, allowed one") != std::string::npos);
}
