// A machine made of what its owner measured: the class machines measured and made again, odd data, files and noise.
#include "sim/own_machine/made_machine.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <random>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/model/model.h"
#include "sim/own_machine/weighing.h"
#include "sim/rest/statics.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_checks.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"
#include "vehicles/tyre_cavity.h"

using namespace sidehill;

namespace {

std::vector<std::string> classes() {
  std::vector<std::string> all;
  for (const auto& file : std::filesystem::directory_iterator(SIDEHILL_SOURCE_DIR "/vehicles"))
    if (file.path().extension() == ".toml") all.push_back(file.path().stem().string());
  std::ranges::sort(all);
  REQUIRE(all.size() >= 6);
  return all;
}

Vehicle class_of(const std::string& name) { return load_vehicle(name, SIDEHILL_SOURCE_DIR); }

// The machine on the weighbridge: driver on, tank full, bucket empty and knee-high, tyres on air.
Scene weighbridge(const Vehicle& v) {
  Scene scene;
  scene.vehicle = v;
  scene.ballast.loader_pin_height = 0.4;
  return scene;
}

// What its owner would find: all that a weighbridge and a tape give, and the sidewalls.
MachineEntry measured(const std::string& name, bool raised) {
  const Vehicle v = class_of(name);
  const Model model = build(weighbridge(v));
  const double mass = total_mass(model);
  const Vec3 centre = centre_of_gravity(model);
  MachineEntry e;
  e.machine_class = name;
  e.engine_power = v.engine_power;
  e.front_axle = mass * centre.x / v.wheelbase, e.rear_axle = mass - *e.front_axle;
  e.driver = v.driver.mass, e.fuel = 1;
  e.wheelbase = v.wheelbase, e.front_track = v.front.track, e.rear_track = v.rear.track;
  e.pin_height = v.front_axle.pin_height;
  e.front_tyre = v.front.tyre.size, e.rear_tyre = v.rear.tyre.size;
  e.front_pressure = v.front.tyre.pressure, e.rear_pressure = v.rear.tyre.pressure;
  e.swing = v.front.track * std::sin(v.front_axle.stop_angle);
  e.frame = v.frame.kind, e.frame_height = v.frame.top_height;
  e.loader = v.loader.fitted, e.front_drive = v.front_drive;
  if (v.loader.fitted) {
    e.pivot_ahead = v.loader.pivot_x, e.pivot_height = v.loader.pivot_z, e.boom = v.loader.boom_length;
    e.lift_height = v.loader.max_pin_height;
    e.loader_mass = v.loader.mast_mass + v.loader.boom_mass, e.bucket_mass = v.loader.bucket_mass;
  }
  if (!raised) return e;
  Weighing w;
  w.wheelbase = v.wheelbase;
  w.front = *e.front_axle, w.rear = *e.rear_axle;
  w.front_radius = v.front.tyre.free_radius - 0.5 * w.front * 9.80665 / v.front.tyre.vertical_stiffness;
  w.rear_radius = v.rear.tyre.free_radius - 0.5 * w.rear * 9.80665 / v.rear.tyre.vertical_stiffness;
  w.height = 0.3 * v.wheelbase;
  // From unloaded tyres, where the Model has its centre, to tyres as they stand.
  const double front_sinks = v.front.tyre.free_radius - w.front_radius,
               rear_sinks = v.rear.tyre.free_radius - w.rear_radius;
  w = weighed_at(w, centre.z - rear_sinks - (front_sinks - rear_sinks) * centre.x / v.wheelbase);
  e.raised_by = w.height, e.raised_rear = *w.rear_then;
  e.front_centre = w.front_radius, e.rear_centre = w.rear_radius;
  return e;
}

MadeMachine make(const MachineEntry& entry) { return make_machine(entry, class_of(entry.machine_class)); }

double lift_off(const Vehicle& v) {
  MadeMachine made;
  made.vehicle = v;
  const auto found = first_lift_off(build(scene_of(made))).slope;
  REQUIRE(found);
  return *found;
}

bool has_check(const MadeMachine& made, std::string_view key, Severity severity) {
  for (const EntryCheck& check : made.checks)
    if (check.key == key && check.severity == severity) return true;
  return false;
}

bool has_check(const MadeMachine& made, std::string_view key) {
  return has_check(made, key, Severity::mild) || has_check(made, key, Severity::grave);
}

bool same_numbers(const Vehicle& a, const Vehicle& b, std::string& where) {
  Scene x, y;
  x.vehicle = a, y.vehicle = b;
  for (const Field& field : scene_fields()) {
    if (!field.key.starts_with("vehicle.")) continue;
    where = field.key;
    if (const auto* n = std::get_if<NumberField>(&field.kind))
      if (*n->at(x) != *n->at(y)) return false;
    if (const auto* f = std::get_if<FlagField>(&field.kind))
      if (*f->at(x) != *f->at(y)) return false;
    if (const auto* t = std::get_if<TextField>(&field.kind))
      if (*t->at(x) != *t->at(y)) return false;
    if (const auto* c = std::get_if<ChoiceField>(&field.kind))
      if (c->get(x) != c->get(y)) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("a class machine, weighed and measured, comes out as it was: by its own class to a tenth of a degree") {
  for (const std::string& name : classes()) {
    INFO(std::string(name));
    for (const bool raised : {false, true}) {
      const MadeMachine made = make(measured(name, raised));
      INFO(first_grave(made));
      REQUIRE(made.usable);
      const Vehicle original = class_of(name);
      CHECK_NEAR(lift_off(made.vehicle) / kDegree, lift_off(original) / kDegree, raised ? 0.15 : 0.1);
      const MachineAnswer answer = answer_of(made);
      REQUIRE(answer.first_lift_off);
      CHECK(answer.low <= lift_off(original));
      CHECK(answer.high >= lift_off(original));
      // What was weighed comes back.
      Scene there = weighbridge(made.vehicle);
      const Model model = build(there);
      CHECK_NEAR(total_mass(model), *measured(name, raised).front_axle + *measured(name, raised).rear_axle, 3);
    }
  }
}

TEST_CASE("estimated from the wrong class, a machine weighed and measured still answers within its doubt") {
  int asked = 0;
  for (const std::string& name : classes())
    for (const std::string& other : classes()) {
      const auto halves = [](const std::string& machine) {
        return class_of(machine).front_axle.kind == AxleKind::articulated;
      };
      if (name == other || halves(name) != halves(other)) continue;
      for (const bool raised : {false, true}) {
        MachineEntry entry = measured(name, raised);
        entry.machine_class = other;
        const MadeMachine made = make(entry);
        INFO(name, " from ", other, raised ? ", raised" : "", ": ", first_grave(made));
        REQUIRE(made.usable);
        const MachineAnswer answer = answer_of(made);
        REQUIRE(answer.first_lift_off);
        const double truth = lift_off(class_of(name));
        // Not weighed raised, the height comes from the class; the narrow orchard machine carries its weight higher
        // over its tyres than the others, which is why it is a class of its own.
        // So do an orchard tractor and a forestry machine with a joint.
        const auto apart = [](const std::string& machine) {
          return machine.starts_with("orchard") || machine.starts_with("forestry");
        };
        const bool comparable = !apart(name) && !apart(other);
        if (!comparable && (!raised || name.starts_with("forestry") || other.starts_with("forestry"))) continue;
        CHECK(answer.low <= truth);
        CHECK(answer.high >= truth);
        ++asked;
      }
    }
  CHECK(asked == 50);
}

TEST_CASE("nothing said at all gives the class, with nothing known") {
  for (const std::string& name : classes()) {
    INFO(std::string(name));
    MachineEntry entry;
    entry.machine_class = name;
    const MadeMachine made = make(entry);
    REQUIRE(made.usable);
    CHECK_NEAR(lift_off(made.vehicle) / kDegree, lift_off(class_of(name)) / kDegree, 0.05);
    CHECK(has_check(made, "mass_kg", Severity::mild));
    for (const DatumOrigin& origin : made.origins) {
      CHECK(origin.from != DatumFrom::measured);
      CHECK_FALSE(origin.how.empty());
    }
    const MachineAnswer answer = answer_of(made);
    REQUIRE(answer.next.size() >= 3);
    CHECK(answer.next.front().effect >= answer.next.back().effect);
    for (const MeasureNext& next : answer.next)
      CHECK((find_entry_field(next.entry_key) != nullptr || next.entry_key.ends_with("_tyre")));
  }
}

TEST_CASE("every number of the vehicle has its origin once, every entry datum decides something") {
  const MadeMachine made = make({});
  std::size_t numbers = 0;
  for (const Field& field : scene_fields())
    if (field.key.starts_with("vehicle.") && std::holds_alternative<NumberField>(field.kind)) {
      ++numbers;
      CHECK(origin_of(made, field.key) != nullptr);
    }
  CHECK(made.origins.size() == numbers);
  for (const EntryField& field : entry_fields()) {
    INFO(field.key);
    CHECK_FALSE(field.how.empty());
    // Asked for, so it must matter: a number or a check is another once it is said.
    MachineEntry base = measured("utility_75kw", true), moved = base;
    base.*field.at = moved.*field.at = std::nullopt;
    if (field.key == "centre_height_m")
      moved.raised_by = base.raised_by = moved.raised_rear = base.raised_rear = std::nullopt;
    moved.*field.at = (field.min + 0.37 * (field.max - field.min)) * field.to_si;
    const MadeMachine without = make(base), with = make(moved);
    std::string where;
    std::string before, after;
    for (const EntryCheck& check : without.checks) before += check.key + check.sentence;
    for (const EntryCheck& check : with.checks) after += check.key + check.sentence;
    CHECK((!same_numbers(without.vehicle, with.vehicle, where) || before != after));
  }
}

TEST_CASE("a measured track read over the outside is one tyre's width less") {
  MachineEntry entry = measured("utility_75kw", false);
  entry.track_reading = TrackReading::over_outside;
  *entry.rear_track += 0.467, *entry.front_track += 0.345;
  const MadeMachine made = make(entry);
  REQUIRE(made.usable);
  CHECK_NEAR(made.vehicle.rear.track, 1.80, 1e-6);
  CHECK_NEAR(made.vehicle.front.track, 1.72, 1e-6);
  CHECK(origin_of(made, "vehicle.rear.track_m")->tolerance > 0.01);
}

TEST_CASE("liquid, weights and driver on the weighbridge are not taken for the machine") {
  const MadeMachine plain = make(measured("utility_75kw", true));
  MachineEntry e = measured("utility_75kw", false);
  e.rear_liquid = 600, *e.rear_axle += 600;
  e.rear_wheel_weights = 100, *e.rear_axle += 200;
  // Weights on the front bracket lie ahead of the front wheels and take weight off the rear ones.
  const double lever = plain.vehicle.front_mount.x / plain.vehicle.wheelbase;
  e.front_weights = 200, *e.front_axle += 200 * lever, *e.rear_axle -= 200 * (lever - 1);
  const MadeMachine loaded = make(e);
  REQUIRE(loaded.usable);
  CHECK_NEAR(loaded.mass, plain.mass, 3);
  CHECK_NEAR(loaded.vehicle.chassis.centre_of_gravity.x, plain.vehicle.chassis.centre_of_gravity.x, 0.005);
}

TEST_CASE("weighed with nothing said of liquid or weights: asked for, and part of the doubt") {
  const MachineEntry unsaid = measured("utility_75kw", false);
  MachineEntry air = unsaid, metal = unsaid;
  air.rear_liquid = 0;
  metal.front_weights = 0;
  const auto asks = [](const MadeMachine& made, const char* key, const char* what) {
    return std::ranges::any_of(made.checks, [&](const EntryCheck& check) {
      return check.key == key && check.severity == Severity::mild && check.sentence.find(what) != std::string::npos;
    });
  };
  CHECK(asks(make(unsaid), "rear_liquid_kg", "counted twice"));
  CHECK(asks(make(unsaid), "front_weights_kg", "counted twice"));
  CHECK_FALSE(asks(make(air), "rear_liquid_kg", "counted twice"));
  CHECK(asks(make(air), "front_weights_kg", "counted twice"));
  CHECK_FALSE(asks(make(metal), "front_weights_kg", "counted twice"));
  MachineEntry not_weighed = unsaid;
  not_weighed.front_axle.reset(), not_weighed.rear_axle.reset();
  CHECK_FALSE(asks(make(not_weighed), "rear_liquid_kg", "counted twice"));
  // Three quarters of water in both rear tyres.
  const double more = origin_of(make(unsaid), "vehicle.chassis.mass_kg")->tolerance -
                      origin_of(make(air), "vehicle.chassis.mass_kg")->tolerance;
  CHECK_NEAR(more, 2 * 0.75 * 1000 * cavity_volume(cavity_of(make(air).vehicle.rear.tyre)), 5);
  const MachineAnswer doubtful = answer_of(make(unsaid)), known = answer_of(make(air));
  CHECK(doubtful.high - doubtful.low > known.high - known.low);
  const auto liquid = std::ranges::find(doubtful.next, "rear_liquid_kg", &MeasureNext::entry_key);
  CHECK(liquid != doubtful.next.end());
  CHECK(std::ranges::find(known.next, "rear_liquid_kg", &MeasureNext::entry_key) == known.next.end());
}

TEST_CASE("what cannot be is named by its row") {
  const auto grave = [](auto change) {
    MachineEntry entry = measured("utility_75kw", true);
    change(entry);
    const MadeMachine made = make(entry);
    CHECK_FALSE(made.usable);
    const std::string line = first_grave(made);
    CHECK(line.find('\n') == std::string::npos);
    return line.substr(0, line.find(':'));
  };
  CHECK(grave([](MachineEntry& e) { e.mass = *e.front_axle + *e.rear_axle + 600; }) == "mass_kg");
  CHECK(grave([](MachineEntry& e) { e.rear_track = 0.44; }) == "rear_track_m");
  CHECK(grave([](MachineEntry& e) { e.wheelbase = 1.2; }) == "wheelbase_m");
  CHECK(grave([](MachineEntry& e) { e.rear_tyre = "18.4X34"; }) == "rear_tyre");
  CHECK(grave([](MachineEntry& e) { e.rear_liquid = 5000; }) == "front_axle_kg");
  CHECK(grave([](MachineEntry& e) { e.raised_rear = 6000; }) == "raised_rear_kg");
  CHECK(grave([](MachineEntry& e) { e.lift_height = 6.9; }) == "loader_lift_height_m");
  CHECK(grave([](MachineEntry& e) { e.swing = 1.9; }) == "swing_m");
  CHECK(grave([](MachineEntry& e) { e.wheelbase = NAN; }) == "wheelbase_m");
  CHECK(grave([](MachineEntry& e) { e.wheelbase = 40; }) == "wheelbase_m");
  CHECK(grave([](MachineEntry& e) { e.name = "a\x80 b"; }) == "name");
  CHECK(grave([](MachineEntry& e) { e.front_narrowest = 2.5; }) == "front_narrowest_m");
  const auto mild = [](auto change, const char* key) {
    MachineEntry entry = measured("utility_75kw", true);
    change(entry);
    const MadeMachine made = make(entry);
    INFO(std::string(key), ": ", first_grave(made));
    CHECK(made.usable);
    CHECK(has_check(made, key, Severity::mild));
  };
  mild([](MachineEntry& e) { e.mass = *e.front_axle + *e.rear_axle + 100; }, "mass_kg");
  mild([](MachineEntry& e) { e.engine_power = 25e3; }, "engine_power_kw");
  mild([](MachineEntry& e) { *e.front_axle -= 1200, *e.rear_axle += 1200, e.raised_by.reset(), e.raised_rear.reset(); },
       "front_axle_kg");
  mild([](MachineEntry& e) { e.front_tyre = "7.50-16"; }, "front_axle_kg");
  mild([](MachineEntry& e) { e.driver.reset(); }, "driver_kg");
  mild([](MachineEntry& e) { e.frame = FrameKind::none; }, "frame");
  MachineEntry nowhere;
  nowhere.machine_class = "no_such";
  CHECK(has_check(make_machine(nowhere), "class", Severity::grave));
  CHECK_FALSE(has_check(make(measured("utility_75kw", true)), "mass_kg"));
}

TEST_CASE("a machine file reads back bit for bit and says where each number comes from") {
  const std::filesystem::path folder = std::filesystem::temp_directory_path() / "sidehill_made_machine";
  std::filesystem::create_directories(folder);
  for (const std::string& name : classes()) {
    MachineEntry entry = measured(name, true);
    entry.name = "the \"old\" one \\ \u00e9";
    entry.rear_track.reset();
    const MadeMachine made = make(entry);
    REQUIRE(made.usable);
    const auto path = folder / (name + ".toml");
    save_machine(made, entry, path);
    save_machine(made, entry, path);  // one's own may be written again
    std::string where;
    const bool same = same_numbers(load_vehicle(path.filename().string(), folder), made.vehicle, where);
    INFO(name, ": ", where);
    CHECK(same);
    const std::string text = read_text(path);
    CHECK(text.find("measured by its owner") != std::string::npos);
    CHECK(text.find("our estimate") != std::string::npos);
    CHECK(text.find("No slope is safe") != std::string::npos);
    // Its tolerances are real ones: whoever names the machine has them.
    const Scene scene = parse_scene("vehicle_file = \"" + path.string() + "\"\n", folder / "scene.toml");
    CHECK(scene.tolerances.size() == made.tolerances.size());
  }
  const auto shipped = find_vehicle_file("utility_75kw", SIDEHILL_SOURCE_DIR);
  const std::string before = read_text(shipped);
  CHECK_THROWS_AS(save_machine(make({}), {}, shipped), InputError);
  CHECK(read_text(shipped) == before);
  CHECK_THROWS_AS(save_machine(make({}), {}, folder / "mine.txt"), InputError);
  MachineEntry bad;
  bad.wheelbase = 0.7, bad.rear_tyre = "18.4R34";
  CHECK_THROWS_AS(save_machine(make(bad), bad, folder / "bad.toml"), InputError);
  std::filesystem::remove_all(folder);
}

TEST_CASE("any made machine can take the place of the one in any scene for people") {
  int tried = 0;
  for (const auto& file : std::filesystem::directory_iterator(SIDEHILL_SOURCE_DIR "/scenes")) {
    if (file.path().extension() != ".toml") continue;
    const Scene scene = load_scene(file.path());
    for (const std::string& name : classes()) {
      const MadeMachine made = make(measured(name, true));
      const Scene with = with_machine(scene, made);
      const auto conflict = find_conflict(with);
      INFO(file.path().filename().string(), ", ", name, ": ", conflict ? conflict->key + conflict->message : "");
      CHECK_FALSE(conflict);
      CHECK_NOTHROW(build(with));
      CHECK(with.tolerances.size() >= made.tolerances.size());
      ++tried;
    }
  }
  CHECK(tried > 30);
}

TEST_CASE("an entry file reads back to the same entry; a broken one is one line") {
  MachineEntry entry = measured("compact_26kw", true);
  entry.name = "caf\u00e9 \"two\"";
  entry.track_reading = TrackReading::over_outside;
  const MachineEntry back = parse_entry(write_entry(entry), "entry.toml");
  for (const EntryField& field : entry_fields()) {
    INFO(field.key);
    CHECK(back.*field.at == entry.*field.at);
  }
  for (const EntryWord& word : entry_words()) CHECK(entry_word(back, word.key) == entry_word(entry, word.key));
  const auto refused = [](const char* text) {
    try {
      parse_entry(text, "mine.toml");
    } catch (const InputError& error) {
      const std::string line = error.what();
      CHECK(line.find('\n') == std::string::npos);
      return line;
    }
    return std::string();
  };
  CHECK(refused("rear_track_m = 9").starts_with("mine.toml:1: rear_track_m: 9 is out of range, allowed 0.4 to 6 m"));
  CHECK(refused("\nframe = \"hoop\"")
            .starts_with("mine.toml:2: frame: \"hoop\" is not known, allowed none, two_post, cab"));
  CHECK(refused("rear_tyre = 18.4").starts_with("mine.toml:1: rear_tyre: words belong here, allowed words in quotes"));
  CHECK(refused("rear_trak_m = 1.8").find("did you mean rear_track_m?") != std::string::npos);
  CHECK(refused("front_axle_kg = 9007199254740993")
            .starts_with("mine.toml:1: front_axle_kg: 9007199254740993 is out of range, allowed 20 to 20000 kg"));
  CHECK(refused("driver_kg = nan").find("not finite") != std::string::npos);
  CHECK_FALSE(refused("= 3").empty());
}

TEST_CASE("an entry file with a key's earlier name gives the same machine, and is written with today's") {
  const std::pair<const char*, const char*> renamed[] = {{"front_iron_kg", "front_weights_kg"},
                                                         {"rear_iron_kg", "rear_weights_kg"},
                                                         {"front_wheel_iron_kg", "front_wheel_weights_kg"},
                                                         {"rear_wheel_iron_kg", "rear_wheel_weights_kg"}};
  const std::string weighed = "class = \"utility_75kw\"\nfront_axle_kg = 2050\nrear_axle_kg = 2700\n";
  const auto made_of = [](const MachineEntry& entry) { return write_machine(make_machine(entry), entry); };
  const std::string plain = made_of(parse_entry(weighed, "mine.toml"));
  for (const auto& [before, now] : renamed) {
    const auto& this_now = now;
    CAPTURE(this_now);
    const MachineEntry old_entry = parse_entry(weighed + before + " = 90\n", "mine.toml");
    const MachineEntry new_entry = parse_entry(weighed + now + " = 90\n", "mine.toml");
    const std::string machine = made_of(old_entry);
    CHECK(machine == made_of(new_entry));
    CHECK(machine != plain);
    CHECK(write_entry(old_entry) == write_entry(new_entry));
    CHECK(write_entry(old_entry).find(std::string("\n") + now + " = 90") != std::string::npos);
    CHECK(write_entry(old_entry).find(before) == std::string::npos);
    for (const auto& [first, second] : {std::pair(before, now), std::pair(now, before)}) {
      std::string line;
      try {
        parse_entry(std::string(first) + " = 90\n" + second + " = 90\n", "mine.toml");
      } catch (const InputError& error) {
        line = error.what();
      }
      CHECK(line == "mine.toml:2: " + std::string(second) +
                        ": line 1 gives the same value under its other name, allowed once, as " + now);
    }
  }
}

TEST_CASE("500 random entries: a machine that builds and answers, or the datum that forbids it; never a NaN") {
  std::mt19937 random(20240611);
  const auto unit = [&] { return std::uniform_real_distribution<double>(0, 1)(random); };
  const std::vector<std::string> names = classes();
  const char* sizes[] = {"",         "18.4R34", "7.50-16",      "480/70R38 145D", "23x8.50-12 4PR",
                         "30.5L-32", "rubbish", "IF 710/70 R42"};
  int usable = 0, refused = 0;
  for (int i = 0; i < 500 / kShare; ++i) {
    MachineEntry e;
    e.machine_class = names[static_cast<std::size_t>(unit() * static_cast<double>(names.size()))];
    // From a measured machine moved about a little, to noise over the whole ranges.
    const bool wild = i % 2 == 0;
    if (!wild) e = measured(e.machine_class, unit() < 0.5);
    for (const EntryField& field : entry_fields()) {
      auto& said = e.*field.at;
      if (wild && unit() < 0.2) said = (field.min + unit() * (field.max - field.min)) * field.to_si;
      if (!wild && said) *said *= 0.8 + 0.4 * unit();
      if (!wild && unit() < 0.2) said.reset();
      if (unit() < 0.002) said = unit() < 0.5 ? NAN : INFINITY;
    }
    if (wild) {
      e.front_tyre = sizes[static_cast<std::size_t>(unit() * 8)],
      e.rear_tyre = sizes[static_cast<std::size_t>(unit() * 8)];
      if (unit() < 0.3) e.frame = static_cast<FrameKind>(static_cast<int>(3 * unit()));
      if (unit() < 0.3) e.loader = unit() < 0.5;
      if (unit() < 0.3) e.track_reading = TrackReading::over_outside;
    }
    const MadeMachine made = make(e);
    INFO(i, ": ", first_grave(made));
    for (const DatumOrigin& origin : made.origins) {
      Scene scene;
      scene.vehicle = made.vehicle;
      CHECK(std::isfinite(file_value(std::get<NumberField>(find_field(origin.key)->kind), scene)));
      CHECK(std::isfinite(origin.tolerance));
      CHECK(origin.tolerance >= 0);
    }
    CHECK(std::isfinite(made.mass + made.centre_height + made.weighed_front_share));
    for (const EntryCheck& check : made.checks) {
      CHECK(check.sentence.find("nan") == std::string::npos);
      CHECK(check.sentence.find("inf ") == std::string::npos);
      if (check.severity == Severity::grave && !check.key.empty()) {
        const bool word = std::ranges::any_of(entry_words(), [&](const EntryWord& w) { return w.key == check.key; });
        CHECK((word || find_entry_field(check.key) != nullptr));
      }
    }
    if (!made.usable) {
      ++refused;
      CHECK_FALSE(first_grave(made).empty());
      continue;
    }
    ++usable;
    const LiftOff found = first_lift_off(build(scene_of(made)));
    if (found.slope) CHECK(std::isfinite(*found.slope));
  }
  CHECK(usable > 100 / kShare);
  CHECK(refused > 100 / kShare);
}
