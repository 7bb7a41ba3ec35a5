#include "sim/rest/load_check.h"

#include <cmath>

#include "sim/base/constants.h"
#include "sim/rest/mass_sums.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "vehicles/tyre_library.h"

using namespace sidehill;

namespace {

constexpr std::array<double, kWheels> kLoads{8000, 9000, 15000, 16000};  // [N]
// The same scene with all tyres at this pressure.
LoadCheck check_at(const Scene& scene, double pressure) {
  Model model = build(scene);
  for (WheelModel& wheel : model.wheels) wheel.tyre.pressure = pressure;
  return check_loads(scene, model, kLoads);
}

}  // namespace

TEST_CASE("a sidewall's index counts in full at its pressure and speed, not at all above the speed") {
  Scene scene =
      test_machine("utility_75kw", {"vehicle.rear.tyre.service=145A8", "vehicle.rear.tyre.reference_pressure_kpa=160"});
  scene.programme.speed = 20 / 3.6;  // faster than any multiple at a crawl holds
  LoadCheck check = check_at(scene, 1.6e5);
  const TyreCheck& tyre = check.tyres[kRearLeft];
  CHECK(tyre.rating == Rating::stated);
  CHECK_NEAR(tyre.margin.capacity, load_index_mass(145), 1e-9);
  CHECK_NEAR(tyre.margin.load, 15000 / scene.settings.gravity, 1e-9);
  CHECK_NEAR(tyre.margin.margin, tyre.margin.capacity - tyre.margin.load, 1e-9);
  // P = Pmax (L / Lmax)^1.25: agronomy press rule of thumb, the other way round.
  check = check_at(scene, 1.2e5);
  CHECK_NEAR(check.tyres[kRearLeft].margin.capacity, load_index_mass(145) * std::pow(0.75, 0.8), 1e-9);
  scene.programme.speed = 50 / 3.6;  // A8 ends at 40 km/h
  CHECK(check_at(scene, 1.6e5).tyres[kRearLeft].margin.capacity == 0);
}

TEST_CASE("without a sidewall the size's typical index is taken and said to be so; an unknown size stays open") {
  Scene scene = test_machine("utility_75kw", {"vehicle.front.tyre.service=", "vehicle.rear.tyre.service="});
  LoadCheck check = check_at(scene, 1.6e5);
  CHECK(check.tyres[kRearLeft].rating == Rating::typical);
  CHECK_NEAR(check.tyres[kRearLeft].at_index, load_index_mass(parse_service(find_tyre("18.4R34")->service).load_index),
             1e-9);
  CHECK(check.tyres[kRearLeft].radial);
  CHECK(check.tyres[kRearLeft].reference_pressure == find_tyre("18.4R34")->reference_pressure);
  scene.vehicle.rear.tyre.size = "18.4-34";
  CHECK_FALSE(check_at(scene, 1.6e5).tyres[kRearLeft].radial);
  scene.vehicle.rear.tyre.reference_pressure = 1.8e5;
  CHECK(check_at(scene, 1.6e5).tyres[kRearLeft].reference_pressure == 1.8e5);
  scene.vehicle.rear.tyre.reference_pressure = 0;
  scene.vehicle.rear.tyre.size = "18.4R34 150A8";
  CHECK(check_at(scene, 1.6e5).tyres[kRearLeft].rating == Rating::stated);
  scene.vehicle.rear.tyre.size = "wooden wheel";
  check = check_at(scene, 1.6e5);
  CHECK_FALSE(check.tyres[kRearLeft].service);
  CHECK(check.tyres[kRearLeft].rating == Rating::not_known);
  CHECK(check.tyres[kRearLeft].reference_pressure == 0);
  CHECK_FALSE(check.tyres[kRearLeft].radial);
  CHECK(check.tyres[kFrontLeft].service);
}

TEST_CASE("an axle is held against the maker's figure") {
  Scene scene = test_machine("utility_75kw", {"vehicle.rear.capacity_kg=3000", "vehicle.front.capacity_kg=0"});
  const LoadCheck check = check_at(scene, 1.2e5);
  CHECK_NEAR(check.axles[1].margin, 3000 - 31000 / scene.settings.gravity, 1e-9);
  CHECK(check.axles[1].margin < 0);
  CHECK(check.axles[0].capacity == 0);
}

TEST_CASE("a dual pair may carry 2 x 0.88 of a single rating") {
  // Source: tyre makers' data books, 0.88 each of two side by side.
  const std::vector<std::string> plain{"programme.speed_kmh=20"};
  std::vector<std::string> paired = plain;
  paired.push_back("vehicle.rear.dual_spacing_m=0.6");
  const Scene single = test_machine("row_crop_150kw", plain), pair = test_machine("row_crop_150kw", paired);
  const TyreCheck one = check_at(single, 1.1e5).tyres[kRearLeft], two = check_at(pair, 1.1e5).tyres[kRearLeft];
  CHECK(one.tyres == 1);
  CHECK(two.tyres == 2);
  CHECK_NEAR(two.single, one.margin.capacity, 1e-9);
  CHECK_NEAR(two.margin.capacity, 1.76 * one.margin.capacity, 1e-9);
  CHECK_FALSE(two.by_one);
  CHECK(check_at(pair, 1.1e5).tyres[kFrontLeft].tyres == 1);
}

TEST_CASE("with one tyre of the pair in the air the other carries no more than its own rating") {
  const Scene scene = test_machine("row_crop_150kw", {"programme.speed_kmh=20", "vehicle.rear.dual_spacing_m=0.6"});
  const Model model = build(scene);
  const auto rest = rest_at(model, 0);
  REQUIRE(rest);
  const auto level = fuller_shares(model, *rest);
  CHECK_NEAR(level[kRearLeft], 0.5, 0.01);  // both pressed in alike
  CHECK(level[kFrontLeft] == 1);
  // Leaning to its left by ten degrees and lifted, only the outer tyres on the left touch the ground.
  Rest leaning = *rest;
  leaning.X_GV.p.z += 0.26;
  leaning.X_GV.R = leaning.X_GV.R * about_x(-10 * kDegree);
  const auto shares = fuller_shares(model, leaning);
  CHECK_NEAR(shares[kRearLeft], 1, 1e-9);
  const TyreCheck alone = check_loads(scene, model, kLoads, {}, shares).tyres[kRearLeft];
  CHECK(alone.by_one);
  CHECK_NEAR(alone.margin.capacity, alone.single, 1e-9);
  // Between the two: 0.6 of the load on one tyre fills that one first.
  const TyreCheck uneven = check_loads(scene, model, kLoads, {}, {0.5, 0.5, 0.6, 0.5}).tyres[kRearLeft];
  CHECK(uneven.by_one);
  CHECK_NEAR(uneven.margin.capacity, uneven.single / 0.6, 1e-9);
}

TEST_CASE("at a crawl the law's multiples count, on no more than 20 % of slope, and say which") {
  // Source: Regulation (EU) 2015/208 Annex XXX 2.2.6, as in tests/data/tyre_low_speed_load.csv.
  const auto factor = [](std::vector<std::string> changes, int wheel = kRearLeft) {
    const Scene scene = test_machine("utility_75kw", std::move(changes));
    const TyreCheck tyre = check_loads(scene, build(scene), kLoads).tyres[static_cast<std::size_t>(wheel)];
    CHECK((tyre.multiple.factor > 1) == !tyre.multiple.use.empty());
    CHECK_NEAR(tyre.single / tyre.multiple.factor,
               load_index_mass(tyre.service->load_index) * std::min(1.0, std::pow((wheel < 2 ? 1.0 : 0.75), 0.8)),
               1e-6);
    return tyre.multiple.factor;
  };
  CHECK(factor({}) == 1.7);
  CHECK(factor({}, kFrontLeft) == 1.7);
  CHECK(factor({"terrain.slope_deg=11.3"}) == 1.7);
  CHECK(factor({"terrain.slope_deg=11.4"}) == 1);
  CHECK(factor({"programme.speed_kmh=12"}) == 1);
  CHECK(factor({"ballast.trailer.mass_kg=3000"}) == 1.07);  // it pulls
  CHECK(factor({"ballast.trailer.mass_kg=3000", "programme.speed_kmh=9"}) == 1);
  // A ribbed front tyre on a machine with a loader, and on one without.
  const auto ribbed = [](bool loader) {
    Scene scene = test_machine("two_wheel_45kw");
    scene.vehicle.loader.fitted = loader;
    return check_loads(scene, build(scene), kLoads).tyres[kFrontLeft].multiple;
  };
  CHECK(ribbed(true).factor == 2);
  CHECK(ribbed(false).factor == 1.2);  // cross ply, by a maker's manual
  CHECK(ribbed(false).short_source == "a maker's manual");
}

TEST_CASE("another size of tyre does not inherit the mark of the machine's file") {
  const auto rear = [](const std::vector<std::string>& changes) {
    return test_machine("utility_75kw", changes).vehicle.rear.tyre;
  };
  CHECK(rear({}).service == "147A8");
  CHECK(rear({"vehicle.rear.tyre.size=16.9R34"}).service.empty());
  CHECK(rear({"vehicle.rear.tyre.size=18.4R34"}).service == "147A8");  // the same one
  CHECK(rear({"vehicle.rear.tyre.size=16.9R34", "vehicle.rear.tyre.service=139A8"}).service == "139A8");
  CHECK(rear({"vehicle.rear.tyre.service=139A8", "vehicle.rear.tyre.size=16.9R34"}).service == "139A8");
}

TEST_CASE("loads on the level add up to the axles of the lever rule") {
  const Scene scene =
      test_machine("utility_75kw", {"ballast.trailer.mass_kg=3000", "ballast.trailer.drawbar_load_kg=500"});
  const Model model = build(scene);
  const auto load = level_loads(model);
  const AxleShare axles = axle_share(model), bar = drawbar_share(model);
  CHECK_NEAR(load[0] + load[1], axles.front * model.gravity, 1e-6);
  CHECK_NEAR(load[2] + load[3], axles.rear * model.gravity, 1e-6);
  // Lever rule: 500 kg behind the rear axle lift the front.
  CHECK_NEAR(bar.front, 500 * model.hitch.x / model.wheelbase, 1e-9);
  CHECK_NEAR(bar.front + bar.rear, 500, 1e-9);
  CHECK_NEAR(axles.front + axles.rear, total_mass(model) + 500, 1e-6);
}
