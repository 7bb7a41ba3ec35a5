#include "sim/uncertainty.h"

#include "sim/statics.h"
#include "tests/machines.h"
#include "tests/near.h"

using namespace sidehill;

TEST_CASE("what is not known of the stiffening moves the lift-off, and only with something in the tyres") {
  const auto doubt = [](std::vector<std::string> more) {
    more.push_back("terrain.soil.adhesion_unlimited=true");
    return stiffening_doubt(build(test_machine("utility_75kw", more)));
  };
  CHECK(*doubt({"ballast.rear.fill_fraction=0"}) == 0);
  const auto half = doubt({"ballast.rear.fill_fraction=0.5"}), full = doubt({"ballast.rear.fill_fraction=0.9"});
  REQUIRE(half);
  REQUIRE(full);
  CHECK(*half > 0);
  CHECK(*full > *half);
  CHECK(*doubt({"ballast.rear.fill_fraction=0.9", "ballast.front.fill_fraction=0.9"}) > *full);
  CHECK(*doubt({"settings.temperature_c=-20"}) > 0);  // cold air, softer tyres: estimated too
  CHECK(*full * kDegrees < 0.5);                      // small against everything else, and said so
}

TEST_CASE("the doubt covers the answers at either end of the stiffness") {
  Model model = build(test_machine("row_crop_150kw", {"ballast.rear.fill_fraction=0.9"}));
  const double middle = *first_lift_off(model).slope, doubt = *stiffening_doubt(model);
  for (int side : {-1, 1}) {
    Model moved = model;
    for (std::size_t i = kRearLeft; i <= kRearRight; ++i)
      moved.wheels[i].tyre.vertical_stiffness += 2 * side * model.wheels[i].tyre.vertical_stiffness_uncertainty;
    CHECK(std::abs(*first_lift_off(moved).slope - middle) < 1.5 * doubt);
    CHECK(std::abs(*first_lift_off(moved).slope - middle) > 0.5 * doubt);
  }
}
