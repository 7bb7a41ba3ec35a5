// Two ways, one answer: the resting pose by Newton's rule, and the same machine stepped through time. Side forces
// depend on history (bristles stick), so the machine is put down on level ground and the ground is then tilted slowly
// under it.
#include <doctest/doctest.h>

#include "sim/run.h"
#include "sim/statics.h"
#include "tests/machines.h"
#include "tests/near.h"

using namespace sidehill;

namespace {

struct Tilted {
  std::array<double, kWheels> load{};  // when the slope passed `at`
  double lift_off = -1;                // slope of the first lift-off [deg]
};

Tilted tilt_slowly(const Scene& scene, double at) {
  const Model model = build(scene);
  Runner runner(scene, model);
  Tilted out;
  while (!runner.done()) {
    runner.advance(model.time_step);
    if (out.load[0] == 0 && runner.state().slope >= at) {
      for (std::size_t i = 0; i < kWheels; ++i) out.load[i] = runner.state().wheels[i].load;
    }
    for (const Event& event : runner.recording().events)
      if (event.kind == EventKind::lift_off && out.lift_off < 0) out.lift_off = event.slope * kDegrees;
    if (out.lift_off >= 0) break;
  }
  return out;
}

}  // namespace

TEST_CASE(
    "statics, settled dynamics and a slow tilt agree: loads within 0.2 % of weight, lift-off within 0.1 degrees") {
  struct Case {
    const char* machine;
    const char* heading;
    const char* fill;
  };
  for (const Case& c : {Case{"utility_75kw", "-90", "0.75"},
                        {"compact_26kw", "-90", "0"},
                        {"orchard_60kw", "90", "0.4"},
                        {"row_crop_150kw", "-110", "0.6"},
                        {"two_wheel_45kw", "-80", "0.75"}}) {
    INFO(c.machine << ", heading " << c.heading << ", fill " << c.fill);
    Scene scene = test_machine(
        c.machine, {std::string("start.heading_deg=") + c.heading, std::string("ballast.rear.fill_fraction=") + c.fill,
                    "programme.tilt_rate_deg_per_s=1", "programme.duration_s=60", "programme.drive_from_s=1"});
    const double at = 15 / kDegrees;
    const Tilted moving = tilt_slowly(scene, at);
    scene.terrain.slope = at;
    const Model model = build(scene);
    const StaticSolution still = solve_statics(model);
    REQUIRE(still.rest);
    REQUIRE(still.first_lift_off);
    const double weight = total_mass(model) * model.gravity;
    for (std::size_t i = 0; i < kWheels; ++i) CHECK_NEAR(moving.load[i] / weight, still.rest->load[i] / weight, 0.002);
    CHECK_NEAR(moving.lift_off, *still.first_lift_off * kDegrees, 0.1);
  }
}

TEST_CASE("the standing reference body settles to its static loads") {
  Scene scene = test_scene("validate/reference_p", {"programme.drop_height_m=0.02", "programme.duration_s=6"});
  const Recording recording = run(scene);
  const Model model = build(scene);
  const StaticSolution still = solve_statics(model);
  REQUIRE(still.rest);
  const double weight = total_mass(model) * model.gravity;
  for (std::size_t i = 0; i < kWheels; ++i)
    CHECK_NEAR(recording.states.back().wheels[i].load / weight, still.rest->load[i] / weight, 0.002);
}
