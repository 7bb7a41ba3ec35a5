// How a run ended, in words: how it lies, which way it went over, and that sliding is not standing.
#include "render/text/motion/outcome_words.h"

#include <doctest/doctest.h>

#include "render/text/motion/run_report.h"
#include "render/text/rest/answer_json.h"
#include "sim/base/constants.h"
#include "sim/base/text_file.h"
#include "sim/motion/run.h"
#include "sim/motion/slip.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

// Chassis turned so, its frame on the ground or not.
Recording turned(const Mat3& R, bool on_frame = false) {
  Recording recording;
  State state;
  state.X_GV.R = R;
  state.frame_touches = on_frame;
  state.hull_touches = true;
  recording.states = {state};
  recording.outcome = Outcome::on_frame;
  recording.events = {{EventKind::at_rest, 0, -1, 0}};
  return recording;
}

}  // namespace

TEST_CASE("how it lies is said in words") {
  Scene scene = test_machine("utility_75kw");
  REQUIRE(scene.vehicle.frame.kind != FrameKind::none);
  scene.vehicle.frame.folded = false;
  const auto words = [&](const Mat3& R, bool on_frame = false) { return lying(scene, turned(R, on_frame)).words; };
  CHECK(words(about_x(90 * kDegree)) == "lies on its right side");  // the left side up
  CHECK(words(about_x(-100 * kDegree)) == "lies on its left side");
  CHECK(words(about_x(180 * kDegree)) == "lies on its back");
  CHECK(words(about_x(150 * kDegree), true) == "lies on its back, on its roll-over frame");
  CHECK(words(about_x(110 * kDegree), true) == "lies on its right side, on its roll-over frame");
  CHECK(words(about_y(-80 * kDegree)) == "stands on its tail");  // nose up
  CHECK(words(about_y(80 * kDegree)) == "stands on its nose");
  CHECK(words(about_x(20 * kDegree)) == "is upright");
  CHECK(lying(scene, turned(about_x(180 * kDegree))).key == "back");
  scene.vehicle.frame.kind = FrameKind::two_post;  // folded down it carries nothing
  scene.vehicle.frame.folded = true;
  CHECK(words(about_x(110 * kDegree), true) == "lies on its right side");
  CHECK(outcome_line(scene, turned(about_x(95 * kDegree))) == "OVERTURNS to the right and lies on its right side");
}

TEST_CASE("a machine that went over backwards is said to have done that, and has no margin any more") {
  for (const char* name : {"stuck_wheels", "pull_too_high"}) {
    INFO(name);
    const Scene scene = test_scene(name);
    const Answer at_rest = answer(scene, 4);
    const Recording recording = run(scene);
    const std::string text = run_table(at_rest, recording);
    CHECK(has(text, "OVERTURNS backwards and lies on its back"));
    CHECK(has(text, "none: it goes over backwards, past its point of no return at "));
    CHECK(has(text, "it lies on its back"));
    for (const char* wrong : {"to the right", "outside its nearest support line", "roll ", "kJ"})
      CHECK_FALSE(has(text, wrong));
    const auto json = to_json(at_rest, recording);
    CHECK(json["goes_over"] == "backwards");
    CHECK(json["final"]["lies"] == "back");
    CHECK(json["least_margin_under_way"]["angle_left_deg"].is_null());
    CHECK(json["least_margin_under_way"]["energy_left_j"].is_null());
  }
  // Wheels that cannot turn may still leave the ground, and the report says how both can be.
  const Scene stuck = test_scene("stuck_wheels");
  CHECK(has(run_table(answer(stuck, 4), run(stuck)), "they cannot turn, but nothing holds them down"));
}

TEST_CASE("one that slides metres downhill does not stand") {
  const Scene scene = test_scene("first_slope", {"terrain.soil.adhesion=0.25", "programme.drop_height_m=0"});
  const Recording recording = run(scene);
  CHECK(recording.outcome == Outcome::slides);
  const double downhill = recording.states.front().X_GV.p.y - recording.states.back().X_GV.p.y;
  REQUIRE(downhill > 2);
  CHECK_NEAR(slid_distance(recording.states) / downhill, 1, 0.1);
  const std::string line = outcome_line(scene, recording);
  CHECK(line.starts_with("SLIDES: the tyres do not hold; its tyres slide "));
  CHECK(has(line, "still slide at the end"));
}

TEST_CASE("one that drives downhill on its line has not slid there") {
  const Scene scene = test_scene("orchard_row");
  const Recording recording = run(scene);
  CHECK(recording.states.front().X_GV.p.y - recording.states.back().X_GV.p.y > 5);  // it faces partly downhill
  CHECK(slid_distance(recording.states) < 0.2);
  CHECK(recording.outcome == Outcome::stands);
  CHECK(outcome_line(scene, recording) == "STANDS: all wheels stay on the ground");
  // Nor have wheels that spin while it drives on: here the tread of the rear tyres runs ahead of the ground.
  const Scene spins = test_machine(
      "two_wheel_45kw", {"terrain.slope_deg=0", "terrain.soil.adhesion_unlimited=false", "terrain.soil.adhesion=0.2",
                         "start.heading_deg=0", "programme.action+={at_s=0.5, what=\"drop_clutch\", speed_kmh=15}"});
  const Recording spun = run(spins);
  double tread = 0;
  for (std::size_t i = 1; i < spun.states.size(); ++i)
    tread -= slip_of(spun.states[i - 1], spun.states[i], kRearLeft).along * 0.02;
  CHECK(tread > 1);
  CHECK(slid_distance(spun.states) < 0.2);
}

TEST_CASE("braked wheels that skid do slide") {
  const Scene scene = test_machine(
      "utility_75kw", {"terrain.slope_deg=0", "terrain.soil.adhesion_unlimited=false", "terrain.soil.adhesion=0.3",
                       "start.heading_deg=0", "programme.speed_kmh=18", "programme.drive_from_s=0",
                       "programme.duration_s=12", "programme.action+={at_s=6, what=\"brake\", pedal=1}"});
  const Recording recording = run(scene);
  double braked_at = 0, stopped_at = recording.states.back().X_GV.p.y;
  for (const State& state : recording.states)
    if (state.time <= 6) braked_at = state.X_GV.p.y;
  CHECK(stopped_at - braked_at > 2);
  CHECK_NEAR(slid_distance(recording.states, 6) / (stopped_at - braked_at), 1, 0.15);
}

TEST_CASE("docs/json.md names every key that a run adds") {
  const std::string page = read_text(SIDEHILL_SOURCE_DIR "/docs/json.md");
  const Scene scene = test_scene("stuck_wheels");
  const auto with = to_json(answer(scene, 4), run(scene)), without = to_json(answer(scene, 4));
  int added = 0;
  for (const auto& [key, value] : with.items()) {
    if (without.contains(key) || key == "divergence") continue;
    ++added;
    const auto& this_key = key;
    CAPTURE(this_key);
    CHECK(has(page, "`" + key + "`"));
  }
  CHECK(added >= 8);
  for (const char* key : {"lies", "on_roll_over_frame", "from_first_moment", "on_its_wheels_latest_s",
                          "not_over_latest_s", "touch_down_s", "settled_s", "wheels_that_left_the_ground",
                          "stop_half_pedal", "angle_left_at_rest_deg", "slides_at_deg", "reason"}) {
    CAPTURE(key);
    CHECK(has(page, "`" + std::string(key) + "`"));
  }
}
