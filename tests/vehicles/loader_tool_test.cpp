#include "vehicles/loader_tool.h"

#include <numbers>

#include "tests/kit/near.h"

using namespace sidehill;

namespace {

BallastPlan round_bale(LoaderTool tool) {
  BallastPlan plan;
  plan.loader_tool = tool;
  plan.bale = {.diameter = 1.3, .length = 1.2, .density = 160};
  return plan;
}

}  // namespace

TEST_CASE("the bucket and its load lie where they always lay") {
  Loader loader;
  BallastPlan plan;
  plan.loader_payload = 500;
  const MassProperties bucket = tool_props(loader, plan), load = load_props(loader, plan);
  CHECK(bucket.mass == loader.bucket_mass);
  CHECK(bucket.com == Vec3(0.3, 0, 0.05));
  CHECK(load.mass == 500);
  CHECK(load.com == Vec3(0.4, 0, 0.15));
  CHECK(load.inertia == solid_box(500, {}, {0.6, 0.9 * loader.bucket_width, 0.4}).inertia);
  CHECK(load_words(plan) == "load in the bucket");
  CHECK(lowest_pin_height(loader, plan) == loader.min_pin_height);
}

TEST_CASE("a bale weighs its volume times its density, and its centre is half of it ahead of the tool's back") {
  BallastPlan plan = round_bale(LoaderTool::bale_spike);
  // A cylinder: pi / 4 x 1.3^2 x 1.2 m x 160 kg/m3.
  const double mass = std::numbers::pi / 4 * 1.69 * 1.2 * 160;
  CHECK_NEAR(loader_load(plan), mass, 1e-9);
  // Pierced through its flat end on the spike, half its length; across on the forks, half its diameter.
  CHECK_NEAR(load_from_pin(plan).x, tool_measures(plan.loader_tool).back + 0.6, 1e-12);
  CHECK_NEAR(load_from_pin(plan).z, tool_measures(plan.loader_tool).line, 1e-12);
  plan = round_bale(LoaderTool::pallet_forks);
  CHECK_NEAR(load_from_pin(plan).x, tool_measures(plan.loader_tool).back + 0.65, 1e-12);
  CHECK_NEAR(load_from_pin(plan).z, tool_measures(plan.loader_tool).line + 0.65, 1e-12);
  plan.loader_load_ahead = 1.1;
  CHECK_NEAR(load_from_pin(plan).x, 1.1, 1e-12);
  CHECK_NEAR((bale_box(plan).low.x + bale_box(plan).high.x) / 2, 1.1, 1e-12);
  plan.loader_load_ahead = 0;
  plan.bale = {.diameter = 0, .length = 2.4, .width = 1.2, .height = 0.9, .density = 180, .count = 2};
  CHECK_NEAR(loader_load(plan), 2 * 2.4 * 1.2 * 0.9 * 180, 1e-9);
  CHECK_NEAR(load_from_pin(plan).x, tool_measures(plan.loader_tool).back + 0.6, 1e-12);
  CHECK_NEAR(load_from_pin(plan).z, tool_measures(plan.loader_tool).line + 0.9, 1e-12);  // one on top of the other
  CHECK(load_words(plan) == "2 bales on the forks");
}

TEST_CASE("bales turn as cylinders and blocks do") {
  const Loader loader;
  // Solid cylinder: m r^2 / 2 about its axis, m (3 r^2 + l^2) / 12 across it (any mechanics text).
  BallastPlan plan = round_bale(LoaderTool::bale_spike);
  const double m = loader_load(plan), r = 0.65, l = 1.2;
  MassProperties load = load_props(loader, plan);
  CHECK_NEAR(load.inertia[0][0], m * r * r / 2, 1e-9);
  CHECK_NEAR(load.inertia[1][1], m * (3 * r * r + l * l) / 12, 1e-9);
  load = load_props(loader, round_bale(LoaderTool::grapple));
  CHECK_NEAR(load.inertia[1][1], m * r * r / 2, 1e-9);
  CHECK_NEAR(load.inertia[2][2], m * (3 * r * r + l * l) / 12, 1e-9);
  // Two blocks on top of each other are one block of twice the height.
  plan.bale = {.diameter = 0, .length = 2.4, .width = 1.2, .height = 0.7, .density = 180, .count = 2};
  const MassProperties two = load_props(loader, plan);
  const MassProperties one = solid_box(loader_load(plan), load_from_pin(plan), {1.2, 2.4, 1.4});
  CHECK_NEAR(two.mass, one.mass, 1e-9);
  for (int k = 0; k < 3; ++k) {
    CHECK_NEAR(two.com[k], one.com[k], 1e-12);
    CHECK_NEAR(two.inertia[k][k], one.inertia[k][k], 1e-6);
  }
}

TEST_CASE("a bale hangs free of the ground, and another load of it lies in the same place") {
  const Loader loader;
  for (const LoaderToolWords& tool : kLoaderTools) {
    CAPTURE(std::string(tool.key));
    const BallastPlan plan = round_bale(tool.value);
    CHECK(lowest_pin_height(loader, plan) + bale_box(plan).low.z >= 0);
    CHECK(lowest_pin_height(loader, plan) >= loader.min_pin_height);
    const BallastPlan heavy = with_load(plan, 900);
    CHECK_NEAR(load_props(loader, heavy).mass, 900, 1e-9);
    CHECK(load_from_pin(heavy) == load_from_pin(plan));
    CHECK(load_props(loader, with_load(plan, 0)).mass == 0);
    CHECK(tool_mass(loader, plan) > 0);
    BallastPlan weighed = plan;
    weighed.loader_tool_mass = 123;
    CHECK(tool_props(loader, weighed).mass == 123);
  }
}
