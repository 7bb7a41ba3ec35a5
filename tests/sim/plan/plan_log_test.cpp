// The machine as it is now, from a plan file and its log.
#include "sim/plan/plan_log.h"

#include <doctest/doctest.h>

#include <cmath>

#include "sim/base/errors.h"
#include "sim/plan/plan_filling.h"
#include "sim/scene/machine_mark.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/has.h"
#include "tests/kit/near.h"
#include "vehicles/tyre_library.h"

using namespace sidehill;

namespace {

const std::string kToday = "2026-06-01";

Scene unplanned() {
  return load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml",
                    std::vector<std::string>{"ballast.rear.fill_fraction=0", "ballast.front_weights_kg=100",
                                             "ballast.rear_wheel_weights_kg=0", "vehicle.rear.tyre.pressure_kpa=160"});
}

// Water in the rear tyres to a half, the front weights off, 50 kg on each rear wheel, softer tyres behind.
Scene planned() {
  const Scene before = unplanned();
  Scene out = before;
  for (const Wheel wheel : {kRearLeft, kRearRight}) {
    out.ballast.fill[wheel].medium = Medium::water;
    out.ballast.fill[wheel].fill_fraction = 0.5;
  }
  out.ballast.front_weights = 0;
  out.ballast.rear_wheel_weights = 50;
  out.vehicle.rear.tyre.pressure = 128e3;
  out.plan.made = "2026-03-01";
  out.plan.machine_mark = machine_mark(before);
  out.plan.before = differences(before, out);
  return out;
}

LogEntry done(LogPlace place, LogWhat what, const std::string& date = "2026-03-02") {
  LogEntry entry;
  entry.date = date;
  entry.place = place;
  entry.what = what;
  entry.line = 7;
  return entry;
}
LogEntry with_volume(LogEntry entry, double volume, const std::string& medium = "") {
  entry.volume = volume;
  entry.medium = medium;
  return entry;
}
LogEntry with_mass(LogEntry entry, double mass) {
  entry.mass = mass;
  return entry;
}
LogEntry with_pressure(LogEntry entry, double pressure) {
  entry.pressure = pressure;
  return entry;
}

std::string why_refused(const std::vector<LogEntry>& log) {
  Scene scene = planned();
  scene.plan.log = log;
  try {
    read_log(scene, "plan.toml", kToday);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("a plan file gives back the machine before it, and comes back from its text") {
  const Scene scene = planned();
  Scene before = before_plan(scene, "plan.toml");
  before.plan = {};
  CHECK(write_scene(before) == write_scene(unplanned()));
  Scene logged = scene;
  logged.plan.log = {with_volume(done(LogPlace::rear_left, LogWhat::filled), 0.12345, "water")};
  logged.plan.log.front().who = "Ana \"A.\" Silva";
  logged.plan.log.front().next_check = "2026-09-01";
  const std::string text = write_scene(logged);
  const Scene back = parse_scene(text, "plan.toml");
  Scene same = back;
  same.vehicle_file = logged.vehicle_file, same.job_file = logged.job_file;
  CHECK(write_scene(same) == text);
  CHECK(back.plan.log.front().volume == logged.plan.log.front().volume);
  CHECK(back.plan.log.front().line > 0);
  CHECK(!is_of_other_machine(back));
}

TEST_CASE("without an entry the machine is as before, and everything is left to do") {
  const LogAnswer answer = read_log(planned(), "plan.toml", kToday);
  CHECK(write_scene(answer.machine) == write_scene([] {
          Scene scene = unplanned();
          scene.expect.clear();
          return scene;
        }()));
  REQUIRE(answer.left.size() == 6);  // two fillings, two places of weights, two pressures
  CHECK(answer.left[0].place == LogPlace::rear_left);
  CHECK(answer.left[0].lack == LogLack::volume);
  CHECK_NEAR(answer.left[0].planned, 0.5 * room_of_tyre(planned(), kRearLeft), 1e-12);
  CHECK(answer.left[2].place == LogPlace::front_weights);
  CHECK(answer.left[3].place == LogPlace::rear_wheel_weights);
  CHECK(answer.left[3].planned == 100);
}

TEST_CASE("litres, kilograms, weights and pressures of the log add up to the machine as it is now") {
  Scene scene = planned();
  const double half = 0.5 * room_of_tyre(scene, kRearLeft);
  auto& log = scene.plan.log;
  log.push_back(with_volume(done(LogPlace::rear_left, LogWhat::filled), half, "water"));
  // By the kilogram: at the filling temperature.
  LogEntry by_mass = with_mass(done(LogPlace::rear_right, LogWhat::filled),
                               0.6 * half * density(Medium::water, scene.settings.filling_temperature));
  by_mass.medium = "water";
  log.push_back(by_mass);
  log.push_back(done(LogPlace::front_weights, LogWhat::taken_off));
  log.push_back(with_mass(done(LogPlace::rear_wheel_weights, LogWhat::fitted), 100));
  log.push_back(with_pressure(done(LogPlace::rear_left, LogWhat::pressure_set), 128e3));
  const LogAnswer answer = read_log(scene, "plan.toml", kToday);
  CHECK_NEAR(answer.now.tyres[kRearRight].volume, 0.6 * half, 1e-9);
  REQUIRE(answer.left.size() == 2);
  CHECK(answer.left[0].place == LogPlace::rear_right);
  CHECK(answer.left[1].place == LogPlace::rear_right);
  CHECK(answer.left[1].lack == LogLack::pressure);
  // Left and right may differ in liquid; in pressure the model knows the lower one of an axle.
  CHECK_NEAR(answer.machine.ballast.fill[kRearLeft].fill_fraction, 0.5, 1e-9);
  CHECK_NEAR(answer.machine.ballast.fill[kRearRight].fill_fraction, 0.3, 1e-9);
  CHECK(answer.machine.vehicle.rear.tyre.pressure == 128e3);
  CHECK(answer.uneven_pressure == std::array<bool, 2>{false, true});
  CHECK(answer.machine.ballast.front_weights == 0);
  CHECK(answer.machine.ballast.rear_wheel_weights == 50);

  log.push_back(with_volume(done(LogPlace::rear_right, LogWhat::filled), 0.4 * half));
  log.push_back(with_pressure(done(LogPlace::rear_axle, LogWhat::pressure_set), 128e3));
  CHECK(read_log(scene, "plan.toml", kToday).left.empty());
  // What is found later counts.
  log.push_back(with_volume(done(LogPlace::rear_right, LogWhat::checked, "2026-05-01"), 0));
  const LogAnswer leaked = read_log(scene, "plan.toml", kToday);
  REQUIRE(leaked.left.size() == 1);
  CHECK(leaked.left[0].now == 0);
}

TEST_CASE("what is within the slack counts as planned, what is beyond it does not") {
  Scene scene = planned();
  const double half = 0.5 * room_of_tyre(scene, kRearLeft);
  const auto left_with = [&](double share) {
    scene.plan.log = {with_volume(done(LogPlace::rear_left, LogWhat::filled), share * half, "water")};
    const LogAnswer answer = read_log(scene, "plan.toml", kToday);
    return answer.left[0].place == LogPlace::rear_left && answer.left[0].lack == LogLack::volume;
  };
  CHECK(!left_with(0.985));
  CHECK(!left_with(1.015));
  CHECK(left_with(0.975));
  CHECK(left_with(1.025));
}

TEST_CASE("the next check is the last one set, and gone once somebody looked") {
  Scene scene = planned();
  LogEntry first = with_volume(done(LogPlace::rear_left, LogWhat::filled), 0.1, "water");
  first.next_check = "2026-05-01";
  scene.plan.log = {first};
  LogAnswer answer = read_log(scene, "plan.toml", kToday);
  REQUIRE(answer.checks.size() == 1);
  CHECK(answer.checks[0].overdue);
  CHECK(!read_log(scene, "plan.toml", "2026-05-01").checks[0].overdue);
  LogEntry looked = done(LogPlace::machine, LogWhat::checked, "2026-05-02");
  scene.plan.log.push_back(looked);
  CHECK(read_log(scene, "plan.toml", kToday).checks.empty());
  scene.plan.log.back().next_check = "2026-09-01";
  answer = read_log(scene, "plan.toml", kToday);
  REQUIRE(answer.checks.size() == 1);
  CHECK(answer.checks[0].on == "2026-09-01");
  CHECK(!answer.checks[0].overdue);
}

TEST_CASE("a log that cannot be is refused with the line of its entry") {
  const auto fill = [](double volume, const std::string& medium = "water") {
    return with_volume(done(LogPlace::rear_left, LogWhat::filled), volume, medium);
  };
  CHECK(why_refused({fill(0.1)}).empty());
  const std::string future =
      why_refused({with_volume(done(LogPlace::rear_left, LogWhat::filled, "2026-06-02"), 0.1, "water")});
  CHECK(has(future, "plan.toml:7: plan.log[].date: 2026-06-02 lies in the future, allowed up to today, 2026-06-01"));
  CHECK(has(why_refused({with_volume(done(LogPlace::rear_left, LogWhat::filled, "2026-02-28"), 0.1, "water")}),
            "before the day the plan was made, 2026-03-01"));
  CHECK(
      has(why_refused({with_volume(done(LogPlace::rear_left, LogWhat::filled, "2026-04-01"), 0.1, "water"), fill(0.1)}),
          "2026-03-02 lies before the entry above it, 2026-04-01"));
  CHECK(has(why_refused({fill(2)}), "in a tyre that holds"));
  CHECK(has(why_refused({fill(0.1, "")}), "medium: is missing"));
  CHECK(has(why_refused({fill(0.1, "lemonade")}), "\"lemonade\" is not known"));
  CHECK(has(why_refused({fill(0.1), fill(0.1, "calcium_chloride")}), "what the two give together is not known"));
  CHECK(has(why_refused({done(LogPlace::rear_left, LogWhat::filled)}), "medium: is missing"));
  CHECK(has(why_refused({fill(0.1), with_volume(done(LogPlace::rear_left, LogWhat::drained), 0.15)}),
            "150 L were drained where 100 L were in"));
  CHECK(why_refused({fill(0.1), with_volume(done(LogPlace::rear_left, LogWhat::drained), 0.104)}).empty());
  CHECK(has(why_refused({with_mass(done(LogPlace::front_weights, LogWhat::taken_off), 150)}),
            "150 kg were taken off where 100 kg were on"));
  CHECK(has(why_refused({with_mass(done(LogPlace::rear_left, LogWhat::fitted), 50)}), "front_weights, rear_weights"));
  CHECK(has(why_refused({done(LogPlace::rear_left, LogWhat::pressure_set)}), "pressure_kpa: is missing"));
  CHECK(has(why_refused({with_mass(fill(0.1), 300)}), "300 is not the mass of 100 L of water"));
  CHECK(has(why_refused({with_volume(with_mass(done(LogPlace::front_weights, LogWhat::fitted), 5), 0.1)}),
            "volume_l: goes with no \"fitted\" at the front weights"));
  LogEntry early = fill(0.1);
  early.next_check = "2026-03-01";
  CHECK(has(why_refused({early}), "next_check: 2026-03-01 lies before the day of its own entry"));
  Scene none = unplanned();
  CHECK_THROWS_WITH_AS(
      read_log(none, "a.toml", kToday),
      "a.toml: plan.made: missing: this is no plan file; `sidehill plan SCENE --save FILE.toml` writes "
      "one",
      InputError);
}

TEST_CASE("a plan knows its machine by what the maker built, whatever its pressures, tracks and ballast") {
  Scene scene = planned();
  scene.vehicle.rear.tyre.pressure *= 0.5;
  scene.vehicle.front.track += 0.1;
  scene.vehicle.name = "another name";
  scene.ballast.front_weights = 20;
  CHECK(!is_of_other_machine(scene));
  scene.vehicle.chassis.mass += 1;
  CHECK(is_of_other_machine(scene));
  CHECK(read_log(scene, "plan.toml", kToday).other_machine);
  scene.plan.machine_mark.clear();
  CHECK(!is_of_other_machine(scene));
}

TEST_CASE(
    "the wheels of a plan are logged at their axle; liquid goes with a tyre that comes off, not with dual wheels") {
  const Scene before = load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
  REQUIRE(before.ballast.fill[kRearLeft].fill_fraction > 0);
  Scene wide = before;
  wide.vehicle.rear.tyre = tyre_of_size("520/70R38");
  wide.vehicle.rear.wheel_mass = 260;
  for (const Wheel wheel : {kRearLeft, kRearRight}) wide.ballast.fill[wheel] = {};
  wide.plan.made = "2026-03-01";
  wide.plan.before = differences(before, wide);
  wide.plan.machine_mark = machine_mark(wide);

  LogAnswer answer = read_log(wide, "plan.toml", kToday);
  CHECK_FALSE(answer.other_machine);
  REQUIRE(answer.left.size() == 1);  // nobody lets out what leaves with its tyre
  CHECK(answer.left[0].lack == LogLack::wheels);
  CHECK(answer.left[0].place == LogPlace::rear_axle);
  CHECK(answer.machine.vehicle.rear.tyre.size == before.vehicle.rear.tyre.size);
  CHECK_NEAR(answer.machine.ballast.fill[kRearLeft].fill_fraction, before.ballast.fill[kRearLeft].fill_fraction, 1e-9);

  wide.plan.log = {done(LogPlace::rear_axle, LogWhat::fitted)};
  answer = read_log(wide, "plan.toml", kToday);
  CHECK(answer.left.empty());
  CHECK(answer.machine.vehicle.rear.tyre.size == "520/70R38");
  CHECK(answer.machine.ballast.fill[kRearLeft].fill_fraction == 0);
  wide.plan.log.push_back(done(LogPlace::rear_axle, LogWhat::fitted));
  CHECK_THROWS_WITH_AS(read_log(wide, "plan.toml", kToday), doctest::Contains("are on already"), InputError);
  wide.plan.log.back().what = LogWhat::taken_off;
  CHECK(read_log(wide, "plan.toml", kToday).machine.vehicle.rear.tyre.size == before.vehicle.rear.tyre.size);
  wide.plan.log = {done(LogPlace::front_axle, LogWhat::fitted)};
  CHECK_THROWS_WITH_AS(read_log(wide, "plan.toml", kToday), doctest::Contains("changes no wheels there"), InputError);

  // The same size that may carry more is another tyre.
  Scene stronger = before;
  stronger.vehicle.rear.tyre.service = "160A8";
  stronger.plan.made = "2026-03-01";
  stronger.plan.before = differences(before, stronger);
  answer = read_log(stronger, "plan.toml", kToday);
  REQUIRE(answer.left.size() == 1);
  CHECK(answer.left[0].lack == LogLack::wheels);
  CHECK(answer.machine.vehicle.rear.tyre.service == before.vehicle.rear.tyre.service);

  Scene dual = before;
  dual.vehicle.rear.dual_spacing = 0.6;
  dual.plan.made = "2026-03-01";
  dual.plan.before = differences(before, dual);
  dual.plan.log = {done(LogPlace::rear_axle, LogWhat::fitted)};
  answer = read_log(dual, "plan.toml", kToday);
  CHECK(answer.left.empty());
  CHECK(answer.machine.vehicle.rear.dual_spacing == 0.6);
  CHECK_NEAR(answer.machine.ballast.fill[kRearLeft].fill_fraction, before.ballast.fill[kRearLeft].fill_fraction, 1e-9);
  dual.plan.log.clear();
  CHECK(read_log(dual, "plan.toml", kToday).machine.vehicle.rear.dual_spacing == 0);
}

TEST_CASE("what the tyres hold today goes with the fillings of a plan") {
  Scene scene = planned();
  scene.plan.log = {with_volume(done(LogPlace::rear_left, LogWhat::filled), 0.1, "water")};
  const auto fillings = fillings_to_do(scene, "plan.toml", kToday);
  REQUIRE(fillings.size() == 1);
  REQUIRE(fillings[0].today);
  CHECK_NEAR((*fillings[0].today)[0].volume, 0.1, 1e-9);
  CHECK((*fillings[0].today)[1].volume == 0);
  scene.plan = {};
  CHECK_FALSE(fillings_to_do(scene, "scene.toml", kToday)[0].today);
}
