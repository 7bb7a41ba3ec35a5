// What must be said before anything else.
#include "render/text/warnings.h"

#include <algorithm>

#include "render/text/words.h"
#include "tests/machines.h"
#include "tests/near.h"

using namespace sidehill;

namespace {

bool says(const std::vector<std::string>& all, std::string_view words) {
  return std::any_of(all.begin(), all.end(), [&](const std::string& s) { return s.find(words) != s.npos; });
}

std::vector<std::string> warned(const std::vector<std::string>& changes) {
  return warnings(answer(test_scene("first_slope", changes), 8));
}

}  // namespace

TEST_CASE("overloaded tyres and axles are told, allowed ones are not") {
  CHECK(says(warned({"ballast.loader_payload_kg=1500"}), "Front axle: "));
  CHECK(says(warned({}), "Front right tyre: "));
  CHECK_FALSE(says(warned({}), "rear"));
  CHECK(warned({"ballast.loader_payload_kg=0", "terrain.slope_deg=0"}).empty());
}

TEST_CASE("a bend that lifts a wheel on this slope is told, one that only slides as well") {
  const auto fast = warned({"manoeuvre.speed_kmh=25", "manoeuvre.turn_radius_m=6"});
  CHECK(says(fast, "Turning left at 25 km/h in a bend of 6 m lifts a wheel"));
  CHECK(says(fast, "Turning right at 25 km/h in a bend of 6 m slides"));
  CHECK_FALSE(says(warned({"manoeuvre.speed_kmh=3", "manoeuvre.turn_radius_m=20"}), "Turning"));
  CHECK(says(warned({"manoeuvre.braking_m_per_s2=5", "start.heading_deg=180"}), "Braking with 5.0 m/s2"));
}

TEST_CASE("of a frozen fill it is said that all angles take it where it harms most; of a liquid nothing") {
  const std::vector<std::string> water = {"ballast.rear.medium=water", "ballast.rear.fill_fraction=0.75",
                                          "ballast.rear.concentration=0"};
  auto frozen = water;
  frozen.push_back("settings.temperature_c=-20");
  CHECK(says(warned(frozen), "All angles take the ice in the tyres where it harms most"));
  const Answer there = answer(test_scene("first_slope", frozen), 8);
  const double bottom = *first_lift_off(with_ice_at_the_bottom(there.model)).slope;
  CHECK(says(warnings(there), "as it froze, that is " + degrees(bottom)));
  CHECK(bottom > *there.statics.first_lift_off + 0.02);
  CHECK_FALSE(says(warned(water), "ice"));
}

TEST_CASE("a machine whose weight lies outside its axles goes over, it is not unsolved") {
  const StaticSolution s = solve_statics(build(test_scene("first_slope", {"vehicle.wheelbase_m=0.5"})));
  CHECK(s.status == RestStatus::tipped);
  CHECK_FALSE(s.rest);
}
