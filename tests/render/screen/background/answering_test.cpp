#ifdef SIDEHILL_SCREEN
#include "render/screen/background/answering.h"

#include <doctest/doctest.h>

#include "sim/rest/mass_sums.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

Scene slope_scene() { return load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/first_slope.toml"); }

}  // namespace

TEST_CASE("worked out aside it says what it says when asked directly") {
  const Scene scene = slope_scene();
  const Model model = build(scene);
  Answering answering(scene, model);
  REQUIRE(answering.finished(120));
  REQUIRE(answering.solved(0));
  CHECK(answering.statics().first_lift_off == solve_statics(model).first_lift_off);
  REQUIRE(answering.headings_reached() == Answering::kHeadings);
  const std::vector<EnvelopePoint> all = envelope(model, Answering::kHeadings);
  for (int i = 0; i < Answering::kHeadings; ++i) {
    CHECK_NEAR(answering.at_heading(i).heading, all[static_cast<std::size_t>(i)].heading, 1e-12);
    REQUIRE(answering.at_heading(i).first_lift_off);
    CHECK_NEAR(*answering.at_heading(i).first_lift_off, *all[static_cast<std::size_t>(i)].first_lift_off, 1e-6);
  }
}

TEST_CASE("asked to stop it ends at once, in the middle of whatever it works on, and hands out no more headings") {
  Scene scene = slope_scene();
  for (std::uint32_t i = 0; i < 12; ++i) {  // a second or so for each heading
    Feature strip;
    strip.kind = FeatureKind::rough;
    strip.length = strip.width = 14;
    strip.height = 0.02;
    strip.seed = i + 1;
    scene.terrain.features.push_back(strip);
  }
  for (const double into : {0.0, 0.4}) {
    INFO("stopped after " << into << " s");
    Answering answering(scene, build(scene));
    CHECK_FALSE(answering.finished(into));
    answering.stop();
    CHECK(answering.finished(0.5));  // a single heading takes longer
    CHECK(answering.solved(0));
    CHECK(answering.headings_reached() < Answering::kHeadings);
    CHECK(answering.worst() == nullptr);
  }
}

TEST_CASE("nothing is worked out for somebody who has already gone") {
  const Scene scene = slope_scene();
  const Model model = build(scene);
  std::stop_source leaving, staying;
  leaving.request_stop();
  const std::stop_token gone = leaving.get_token(), wanted = staying.get_token();
  CHECK_FALSE(solve_statics(model, gone).first_lift_off);
  CHECK_FALSE(first_lift_off(model, gone).slope);
  CHECK_FALSE(loads_at(model, 0.1, gone));
  CHECK_FALSE(breakdown(model, gone));
  CHECK_FALSE(load_limits(scene, model, 0.6, gone).tyre_overload);
  for (const MassCase& c : mass_cases(scene, model, gone)) CHECK_FALSE(c.first_lift_off);
  // And asked for it changes nothing.
  CHECK(solve_statics(model, wanted).first_lift_off == solve_statics(model).first_lift_off);
  CHECK(solve_statics(model, wanted).tip_over == solve_statics(model).tip_over);
}

TEST_CASE("with its scene it also gives the limits, the causes and how far off it may be, as asked directly") {
  const Scene scene = slope_scene();
  const Model model = build(scene);
  Answering answering(scene, model);
  REQUIRE(answering.finished(120));
  CHECK(answering.done());
  CHECK(answering.pieces() >= 4);
  REQUIRE(answering.further());
  REQUIRE(answering.further()->breakdown);
  REQUIRE(answering.doubts());
  REQUIRE(answering.worst());
  CHECK(answering.further()->breakdown->whole == breakdown(model)->whole);
  CHECK(answering.further()->rules.size() == rules_on(scene, model).rules.size());
  const Uncertainty direct = uncertainty(scene, model, answering.statics());
  CHECK(answering.doubts()->first_lift_off->low == direct.first_lift_off->low);
  CHECK(answering.doubts()->first_lift_off->high == direct.first_lift_off->high);
}

TEST_CASE("stopped while it works out the doubts it comes back soon, without them") {
  const Scene scene = slope_scene();
  Answering answering(scene, build(scene));
  REQUIRE(answering.turned(120));
  answering.stop();
  CHECK(answering.finished(5));
  // Half an interval is never handed out: they are whole, had they just come, or not there.
  if (answering.doubts()) CHECK(answering.doubts()->first_lift_off->high > answering.doubts()->first_lift_off->low);
}
#endif  // SIDEHILL_SCREEN
