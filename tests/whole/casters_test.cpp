// A machine whose front axle stands on casters: held across a slope by its braked rear wheels alone. At rest and in
// motion, against closed forms and against one another.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "sim/base/constants.h"
#include "sim/job/rules.h"
#include "sim/motion/run.h"
#include "sim/rest/load_limits.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_checks.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

Scene mower(std::vector<std::string> changes = {}) {
  return load_scene(SIDEHILL_SOURCE_DIR "/tests/data/casters_on_a_slope.toml", changes);
}

std::string heading_of(double degrees) { return "start.heading_deg=" + std::to_string(degrees); }
std::string slope_of(double degrees) { return "terrain.slope_deg=" + std::to_string(degrees); }

// Body R of tests/kit/machines.h, across a slope on rigid tyres: the front carries `front` of the weight W, and nothing
// of the side force. About the lengthwise axis the rear wheels alone bear W sin(slope) at the height of the centre of
// gravity; about the upright one their couple bears it at its distance ahead.
struct AcrossOnCasters {
  double ahead = 0.9, wheelbase = 2.2, track = 1.6, height = 0.85;

  double lift_off() const { return std::atan(track * (1 - ahead / wheelbase) / (2 * height)); }

  // Whether the rear wheels hold it, by the adhesion mu along and `ratio` mu across.
  bool holds(double slope, double mu, double ratio) const {
    const double half = 0.5 * std::cos(slope) * (1 - ahead / wheelbase), shift = std::sin(slope) * height / track;
    const double couple = std::sin(slope) * ahead / track;
    double room = 0;
    for (const double load : {half - shift, half + shift}) {
      const double most = mu * load;
      if (most < couple) return false;
      room += std::sqrt(most * most - couple * couple);
    }
    return ratio * room >= std::sin(slope);
  }
};

}  // namespace

TEST_CASE("on level ground the casters carry what the lever rule gives them") {
  const std::vector<std::string> rigid = {"vehicle.front.tyre.rigid=true", "vehicle.rear.tyre.rigid=true"};
  for (const bool gives : {false, true}) {
    Scene scene = mower(gives ? std::vector<std::string>{} : rigid);
    scene.terrain.slope = 0;
    const Model model = build(scene);
    const StaticSolution still = solve_statics(model);
    REQUIRE(still.rest);
    const double weight = total_mass(model) * model.gravity;
    const double front = weight * centre_of_gravity(model).x / model.wheelbase;
    // Its tyres give more behind than in front, and the centre of gravity goes back by some millimetres.
    const double near = gives ? 0.003 : 1e-5;
    CHECK_NEAR(still.rest->load[kFrontLeft] / front, 0.5, near);
    CHECK_NEAR(still.rest->load[kFrontRight] / front, 0.5, near);
    CHECK_NEAR(still.rest->load[kRearLeft] / (weight - front), 0.5, near);
  }
}

TEST_CASE("body R on casters lifts and slides where the closed form says") {
  Scene scene = machine_r();
  scene.vehicle.front_drive = false;
  const double steered = *first_lift_off(build(scene)).slope;
  scene.vehicle.front_axle.casters = true;
  const AcrossOnCasters there;
  const LiftOff lift = first_lift_off(build(scene));
  REQUIRE(lift.slope);
  CHECK(lift.wheel == kRearLeft);
  CHECK_NEAR(*lift.slope / kDegree, there.lift_off() / kDegree, 0.01);
  CHECK(*lift.slope < steered - 5 * kDegree);
  scene.terrain.soil.adhesion_unlimited = false;
  for (const double mu : {0.4, 0.8}) {
    scene.terrain.soil.adhesion = mu;
    const double ratio = scene.terrain.soil.adhesion_across_ratio;
    double low = 0, high = there.lift_off();
    while (high - low > 1e-10) (there.holds(0.5 * (low + high), mu, ratio) ? low : high) = 0.5 * (low + high);
    const auto slides = slide_slope(build(scene));
    REQUIRE(slides);
    CHECK_NEAR(*slides / kDegree, low / kDegree, 0.01);
  }
}

TEST_CASE("a machine on casters, set down at rest or dropped, carries in motion what it carries at rest") {
  double furthest = 0;
  for (const double slope : {0.0, 6.0, 12.0})
    for (const double heading : {-90.0, -40.0, 0.0, 130.0}) {
      INFO("slope " << slope << ", heading " << heading);
      const Scene still = mower({slope_of(slope), heading_of(heading)});
      const Model model = build(still);
      const StaticSolution statics = solve_statics(model);
      REQUIRE(statics.status == RestStatus::stands);
      const double weight = total_mass(model) * model.gravity;
      for (const char* drop : {"0", "0.02"}) {
        Scene scene = still;
        scene.programme.drop_height = std::stod(drop);
        Runner runner(scene, build(scene));
        runner.advance(6);
        for (std::size_t w = 0; w < kWheels; ++w) {
          const double off = std::abs(runner.state().wheels[w].load - statics.rest->load[w]) / weight;
          furthest = std::max(furthest, off);
          CHECK(off < 0.01);
        }
        for (const int w : {kFrontLeft, kFrontRight})
          CHECK(runner.moment().force[static_cast<std::size_t>(w)].across == 0);
        // Dropped it comes down with its tyres bent otherwise, and slips a little.
        CHECK(glm::length(runner.state().X_GV.p - statics.rest->X_GV.p) <
              (scene.programme.drop_height > 0 ? 0.06 : 1e-3));
      }
    }
  MESSAGE("loads off by at most ", furthest, " of the weight");
}

TEST_CASE("a machine on casters tilted slowly lifts its first wheel at the slope that statics gives") {
  for (const double heading : {0.0, 15.0, -30.0}) {
    INFO("heading " << heading);
    Scene scene = mower({slope_of(0), heading_of(heading), "terrain.soil.adhesion=3", "programme.duration_s=70",
                         "programme.tilt_rate_deg_per_s=1", "programme.drive_from_s=1"});
    const LiftOff still = first_lift_off(build(scene));
    REQUIRE(still.slope);
    Runner runner(scene, build(scene));
    double moving = -1;
    while (!runner.done() && moving < 0) {
      runner.advance(0.1);
      for (const Event& event : runner.recording().events)
        if (event.kind == EventKind::lift_off && moving < 0) moving = event.slope;
    }
    CHECK_NEAR(moving / kDegree, *still.slope / kDegree, 0.3);
  }
}

namespace {

double turned(const Vec3& before, const Vec3& after) {  // to the left [deg]
  return std::atan2(before.x * after.y - before.y * after.x, before.x * after.x + before.y * after.y) / kDegree;
}

}  // namespace

TEST_CASE("a machine on casters holds its heading below the slope that slides, and swings downhill above it") {
  const auto slides = slide_slope(build(mower()));
  REQUIRE(slides);
  const auto turns = [&](double by) {
    Scene scene = mower();
    scene.terrain.slope = *slides + by * kDegree;
    Runner runner(scene, build(scene));
    const Vec3 before = runner.state().X_GV.R[0];
    runner.advance(6);
    return turned(before, runner.state().X_GV.R[0]);
  };
  CHECK(std::abs(turns(-2)) < 0.05);
  CHECK(turns(1) < -15);  // across with downhill to the right: to the right
}

TEST_CASE("a machine on casters tilted slowly swings away at the slope that statics gives for the slide") {
  const auto slides = slide_slope(build(mower()));
  REQUIRE(slides);
  const Scene scene = mower({"programme.tilt_rate_deg_per_s=0.25", "programme.duration_s=60"});
  Runner runner(scene, build(scene));
  const Vec3 before = runner.state().X_GV.R[0];
  while (!runner.done() && turned(before, runner.state().X_GV.R[0]) > -10) runner.advance(0.1);
  // It creeps before: while the uphill rear tyre slips, its neighbour still holds.
  CHECK_NEAR(runner.state().slope / kDegree, *slides / kDegree, 0.5);
}

TEST_CASE("what needs front wheels that lead is refused of casters") {
  Scene scene = mower();
  CHECK_FALSE(find_conflict(scene));
  scene.vehicle.front_drive = true;
  REQUIRE(find_conflict(scene));
  CHECK(find_conflict(scene)->key == "vehicle.front_drive");
  scene = mower();
  scene.vehicle.front_axle.kind = AxleKind::articulated;
  CHECK(find_conflict(scene)->key == "vehicle.front_axle.casters");
  CHECK_THROWS_WITH(mower({"programme.action=[{at_s=1, what=\"curve\", radius_m=8}]"}),
                    doctest::Contains("casters cannot be steered"));
}

TEST_CASE("nothing is asked of the steering axle of a machine that has none") {
  Scene scene = mower({"ballast.trailer.mass_kg=500", "ballast.trailer.drawbar_load_kg=50"});
  const auto asks = [&] {
    return std::ranges::count_if(rules_on(scene, build(scene)).rules, [](const RuleAnswer& rule) {
      return rule.id == RuleId::steering_axle || rule.id == RuleId::coupling_height;
    });
  };
  CHECK(asks() == 0);
  CHECK_FALSE(load_limits(scene, build(scene), {}).steering_gone);
  scene.vehicle.front_axle.casters = false;
  CHECK(asks() == 2);
}

TEST_CASE(
    "on a bump a machine on casters rests as its run settles, and its lift-off is not that of one that has swung") {
  for (const double heading : {-90.0, -60.0, 100.0}) {
    INFO("heading " << heading);
    const Scene scene =
        mower({slope_of(6), heading_of(heading), "terrain.feature=[{kind=\"bump\", x_m=0.3, y_m=-0.75, height_m=0.1}]",
               "programme.duration_s=4"});
    const Model model = build(scene);
    const StaticSolution still = solve_statics(model);
    REQUIRE(still.status == RestStatus::stands);
    Runner runner(scene, model);
    runner.advance(4);
    const double weight = total_mass(model) * model.gravity;
    for (std::size_t w = 0; w < kWheels; ++w)
      CHECK_NEAR(runner.state().wheels[w].load / weight, still.rest->load[w] / weight, 0.01);
    // Turned to face downhill it would lift at 63 degrees.
    REQUIRE(still.first_lift_off);
    CHECK(*still.first_lift_off < 55 * kDegree);
  }
}
