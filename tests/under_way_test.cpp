#ifdef SIDEHILL_SCREEN
#include "sim/under_way.h"

#include <doctest/doctest.h>

#include <cmath>

#include "render/screen/rest_state.h"
#include "sim/scene_file.h"
#include "sim/statics.h"
#include "tests/near.h"

using namespace sidehill;

namespace {

constexpr double kDeg = 0.017453292519943295;

Scene even(const char* name) {
  Scene scene = load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/" + name + ".toml");
  scene.terrain.features.clear();
  return scene;
}

}  // namespace

TEST_CASE("at rest nothing is left at the slope of first lift-off, however the machine stands") {
  for (const char* name : {"first_slope", "bucket_up", "orchard_row"}) {
    for (double heading : {-90.0, -60.0, 90.0, 120.0}) {
      Scene scene = even(name);
      scene.start.heading = heading * kDeg;
      const LiftOff lift = first_lift_off(build(scene));
      if (!lift.slope || *lift.slope > 59 * kDeg) continue;
      INFO(name, " at ", heading, " deg, lift-off ", *lift.slope / kDeg, " deg");
      scene.terrain.slope = *lift.slope - 1e-6;  // just before, so that it surely rests
      const Model model = build(scene);
      const StaticSolution statics = solve_statics(model);
      REQUIRE(statics.rest);
      const std::optional<double> left = angle_left(model, rest_state(model, *statics.rest));
      REQUIRE(left);
      // Off the contour the pin passes on the lengthwise pull of the axle's own weight, which the measure leaves out.
      CHECK_NEAR(*left / kDeg, 0, std::abs(heading) == 90 ? 0.02 : 0.12);
    }
  }
}

TEST_CASE("less is left the steeper it is") {
  double before = 90;
  for (double slope : {0.0, 10.0, 20.0, 30.0}) {
    Scene scene = even("first_slope");
    scene.terrain.slope = slope * kDeg;
    const Model model = build(scene);
    const StaticSolution statics = solve_statics(model);
    REQUIRE(statics.rest);
    const double left = *angle_left(model, rest_state(model, *statics.rest)) / kDeg;
    CHECK(left < before);
    before = left;
  }
}

TEST_CASE("in the air nothing can be said") {
  const Model model = build(even("first_slope"));
  CHECK_FALSE(angle_left(model, placed_state(model)));
}
#endif  // SIDEHILL_SCREEN
