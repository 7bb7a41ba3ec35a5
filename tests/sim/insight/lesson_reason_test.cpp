// That the reason each lesson gives holds in its own scene: every "because" that says which way something goes is
// measured here, one case a lesson. A lesson without a case fails.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "render/text/motion/lesson_report.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/insight/lesson.h"
#include "sim/motion/run.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene.h"
#include "tests/kit/has.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

Lesson lesson_of(const char* name) {
  return load_lesson(std::string(SIDEHILL_SOURCE_DIR "/scenes/lessons/") + name + ".toml");
}
Scene lesson_scene(const char* name, SetUp which, std::vector<std::string> more = {}) {
  Lesson lesson = lesson_of(name);
  std::vector<std::string>& changes = which == SetUp::b   ? lesson.second
                                      : which == SetUp::c ? lesson.third
                                                          : lesson.change;
  changes.insert(changes.end(), more.begin(), more.end());
  return sidehill::scene_of(lesson, which);
}
Recording run_of(const char* name, SetUp which, std::vector<std::string> more = {}) {
  return run(lesson_scene(name, which, std::move(more)));
}
StaticSolution solved_with(const char* name, SetUp which, std::vector<std::string> more = {}) {
  return solve_statics(build(lesson_scene(name, which, std::move(more))));
}
double lift_with(const StaticSolution& statics) { return statics.first_lift_off.value() / kDegree; }
double slide(const StaticSolution& statics) { return statics.slide.value() / kDegree; }
double load(const StaticSolution& statics, int wheel) {
  return statics.rest.value().load[static_cast<std::size_t>(wheel)];
}

std::optional<double> time_of(const Recording& recording, EventKind kind, int wheel = -2) {
  for (const Event& event : recording.events)
    if (event.kind == kind && (wheel == -2 || event.wheel == wheel)) return event.time;
  return {};
}
const State& state_at(const Recording& recording, double time) {
  for (const State& state : recording.states)
    if (state.time >= time) return state;
  return recording.states.back();
}
double front_load(const State& state) { return state.wheels[kFrontLeft].load + state.wheels[kFrontRight].load; }
double rear_load(const State& state) { return state.wheels[kRearLeft].load + state.wheels[kRearRight].load; }
double nose_up_with(const State& state) {
  return std::asin(std::clamp((R_WG(state.slope) * state.X_GV.R[0]).z, -1.0, 1.0));
}
double lean(const State& state) { return std::asin(std::clamp((R_WG(state.slope) * state.X_GV.R[1]).z, -1.0, 1.0)); }
double height(const State& state) { return (R_WG(state.slope) * state.centre_of_gravity_G).z; }

}  // namespace

TEST_CASE("every lesson's reason has its case here") {
  const std::set<std::string> known = {"side_slope",
                                       "wet_grass",
                                       "raised_bucket",
                                       "stump",
                                       "hole",
                                       "uphill_turn",
                                       "high_hitch",
                                       "stuck_wheels",
                                       "wide_or_narrow",
                                       "trailer_pushes",
                                       "water_or_cast_weights",
                                       "raised_on_the_way"};
  for (const Lesson& lesson : list_lessons(SIDEHILL_SOURCE_DIR "/scenes/lessons")) {
    CHECK_MESSAGE(known.contains(lesson.file.stem().string()), lesson.file.string());
    CHECK_FALSE(has(lesson.source, "common practice"));  // that is no source
  }
}

TEST_CASE("side slope: brine and a low load keep it low, and on grass the tyres let go first") {
  const double as_it_is = lift_with(solved_with("side_slope", SetUp::a));
  CHECK(lift_with(solved_with("side_slope", SetUp::a, {"ballast.rear.fill_fraction=0"})) < as_it_is - 0.5);
  CHECK(lift_with(solved_with("side_slope", SetUp::a, {"ballast.loader_pin_height_m=2.5"})) < as_it_is - 2);
  const StaticSolution grass = solved_with("side_slope", SetUp::b);
  CHECK(slide(grass) < lift_with(grass) - 2);
  const StaticSolution holds = solved_with("side_slope", SetUp::a);
  CHECK((!holds.slide || *holds.slide > *holds.first_lift_off));
  // Both angles are said, and on which ground.
  const Lesson lesson = lesson_of("side_slope");
  const LessonTruth truth = judge(lesson);
  const std::string said = truth_sentence(lesson, truth);
  CAPTURE(said);
  CHECK(has(said, "Where no tyre slides: the rear left wheel (uphill) lifts at " +
                      degrees_and_percent(*truth.value * kDegree) + "."));
  CHECK(has(said, "the tyres slide first, at " + degrees_and_percent(slide(grass) * kDegree) + ", before "));
  CHECK(has(lesson.take_home, "In practice"));
  CHECK(has(lesson.source, "29 CFR 1928"));
}

TEST_CASE("wet grass: it slides soonest facing downhill, because weight leaves the tyres that hold") {
  const StaticSolution down = solved_with("wet_grass", SetUp::a), up = solved_with("wet_grass", SetUp::b),
                       across = solved_with("wet_grass", SetUp::c);
  CHECK(slide(down) < slide(up) - 1);
  CHECK(slide(up) < slide(across) - 1);
  const auto rear = [](const StaticSolution& s) { return load(s, kRearLeft) + load(s, kRearRight); };
  CHECK(rear(down) < rear(up));
  const double level = rear(solved_with("wet_grass", SetUp::a, {"terrain.slope_deg=0"}));
  CHECK(rear(down) < level);
  CHECK(rear(up) > 0.996 * level);  // weight moves on to them, while all wheels carry the cosine of the slope
  // Low weight does not help: the bucket moves the lift by degrees, the slide by tenths.
  for (const SetUp which : {SetUp::a, SetUp::b, SetUp::c}) {
    const StaticSolution low = solved_with("wet_grass", which),
                         high = solved_with("wet_grass", which, {"ballast.loader_pin_height_m=3"});
    CHECK(std::abs(slide(high) - slide(low)) < 1);
    CHECK(lift_with(low) - lift_with(high) > 5);
    CHECK(slide(low) < lift_with(low));
  }
  CHECK(lesson_of("wet_grass").of == Of::a);  // the dangerous case is what is asked
}

TEST_CASE("raised bucket: the centre of gravity of everything rises with it, and nothing is added") {
  const Model low = build(lesson_scene("raised_bucket", SetUp::a)),
              high = build(lesson_scene("raised_bucket", SetUp::b));
  CHECK_NEAR(total_mass(low), total_mass(high), 1e-6);
  CHECK(centre_of_gravity(high).z > centre_of_gravity(low).z + 0.1);
  CHECK(lesson_scene("raised_bucket", SetUp::b).ballast.loader_pin_height -
            lesson_scene("raised_bucket", SetUp::a).ballast.loader_pin_height >
        2);
  CHECK(lesson_scene("raised_bucket", SetUp::a).ballast.loader_payload < 0.5 * total_mass(low));  // only a part of it
  CHECK(lift_with(solved_with("raised_bucket", SetUp::b)) < lift_with(solved_with("raised_bucket", SetUp::a)));
}

TEST_CASE("stump: two wheels lift, the front one first, and the rear one once the axle has met its stop") {
  const Lesson lesson = lesson_of("stump");
  const LessonTruth truth = judge(lesson);
  REQUIRE(truth.a.lifted.size() == 2);
  CHECK(truth.a.lifted[0].first == kFrontLeft);
  CHECK(truth.a.lifted[1].first == kRearLeft);
  const Recording recording = run_of("stump", SetUp::a);
  const double front = time_of(recording, EventKind::lift_off, kFrontLeft).value();
  const double rear = time_of(recording, EventKind::lift_off, kRearLeft).value();
  const double stop = time_of(recording, EventKind::stop_hit).value();
  CHECK(front < rear);
  CHECK(stop < rear);
  const std::string said = truth_sentence(lesson, truth);
  CAPTURE(said);
  CHECK(has(said, "two wheels lift and come back"));
  CHECK(has(said, "the front left wheel (uphill) leaves the ground at"));
  CHECK(has(said, "then the rear left wheel (uphill) at"));
  // Question and answer are of the same set-up; the other one comes after it.
  CHECK(has(lesson.question, lesson.name_a));
  CHECK(said.starts_with("Bucket low: "));
  CHECK(has(said, "To compare, bucket up: "));
}

TEST_CASE("hole: its depth over the track is a first share, the swing is the rest") {
  const Scene scene = lesson_scene("hole", SetUp::a);
  const double depth = scene.terrain.features.at(0).height, track = scene.vehicle.rear.track;
  const double still = (scene.terrain.slope + std::asin(depth / track)) / kDegree;
  const double most = judge(lesson_of("hole")).value.value();
  CHECK(still > scene.terrain.slope / kDegree + 5);
  CHECK(most > still + 1);
}

TEST_CASE("turning uphill: the bend adds to the slope, and at half the speed it pulls a quarter") {
  const auto goes_over = [](const Recording& recording) {
    return recording.outcome == Outcome::on_frame || recording.outcome == Outcome::rolls_on;
  };
  CHECK(goes_over(run_of("uphill_turn", SetUp::a)));
  // The same bend the other way pulls against the slope: at 9 km/h this one lifts a wheel at once, that one does not
  // until it has come round.
  const auto lifts_after = [](const char* radius) {
    const Recording bend = run_of("uphill_turn", SetUp::a, {"programme.speed_kmh=9", radius});
    return time_of(bend, EventKind::lift_off).value_or(1e9) - 6;  // the bend begins at 6 s
  };
  CHECK(lifts_after("programme.action[0].radius_m=6") < 0.5);
  CHECK(lifts_after("programme.action[0].radius_m=-6") > 3);
  CHECK_FALSE(goes_over(run_of("uphill_turn", SetUp::a, {"programme.speed_kmh=9"})));
  // It leans downhill: to the right, where the bend pulls.
  const Recording recording = run_of("uphill_turn", SetUp::a);
  CHECK(lean(state_at(recording, time_of(recording, EventKind::point_of_no_return).value())) > 0);
}

TEST_CASE("steep pull: hooked low the pull also lightens the front, but the wheels spin before it lifts") {
  const Recording low = run_of("high_hitch", SetUp::b), high = run_of("high_hitch", SetUp::a);
  // As the pull grows the front loses load at both heights; nothing presses it down.
  const auto lightest = [](const Recording& recording) {
    double least = 1e9;
    for (const State& state : recording.states)
      if (state.pull > 10e3) least = std::min(least, front_load(state));
    return least;
  };
  const double before = front_load(state_at(low, 1.4));
  CHECK(lightest(low) < 0.8 * before);
  CHECK(lightest(low) > 0);
  CHECK_FALSE(time_of(low, EventKind::lift_off));
  CHECK(time_of(low, EventKind::slide));
  const double lifts = time_of(high, EventKind::lift_off).value();
  CHECK(lifts < time_of(high, EventKind::slide).value());
  CHECK_FALSE(has(lesson_of("high_hitch").because, "presses the front down"));
  // Facing uphill both front wheels are on the upper side: no wheel is called the uphill one.
  const std::string said = truth_sentence(lesson_of("high_hitch"), judge(lesson_of("high_hitch")));
  CAPTURE(said);
  CHECK_FALSE(has(said, "(uphill)"));
  CHECK(has(said, "both front wheels leave the ground at"));
}

TEST_CASE("stuck wheels: it comes up fast and hardly slows, and past the balance nothing brings it back") {
  const Recording recording = run_of("stuck_wheels", SetUp::a);
  const double lifts = time_of(recording, EventKind::lift_off).value();
  const double balance = time_of(recording, EventKind::point_of_no_return).value();
  const double third = (balance - lifts) / 3;
  const double start = nose_up_with(state_at(recording, lifts)), one = nose_up_with(state_at(recording, lifts + third)),
               two = nose_up_with(state_at(recording, lifts + 2 * third)),
               all = nose_up_with(state_at(recording, balance));
  CHECK(one - start > 0);
  CHECK(two - one > one - start);
  CHECK(all - two > 0.9 * (two - one));
  CHECK(recording.outcome == Outcome::overturned_rear);
  const Lesson lesson = lesson_of("stuck_wheels");
  CHECK(has(truth_sentence(lesson, judge(lesson)), "both front wheels leave the ground"));
}

TEST_CASE("the trailer pushes: the rear wheels carry less going down, and hold less than both together pull") {
  const Scene scene = lesson_scene("trailer_pushes", SetUp::a);
  const Recording down = run_of("trailer_pushes", SetUp::a),
                  level = run_of("trailer_pushes", SetUp::a, {"terrain.slope_deg=0"});
  const State &braked = down.states.back(), &on_level = state_at(level, 3);
  CHECK(rear_load(braked) < rear_load(on_level));
  const double all = scene.ballast.trailer.mass + total_mass(build(scene)) - 400;  // 400 kg of it on the drawbar
  const double pull = all * 9.81 * std::sin(scene.terrain.slope);
  CHECK(pull > scene.terrain.soil.adhesion * rear_load(braked));
  CHECK(judge(lesson_of("trailer_pushes")).b->value.value() < 1);  // braked itself, it stops
}

TEST_CASE("water or cast weights: either is better than nothing, water lies a little lower") {
  const Lesson lesson = lesson_of("water_or_cast_weights");
  const LessonTruth truth = judge(lesson);
  REQUIRE(truth.c);
  CHECK(truth.c->value.value() < truth.a.value.value() - 0.5);
  CHECK(truth.c->value.value() < truth.b->value.value() - 0.5);
  const Model water = build(lesson_scene("water_or_cast_weights", SetUp::a)),
              cast = build(lesson_scene("water_or_cast_weights", SetUp::b)),
              none = build(lesson_scene("water_or_cast_weights", SetUp::c));
  CHECK_NEAR(total_mass(water), total_mass(cast), 10);
  CHECK(total_mass(none) < total_mass(water) - 500);
  CHECK(centre_of_gravity(water).z < centre_of_gravity(cast).z);
  CHECK(centre_of_gravity(cast).z < centre_of_gravity(none).z);
  CHECK(truth.a.value.value() > truth.b->value.value());
  const std::string said = truth_sentence(lesson, truth);
  CAPTURE(said);
  CHECK(has(said, "No ballast at all: "));
  CHECK(has(said, "less than water."));
}

TEST_CASE("wide or narrow: at the centre of gravity only a part of the extra width counts") {
  const Scene narrow = lesson_scene("wide_or_narrow", SetUp::a), wide = lesson_scene("wide_or_narrow", SetUp::b);
  const double gain =
      lift_with(solved_with("wide_or_narrow", SetUp::b)) - lift_with(solved_with("wide_or_narrow", SetUp::a));
  CHECK(gain > 0);
  CHECK_NEAR(total_mass(build(narrow)), total_mass(build(wide)), 1e-6);
  CHECK_NEAR(narrow.vehicle.front.track, wide.vehicle.front.track, 1e-9);
  // How far out the line lies at the centre of gravity, by the slope at which that comes over it.
  const auto width = [](const Scene& scene, double lifts_at) {
    return std::tan(lifts_at * kDegree) * centre_of_gravity(build(scene)).z;
  };
  const double more = width(wide, lift_with(solved_with("wide_or_narrow", SetUp::b))) -
                      width(narrow, lift_with(solved_with("wide_or_narrow", SetUp::a)));
  const double wheel_out = 0.5 * (wide.vehicle.rear.track - narrow.vehicle.rear.track);
  CHECK(more > 0.3 * wheel_out);
  CHECK(more < 0.95 * wheel_out);
}

TEST_CASE("raised on the way: slowly first, then by itself, while the load goes on rising") {
  const Recording recording = run_of("raised_on_the_way", SetUp::a);
  const double lifts = time_of(recording, EventKind::lift_off, kRearLeft).value();
  const double balance = time_of(recording, EventKind::point_of_no_return).value();
  REQUIRE(balance > lifts);
  const State &first = state_at(recording, lifts), &last = state_at(recording, balance);
  const State& half = state_at(recording, (lifts + balance) / 2);
  CHECK(std::abs(last.boom_angle - first.boom_angle) > 0.02);
  CHECK(lean(half) - lean(first) > 0);                        // over to the right, downhill
  CHECK(lean(last) - lean(half) > lean(half) - lean(first));  // ever faster
  const State& after = state_at(recording, balance + 0.5);
  CHECK(height(after) < height(last));  // past the balance it falls
}
