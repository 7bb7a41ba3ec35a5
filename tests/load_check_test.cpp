#include "sim/load_check.h"

#include <cmath>

#include "sim/statics.h"
#include "tests/machines.h"
#include "tests/near.h"
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
  LoadCheck check = check_at(scene, 1.6e5);
  const TyreCheck& tyre = check.tyres[kRearLeft];
  CHECK_FALSE(tyre.typical);
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
  Scene scene = test_machine("utility_75kw");
  LoadCheck check = check_at(scene, 1.6e5);
  CHECK(check.tyres[kRearLeft].typical);
  CHECK_NEAR(check.tyres[kRearLeft].at_index, load_index_mass(parse_service(find_tyre("18.4R34")->service).load_index),
             1e-9);
  scene.vehicle.rear.tyre.size = "18.4R34 150A8";
  CHECK_FALSE(check_at(scene, 1.6e5).tyres[kRearLeft].typical);
  scene.vehicle.rear.tyre.size = "wooden wheel";
  check = check_at(scene, 1.6e5);
  CHECK_FALSE(check.tyres[kRearLeft].service);
  CHECK(check.tyres[kFrontLeft].service);
}

TEST_CASE("an axle is held against the maker's figure") {
  Scene scene = test_machine("utility_75kw", {"vehicle.rear.capacity_kg=3000", "vehicle.front.capacity_kg=0"});
  const LoadCheck check = check_at(scene, 1.2e5);
  CHECK_NEAR(check.axles[1].margin, 3000 - 31000 / scene.settings.gravity, 1e-9);
  CHECK(check.axles[1].margin < 0);
  CHECK(check.axles[0].capacity == 0);
}
