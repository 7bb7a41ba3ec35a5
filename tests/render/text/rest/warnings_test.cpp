// What must be said before anything else.
#include "render/text/rest/warnings.h"

#include <algorithm>

#include "render/text/job/rules_report.h"
#include "render/text/words/words.h"
#include "sim/rest/mass_sums.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

bool says(const std::vector<std::string>& all, std::string_view words) {
  return std::any_of(all.begin(), all.end(), [&](const std::string& s) { return s.find(words) != s.npos; });
}

std::vector<std::string> warned(const std::vector<std::string>& changes) {
  return warnings(answer(test_scene("first_slope", changes), 8));
}

}  // namespace

TEST_CASE("overloaded tyres and axles are named, allowed ones are not") {
  CHECK(says(warned({"ballast.loader_payload_kg=1500"}), "Front axle "));
  CHECK(says(warned({"vehicle.front.tyre.service="}), "Front right tyre "));
  CHECK(says(warned({"vehicle.front.tyre.service="}), "Read the sidewall, vehicle.front.tyre.service"));
  CHECK_FALSE(says(warned({"vehicle.front.tyre.service="}), "rear"));
  CHECK(warned({}).empty());
  CHECK(warned({"ballast.loader_payload_kg=0", "terrain.slope_deg=0"}).empty());
}

TEST_CASE("a bend that lifts a wheel on this slope is named, one that only slides as well") {
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

TEST_CASE("a load is said with how much it is over, and where: never with the share of what is allowed") {
  LoadCheck loads;
  loads.slope = 0.3;
  loads.axles[0] = load_margin(3434, 3200);
  TyreCheck& tyre = loads.tyres[kFrontRight];
  tyre.service = Service{121, "A8"}, tyre.rating = Rating::stated;
  tyre.margin = load_margin(1454, 1450);
  auto said = overload_warnings(loads);
  REQUIRE(said.size() == 2);
  CHECK(said[0] == "Front axle 3 434 kg of 3 200 kg, 7.3 % over the maker's figure, on this slope. Take load off.");
  CHECK(said[1] == "Front right tyre 1 454 kg of 1 450 kg, 0.3 % over its rating, on this slope.");
  loads.level = true;
  tyre.margin = load_margin(2044, 1450);
  tyre.rating = Rating::typical;
  said = overload_warnings(loads);
  CHECK(
      said[1].starts_with("Front right tyre 2 044 kg of 1 450 kg, 41 % over what is typical of its size, on the "
                          "level. Read the sidewall, vehicle.front.tyre.service. Take load off."));
  CHECK_FALSE(says(said, "141 %"));
  tyre.tyres = 2;
  CHECK(overload_warnings(loads)[1].starts_with("Front right pair of tyres 2 044 kg of 1 450 kg"));
  tyre.by_one = true, tyre.rating = Rating::stated;
  CHECK(overload_warnings(loads)[1].starts_with(
      "Front right pair of tyres 2 044 kg of 1 450 kg, 41 % over what its fuller tyre lets it carry"));
}

TEST_CASE("a tyre that is too slow a mark for the speed is over its limit, and load has nothing to do with it") {
  const auto said = warned({"programme.speed_kmh=50"});
  CHECK(says(said, "faster than its mark allows, on this slope. Go slower."));
  CHECK_FALSE(says(said, "Take load off"));
}

TEST_CASE("a tyre whose rating is not known is said to be so, with the key that takes it") {
  const auto said = warned({"vehicle.rear.tyre.size=12.4-28"});
  CHECK(says(said, "Rear tyre rating not known: read the sidewall, vehicle.rear.tyre.service."));
  CHECK_FALSE(says(said, "Front tyre rating"));
}

TEST_CASE("of one axle there is one load on the level, and what is not counted is said only where it is there") {
  const Scene trailer = test_scene("trailer_pushes"), plain = test_scene("first_slope");
  const std::string of_trailer = ballast_table(trailer, build(trailer)), of_plain = ballast_table(plain, build(plain));
  CHECK_FALSE(has(of_trailer, "a scene has no trailer"));
  CHECK(has(of_trailer, "Not counted: how the trailer pulls"));
  CHECK_FALSE(has(of_plain, "Not counted"));
  // Overloaded: the caution has the row's number.
  const Scene heavy = test_scene("bucket_up", {"ballast.loader_payload_kg=800"});
  const std::string words = ballast_table(heavy, build(heavy));
  const std::string there = kilograms(axle_share(build(heavy)).front);
  CHECK(has(words, "on the level " + there + " on the front axle"));
  CHECK(has(words, "Front axle " + there + " of 3 200 kg"));
  CHECK(has(words, "on the level. Take load off."));
  const auto json = ballast_json(plain, build(plain));
  CHECK(std::ranges::any_of(json["rules"], [](const auto& rule) {
    return rule["rule"].template get<std::string>().starts_with("rear tyres");
  }));
  const Scene unknown = test_scene("first_slope", {"vehicle.rear.tyre.size=12.4-28"});
  const auto open = ballast_json(unknown, build(unknown));
  CHECK(std::ranges::any_of(open["rules"], [](const auto& rule) { return rule["met"].is_null(); }));
  CHECK(has(ballast_table(unknown, build(unknown)),
            "  rear tyres carry at most their rating\n    not known  look it up: vehicle.rear.tyre.service"));
}
