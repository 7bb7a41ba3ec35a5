#include "sim/rest/mass_sums.h"

#include <numeric>

#include "sim/base/constants.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("the axles carry everything between them, as the balance on level ground says too") {
  for (const char* machine : kMachines) {
    INFO(std::string(machine));
    const Scene scene = test_machine(machine, {"ballast.rear.fill_fraction=0.6"});
    const Model model = build(scene);
    const AxleShare all = axle_share(model);
    CHECK_NEAR(all.front + all.rear, total_mass(model), 1e-9 * total_mass(model));
    const auto rest = rest_at(rigid_variant(model), 0);
    REQUIRE(rest);
    CHECK_NEAR((rest->load[0] + rest->load[1]) / model.gravity, all.front, 1e-4 * total_mass(model));
  }
}

TEST_CASE("what turns or hangs in the wheels is what the ledger enters there") {
  const Model model =
      build(test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.5", "ballast.rear_wheel_weights_kg=120",
                                          "ballast.front.fill_fraction=0.2"}));
  const auto mass = mass_in_wheels(model);
  std::array<double, kWheels> entered{};
  constexpr LedgerBody kBodies[] = {LedgerBody::front_left, LedgerBody::front_right, LedgerBody::rear_left,
                                    LedgerBody::rear_right};
  for (const LedgerLine& line : model.ledger)
    for (std::size_t i = 0; i < kWheels; ++i)
      if (line.body == kBodies[i]) entered[i] += line.props.mass;
  for (std::size_t i = 0; i < kWheels; ++i) CHECK_NEAR(mass[i], entered[i], 1e-9);
  CHECK(mass[kRearLeft] > mass[kFrontLeft] + 200);
}

TEST_CASE("driver and tank come and go, and each case is the machine built that way") {
  const Scene scene = test_machine("utility_75kw", {"ballast.tank_fraction=0.5", "ballast.rear.fill_fraction=0.75"});
  const auto cases = mass_cases(scene, build(scene));
  REQUIRE(cases.size() == 4);
  for (const MassCase& c : cases) {
    Scene so = scene;
    so.vehicle.driver.on_seat = c.driver_on;
    so.ballast.tank_fraction = c.tank_full ? 1 : 0;
    const Model built = build(so);
    CHECK_NEAR(c.mass, total_mass(built), 1e-9);
    CHECK_NEAR(glm::length(c.centre_of_gravity - centre_of_gravity(built)), 0, 1e-9);
    REQUIRE(c.first_lift_off);
    // The stiffening is worked out once, at the scene's own load.
    CHECK_NEAR(*c.first_lift_off / kDegree, *first_lift_off(built).slope / kDegree, 0.02);
  }
  CHECK_NEAR(cases[0].mass - cases[1].mass, 0.150 * 835, 1e-6);
  CHECK_NEAR(cases[0].mass - cases[2].mass, scene.vehicle.driver.mass, 1e-6);
  Scene without = scene;
  without.vehicle.tank.capacity = 0;
  CHECK(mass_cases(without, build(without)).size() == 2);
}

TEST_CASE("a filling weighs the same liquid or frozen through") {
  const auto fill = [](const char* temperature) {
    return fill_mass(build(test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75", temperature})), false);
  };
  CHECK(fill("settings.temperature_c=10") > 600);
  CHECK_NEAR(fill("settings.temperature_c=-30"), fill("settings.temperature_c=10"), 1e-9);
  CHECK(fill_mass(build(test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75"})), true) == 0);
}
