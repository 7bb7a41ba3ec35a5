#ifdef SIDEHILL_SCREEN
// On ground so uneven that an answer takes seconds, the window stays alive: an edit waits for nothing, and it closes.
#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <memory>
#include <thread>

#include "render/screen/desk/session.h"
#include "sim/scene/scene_file.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

// Twelve rough strips lie over each other under the machine.
Scene rough_ground() {
  Scene scene = load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/first_slope.toml");
  for (std::uint32_t i = 0; i < 12; ++i) {
    Feature strip;
    strip.kind = FeatureKind::rough;
    strip.x = 0.2 * i - 1;
    strip.length = strip.width = 14;
    strip.height = 0.02;
    strip.seed = i + 1;
    scene.terrain.features.push_back(strip);
  }
  return scene;
}

double seconds() { return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(); }
// Lets it work for so long.
void work_for(Session& session, double time) {
  for (const double end = seconds() + time; seconds() < end;) session.answer(0.005);
}

// How long the answer at one heading takes here and now: what a session that waited for it would take.
double answer_at_heading() {
  const double begun = seconds();
  Session session(rough_ground());
  while (session.working()) session.answer(0.02);
  return seconds() - begun;
}

}  // namespace

TEST_CASE("a session over twelve rough strips ends at once, whatever is being worked out") {
  const double whole = answer_at_heading();
  for (const double into : {0.0, 0.3, 1.5}) {
    auto session = std::make_unique<Session>(rough_ground());
    work_for(*session, into * whole);
    CHECK_FALSE(session->answer_complete());  // else there is nothing to break off
    const double before = seconds();
    session.reset();
    INFO("left after " << into << " of " << whole << " s");
    CHECK(seconds() - before < 0.5 * whole);
  }
}

TEST_CASE("over rough ground no picture waits, and an edit begins to be answered at once") {
  Session session(rough_ground());
  work_for(session, 0.6);
  const double begun = seconds();
  double longest = 0;
  for (const double slope : {3.0, 6.0, 9.0, 12.0, 15.0, 18.0, 21.0}) {  // a slider being dragged
    const double before = seconds();
    session.set_number("terrain.slope_deg", slope);
    session.answer(0.04);
    longest = std::max(longest, seconds() - before);
  }
  while (session.working() && seconds() - begun < 30) {
    const double before = seconds();
    session.answer(0.04);
    longest = std::max(longest, seconds() - before);
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  }
  INFO(longest << " of " << seconds() - begun << " s");
  CHECK(longest < 0.25 * (seconds() - begun));  // of the last answer alone
  REQUIRE_FALSE(session.working());
  CHECK(session.statics().first_lift_off == solve_statics(*session.model()).first_lift_off);
}
#endif
