// Whole runs: what is dropped stands, what must go over goes over in the right order, what has no grip slides, and no
// number on the way is not a number.
#include "sim/motion/run.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/motion/watch.h"
#include "sim/motion/world.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

bool all_finite(const State& s) {
  double sum = s.time + s.slope + s.axle_angle + s.axle_rate + s.boom_angle + s.kinetic_energy;
  const auto add = [&](const Vec3& v) { sum += v.x + v.y + v.z; };
  for (int c = 0; c < 3; ++c) add(s.X_GV.R[c]);
  add(s.X_GV.p), add(s.v_G), add(s.w_G), add(s.centre_of_gravity_G);
  for (const WheelState& w : s.wheels) {
    add(w.centre_G), add(w.axle_G), add(w.contact_G), add(w.force_G), add(w.liquid_G);
    sum += w.spin_angle + w.spin_rate + w.load + w.liquid_swing;
  }
  return std::isfinite(sum);
}

void check_sound(const Recording& recording) {
  REQUIRE_FALSE(recording.states.empty());
  double last = -1;
  for (const State& state : recording.states) {
    CHECK(all_finite(state));
    CHECK(state.time > last);
    last = state.time;
  }
  last = 0;
  for (const Event& event : recording.events) {
    CHECK(event.time >= last);  // in order
    CHECK(event.time <= recording.states.back().time + 1e-9);
    last = event.time;
  }
  CHECK(recording.divergence.empty());
}

const Event* first_event_of(const Recording& recording, EventKind kind) {
  const auto found = std::find_if(recording.events.begin(), recording.events.end(),
                                  [&](const Event& event) { return event.kind == kind; });
  return found == recording.events.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("the default scene's tractor is dropped and stands") {
  const Scene scene = test_scene("first_slope");
  const Recording recording = run(scene);
  check_sound(recording);
  CHECK(recording.outcome == Outcome::stands);
  REQUIRE(first_event_of(recording, EventKind::touch_down));
  // It falls freely until the first tyre touches: drop height h takes sqrt(2 h / g).
  const double fall = std::sqrt(2 * scene.programme.drop_height / scene.settings.gravity);
  CHECK_NEAR(first_event_of(recording, EventKind::touch_down)->time, fall, 0.01);
  CHECK_FALSE(first_event_of(recording, EventKind::hull_touches));
  CHECK(recording.states.back().kinetic_energy < 1);
  CHECK_NEAR(recording.states.back().time, scene.programme.duration, 1e-9);
  CHECK(recording.states.size() ==
        static_cast<std::size_t>(std::lround(scene.programme.duration / recording.frame_step)) + 1);
  // The recording says what was run, in full: read back, it is the same run.
  CHECK(hash(run(parse_scene(recording.scene_text, "recording.toml")).states.back()) == hash(recording.states.back()));
}

TEST_CASE("at 45 degrees with grip without limit every machine goes over, and gains no energy on the way") {
  for (const char* machine : kMachines) {
    INFO(std::string(machine));
    const Scene scene =
        test_machine(machine, {"terrain.slope_deg=45", "programme.drop_height_m=0.02", "programme.duration_s=15"});
    const Recording recording = run(scene);
    check_sound(recording);
    CHECK((recording.outcome == Outcome::on_frame || recording.outcome == Outcome::rolls_on));
    const Event* touch = first_event_of(recording, EventKind::touch_down);
    const Event* lift = first_event_of(recording, EventKind::lift_off);
    const Event* balance = first_event_of(recording, EventKind::point_of_no_return);
    const Event* hull = first_event_of(recording, EventKind::hull_touches);
    REQUIRE(touch);
    REQUIRE(hull);
    CHECK(touch->time < hull->time);
    if (lift) CHECK(is_left(lift->wheel));  // the uphill side: downhill is to the right
    if (lift && balance) CHECK(lift->time <= hull->time);
    if (balance) CHECK(balance->time <= hull->time + 1e-9);
    // It lies, or tumbles on: never sinks into the ground, and however it bounces, motion and height together never
    // grow.
    const double weight = total_mass(build(scene)) * scene.settings.gravity;
    const auto energy = [&](const State& state) {
      return state.kinetic_energy + weight * (R_WG(state.slope) * state.centre_of_gravity_G).z;
    };
    for (const State& state : recording.states) {
      CHECK(state.centre_of_gravity_G.z > 0.1);
      CHECK(energy(state) < energy(recording.states.front()) + 0.02 * weight);
    }
    if (first_event_of(recording, EventKind::at_rest)) CHECK(recording.states.back().kinetic_energy < 500);
  }
}

TEST_CASE("a machine that falls on its side on level ground calms down there, on its hull and not in the ground") {
  int at_rest = 0;
  for (const char* machine : kMachines) {
    INFO(std::string(machine));
    Scene scene = test_machine(machine, {"programme.drop_height_m=0.02", "programme.duration_s=12"});
    PointMass outrigger;  // as heavy as the machine, far out to the right
    outrigger.mass = total_mass(build(scene));
    outrigger.place = {0.8, -1.6, 1.5};
    scene.ballast.point_masses.push_back(outrigger);
    const Model model = build(scene);
    const Recording recording = run(scene);
    check_sound(recording);
    CHECK((recording.outcome == Outcome::on_frame || recording.outcome == Outcome::rolls_on));
    const Event* hull = first_event_of(recording, EventKind::hull_touches);
    REQUIRE(hull);
    if (const Event* rest = first_event_of(recording, EventKind::at_rest)) {
      ++at_rest;
      CHECK(hull->time < rest->time);
    }
    double most = 0;
    for (const State& state : recording.states) most = std::max(most, state.kinetic_energy);
    const State& end = recording.states.back();
    CHECK(end.kinetic_energy < 0.05 * most);  // some still rock on their tyres when the run ends, six seconds on
    for (const HullPoint& point : model.hull) CHECK((end.X_GV * point.place).z > -0.25);  // turf and sheet metal give
    CHECK(end.X_GV.R[2].z < 0.6);                                                         // on its side
  }
  CHECK(at_rest >= 2);
}

TEST_CASE("without grip it slides downhill, as fast as friction lets it") {
  const double slope = 20 * kDegree, adhesion = 0.2;
  Scene scene =
      test_scene("first_slope", {"terrain.slope_deg=20", "terrain.soil.adhesion=0.2", "programme.duration_s=5"});
  const Recording recording = run(scene);
  check_sound(recording);
  CHECK(recording.outcome == Outcome::slides);
  REQUIRE(first_event_of(recording, EventKind::slide));
  const State& end = recording.states.back();
  CHECK(end.centre_of_gravity_G.y < -2);
  // Sliding sideways with all wheels: g (sin - mu cos). Compared over the last two seconds.
  const State& before = recording.states[recording.states.size() - 101];
  const double gained = -(end.v_G.y - before.v_G.y) / (end.time - before.time);
  const double expected = scene.settings.gravity * (std::sin(slope) - adhesion * std::cos(slope));
  CHECK_NEAR(gained, expected, 0.1 * expected);
  // Twice the grip, but half of it across the way the wheels roll: the same slide.
  scene.terrain.soil.adhesion = 0.4, scene.terrain.soil.adhesion_across_ratio = 0.5;
  const Recording rutted = run(scene);
  CHECK(rutted.outcome == Outcome::slides);
  CHECK_NEAR(rutted.states.back().v_G.y, end.v_G.y, 0.1 * std::abs(end.v_G.y));
  // The same machine with grip stands.
  CHECK(run(test_scene("first_slope", {"terrain.soil.adhesion=0.6", "programme.duration_s=6"})).outcome ==
        Outcome::stands);
}

TEST_CASE("driven on level ground it reaches the wanted speed and keeps to it") {
  const Recording recording = run(
      test_machine("utility_75kw", {"terrain.soil.adhesion_unlimited=false", "terrain.soil.adhesion=0.6",
                                    "programme.speed_kmh=7.2", "programme.drive_from_s=1", "programme.duration_s=8"}));
  check_sound(recording);
  CHECK(recording.outcome == Outcome::stands);
  const State& end = recording.states.back();
  const double speed = glm::dot(end.v_G, end.X_GV.R[0]);
  CHECK_NEAR(speed, 2, 0.35);  // a gain without memory leaves rolling resistance its share
  CHECK_NEAR(glm::dot(end.v_G, end.X_GV.R[1]), 0, 0.02);
  // Rolling, not sliding: rim speed is ground speed within a few per cent.
  for (const WheelState& wheel : end.wheels) CHECK(wheel.spin_rate > 0);
  const double driven = end.wheels[kRearLeft].spin_rate * (end.wheels[kRearLeft].centre_G.z);
  CHECK_NEAR(driven / speed, 1, 0.05);
  // A second's way at that speed.
  const State& earlier = recording.states[recording.states.size() - 51];
  CHECK_NEAR(end.X_GV.p.x - earlier.X_GV.p.x, speed, 0.1);
}

TEST_CASE("the ground tilts as the programme says, and stops at 89 degrees") {
  Scene scene = test_machine("utility_75kw",
                             {"programme.tilt_rate_deg_per_s=2", "programme.drive_from_s=1", "terrain.slope_deg=5"});
  const Model model = build(scene);
  CHECK_NEAR(slope_at(model, 0) / kDegree, 5, 1e-9);
  CHECK_NEAR(slope_at(model, 1) / kDegree, 5, 1e-9);
  CHECK_NEAR(slope_at(model, 4) / kDegree, 11, 1e-9);
  CHECK_NEAR(slope_at(model, 1000) / kDegree, 89, 0.01);
}

TEST_CASE("a run lasts as long as asked, to the step") {
  for (const char* duration : {"0.5", "1.237"}) {
    const Recording recording = run(test_scene("first_slope", {std::string("programme.duration_s=") + duration}));
    CHECK_NEAR(recording.states.back().time, std::stod(duration), 1e-9);
    CHECK(recording.states.front().time == 0);
  }
  // Advanced beyond its end, it stays at its end.
  const Scene scene = test_scene("first_slope", {"programme.duration_s=0.3"});
  Runner runner(scene, build(scene));
  CHECK_FALSE(runner.done());
  runner.advance(5);
  CHECK(runner.done());
  const std::size_t states = runner.recording().states.size();
  runner.advance(5);
  CHECK(runner.recording().states.size() == states);
  CHECK_NEAR(runner.state().time, 0.3, 1e-9);
}

TEST_CASE("a machine too heavy for its tyres' step diverges as an outcome, not as a crash") {
  Scene scene = test_machine("compact_26kw", {"programme.drop_height_m=0.1"});
  scene.vehicle.rear.tyre.vertical_stiffness = 1e12;
  const Recording recording = run(scene);
  CHECK(recording.outcome == Outcome::diverged);
  CHECK(recording.divergence.find("diverged: ") == 0);
  for (const State& state : recording.states) CHECK(all_finite(state));
}

TEST_CASE("every scene for people runs to its end without a NaN") {
  for (const char* name : {"over_a_stump", "into_a_hole", "orchard_row", "bucket_up"}) {
    INFO(std::string(name));
    const Recording recording = run(test_scene(name));
    check_sound(recording);
    CHECK(recording.outcome != Outcome::diverged);
  }
}

TEST_CASE("half the time step moves no lift-off by more than a millisecond") {
  for (const char* name : {"over_a_stump", "into_a_hole"}) {
    INFO(name);
    std::vector<std::vector<Event>> lifts;
    for (const double step : {1e-3, 0.5e-3}) {
      Scene scene = test_scene(name);
      scene.programme.drop_height = 0;
      scene.settings.time_step = step;
      lifts.emplace_back();
      for (const Event& event : run(scene).events)
        if (event.kind == EventKind::lift_off) lifts.back().push_back(event);
    }
    REQUIRE(lifts[0].size() > 0);
    REQUIRE(lifts[0].size() == lifts[1].size());
    CHECK(lifts[0][0].wheel == lifts[1][0].wheel);
    CHECK_NEAR(lifts[0][0].time, lifts[1][0].time, 1e-3);
  }
}

TEST_CASE("the lessons end as they warn, and done otherwise they do not") {
  struct Lesson {
    const char* scene;
    Outcome ends;
    std::vector<std::string> otherwise;  // what makes it end well
  };
  for (const Lesson& lesson :
       {Lesson{"hard_start_uphill", Outcome::overturned_rear, {"programme.action[0].what=\"drive\""}},
        Lesson{"stuck_wheels",
               Outcome::overturned_rear,
               {"programme.action[1].speed_kmh=-3", "programme.action[1].what=\"drive\""}},
        Lesson{"pull_too_high", Outcome::overturned_rear, {"vehicle.hitch.z_m=0.45"}},
        Lesson{"raised_while_driving", Outcome::on_frame, {"programme.action[0].pin_height_m=0.5"}},
        Lesson{"turn_uphill", Outcome::rolls_on, {"ballast.loader_pin_height_m=0.5"}}}) {
    INFO(std::string(lesson.scene));
    const Recording badly = run(test_scene(lesson.scene));
    check_sound(badly);
    CHECK(to_string(badly.outcome) == std::string(to_string(lesson.ends)));
    const Outcome well = run(test_scene(lesson.scene, lesson.otherwise)).outcome;
    INFO(std::string(to_string(well)));
    CHECK(well != Outcome::overturned_rear);
    CHECK(well != Outcome::rolls_on);
    CHECK(well != Outcome::on_frame);
  }
  // Downhill an unbraked trailer pushes; with its own brakes the tractor goes less far.
  const auto goes = [](const std::vector<std::string>& changes) {
    const Recording recording = run(test_scene("trailer_pushes", changes));
    return glm::length(recording.states.back().X_GV.p - recording.states.front().X_GV.p);
  };
  CHECK(goes({"ballast.trailer.braked=1"}) < 0.8 * goes({}));
}

TEST_CASE("asked to stop on a steep slope it stops, and stays") {
  const Recording recording =
      run(test_machine("utility_75kw", {"start.heading_deg=180", "terrain.slope_deg=18", "terrain.soil.adhesion=0.8",
                                        "programme.speed_kmh=5", "programme.drive_from_s=0", "programme.duration_s=12",
                                        "programme.action+={at_s=5, what=\"drive\", speed_kmh=0}"}));
  check_sound(recording);
  const State &end = recording.states.back(), &before = recording.states[recording.states.size() - 101];
  CHECK(glm::length(end.v_G) < 0.01);
  CHECK(glm::length(end.X_GV.p - before.X_GV.p) < 0.01);
}

TEST_CASE("hull and frame meet the ground between two steps, where their corners cross it") {
  const Model model = build(test_machine("utility_75kw"));
  int counted = 0;
  for (const double roll : {60.0, 75.0, 95.0, 120.0, 160.0, 180.0}) {
    CAPTURE(roll);
    World world(model, {about_x(roll * kDegree), {0, 0, 4}}, 0);
    Watch watch(model);
    std::vector<Event> events;
    std::array<double, 2> before{1e9, 1e9},
        crossed{-1, -1};  // lowest corner of all, of the frame; when it met the ground
    Input input;
    for (int n = 1; n < 2500; ++n) {
      world.step(input);
      const State& s = world.state();
      std::array<double, 2> lowest{1e9, 1e9};
      for (const HullPoint& point : model.hull) {
        if (point.on == HullPart::bucket) continue;
        const double height = (s.X_GV * point.place).z;
        lowest[0] = std::min(lowest[0], height);
        if (point.frame) lowest[1] = std::min(lowest[1], height);
      }
      for (int i = 0; i < 2; ++i) {
        const auto k = static_cast<std::size_t>(i);
        if (crossed[k] < 0 && lowest[k] <= 0)
          crossed[k] = s.time - model.time_step * lowest[k] / (lowest[k] - before[k]);
      }
      before = lowest;
      watch.look(s, events);
    }
    for (const Event& event : events) {
      if (event.kind != EventKind::hull_touches && event.kind != EventKind::frame_touches) continue;
      ++counted;
      CHECK_NEAR(event.time, crossed[event.kind == EventKind::hull_touches ? 0 : 1], 2e-5);
    }
  }
  CHECK(counted >= 8);
}
