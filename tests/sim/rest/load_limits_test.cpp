#include "sim/rest/load_limits.h"

#include <cmath>

#include "sim/rest/load_check.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("facing uphill machine R's steering goes where the lever rule says") {
  Scene scene = machine_r();
  scene.start.heading = 0;
  const Model model = build(scene);
  const LoadLimits limits = load_limits(scene, model, first_lift_off(model).slope);
  REQUIRE(limits.steering_gone);
  // Front axle load m g (0.9 cos a - 0.85 sin a) / 2.2 = 0.2 m g.
  const double a = *limits.steering_gone;
  CHECK_NEAR((0.9 * std::cos(a) - 0.85 * std::sin(a)) / 2.2, 0.2, 1e-5);
  CHECK_FALSE(limits.tyre_overload);  // thin discs have no load index
}

TEST_CASE("the slope at which a tyre is overloaded is where its load meets its capacity") {
  const Scene scene = test_machine(
      "utility_75kw", {"ballast.rear.fill_fraction=0.75", "ballast.loader_payload_kg=0", "programme.speed_kmh=20"});
  const Model model = build(scene);
  const LoadLimits limits = load_limits(scene, model, first_lift_off(model).slope);
  REQUIRE(limits.tyre_overload);
  REQUIRE(limits.overloaded_wheel >= 0);
  const auto wheel = static_cast<std::size_t>(limits.overloaded_wheel);
  CHECK_FALSE(is_left(limits.overloaded_wheel));  // downhill is to the right
  const auto margin = [&](double slope) {
    return check_loads(scene, model, *loads_at(model, slope)).tyres[wheel].margin.margin;
  };
  CHECK_NEAR(margin(*limits.tyre_overload), 0, 0.1);
  CHECK(margin(*limits.tyre_overload - 0.01) > 0);
  CHECK_FALSE(limits.steering_gone);  // across the slope the front axle keeps its share
}

TEST_CASE("a tyre that only a multiple at a crawl lets carry its load is over from 20 % of slope on") {
  const Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75", "ballast.loader_payload_kg=900",
                                                    "terrain.soil.adhesion_unlimited=true"});
  const Model model = build(scene);
  const LoadLimits limits = load_limits(scene, model, first_lift_off(model).slope);
  REQUIRE(limits.tyre_overload);
  CHECK_NEAR(std::tan(*limits.tyre_overload), 0.2, 5e-4);
  CHECK(limits.overload_stated);
}

TEST_CASE("what is beyond its limit on level ground says so") {
  const Scene scene = test_machine("utility_75kw", {"ballast.rear_weights_kg=4000"});
  const Model model = build(scene);
  const LoadLimits limits = load_limits(scene, model, first_lift_off(model).slope);
  REQUIRE(limits.steering_gone);
  CHECK(*limits.steering_gone == 0);
  REQUIRE(limits.tyre_overload);
  CHECK(*limits.tyre_overload == 0);
}
