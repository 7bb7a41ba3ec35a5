// The filling of a scene's axle: the same litres and kilograms as the scene itself, and what of it bears on the work.
#include "sim/insight/fill_of_scene.h"

#include <algorithm>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/rest/mass_sums.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("what is pumped into both tyres weighs what the scene's filling weighs, for every class machine") {
  for (const char* machine : {"utility_75kw", "compact_26kw", "row_crop_150kw", "orchard_60kw", "two_wheel_45kw",
                              "forestry_100kw", "industrial_55kw"}) {
    CAPTURE(machine);
    const Scene scene =
        test_scene("first_slope", {std::string("vehicle_file=") + machine, "ballast.loader_payload_kg=0",
                                   "ballast.rear.fill_fraction=0.5", "ballast.front.fill_fraction=0.3"});
    const Model model = build(scene);
    const std::vector<AxleFilling> all = axle_fillings(scene);
    REQUIRE(all.size() == 2);
    CHECK(all[0].front);
    CHECK_FALSE(all[1].front);
    for (const AxleFilling& filling : all) {
      CHECK_NEAR(2 * mass_of(filling.sheet), fill_mass(model, filling.front), 1e-6);
      CHECK(filling.alike);
      CHECK_FALSE(filling.other.has_value());
      CHECK(filling.sheet.request.tyres == 2);
      CHECK_NEAR(filling.sheet.pressure, filling.tyre.pressure, 1e-6);
      CHECK_FALSE(filling.sheet.pressure_typical);
      REQUIRE(filling.sheet.request.load_kg.has_value());
      const LoadCheck& loads = filling.rules.loads;
      const std::size_t left = filling.front ? kFrontLeft : kRearLeft;
      CHECK_NEAR(*filling.sheet.request.load_kg,
                 std::max(loads.tyres[left].margin.load, loads.tyres[left + 1].margin.load), 1e-9);
    }
  }
}

TEST_CASE("only axles with liquid have a filling: air and foam have none") {
  CHECK(axle_fillings(test_scene("first_slope", {"ballast.rear.fill_fraction=0"})).empty());
  CHECK(axle_fillings(test_scene("first_slope", {"ballast.rear.medium=polyurethane", "ballast.rear.fill_fraction=1"}))
            .empty());
  const auto front = axle_fillings(
      test_scene("first_slope", {"ballast.rear.fill_fraction=0", "ballast.front_left.fill_fraction=0.4"}));
  REQUIRE(front.size() == 1);
  CHECK(front[0].front);
  CHECK(front[0].wheel == kFrontLeft);
  CHECK_FALSE(front[0].alike);
}

TEST_CASE("where left and right differ, both are filled as the fuller one, and the other one's frost is known") {
  const auto all = axle_fillings(test_scene(
      "first_slope", {"ballast.rear_left.fill_fraction=0.4", "ballast.rear_left.medium=water", "job_file=hill_bale"}));
  REQUIRE(all.size() == 1);
  CHECK(all[0].wheel == kRearRight);
  CHECK_FALSE(all[0].alike);
  CHECK_NEAR(all[0].sheet.fill_fraction, 0.75, 1e-12);
  REQUIRE(all[0].other.has_value());
  CHECK(all[0].other->medium == Medium::water);
  REQUIRE(all[0].other->winter.has_value());
  CHECK(all[0].other->winter->frost == Frost::solid);
  CHECK(all[0].sheet.winter->frost == Frost::liquid);
}

TEST_CASE("the coldest night is the job's; without a job it is not known") {
  CHECK_FALSE(axle_fillings(test_scene("first_slope"))[0].coldest.has_value());
  const auto with_job = axle_fillings(test_scene("first_slope", {"job_file=hill_bale"}));
  REQUIRE(with_job[0].coldest.has_value());
  CHECK_NEAR(*with_job[0].coldest, with_job[0].scene.job.coldest, 1e-12);
  CHECK(with_job[0].sheet.winter.has_value());
  // Warmer than at filling: known, but no question of frost.
  const auto warm = axle_fillings(test_scene("first_slope", {"job_file=hill_bale", "job.coldest_c=20"}));
  CHECK(warm[0].coldest.has_value());
  CHECK_FALSE(warm[0].sheet.winter.has_value());
}

TEST_CASE("a filling that cannot be pumped is refused by its key") {
  for (const auto& [change, words] :
       {std::pair{"settings.filling_temperature_c=-35", "settings.filling_temperature_c -35: there is ice"},
        {"settings.filling_temperature_c=55", "settings.filling_temperature_c 55: allowed up to 40 C"}}) {
    const auto& this_words = words;
    try {
      (void)axle_fillings(test_scene("first_slope", {change}));
      FAIL("not refused");
    } catch (const InputError& error) {
      CHECK_MESSAGE(std::string(error.what()).find(this_words) != std::string::npos, error.what());
    }
  }
}

TEST_CASE("the pressure of the liquid by the rim's rule is near that of its depth") {
  // 34 in rim: 3.5 kPa x 0.8636 / 0.305.
  const auto all = axle_fillings(test_scene("first_slope"));
  CHECK_NEAR(pressure_by_rim(all[0]), 9910, 5);
  CHECK_NEAR(all[0].sheet.gauge_bottom - all[0].sheet.gauge_top, pressure_by_rim(all[0]), 2000);
}

TEST_CASE("the frost limit lies at the warm end of what is known of first ice") {
  const FillSheet sheet = axle_fillings(test_scene("first_slope"))[0].sheet;
  REQUIRE(frost_limit(sheet).has_value());
  CHECK(*frost_limit(sheet) > *sheet.freezing.slush_free);
  CHECK_NEAR(*frost_limit(sheet) - *sheet.freezing.slush_free, 2 * sheet.freezing.slush_free_uncertainty, 1e-9);
}
