#include "sim/insight/loader_grid.h"

#include "render/text/rest/loader_report.h"
#include "sim/rest/mass_sums.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

TEST_CASE("each cell is the machine built that way; higher is never better across the slope, heavier loads the front") {
  const Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75"});
  constexpr int kSteps = 4;
  const auto cells = loader_grid(scene, kSteps, 12);
  REQUIRE(cells.size() == kSteps * kSteps);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const LoaderCell& cell = cells[i];
    Scene one = scene;
    one.ballast.loader_pin_height = cell.pin_height;
    one.ballast.loader_payload = cell.payload;
    const Model model = build(one);
    REQUIRE(cell.first_lift_off);
    REQUIRE(cell.worst_lift_off);
    CHECK_NEAR(*cell.first_lift_off, *first_lift_off(model).slope, 1e-12);
    CHECK_NEAR(cell.rear_axle, axle_share(model).rear, 1e-9);
    CHECK(*cell.worst_lift_off <= *cell.first_lift_off + 1e-6);
    CHECK(cell.front_used > 0);
    if (i >= kSteps) CHECK(*cell.first_lift_off < *cells[i - kSteps].first_lift_off);
    if (i % kSteps > 0) CHECK(cell.front_used > cells[i - 1].front_used);
    if (i % kSteps > 0) CHECK(cell.rear_axle < cells[i - 1].rear_axle);
  }
  CHECK(loader_grid(test_machine("row_crop_150kw", {"vehicle.loader.fitted=false"}), 4).empty());
}

TEST_CASE("a load that puts the front axle over the maker's figure is not allowed, and says how far over") {
  const Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75"});
  const auto cells = loader_grid(scene, 4, 4);
  REQUIRE(cells.size() == 16);
  bool over = false, within = false;
  for (const LoaderCell& cell : cells) {
    Scene one = scene;
    one.ballast.loader_pin_height = cell.pin_height;
    one.ballast.loader_payload = cell.payload;
    const auto load = loads_at(build(one), 0);
    REQUIRE(load);
    const double front = ((*load)[kFrontLeft] + (*load)[kFrontRight]) / one.settings.gravity;
    CHECK_NEAR(cell.front_axle_used, front / scene.vehicle.front.capacity, 1e-9);
    (cell.front_axle_used > 1 ? over : within) = true;
    const auto said = loader_json(one, {cell})["cells"][0];
    if (cell.front_axle_used > 1) CHECK(said["allowed"] == false);
  }
  CHECK(over);
  CHECK(within);
}
