#include "sim/insight/fill_sheet.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "sim/base/errors.h"
#include "tests/kit/fills.h"
#include "tests/kit/has.h"
#include "tests/kit/near.h"
#include "vehicles/load_index.h"

using namespace sidehill;

namespace {

std::string refusal_of_fill(const FillRequest& request) {
  try {
    fill_sheet(request);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("what is wrong with a filling is a fact of the sheet") {
  FillRequest request = request_of("18.4-38");
  const FillSheet at_valve = fill_sheet(request);
  CHECK_FALSE(at_valve.too_full);
  CHECK_FALSE(at_valve.overloaded);
  request.fill = at_valve.fill_fraction + 0.03;
  const FillSheet above = fill_sheet(request);
  CHECK(above.above_valve);
  CHECK_FALSE(above.brimful);
  CHECK(above.too_full);
  CHECK(above.over_three_quarters);
  request.fill = 1;
  CHECK(fill_sheet(request).brimful);
  CHECK(fill_sheet(request).too_full);
  request.fill = 0.75;  // the trade's rule is not passed by reaching it
  CHECK_FALSE(fill_sheet(request).over_three_quarters);
  request.load_kg = load_index_mass(fill_sheet(request).service->load_index) + 1;
  CHECK(fill_sheet(request).overloaded);
  request.load_kg = *request.load_kg - 2;
  CHECK_FALSE(fill_sheet(request).overloaded);
  // Foam fills the whole tyre and is meant to.
  CHECK_FALSE(fill_sheet(request_of("18.4-38", "polyurethane")).too_full);
}

TEST_CASE("what cannot be is refused in one line that says what can") {
  const auto refused = [](auto change, std::initializer_list<const char*> words) {
    FillRequest request = request_of("18.4-38", "calcium_chloride");
    change(request);
    const std::string line = refusal_of_fill(request);
    CAPTURE(line);
    CHECK(line.starts_with("fill: "));
    CHECK_FALSE(has(line, "\n"));
    for (const char* word : words) CHECK(has(line, word));
  };
  using R = FillRequest;
  const double nan = std::nan("");
  refused([](R& r) { r.tyre = "18.4x38"; }, {"did you mean 18.4-38?"});
  refused([](R& r) { r.tyre = "nonsense"; }, {"\"nonsense\"", "480/70R38"});
  refused([](R& r) { r.medium = "watr"; }, {"did you mean water?", "polyurethane"});
  const std::string beer = refusal_of_fill([] {
    FillRequest request = request_of("18.4-38");
    request.medium = "beer";
    return request;
  }());
  CHECK(has(beer, "allowed water"));
  CHECK_FALSE(has(beer, "did you mean"));  // nothing is near
  refused([](R& r) { r.medium = "glycol"; }, {"did you mean ethylene_glycol?"});
  refused([](R& r) { r.medium = "\n"; }, {"allowed water"});
  refused([](R& r) { r.concentration = 25; }, {"--concentration 25", "0.01 to 0.3"});
  refused([](R& r) { r.medium = "water", r.concentration = 0.2; }, {"leave it out"});
  refused([](R& r) { r.temperature_c = 90; }, {"-60 to 40 C"});
  refused([](R& r) { r.medium = "water", r.temperature_c = -5; }, {"below 0.0 C", "--coldest-c"});
  refused([](R& r) { r.coldest_c = 11; }, {"-60 to 10 C"});
  refused([](R& r) { r.fill = 75; }, {"--fill 75", "0 to 1"});
  refused([&](R& r) { r.fill = nan; }, {"0 to 1"});
  refused([](R& r) { r.fill = 0.5, r.valve_clock = 9; }, {"one of them"});
  refused([](R& r) { r.medium = "polyurethane", r.fill = 0.75; }, {"1 only"});
  refused([](R& r) { r.medium = "polyurethane", r.valve_clock = 9; }, {"leave it out"});
  refused([](R& r) { r.valve_clock = 13; }, {"0 to 12"});
  refused([](R& r) { r.pressure_kpa = 0; }, {"10 to 600 kPa"});
  refused([](R& r) { r.load_kg = -1; }, {"1 to 20000 kg"});
  refused([](R& r) { r.flow_l_per_min = 0; }, {"0.1 to 2000 L/min"});
  refused([](R& r) { r.cavity_l = 1e6; }, {"1 to 5000 L"});
  refused([](R& r) { r.eur_per_l = PriceRange{3, 1}; }, {"3 to 1000"});
  refused([](R& r) { r.concentration = 0.2, r.frost_to_c = -20; }, {"one of them"});
  refused([](R& r) { r.medium = "calcium_chloride_2", r.frost_to_c = -20; }, {"one strength only", "calcium_chloride"});
  refused([](R& r) { r.medium = "sodium_chloride", r.frost_to_c = -40; }, {"--frost-to-c -40", "allowed -", " to 0 C"});
  refused([](R& r) { r.frost_to_c = 5; }, {"--frost-to-c 5", "-60 to 0 C"});
  refused([](R& r) { r.medium = "own"; }, {"--own-density-kg-per-m3 is not given", "500 to 2500 kg/m3"});
  refused([](R& r) { r.medium = "own", r.own.density = 1.25; }, {"--own-density-kg-per-m3 1.25"});
  refused([](R& r) { r.medium = "own", r.own.density = 1250, r.own.first_ice = 243.15, r.own.solid = 250; },
          {"--own-solid-c -23.15", "-30 C"});
  refused([](R& r) { r.tyres = 0; }, {"1 to 100"});
  refused([](R& r) { r.product = "salt"; }, {"flake_77, pellet_94"});
  CHECK(refusal_of_fill(request_of("18.4-38", "Calcium-Chloride 3.5")).empty());  // as people write it
}

TEST_CASE("a strength is found from the frost it must stand, as an option or as people say it") {
  FillRequest request = request_of("18.4-38", "calcium_chloride");
  request.frost_to_c = -24;
  const FillSheet sheet = fill_sheet(request);
  CHECK_NEAR(*sheet.freezing.slush_free - 273.15, -24, 1e-6);
  CHECK(medium_name(mix_of(sheet)) == "calcium chloride, to -24 °C");
  const FillSheet said = fill_sheet(request_of("18.4-38", "calcium chloride, to -24 °C"));
  CHECK(said.medium == Medium::calcium_chloride);
  CHECK(said.mass_fraction == sheet.mass_fraction);
  CHECK(fill_sheet(request_of("18.4-38", "sodium chloride brine to -10 C")).medium == Medium::sodium_chloride);
  CHECK(has(refusal_of_fill(request_of("18.4-38", "water to -10 C")), "one strength only"));
  request.medium = "calcium_chloride to -24";
  CHECK(has(refusal_of_fill(request), "leave --frost-to-c out"));
}

TEST_CASE("there is a cost only where there is a price") {
  FillRequest request = request_of("18.4-38");
  CHECK_FALSE(fill_sheet(request).cost);
  request.eur_per_l = PriceRange{0.2, 0.6};
  const FillSheet sheet = fill_sheet(request);
  REQUIRE(sheet.cost);
  CHECK_NEAR(sheet.cost->low, 0.2 * 1e3 * sheet.jacked.volume, 1e-9);
  CHECK_NEAR(sheet.cost->high, 0.6 * 1e3 * sheet.jacked.volume, 1e-9);
}

TEST_CASE("an own medium is filled by the numbers of its data sheet") {
  FillRequest request = request_of("18.4-38", "own");
  request.own.density = 1250;
  request.own.price = {0, 2};
  request.coldest_c = -20;
  const FillSheet sheet = fill_sheet(request);
  CHECK(sheet.density == 1250);
  CHECK_NEAR(sheet.density_uncertainty, 0.01, 1e-12);
  CHECK(sheet.winter->frost == Frost::not_known);
  CHECK_FALSE(sheet.pressure_cold);  // of what may be ice
  CHECK_FALSE(sheet.strength_for_cold);
  CHECK_NEAR(sheet.cost->high, 2e3 * sheet.jacked.volume, 1e-9);
  request.own.first_ice = 273.15 - 30;
  CHECK(fill_sheet(request).winter->frost == Frost::liquid);
  CHECK(fill_sheet(request).pressure_cold);
}
