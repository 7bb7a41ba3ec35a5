#include "sim/model/fill_frost.h"

#include <doctest/doctest.h>

#include "sim/model/model.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"

using namespace sidehill;

TEST_CASE("frost is not known of an own medium without a first ice, colder than it was filled") {
  Scene scene = test_machine("utility_75kw", {"ballast.rear_left.medium=own", "ballast.rear_left.fill_fraction=0.5",
                                              "ballast.own_medium.density_kg_per_m3=1250"});
  scene.settings.filling_temperature = 283.15;
  scene.settings.temperature = 283.15;
  CHECK_FALSE(frost_not_known(scene));
  scene.settings.temperature = 263.15;
  CHECK(frost_not_known(scene));
  CHECK(frost_not_known(scene, kRearLeft));
  CHECK_FALSE(frost_not_known(scene, kRearRight));
  bool said = false;
  for (const std::string& caution : build(scene).cautions) said = said || has(caution, "its first ice is not given");
  CHECK(said);
  scene.ballast.own_medium.first_ice = 253.15;
  CHECK_FALSE(frost_not_known(scene));
  scene.ballast.own_medium = {};
  scene.ballast.fill[kRearLeft].fill_fraction = 0;
  CHECK_FALSE(frost_not_known(scene));
}
