#include "sim/insight/loader_grid.h"

#include <cmath>

#include "render/text/rest/loader_report.h"
#include "sim/rest/mass_sums.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "vehicles/loader_tool.h"

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

namespace {

// Lever rule of our own, line by line: on each axle, from masses and their places alone.
struct OwnSum {
  double front = 0, rear = 0;
};
OwnSum own_sum(const Model& model) {
  OwnSum sum;
  for (const LedgerLine& line : model.ledger) {
    sum.front += line.props.mass * line.props.com.x / model.wheelbase;
    sum.rear += line.props.mass * (1 - line.props.com.x / model.wheelbase);
  }
  return sum;
}

}  // namespace

TEST_CASE("the counterweight of each cell, bolted on, leaves the rear axle just its fifth; the front axle by levers") {
  const std::vector<std::vector<std::string>> kLoads = {
      {},
      {"ballast.loader_tool=pallet_forks"},
      {"ballast.rear_weights_kg=150"},
      {"ballast.loader_tool=bale_spike", "ballast.bale.diameter_m=1.2", "ballast.loader_pin_height_m=0.9"}};
  int asked = 0;
  for (const char* machine : {"compact_26kw", "utility_75kw"})
    for (const auto& more : kLoads) {
      Scene scene = test_machine(machine, more);
      scene.vehicle.loader.rated_payload *= 3;  // so that some of the loads ask for a counterweight
      for (const LoaderCell& cell : loader_grid(scene, 3, 4)) {
        Scene one = scene;
        one.ballast.loader_pin_height = cell.pin_height;
        one.ballast = with_load(one.ballast, cell.payload);
        REQUIRE(cell.counterweight);
        one.ballast.rear_weights = *cell.counterweight;
        const OwnSum then = own_sum(build(one));
        CHECK_NEAR(then.front, cell.counterweight_front, 1);
        if (*cell.counterweight > 0) {
          CHECK_NEAR(then.rear, 0.2 * (then.rear + then.front), 1e-6);
          ++asked;
        } else {
          CHECK(then.rear >= 0.2 * (then.rear + then.front));
        }
        // The load's rise on the front axle: load x (wheelbase + ahead) / wheelbase.
        Scene without = one;
        without.ballast = with_load(without.ballast, 0);
        const double pin =
            scene.vehicle.loader.pivot_x + std::sqrt(std::pow(scene.vehicle.loader.boom_length, 2) -
                                                     std::pow(cell.pin_height - scene.vehicle.loader.pivot_z, 2));
        const double rise = cell.payload * (pin + load_from_pin(scene.ballast).x) / scene.vehicle.wheelbase;
        CHECK_NEAR(cell.counterweight_front - own_sum(build(without)).front, rise, 1);
      }
    }
  CHECK(asked > 3);
}

TEST_CASE("the farther a tool holds the same load ahead, the sooner it asks for a counterweight") {
  double last = -1;
  for (const char* ahead : {"0.4", "0.8", "1.2"}) {
    const Scene scene = test_machine(
        "compact_26kw", {std::string("ballast.loader_load_ahead_m=") + ahead, "vehicle.loader.rated_payload_kg=1500"});
    const LoaderCell heaviest = loader_grid(scene, 3, 4)[2];
    REQUIRE(heaviest.counterweight);
    CHECK(*heaviest.counterweight > last);
    last = *heaviest.counterweight;
  }
}

TEST_CASE("a counterweight that the mount does not take is said first, and the table names the tool") {
  const auto table = [](const std::vector<std::string>& more) {
    const Scene scene = test_machine("compact_26kw", more);
    return loader_table(scene, loader_grid(scene, 3, 4));
  };
  const std::vector<std::string> spike = {"ballast.loader_tool=bale_spike", "ballast.bale.diameter_m=1.2",
                                          "ballast.loader_pin_height_m=0.9", "vehicle.rear_mount.max_mass_kg=20",
                                          "vehicle.loader.rated_payload_kg=1500"};
  const std::string weak = table(spike);
  const auto at = weak.find("No counterweight within the rear mount's 20 kg");
  REQUIRE(at != weak.npos);
  CHECK(at < weak.find("First wheel lifts"));
  CHECK(weak.find("bale on the spike with its centre 0.75 m ahead") != weak.npos);
  CHECK(weak.find("bucket's load") == weak.npos);
  const std::string light = table({"vehicle.rear_mount.max_mass_kg=5000"});
  CHECK(light.find("No counterweight") == light.npos);
  CHECK(light.find("None of these loads needs a counterweight") != light.npos);
  // No mount at all.
  const std::string none = table(
      {"vehicle.rear_mount.max_mass_kg=0", "ballast.loader_tool=pallet_forks", "vehicle.loader.rated_payload_kg=1500"});
  CHECK(none.find("no rear mount for a counterweight") != none.npos);
}
