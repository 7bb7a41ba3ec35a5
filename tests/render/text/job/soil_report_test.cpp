// The words and keys of what a wheel does to the soil.
#include "render/text/job/soil_report.h"

#include <doctest/doctest.h>

#include "tests/kit/has.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

SoilQuestion usual_soil() {
  SoilQuestion q;
  q.wheel = {.width = 0.467, .diameter = 1.755, .pressure = 100e3, .recommended = 100e3, .load = 26e3};
  return q;
}

}  // namespace

TEST_CASE("soil in words: the rule for 50 cm first, three depths, the rules with who says them") {
  const std::string text = soil_table(usual_soil());
  // 54 kPa: nearer to 50 than such a model is exact.
  CHECK_NEAR(*stress_below(stress_field(usual_soil().wheel), 5, 0.5), 50e3, 7e3);
  CHECK(text.starts_with("MAY BE MORE THAN THE 50 CM RULE ALLOWS"));
  SoilQuestion small = usual_soil();
  small.wheel.load = 18e3, small.wheel.pressure = small.wheel.recommended = 60e3;
  CHECK(soil_table(small).starts_with("Within the 50 cm rule"));
  for (const char* words : {"stress at 15 cm", "stress at 30 cm", "stress at 50 cm", "check against the print",
                            "Lamande et al. 2007", "Not known: how much this soil withstands"})
    CHECK(has(text, words));
  CHECK_FALSE(has(text, "was not given"));
  SoilQuestion heavy = usual_soil();
  heavy.wheel.load = 40e3, heavy.wheel.pressure = heavy.wheel.recommended = 150e3;
  CHECK(soil_table(heavy).starts_with("MORE THAN THE 50 CM RULE ALLOWS"));
}

TEST_CASE("outside its range the model says so first and gives no stress") {
  SoilQuestion light = usual_soil();
  light.wheel.load = 8e3, light.wheel.pressure = light.wheel.recommended = 200e3;
  const std::string text = soil_table(light);
  CHECK(text.starts_with("Outside the range of the model"));
  CHECK(has(text, "not known"));
  const auto json = soil_json(light);
  CHECK(json.at("range") == "peak_too_high");
  CHECK(json.at("alpha").get<double>() < 1);
  for (const auto& stress : json.at("stress_kpa")) CHECK(stress.is_null());
  CHECK(json.at("contact_area_m2").get<double>() > 0);
  CHECK(json.at("cautions").at(0).get<std::string>().starts_with("Outside the range"));
}

TEST_CASE("without a contact area everything of it is null") {
  SoilQuestion odd = usual_soil();
  odd.wheel.pressure = 1000e3, odd.wheel.recommended = 1e3;
  const auto json = soil_json(odd);
  for (const char* key : {"contact_area_m2", "mean_contact_kpa", "greatest_contact_kpa", "alpha"})
    CHECK(json.at(key).is_null());
  CHECK_FALSE(has(soil_table(odd), "contact area  "));
}

TEST_CASE("one depth is one number, three are a list") {
  SoilQuestion q = usual_soil();
  const auto three = soil_json(q);
  REQUIRE(three.at("stress_kpa").size() == 3);
  q.depth = 0.3;
  const auto one = soil_json(q);
  CHECK_NEAR(one.at("stress_kpa").get<double>(), three.at("stress_kpa").at(1).get<double>(), 1e-12);
  CHECK_NEAR(one.at("depths_m").at(0).get<double>(), 0.3, 0);
  // Source: tests/data/job/keller_stress_depth.csv, 26 kN, nu 5, 0.3 m.
  CHECK_NEAR(one.at("stress_kpa").get<double>(), 94.826, 0.02 * 94.826);
  q.recommended_given = false;
  CHECK(has(soil_table(q), "was not given"));
}
