// What counts of a run and what is only its landing; a wheel that carries nothing is always said.
#include "sim/motion/watch.h"

#include <doctest/doctest.h>
#include <tbb/parallel_for.h>

#include <algorithm>

#include "render/text/motion/outcome_words.h"
#include "render/text/motion/run_report.h"
#include "render/text/rest/answer_json.h"
#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/insight/trial.h"
#include "sim/motion/run.h"
#include "sim/motion/under_way.h"
#include "sim/rest/margin.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_checks.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

const Event* first_of(const Recording& recording, EventKind kind) {
  const auto found = std::find_if(recording.events.begin(), recording.events.end(),
                                  [&](const Event& event) { return event.kind == kind; });
  return found == recording.events.end() ? nullptr : &*found;
}

bool a_wheel_is_up(const State& state) {
  return std::any_of(state.wheels.begin(), state.wheels.end(), [](const WheelState& w) { return !(w.load > 0); });
}

Scene parked_on_grass() {
  Scene scene = test_scene("first_slope", {"terrain.slope_deg=10"});
  scene.programme = Programme{};
  scene.programme.duration = 5;
  return scene;
}

}  // namespace

TEST_CASE("unless a scene asks for a height, a run starts at rest where the machine stands") {
  const Scene scene = parked_on_grass();
  CHECK(scene.programme.drop_height == 0);
  const Recording parked = run(scene);
  CHECK(parked.outcome == Outcome::stands);
  CHECK(parked.events.empty());
  const auto rest = rest_at(build(scene), scene.terrain.slope);
  REQUIRE(rest);
  for (const State& state : parked.states) CHECK(glm::length(state.X_GV.p - rest->X_GV.p) < 1e-3);
}

TEST_CASE("parked on ten degrees of grass the least margin of the run is that of the answer at rest, to a degree") {
  const Scene scene = parked_on_grass();
  const Model model = build(scene);
  // The same angle at rest: `solve` lists it line by line. (Slope left until a wheel lifts is another: 27.0 deg here.)
  double at_rest = 1e9;
  for (const LineMeasure& line : measures(model, *rest_at(model, scene.terrain.slope)).lines)
    at_rest = std::min(at_rest, line.angle / kDegree);
  const Recording parked = run(scene);
  CHECK_NEAR(*least_margins(model, parked.states).angle / kDegree, at_rest, 1);
  // Let go 10 cm up, what its landing did does not count either.
  Scene dropped = scene;
  dropped.programme.drop_height = 0.1;
  dropped.programme.duration = 12;
  const Recording fell = run(dropped);
  REQUIRE(first_of(fell, EventKind::settled));
  const double from = counts_from(fell.events);
  CHECK(from == first_of(fell, EventKind::settled)->time);
  CHECK(*least_margins(model, fell.states).angle / kDegree < at_rest - 5);           // the landing itself
  CHECK_NEAR(*least_margins(model, fell.states, from).angle / kDegree, at_rest, 2);  // it still rocks a little
}

TEST_CASE("a bucket held up stands, and a drop of 5 cm throws it over though set down gently it stands") {
  const auto bucket_up = [](std::vector<std::string> more) {
    more.insert(more.begin(), {"ballast.loader_payload_kg=800", "terrain.slope_deg=14"});
    return test_scene("bucket_up", more);
  };
  CHECK(run(bucket_up({})).outcome == Outcome::stands);
  const Scene scene = bucket_up({"programme.drop_height_m=0.05"});
  const Recording thrown = run(scene);
  CHECK(thrown.outcome == Outcome::on_frame);
  const Answer at_rest = answer(scene, 4);
  CHECK(drop_throws_it_over(at_rest.scene, at_rest.statics, thrown));
  CHECK(has(run_table(at_rest, thrown), "The drop of 0.05 m throws it over: set down gently it stands"));
  CHECK(to_json(at_rest, thrown)["drop_throws_it_over"] == true);
  // Where it would not stand anyway, or drives before it goes over, the drop is not blamed.
  const Scene steep = bucket_up({"programme.drop_height_m=0.05", "terrain.slope_deg=30"});
  CHECK_FALSE(drop_throws_it_over(steep, answer(steep, 4).statics, run(steep)));
}

TEST_CASE("what a landing does is reported as landing, apart from what follows") {
  const Scene scene = test_scene("wide_or_narrow", {"programme.drop_height_m=0.05", "programme.duration_s=8"});
  const Recording recording = run(scene);
  REQUIRE(first_of(recording, EventKind::settled));
  CHECK(recording.outcome == Outcome::stands);
  const Event* lift = first_of(recording, EventKind::lift_off);
  REQUIRE(lift);  // it hops as it lands, and that is said
  CHECK(lift->time < counts_from(recording.events));
  CHECK(first_lift_off(recording.events) == nullptr);  // but does not count
  const Answer at_rest = answer(scene, 4);
  const std::string text = run_table(at_rest, recording);
  const std::size_t landing = text.find("The landing"), events = text.find("\nEvents\n  none\n");
  REQUIRE(landing != text.npos);
  REQUIRE(events != text.npos);
  CHECK(text.find("wheel lifts") > landing);
  CHECK(text.find("wheel lifts") < events);
  const auto json = to_json(at_rest, recording);
  CHECK(json["landing"]["wheels_that_left_the_ground"].size() > 0);
  CHECK(json["landing"]["least_angle_left_deg"].get<double>() <
        json["least_margin_under_way"]["angle_left_deg"].get<double>());
  CHECK(json["counts_from_s"] == json["landing"]["settled_s"]);
}

TEST_CASE("a run that never comes to rest counts from touch-down") {
  const Scene scene = test_scene("wide_or_narrow", {"programme.drop_height_m=0.05", "programme.drive_from_s=0.2",
                                                    "programme.speed_kmh=6", "programme.duration_s=3"});
  const Recording recording = run(scene);
  CHECK_FALSE(first_of(recording, EventKind::settled));
  REQUIRE(first_of(recording, EventKind::touch_down));
  CHECK(counts_from(recording.events) == first_of(recording, EventKind::touch_down)->time);
  CHECK(first_lift_off(recording.events) != nullptr);
  CHECK(recording.outcome == Outcome::lifts_and_returns);
}

TEST_CASE("set down gently no scene's wheel slides from the first moments on while it stands") {
  for (const char* name : {"bucket_up", "turn_uphill", "wide_or_narrow", "over_a_stump", "into_a_hole"}) {
    INFO(name);
    Scene scene = test_scene(name, {"programme.drop_height_m=0"});
    for (const Event& event : run(scene).events)
      if (event.kind == EventKind::slide) CHECK(event.time > 0.5);
  }
}

TEST_CASE("a wheel that carries nothing for one step is a lift-off, and one with a short break comes back once") {
  const Model model = build(test_machine("utility_75kw"));
  Watch watch(model, true);
  std::vector<Event> events;
  State state;
  state.X_GV.R = Mat3(1.0);
  const auto step = [&](double rear_left) {
    state.time += model.time_step;
    for (WheelState& wheel : state.wheels) wheel.load = 10000;
    state.wheels[kRearLeft].load = rear_left;
    watch.look(state, events);
  };
  for (int i = 0; i < 100; ++i) step(5000);
  step(0);
  for (int i = 0; i < 10; ++i) step(100);
  step(0);
  for (int i = 0; i < 200; ++i) step(100);
  REQUIRE(events.size() == 2);
  CHECK(events[0].kind == EventKind::lift_off);
  CHECK(events[0].wheel == kRearLeft);
  CHECK_NEAR(events[0].time, 0.1, 0.002);
  CHECK(events[1].kind == EventKind::lands);
  CHECK_NEAR(events[1].time, 0.112, 0.002);
  CHECK(watch.outcome() == Outcome::lifts_and_returns);
}

TEST_CASE("a wheel in the air from the start is said at once") {
  const Model model = build(test_machine("utility_75kw"));
  Watch watch(model, true);
  std::vector<Event> events;
  State state;
  state.time = model.time_step;
  state.X_GV.R = Mat3(1.0);
  for (WheelState& wheel : state.wheels) wheel.load = 10000;
  state.wheels[kRearRight].load = 0;
  watch.look(state, events);
  REQUIRE(events.size() == 1);
  CHECK(events[0].kind == EventKind::lift_off);
  CHECK(events[0].time == 0);
  CHECK(watch.outcome() == Outcome::wheel_up);
}

TEST_CASE("of three hundred random scenes none has a wheel at nothing where all are said to stay on the ground") {
#ifdef SIDEHILL_CHECKED
  constexpr std::size_t kRuns = 30;
#else
  constexpr std::size_t kRuns = 300;
#endif
  struct Said {
    std::string line;
    int frames_up = 0;
  };
  std::vector<Said> said(kRuns);
  tbb::parallel_for(std::size_t{0}, kRuns, [&](std::size_t i) {
    const Scene scene = random_scene(i + 1);
    if (find_conflict(scene)) return;
    try {
      const Recording recording = run(scene);
      said[i].line = outcome_line(scene, recording);
      const bool dropped = first_of(recording, EventKind::touch_down) != nullptr;
      const Event* settled = first_of(recording, EventKind::settled);
      bool landed = !dropped;  // of a drop that never came to rest: since all wheels were down once
      for (const State& state : recording.states) {
        landed = landed || !a_wheel_is_up(state);
        const bool counts = settled ? state.time >= settled->time : landed;
        said[i].frames_up += counts && state.time > 0 && a_wheel_is_up(state);
      }
    } catch (const InputError&) {
    }
  });
  int stand = 0, up = 0;
  for (std::size_t i = 0; i < kRuns; ++i) {
    const bool all_stay = has(said[i].line, "all wheels stay on the ground");
    if (all_stay) {
      INFO("scene ", i + 1, ": ", said[i].line);
      CHECK(said[i].frames_up == 0);
    }
    stand += all_stay;
    up += said[i].frames_up > 0;
  }
  CHECK(stand > 0);
  CHECK(up > 0);
}
