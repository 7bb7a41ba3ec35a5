// The words and keys of one wheel's grip.
#include "render/text/job/grip_report.h"

#include <doctest/doctest.h>

#include "tests/kit/has.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

GripQuestion usual_grip() {
  GripQuestion q;
  q.tyre = TyreShape{.width = 0.467, .diameter = 1.755, .section_height = 0.395, .deflection = 0.079};
  q.load = 20e3;
  q.mobility = mobility_number(*q.tyre, *q.load, 900e3);
  return q;
}

}  // namespace

TEST_CASE("grip in words: what it pulls first, the caution, no range left") {
  const std::string text = grip_table(usual_grip());
  const Traction t = traction_at(wheel_traction(TyreSet::bias, 41.0182), 0.1);
  CHECK(text.starts_with("At 10.0 % slip this wheel pulls "));
  CHECK(has(text, "check against the print"));
  CHECK_FALSE(has(text, "OUTSIDE"));
  CHECK_FALSE(has(text, "Not known: whether the tyre"));
  const auto json = grip_json(usual_grip());
  CHECK_NEAR(json.at("net_traction_ratio").get<double>(), t.net, 1e-5);
  CHECK_NEAR(json.at("pull_n").get<double>(), t.net * 20e3, 1);
  CHECK(json.at("ranges_left").empty());
}

TEST_CASE("grip outside the range says so before any number") {
  GripQuestion light = usual_grip();
  light.load = 6e3;
  const std::string text = grip_table(light);
  CHECK(text.starts_with("OUTSIDE THE RANGE"));
  CHECK(has(text, "W/(b d)"));
  CHECK(grip_json(light).at("ranges_left").size() == 1);
}

TEST_CASE("a wheel that has to be pushed says so first, one that never pulls has no best slip") {
  GripQuestion q;
  q.mobility = 8, q.slip = 0;
  CHECK(
      grip_table(q).starts_with("DOES NOT PULL: at 0.0 % slip this wheel has to be pushed, with 12.5 % of its load."));
  CHECK_FALSE(grip_json(q).at("best_slip").is_null());
  q.mobility = 1;
  CHECK(has(grip_table(q), "it has no best slip"));
  CHECK(grip_json(q).at("best_slip").is_null());
  CHECK(grip_json(q).at("greatest_net_traction_ratio").is_null());
}

TEST_CASE("a mobility number alone does not say whether the range is left") {
  GripQuestion q;
  q.mobility = 40;
  CHECK(has(grip_table(q), "Not known: whether the tyre"));
  CHECK(grip_json(q).at("ranges_left").is_null());
  CHECK(grip_json(q).at("pull_n").is_null());
}
