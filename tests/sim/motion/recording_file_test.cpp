// Recordings as files: what is written comes back bit for bit, single frames too; what is no recording or damaged is
// refused in one line; a run goes on from any of its moments as it went.
#include "sim/motion/recording_file.h"

#include <doctest/doctest.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>

#include "sim/base/errors.h"
#include "sim/motion/frame_codec.h"
#include "sim/motion/run.h"
#include "tests/kit/folder.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "tests/kit/program.h"
#include "tests/kit/share.h"

using namespace sidehill;

namespace {

namespace fs = std::filesystem;
using FileDice = std::mt19937_64;

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

void put_bytes(const fs::path& path, std::string_view bytes) {
  std::ofstream(path, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

void check_same_bits(const Recording& a, const Recording& b) {
  CHECK(a.scene_text == b.scene_text);
  CHECK(a.program_version == b.program_version);
  CHECK(a.frame_step == b.frame_step);
  CHECK(a.outcome == b.outcome);
  CHECK(a.divergence == b.divergence);
  REQUIRE(a.events.size() == b.events.size());
  for (std::size_t i = 0; i < a.events.size(); ++i) {
    const Event &x = a.events[i], &y = b.events[i];
    const bool same = x.kind == y.kind && x.time == y.time && x.wheel == y.wheel && x.slope == y.slope;
    CHECK(same);
  }
  REQUIRE(a.states.size() == b.states.size());
  REQUIRE(a.moments.size() == a.states.size());
  REQUIRE(b.moments.size() == b.states.size());
  std::size_t others = 0;
  for (std::size_t i = 0; i < a.states.size(); ++i)
    others += hash(a.states[i]) != hash(b.states[i]) || !same_bits(a.moments[i], b.moments[i]);
  CHECK(others == 0);
}

// What reading a file says; empty if it was read.
std::string refusal_of_run(const fs::path& path) {
  try {
    load_recording(path);
  } catch (const InputError& error) {
    return error.what();
  }
  return {};
}

// Everything that is wrong with a file is one line that names it.
void check_unreadable(const fs::path& path, const std::string& words = {}) {
  const std::string line = refusal_of_run(path);
  CHECK(line.starts_with(path.string() + ": "));
  CHECK(line.find('\n') == line.npos);
  CHECK(line.find(words) != line.npos);
}

Scene diverging_scene() {
  Scene scene = test_machine("compact_26kw", {"programme.drop_height_m=0.1"});
  scene.vehicle.rear.tyre.vertical_stiffness = 1e12;
  return scene;
}

std::size_t header_size(const std::string& bytes) { return bytes.find('\n', bytes.find("\nheader_sum ") + 1) + 1; }

// Of a file, the header's `from` made `to`, and its check sum right again. Same length: the rest stays in place.
std::string forged(std::string bytes, const std::string& from, const std::string& to) {
  const std::size_t at = bytes.find(from), sum = bytes.find("\nheader_sum ");
  REQUIRE(at < sum);
  REQUIRE(from.size() == to.size());
  bytes.replace(at, from.size(), to);
  char text[9];
  std::snprintf(text, sizeof text, "%08x", check_sum(bytes.substr(0, sum + 1)));
  bytes.replace(sum + 12, 8, text);
  return bytes;
}

std::string line_of(const std::string& bytes, const std::string& key) {
  const std::size_t at = bytes.find("\n" + key + " ") + 1;
  return bytes.substr(at, bytes.find('\n', at) - at);
}

// The line with key's value made `value`, filled up in front with a letter so that nothing moves.
std::string with_value(const std::string& bytes, const std::string& key, std::string value) {
  const std::string line = line_of(bytes, key);
  value.resize(line.size() - key.size() - 1, '0');
  return forged(bytes, "\n" + line + "\n", "\n" + key + " " + value + "\n");
}

}  // namespace

TEST_CASE("a moment put back gives the state of that frame bit for bit, in another world and in any order") {
  for (const char* name : {"over_a_stump", "bucket_up"}) {
    INFO(std::string(name));
    const Recording recording = run(test_scene(name));
    REQUIRE(recording.moments.size() == recording.states.size());
    const std::vector<State> states = states_of(recording);
    World world(build(test_scene(name)), Pose{}, 0.1);
    for (std::size_t n = 0; n < states.size(); ++n) {
      CHECK(hash(states[n]) == hash(recording.states[n]));
      const std::size_t i = n * 7 % states.size();
      world.restore(recording.moments[i]);
      CHECK(hash(world.state()) == hash(recording.states[i]));
    }
  }
}

TEST_CASE("every scene for people, a roll-over and a diverged run come back bit for bit, in few bytes") {
  const Folder folder;
  struct Case {
    std::string name;
    Scene scene;
  };
  std::vector<Case> cases;
  for (const char* name : {"first_slope", "over_a_stump", "into_a_hole", "orchard_row", "bucket_up",
                           "water_or_cast_weights", "wide_or_narrow"})
    cases.push_back({name, test_scene(name)});
  cases.push_back({"roll_over", test_scene("first_slope", {"terrain.slope_deg=45", "programme.duration_s=15",
                                                           "terrain.soil.adhesion_unlimited=true"})});
  cases.push_back(
      {"own_engine", test_scene("over_a_stump", {"settings.engine=\"own\"", "programme.duration_s=7.333"})});
  cases.push_back({"shortest", test_scene("first_slope", {"programme.duration_s=0.1"})});
  cases.push_back({"diverged", diverging_scene()});
  double all_bytes = 0, all_seconds = 0;
  for (const Case& c : cases) {
    INFO(c.name);
    const Recording recording = run(c.scene);
    const fs::path path = folder / (c.name + ".run");
    const std::size_t size = write_recording(recording, path);
    CHECK(size == fs::file_size(path));
    check_same_bits(load_recording(path), recording);
    CHECK(scene_of_recording(path) == recording.scene_text);
    const double seconds = recording.states.back().time;
    if (seconds < 2) continue;
    const double rate = static_cast<double>(size) / seconds;
    MESSAGE(c.name << ": " << rate / 1000 << " kB a second, " << recording.moments.size() << " frames");
    CHECK(rate < 32e3);  // rough ground; without its scene's text, no run is stored in more than 30
    all_bytes += static_cast<double>(size), all_seconds += seconds;
  }
  CHECK(all_bytes / all_seconds < 25e3);
  CHECK(std::distance(fs::directory_iterator(folder.path), {}) == static_cast<long>(cases.size()));  // no .part left
  // The same recording gives the same file, byte for byte.
  const Recording again = run(cases.front().scene);
  write_recording(again, folder / "again.run");
  CHECK(bytes_of(folder / "again.run") == bytes_of(folder / "first_slope.run"));
}

TEST_CASE("one frame is had without the others, in any order, and by its time") {
  const Folder folder;
  const fs::path path = folder / "seek.run";
  const Recording recording = run(test_scene("over_a_stump", {"programme.duration_s=6.507"}));
  write_recording(recording, path);
  RecordingFile file(path);
  const std::size_t frames = recording.moments.size();
  REQUIRE(file.frames() == frames);
  CHECK(file.bytes() == fs::file_size(path));
  CHECK(file.about().moments.empty());
  CHECK(file.about().events.size() == recording.events.size());
  FileDice random(1);
  for (int n = 0; n < 200; ++n) {
    const std::size_t i = n == 0 ? frames - 1 : random() % frames;
    CHECK(same_bits(file.moment_at(i), recording.moments[i]));
    if (n % 3 == 0) CHECK(hash(file.state_at(i)) == hash(recording.states[i]));
  }
  CHECK_THROWS_AS(file.moment_at(frames), std::out_of_range);
  for (std::size_t i = 0; i < frames; ++i) CHECK(file.frame_near(recording.states[i].time) == i);
  CHECK(file.frame_near(1.0099) == 50);
  CHECK(file.frame_near(1.0101) == 51);
  CHECK(file.frame_near(-5) == 0);
  CHECK(file.frame_near(1e300) == frames - 1);
  // Damage to one chunk leaves the frames of the others.
  std::string bytes = bytes_of(path);
  bytes[header_size(bytes) + 100] ^= 1;
  put_bytes(folder / "hurt.run", bytes);
  RecordingFile hurt(folder / "hurt.run");
  CHECK_THROWS_AS(hurt.moment_at(3), InputError);
  CHECK(same_bits(hurt.moment_at(64), recording.moments[64]));
  CHECK_THROWS_AS(hurt.moment_at(63), InputError);
}

TEST_CASE("stepped on from a moment in the middle, the later frames are the same bit for bit") {
  const Folder folder;
  const std::vector<std::string> short_run{"programme.duration_s=7"},
      tilting{"programme.duration_s=4", "programme.tilt_rate_deg_per_s=4"};
  for (const Scene& scene : {test_scene("over_a_stump", short_run), test_scene("bucket_up", short_run),
                             test_scene("first_slope", tilting)}) {
    INFO(scene.title);
    write_recording(run(scene), folder / "middle.run");
    const Recording recording = load_recording(folder / "middle.run");
    const Model model = build(parse_scene(recording.scene_text, "recording"));
    for (const std::size_t from : {0u, 30u, 77u, 130u}) {
      World world(model, Pose{}, 0);
      world.restore(recording.moments[from]);
      Runner before(scene, model);
      before.advance(recording.states[from].time);
      Driving driving = before.driving();
      std::size_t others = 0;
      for (std::size_t i = from + 1; i < recording.moments.size(); ++i) {
        for (long n = recording.moments[i - 1].steps; n < recording.moments[i].steps; ++n)
          world.step(drive(model, world.state(), driving));
        others += !same_bits(world.moment(), recording.moments[i]) || hash(world.state()) != hash(recording.states[i]);
      }
      CHECK(others == 0);
    }
  }
}

TEST_CASE("frames of any bytes go through the codec, and junk comes out as nothing") {
  FileDice random(2);
  for (std::size_t round = 0; round < 300 / kShare; ++round) {
    const std::size_t frame_bytes = 8 * (1 + random() % 40), count = random() % 70;
    std::string frames(frame_bytes * count, '\0');
    const std::uint64_t kind = random() % 3;  // noise, a smooth number, the same all along
    for (std::size_t i = 0; i < frames.size(); i += 8) {
      std::uint64_t word = random();
      if (kind == 1) word = std::bit_cast<std::uint64_t>(std::sin(1e-3 * static_cast<double>(i)));
      if (kind == 2) word = ~std::uint64_t{0};
      std::memcpy(frames.data() + i, &word, 8);
    }
    std::string packed = pack_frames(frames, frame_bytes);
    const auto back = unpack_frames(packed, frame_bytes, count);
    REQUIRE(back);
    CHECK(*back == frames);
    CHECK_FALSE(unpack_frames(packed, frame_bytes, count + 1));
    if (count > 0) CHECK_FALSE(unpack_frames(packed, frame_bytes, count - 1));
    CHECK_FALSE(unpack_frames(std::string_view(packed).substr(0, packed.size() / 2), frame_bytes, count));
    for (char& c : packed) c = static_cast<char>(random());
    unpack_frames(packed, frame_bytes, count);  // whatever it says
  }
}

TEST_CASE("cut short at any length or with any byte changed, a recording is refused in one line") {
  const Folder folder;
  const fs::path path = folder / "good.run", bad = folder / "bad.run";
  write_recording(run(test_scene("first_slope", {"programme.duration_s=1.5"})), path);
  const std::string good = bytes_of(path);
  const std::size_t header = header_size(good);
  for (std::size_t length = 0; length < good.size();
       length += length < 300 || length + 150 > good.size() ? 1 : 17 * round_step()) {
    CAPTURE(length);
    put_bytes(bad, std::string_view(good).substr(0, length));
    check_unreadable(bad, length < 19 ? "is not a recording" : "cut short or damaged");
  }
  FileDice random(3);
  for (std::size_t at = 0; at < good.size();
       at += at < 500 || at + 150 > good.size() ? 1 : 1 + random() % (20 * round_step())) {
    CAPTURE(at);
    std::string hurt = good;
    hurt[at] = static_cast<char>(hurt[at] ^ (1 << (random() % 8)));
    put_bytes(bad, hurt);
    check_unreadable(bad, at < 19 ? "is not a recording" : "cut short or damaged");
  }
  put_bytes(bad, good + "x");
  check_unreadable(bad, "cut short or damaged");
  // Cut short behind the scene, it can still be run again.
  put_bytes(bad, std::string_view(good).substr(0, header));
  CHECK(scene_of_recording(bad) == scene_of_recording(path));
  put_bytes(bad, std::string_view(good).substr(0, header - 30));
  CHECK_THROWS_AS(scene_of_recording(bad), InputError);
}

TEST_CASE("junk, and files repaired after they were changed, are refused or read, never a crash") {
  const Folder folder;
  const fs::path path = folder / "good.run", bad = folder / "bad.run";
  write_recording(run(test_scene("first_slope", {"programme.duration_s=0.5"})), path);
  const std::string good = bytes_of(path);
  FileDice random(4);
  for (std::size_t round = 0; round < 1500 / round_step(); ++round) {
    std::string junk(random() % 3000, '\0');
    for (char& c : junk) c = round % 2 ? static_cast<char>(random()) : " \n0123abcframes"[random() % 15];
    if (round % 3 == 0) junk = "sidehill recording 1\n" + junk;
    put_bytes(bad, junk);
    check_unreadable(bad);
  }
  for (std::size_t round = 0; round < 1500 / round_step(); ++round) {
    std::string hurt = good;
    for (std::size_t n = 1 + random() % 4; n > 0; --n) {
      const std::size_t at = random() % hurt.size(), size = std::min<std::size_t>(random() % 200, hurt.size() - at);
      if (random() % 3 == 0) hurt.erase(at, size);
      if (random() % 3 == 0) hurt.insert(random() % (hurt.size() + 1), hurt.substr(std::min(at, hurt.size()), size));
      if (hurt.empty()) break;
      hurt[random() % hurt.size()] = static_cast<char>(random());
    }
    put_bytes(bad, hurt);
    const std::string line = refusal_of_run(bad);
    if (hurt != good) CHECK_FALSE(line.empty());
    CHECK(line.find('\n') == line.npos);
  }
  // Its check sum right, its values not.
  for (const auto& [key, value] : std::vector<std::pair<std::string, std::string>>{{"frames", "0"},
                                                                                   {"frames", "99"},
                                                                                   {"frames", "-1"},
                                                                                   {"frames", "xx"},
                                                                                   {"frame_step_s", "-0.1"},
                                                                                   {"frame_step_s", "nan"},
                                                                                   {"outcome", "flies"},
                                                                                   {"events", "9"},
                                                                                   {"events", "x"},
                                                                                   {"touch_down", "time_s x wheel"},
                                                                                   {"layout", "zzzz"},
                                                                                   {"frame_bytes", "x"}}) {
    const auto& this_key = key;
    CAPTURE(this_key);
    const auto& this_value = value;
    CAPTURE(this_value);
    put_bytes(bad, with_value(good, key, value));
    check_unreadable(bad, "damaged");
  }
  for (const char* size : {"scene 9", "scene 99999999999999999999", "scene -1"}) {
    std::string hurt = good;
    const std::string line = line_of(good, "scene");
    hurt.replace(hurt.find("\n" + line + "\n") + 1, line.size(), size);
    put_bytes(bad, hurt);
    check_unreadable(bad, "damaged");
  }
  std::string many = good;  // as many frames as the widest number holds
  const std::string frames = line_of(good, "frames");
  many.replace(many.find("\n" + frames + "\n") + 1, frames.size(), "frames 18446744073709551615");
  put_bytes(bad, forged(many, "outcome", "outcome"));
  check_unreadable(bad, "damaged");
}

TEST_CASE("a recording of another version says that its scene can still be run again") {
  const Folder folder;
  const fs::path path = folder / "good.run", bad = folder / "other.run";
  const Recording recording = run(test_scene("first_slope", {"programme.duration_s=0.5"}));
  write_recording(recording, path);
  const std::string good = bytes_of(path);
  std::string other_layout = line_of(good, "layout");
  other_layout.back() = other_layout.back() == '0' ? '1' : '0';
  for (const std::string& bytes :
       {forged(good, "sidehill recording 1\n", "sidehill recording 2\n"), with_value(good, "frame_bytes", "17"),
        forged(good, line_of(good, "layout"), other_layout), forged(good, "byte_order little", "byte_order bigend")}) {
    put_bytes(bad, bytes);
    check_unreadable(bad, "its scene can still be run again");
    CHECK(scene_of_recording(bad) == recording.scene_text);
  }
  // Read, but the machine of this scene stands otherwise in these moments: as if it were built in another way.
  const std::size_t at = good.find("pin_height_m = 0.") + 17;
  REQUIRE(at < header_size(good));
  const std::string was = good.substr(at - 17, 18);
  put_bytes(bad, forged(good, was, was.substr(0, 17) + (was.back() == '7' ? "6" : "7")));
  check_unreadable(bad, "its scene can still be run again");
  CHECK(RecordingFile(bad).moment_at(3).steps == recording.moments[3].steps);
}

TEST_CASE("what is no plain file is refused, and a failed write loses nothing") {
  const Folder folder;
  const fs::path path = folder / "good.run";
  check_unreadable(folder / "missing.run", "there is no such file");
  check_unreadable(folder.path, "is a folder");
  check_unreadable("/dev/zero", "not a plain file");
  put_bytes(folder / "empty.run", "");
  check_unreadable(folder / "empty.run", "is not a recording");
  check_unreadable(fs::path(SIDEHILL_SOURCE_DIR) / "scenes/first_slope.toml", "is not a recording");

  const Recording recording = run(test_scene("first_slope", {"programme.duration_s=0.5"}));
  write_recording(recording, path);
  const std::string good = bytes_of(path);
  CHECK_THROWS_AS(write_recording(recording, folder / "no" / "such.run"), InputError);
  CHECK_THROWS_AS(write_recording(recording, folder.path), InputError);
  CHECK_THROWS_AS(write_recording(recording, "/dev/full/x.run"), InputError);
  CHECK_THROWS_AS(write_recording(Recording{}, path), InputError);
  // No room for it half way.
  rlimit before{};
  getrlimit(RLIMIT_FSIZE, &before);
  const auto handler = std::signal(SIGXFSZ, SIG_IGN);
  const rlimit little{3000, before.rlim_max};
  setrlimit(RLIMIT_FSIZE, &little);
  std::string said;
  try {
    write_recording(recording, path);
  } catch (const InputError& error) {
    said = error.what();
  }
  setrlimit(RLIMIT_FSIZE, &before);
  std::signal(SIGXFSZ, handler);
  CHECK(said.find("cannot be written") != said.npos);
  CHECK(bytes_of(path) == good);
  CHECK(std::distance(fs::directory_iterator(folder.path), {}) == 2);  // good and empty: nothing half-written
}

TEST_CASE("replay says what run said, from the file") {
  const Folder folder;
  const std::string scene = "'" SIDEHILL_SOURCE_DIR "/scenes/over_a_stump.toml'", set = " --set programme.duration_s=7";
  const std::string file = "'" + (folder / "stump.run").string() + "'";
  const Said table = program("run " + scene + set + " --record " + file);
  CHECK(table.code == 0);
  CHECK(table.out.find("stump.run: 351 frames, ") != table.out.npos);
  const Said replayed = program("replay " + file);
  CHECK(replayed.code == 0);
  CHECK(replayed.out == table.out);
  const Said json = program("run " + scene + set + " --json --force --record " + file);
  CHECK(nlohmann::json::parse(json.out).at("recording").at("bytes") == fs::file_size(folder / "stump.run"));
  CHECK(program("replay --json " + file).out == json.out);
  const Said csv =
      program("run " + scene + set + " --csv --signals roll_deg,load_rear_left_n --force --record " + file);
  CHECK(csv.out.starts_with("time_s,roll_deg,load_rear_left_n\n"));
  CHECK(program("replay --csv --signals roll_deg,load_rear_left_n " + file).out == csv.out);
  CHECK(program("replay --csv " + file).out == program("run " + scene + set + " --csv").out);

  const Said moment = program("replay " + file + " --at 6.4 --signals roll_deg --json");
  CHECK(moment.code == 0);
  const auto there = nlohmann::json::parse(moment.out);
  CHECK(there.at("frame") == 320);
  CHECK_NEAR(there.at("signals").at("time_s").get<double>(), 6.4, 1e-9);
  CHECK(there.at("signals").size() == 2);
  CHECK(program("replay " + file + " --at 6.4").out.find("kinetic_energy_j") != std::string::npos);

  const Said again = program("replay --again " + file);
  CHECK(again.code == 0);
  CHECK(again.out.find("all 351 frames come out the same") != again.out.npos);
  CHECK(nlohmann::json::parse(program("replay --again --json " + file).out).at("same") == true);

  // Its scene, saved, is the same run.
  const std::string saved = "'" + (folder / "saved.toml").string() + "'";
  CHECK(program("replay --scene " + file + " > " + saved).code == 0);
  CHECK(program("run " + saved + " --csv").out == program("replay --csv " + file).out);
}

TEST_CASE("replay's exit codes: 2 for bad input, 3 for a run that diverged or comes out differently") {
  const Folder folder;
  const std::string file = "'" + (folder / "a.run").string() + "'";
  Recording recording = run(test_scene("first_slope", {"programme.duration_s=2"}));
  write_recording(recording, folder / "a.run");
  const auto refused = [&](const std::string& arguments, const std::string& words) {
    CAPTURE(arguments);
    const Said said = program(arguments + " 2>&1 >/dev/null");
    CAPTURE(said.out);
    CHECK(said.code == 2);
    CHECK(said.out.find(words) != said.out.npos);
    CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 1);
    CHECK(program(arguments + " 2>/dev/null").out.empty());
  };
  refused("replay", "file");
  refused("replay /nowhere.run", "there is no such file");
  refused("replay --scene /nowhere.run", "there is no such file");
  refused("replay '" SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml'", "is not a recording");
  refused("replay --at 3 " + file, "allowed 0 to 2 s");
  refused("replay --at -1 " + file, "allowed 0 to 2 s");
  refused("replay --at nan " + file, "allowed 0 to 2 s");
  refused("replay --at soon " + file, "--at");
  refused("replay --at 1 --again " + file, "excludes");
  refused("replay --scene --json " + file, "without --json");
  refused("replay --signals roll_deg " + file, "--csv");
  refused("replay --csv --signals speed_of_light " + file, "no such signal");
  const std::string scene = "'" SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml' --set programme.duration_s=0.2";
  refused("run " + scene + " --record " + (folder / "a.toml").string(), ".run");
  refused("run " + scene + " --record /nowhere/a.run", "/nowhere/a.run: cannot be written");

  recording.moments[37].motion.com.x += 1e-9;
  recording.states = states_of(recording);
  write_recording(recording, folder / "a.run");
  CHECK(program("replay " + file).code == 0);
  const Said again = program("replay --again " + file);
  CHECK(again.code == 3);
  CHECK(again.out.find("frame 37 (0.740 s)") != again.out.npos);
  CHECK(std::count(again.out.begin(), again.out.end(), '\n') == 1);
  const Said json = program("replay --again --json " + file);
  CHECK(json.code == 3);
  CHECK(nlohmann::json::parse(json.out).at("first_other_frame") == 37);
  recording = run(test_scene("first_slope", {"programme.duration_s=2"}));
  recording.moments.pop_back(), recording.states.pop_back();
  write_recording(recording, folder / "a.run");
  CHECK(program("replay --again " + file).code == 3);

  write_recording(run(diverging_scene()), folder / "a.run");
  const Said diverged = program("replay " + file + " 2>&1");
  CHECK(diverged.code == 3);
  CHECK(diverged.out.find("the simulation diverged") != diverged.out.npos);
  CHECK(program("replay --again " + file).code == 0);
}
