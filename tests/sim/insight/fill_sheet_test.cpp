#include "sim/insight/fill_sheet.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "sim/base/errors.h"
#include "tests/kit/fills.h"
#include "tests/kit/has.h"
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
  refused([](R& r) { r.tyres = 0; }, {"1 to 100"});
  refused([](R& r) { r.product = "salt"; }, {"flake_77, pellet_94"});
  CHECK(refusal_of_fill(request_of("18.4-38", "Calcium-Chloride 3.5")).empty());  // as people write it
}
