#include "sim/insight/set_ups.h"

#include <cmath>
#include <random>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/scene/scene_fields.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

Scene filled(std::vector<std::string> more = {}) {
  more.insert(more.begin(),
              {"terrain.slope_deg=12", "terrain.soil.adhesion_unlimited=false", "ballast.rear.fill_fraction=0.75"});
  return test_machine("utility_75kw", more);
}

}  // namespace

TEST_CASE("side by side each set-up has the answer it has alone, to the last digit") {
  const std::vector<NamedScene> set_ups{{"as it is", filled()},
                                        {"nothing", without_ballast(filled())},
                                        {"weights", with_weights_for_liquid(filled())},
                                        {"brine", filled({"ballast.rear.medium=calcium_chloride_3_5"})}};
  const SetUpComparison all = compare_set_ups(set_ups);
  REQUIRE(all.set_ups.size() == 4);
  REQUIRE(all.differences.size() == 3);
  for (std::size_t i = 0; i < 4; ++i) {
    const Answer alone = with_uncertainty(answer(set_ups[i].scene));
    const Answer& beside = all.set_ups[i].answer;
    CHECK(beside.statics.first_lift_off == alone.statics.first_lift_off);
    CHECK(beside.statics.slide == alone.statics.slide);
    CHECK(beside.statics.tip_over == alone.statics.tip_over);
    CHECK(beside.uncertainty->first_lift_off->low == alone.uncertainty->first_lift_off->low);
    CHECK(beside.worst->heading == alone.worst->heading);
    CHECK(total_mass(beside.model) == total_mass(alone.model));
    if (i == 0) continue;
    const SetUpDifference d =
        difference(set_ups[0].scene, *all.set_ups[0].answer.uncertainty, set_ups[i].scene, *alone.uncertainty);
    CHECK(all.differences[i - 1].first_lift_off->value == d.first_lift_off->value);
    CHECK(all.differences[i - 1].first_lift_off->low == d.first_lift_off->low);
  }
}

TEST_CASE("weights in place of the liquid weigh the same, nothing weighs what is left") {
  const Scene scene = filled({"ballast.front.fill_fraction=0.5", "ballast.rear_wheel_weights_kg=40"});
  const double mass = total_mass(build(scene));
  const Scene cast = with_weights_for_liquid(scene);
  CHECK_NEAR(total_mass(build(cast)), mass, 1e-6);
  CHECK(fill_mass(build(cast), true) == 0);
  CHECK(fill_mass(build(cast), false) == 0);
  const Scene bare = without_ballast(scene);
  CHECK_NEAR(mass - total_mass(build(bare)), fill_mass(build(scene), true) + fill_mass(build(scene), false) + 80, 1e-6);
}

TEST_CASE("where every set-up slides at the same slope, ballast is no answer") {
  const auto compare = [](const std::vector<std::string>& ground) {
    Scene scene = filled(ground);
    return compare_set_ups({{"a", scene}, {"nothing", without_ballast(scene)}}).ballast_is_no_answer;
  };
  CHECK(compare({"terrain.soil.adhesion=0.35"}));     // wet grass: it slides long before a wheel lifts
  CHECK_FALSE(compare({"terrain.soil.adhesion=3"}));  // it lifts a wheel first
  CHECK_FALSE(compare({"terrain.soil.adhesion_unlimited=true"}));
}

TEST_CASE("set-ups that differ in something else than ballast say nothing about ballast") {
  const Scene scene = filled({"terrain.soil.adhesion=0.35"});
  Scene wide = scene;
  wide.vehicle.rear.track += 0.1;
  CHECK_FALSE(compare_set_ups({{"a", scene}, {"wide", wide}}).ballast_is_no_answer);
}

TEST_CASE("a set-up that is impossible is named") {
  Scene bad = filled();
  bad.ballast.loader_pin_height = 7;
  try {
    compare_set_ups({{"as it is", filled()}, {"high", bad}});
    FAIL("no error");
  } catch (const InputError& error) {
    CHECK(std::string(error.what()).starts_with("high: "));
  }
}
