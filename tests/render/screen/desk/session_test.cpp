#ifdef SIDEHILL_SCREEN
#include "render/screen/desk/session.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/desk/verdict.h"
#include "render/screen/window/scenery.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

Scene session_scene() { return load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/first_slope.toml"); }

void answer_whole(Session& session) { session.settle(); }

}  // namespace

TEST_CASE("a slider's change reaches the scene and is answered at once") {
  Session session(session_scene());
  answer_whole(session);
  const double full = *session.statics().first_lift_off;
  session.set_number("ballast.rear.fill_fraction", 0);
  CHECK(session.edited());
  CHECK(session.scene().ballast.fill[kRearLeft].fill_fraction == 0);
  CHECK(session.scene().ballast.fill[kRearRight].fill_fraction == 0);
  session.settle();
  CHECK(*session.statics().first_lift_off < full - 0.02);
  session.restore();
  session.settle();
  CHECK_FALSE(session.edited());
  CHECK_NEAR(*session.statics().first_lift_off, full, 1e-12);
}

TEST_CASE("an answer worked out aside is the answer, whatever was asked before it") {
  const Scene scene = load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/into_a_hole.toml");
  Session session(scene);
  for (double slope : {3.0, 7.0, 11.0, 15.0}) {  // faster than it can be answered
    session.set_number("terrain.slope_deg", slope);
    session.answer(0);
  }
  session.settle();
  CHECK_FALSE(session.working());
  Scene last = scene;
  last.terrain.slope = session.scene().terrain.slope;
  const StaticSolution direct = solve_statics(build(last));
  REQUIRE(direct.margin);
  REQUIRE(session.statics().margin);
  CHECK(*session.statics().margin == *direct.margin);
  const std::vector<EnvelopePoint> all = envelope(build(last), Session::kHeadings);
  for (std::size_t i = 0; i < all.size(); ++i)
    CHECK_NEAR(session.by_heading()[i].first_lift_off.value_or(9), all[i].first_lift_off.value_or(9), 1e-6);
  session.set_number("terrain.slope_deg", 20);
  session.answer(0);  // left unanswered: the session ends all the same
}

TEST_CASE("the margin by heading is whole, and the worst heading is one of it") {
  Session session(session_scene());
  answer_whole(session);
  REQUIRE(session.by_heading().size() == Session::kHeadings);
  REQUIRE(session.worst_heading());
  for (const EnvelopePoint& point : session.by_heading())
    if (point.first_lift_off) CHECK(*point.first_lift_off >= *session.worst_heading()->first_lift_off);
}

TEST_CASE("values outside their range are clamped, values that are no numbers ignored") {
  Session session(session_scene());
  session.set_number("terrain.slope_deg", 400);
  CHECK_NEAR(session.number("terrain.slope_deg"), 60, 1e-9);
  session.set_number("terrain.slope_deg", std::nan(""));
  CHECK_NEAR(session.number("terrain.slope_deg"), 60, 1e-9);
  CHECK_THROWS_AS(session.set_number("terrain.no_such_thing", 1), std::out_of_range);
}

TEST_CASE("an impossible machine is refused in words and the last answer stays") {
  Session session(session_scene());
  answer_whole(session);
  const double before = *session.statics().first_lift_off;
  session.set_number("ballast.loader_pin_height_m", 6);
  session.settle();
  CAPTURE(session.refusal());
  CHECK(session.refusal().find("this loader") != std::string::npos);
  CHECK(session.refusal().find('_') == std::string::npos);  // names, no keys
  REQUIRE(session.model());
  CHECK_NEAR(*session.statics().first_lift_off, before, 1e-12);
  session.play();
  CHECK_FALSE(session.playing());
}

TEST_CASE("Play starts where the machine stands, and one that stands at rest stands in the run") {
  const std::vector<std::string> heavier{"ballast.loader_payload_kg=800", "terrain.slope_deg=14"};
  Session session(load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/bucket_up.toml", heavier));
  answer_whole(session);
  REQUIRE(session.statics().status == RestStatus::stands);
  session.play();
  REQUIRE(session.recording());
  const Vec3 start = session.recording()->states.front().X_GV.p;
  CHECK(glm::length(start - session.statics().rest->X_GV.p) < 1e-6);
  while (session.playing()) session.advance(0.1, 10);
  CHECK(session.recording()->outcome == Outcome::stands);
  CHECK(session.recording()->events.empty());
  // Drop asks for a height, from which this one goes over; the scene itself stays as it is, the recording says so.
  session.drop();
  CHECK(session.recording()->states.front().X_GV.p.z > start.z + 0.8 * Session::kDropHeight);
  CHECK(session.scene().programme.drop_height == 0);
  CHECK(parse_scene(session.recording()->scene_text, "recording").programme.drop_height == Session::kDropHeight);
  while (session.playing()) session.advance(0.1, 10);
  CHECK(session.recording()->outcome == Outcome::on_frame);
  // Play anew is at rest again.
  session.play();
  CHECK(glm::length(session.recording()->states.front().X_GV.p - start) < 1e-6);
  // A height of the scene's own is the one that counts, for both.
  session.reset();
  session.set_number("programme.drop_height_m", 0.3);
  session.play();
  CHECK(session.recording()->states.front().X_GV.p.z > start.z + 0.25);
}

TEST_CASE("a refused machine has no number of the one before it") {
  Scene scene = session_scene();
  scene.vehicle.front.tyre.service = "121A8";  // over its load, so that there is a caution
  Session session(scene);
  session.settle_doubts();
  Overlays all;
  REQUIRE(session.answer_is_of_scene());
  REQUIRE(session.headings_are_of_scene());
  REQUIRE(session.worst_heading());
  REQUIRE(session.further());
  REQUIRE(session.doubts());
  REQUIRE_FALSE(cautions_of(session).empty());
  CHECK(true_overlays(session, all, false).stands == stand_words(session.verdict()));
  CHECK_FALSE(true_overlays(session, all, false).stands.empty());
  CHECK(true_overlays(session, all, true).stands.empty());
  const double possible = session.number("ballast.loader_pin_height_m");
  session.set_number("ballast.loader_pin_height_m", 6);
  session.answer(0.04);
  REQUIRE_FALSE(session.refusal().empty());
  CHECK_FALSE(session.answer_is_of_scene());
  CHECK_FALSE(session.headings_are_of_scene());
  CHECK(session.worst_heading() == nullptr);
  CHECK(session.further() == nullptr);
  CHECK(session.breakdown() == nullptr);
  CHECK(session.doubts() == nullptr);
  CHECK(cautions_of(session).empty());
  CHECK(no_numbers(session) == "This machine cannot exist.");
  const Overlays none = true_overlays(session, all, false);
  CHECK_FALSE(none.margin);
  CHECK(none.stands.empty());
  CHECK_FALSE(none.wheel_loads);
  CHECK_FALSE(none.centre_of_gravity);
  CHECK(none.slope_wedge == all.slope_wedge);  // the ground is what it is
  session.set_number("ballast.loader_pin_height_m", possible);
  session.settle();
  CHECK(session.headings_are_of_scene());
  CHECK(no_numbers(session).empty());
}

TEST_CASE("while uneven ground is worked out no number of the scene before it is handed out, and headings never mix") {
  Session session(session_scene());
  session.settle();
  REQUIRE(session.worst_heading());
  const std::vector<EnvelopePoint> before = session.by_heading();
  Scene rough = session_scene();
  for (std::uint32_t i = 0; i < 3; ++i) {  // takes some tenths of a second for each heading
    Feature strip;
    strip.kind = FeatureKind::rough;
    strip.length = strip.width = 14;
    strip.height = 0.03;
    strip.seed = i + 1;
    rough.terrain.features.push_back(strip);
  }
  session.edit(rough);
  session.answer(0.04);
  REQUIRE(session.working());
  CHECK_FALSE(session.answer_is_of_scene());
  CHECK(no_numbers(session) == "Being worked out.");
  CHECK(session.worst_heading() == nullptr);
  CHECK(true_overlays(session, {}, false).stands.empty());
  CHECK_FALSE(true_overlays(session, {}, false).wheel_loads);
  const auto known = [&] {
    return std::ranges::count_if(session.by_heading(), [](const EnvelopePoint& p) { return !p.failed; });
  };
  while (session.working() || known() < 3) session.answer(0);
  CHECK(session.answer_is_of_scene());
  CHECK(true_overlays(session, {}, false).stands == stand_words(session.verdict()));
  REQUIRE_FALSE(session.headings_complete());
  CHECK_FALSE(session.headings_are_of_scene());
  CHECK(session.worst_heading() == nullptr);
  for (std::size_t i = 0; i < before.size(); ++i) {
    const EnvelopePoint& point = session.by_heading()[i];
    if (!point.failed) CHECK(point.first_lift_off != before[i].first_lift_off);
  }
}

TEST_CASE("the run shown is the run of the scene, however the wall clock ticks") {
  Session session(session_scene());
  session.play();
  for (int i = 0; i < 40; ++i) session.advance(0.0173, 10);
  REQUIRE(session.started());
  CHECK(session.showing() == Showing::run);
  const Scene scene = session_scene();
  Runner direct(scene, build(scene));
  while (direct.state().time < session.shown().time - 1e-9) direct.advance(scene.settings.time_step);
  CHECK(hash(direct.state()) == hash(session.shown()));
  session.reset();
  CHECK(session.showing() == Showing::rest);
}

TEST_CASE("slow motion steps fewer, never larger steps") {
  Session session(session_scene());
  session.set_rate(0.1);
  session.play();
  session.advance(0.1, 10);
  CHECK_NEAR(session.shown().time, 0.01, 1.5e-3);
  const double before = session.shown().time;
  session.step_once();
  CHECK_NEAR(session.shown().time - before, session.scene().settings.time_step, 1e-12);
  CHECK_FALSE(session.playing());
}

TEST_CASE("driven by hand it does what is asked, and the orders alone give the same run bit for bit") {
  Session session(session_scene());
  CHECK_FALSE(session.by_hand());
  session.change_speed(3);  // nobody drives yet
  CHECK(session.hand().speed == 0);
  session.take_over();
  CHECK(session.by_hand());
  CHECK(session.playing());
  CHECK_FALSE(session.edited());
  for (int i = 0; i < 10; ++i) session.advance(0.05, 10);
  for (int i = 0; i < 6; ++i) session.change_speed(1);
  CHECK_NEAR(3.6 * session.hand().speed, 6, 1e-12);
  for (int i = 0; i < 60; ++i) session.advance(0.05, 10);
  const auto speed = [&] { return 3.6 * glm::dot(session.shown().v_G, session.shown().X_GV.R[0]); };
  CHECK_NEAR(speed(), 6, 0.7);
  session.hold_keys({.left = true, .raise = true});
  session.advance(0.1, 10);
  CHECK(session.hand().steer > 0.2);  // eased, not at once
  CHECK(session.hand().steer < 0.5);
  const double boom = session.shown().boom_angle;
  for (int i = 0; i < 10; ++i) session.advance(0.05, 10);
  CHECK(session.hand().steer == 1);
  CHECK(session.shown().steer > 0.2);
  CHECK(session.shown().boom_angle > boom + 0.02);
  session.hold_keys({.brake = true});
  for (int i = 0; i < 30; ++i) session.advance(0.05, 10);
  CHECK(session.hand().steer == 0);
  CHECK(session.hand().speed == 0);  // the brake takes the wanted speed down with it
  CHECK(std::abs(speed()) < 0.5);
  session.hold_keys({});
  for (int i = 0; i < 20; ++i) session.advance(0.05, 10);
  CHECK(std::abs(speed()) < 0.5);  // and nothing lurches off
  session.change_speed(-9);
  CHECK_NEAR(3.6 * session.hand().speed, -5, 1e-12);
  for (int i = 0; i < 40; ++i) session.advance(0.05, 10);
  CHECK(speed() < -2);
  session.let_go();
  CHECK_FALSE(session.by_hand());
  for (int i = 0; i < 60; ++i) session.advance(0.05, 10);
  CHECK(std::abs(speed()) < 0.2);
  const double left_at = session.shown().boom_angle;
  session.take_over();  // the loader stays where it was left
  for (int i = 0; i < 10; ++i) session.advance(0.05, 10);
  CHECK_NEAR(session.shown().boom_angle, left_at, 0.01);
  session.let_go();
  REQUIRE(session.recording());
  CHECK(session.shown().time > session.scene().programme.duration);  // lasts on
  Scene scene = session_scene();
  scene.programme.duration = session.shown().time;
  const Recording again = run(scene, session.recording()->orders);
  CHECK(again.orders.size() <= session.recording()->orders.size());  // the last may come after its end
  CHECK(hash(again.states.back()) == hash(session.shown()));
}

TEST_CASE("taken over under way it goes on as fast, and an edit or a reset lets go of nothing by itself") {
  Session session(session_scene());
  session.drive();
  for (int i = 0; i < 100; ++i) session.advance(0.05, 10);
  session.take_over();
  CHECK(3.6 * session.hand().speed > 3);
  session.set_number("ballast.rear.fill_fraction", 0.2);  // the run starts anew, still by hand, standing
  for (int i = 0; i < 20; ++i) session.advance(0.05, 10);
  CHECK(session.by_hand());
  CHECK(session.playing());
  CHECK(session.hand().speed == 0);
  session.reset();
  CHECK_FALSE(session.by_hand());
  CHECK(session.showing() == Showing::rest);
}

TEST_CASE("where it cannot rest the picture says so") {
  Session session(session_scene());
  session.set_number("terrain.slope_deg", 50);
  session.settle();
  CHECK(session.showing() == Showing::placed);
  CHECK(std::isfinite(session.shown().X_GV.p.z));
}
#endif  // SIDEHILL_SCREEN
