// Set-ups side by side: what the liquid costs and rusts, in table, CSV and JSON; only of what the user gave.
#include "render/text/job/set_ups_report.h"

#include <algorithm>

#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "vehicles/tyre_cavity.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

Scene filled(std::vector<std::string> more = {}) {
  more.insert(more.begin(), {"terrain.slope_deg=10", "ballast.rear.fill_fraction=0.75", "job_file=hill_bale"});
  return test_machine("utility_75kw", more);
}

const std::vector<std::string> kOwn{"ballast.rear.medium=own", "ballast.own_medium.density_kg_per_m3=1250",
                                    "ballast.own_medium.rust=Slow on bare steel."};

std::vector<std::string> both(std::vector<std::string> a, const std::vector<std::string>& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

const SetUpRow& row_of(std::string_view key) {
  const auto rows = set_up_rows();
  const auto found = std::ranges::find(rows, key, &SetUpRow::key);
  REQUIRE_MESSAGE(found != rows.end(), std::string(key));
  return *found;
}

}  // namespace

TEST_CASE("the liquid costs what its own price makes of its litres; without a price the cost is not known") {
  const Scene bare = without_ballast(filled());
  const SetUpComparison all = compare_set_ups(
      {{"as it is", filled()},
       {"priced", filled({"ballast.rear.price_low_eur_per_l=0.4", "ballast.rear.price_high_eur_per_l=0.6"})},
       {"own", filled(both(kOwn, {"ballast.own_medium.price_low_eur_per_l=1.5"}))},
       {"half a price", filled({"ballast.rear_left.price_low_eur_per_l=0.4"})},
       {"nothing", bare}});
  const SetUpRow &low = row_of("fill_cost_low_eur"), &high = row_of("fill_cost_high_eur");
  const auto words = [&](const SetUpRow& row, std::size_t i) { return cell_words(row, all.set_ups[i], Units::si); };
  // Two tyres, three quarters of the room in each.
  const double litres = 2 * 0.75 * 1e3 * cavity_volume(cavity_of(filled().vehicle.rear.tyre));
  CHECK(words(low, 0) == "not known");
  CHECK_NEAR(*low.value(all.set_ups[1]), 0.4 * litres, 1e-6);
  CHECK_NEAR(*high.value(all.set_ups[1]), 0.6 * litres, 1e-6);
  CHECK(words(high, 1) == shown(Quantity::cost, 0.6 * litres, Units::us));
  CHECK_NEAR(*low.value(all.set_ups[2]), 1.5 * litres, 1e-6);
  CHECK_NEAR(*high.value(all.set_ups[2]), 1.5 * litres, 1e-6);  // one end stands for both
  CHECK(words(low, 3) == "not known");                          // of one tyre alone it is no price of the filling
  CHECK(words(low, 4) == "no liquid");
  CHECK(difference_words(low, all.set_ups[0], all.set_ups[1], nullptr, Units::si).empty());
  CHECK(has(difference_words(low, all.set_ups[1], all.set_ups[2], nullptr, Units::si), "+"));

  const auto json = set_ups_json(all);
  CHECK(json.at("set_ups").at(0).at("fill_cost_low_eur").is_null());
  CHECK_NEAR(json.at("set_ups").at(1).at("fill_cost_high_eur").get<double>(), 0.6 * litres, 1e-6);
  CHECK(json.at("set_ups").at(4).at("fill_cost_low_eur").is_null());
  CHECK(has(set_ups_csv(all), ",fill_cost_low_eur,fill_cost_high_eur\n"));
}

TEST_CASE("rust is the worst of what is filled, by the library; of an own medium its sheet's sentence is shown") {
  const SetUpComparison all = compare_set_ups(
      {{"water", filled()},
       {"brine", filled({"ballast.rear.medium=calcium_chloride_3_5"})},
       {"both", filled({"ballast.front.fill_fraction=0.5", "ballast.front.medium=calcium_chloride_3_5"})},
       {"own", filled(kOwn)},
       {"no sheet", filled({"ballast.rear.medium=own", "ballast.own_medium.density_kg_per_m3=1250"})},
       {"nothing", without_ballast(filled())}});
  const SetUpRow& rust = row_of("rust");
  const char* expected[] = {"mild", "strong", "strong", "as its sheet says", "not known", "no liquid"};
  for (std::size_t i = 0; i < std::size(expected); ++i) {
    CAPTURE(i);
    CHECK(cell_words(rust, all.set_ups[i], Units::si) == expected[i]);
  }
  CHECK(difference_words(rust, all.set_ups[0], all.set_ups[1], nullptr, Units::si) == "strong, not mild");
  CHECK(difference_words(rust, all.set_ups[1], all.set_ups[2], nullptr, Units::si).empty());
  const auto json = set_ups_json(all);
  CHECK(json.at("set_ups").at(1).at("rust") == "strong");
  CHECK(json.at("set_ups").at(5).at("rust").is_null());
  for (const auto& difference : json.at("differences")) CHECK(difference.at("quantity") != "rust");
  const std::string csv = set_ups_csv(all), table = set_ups_table(all);
  CHECK(has(csv, ",strong,"));
  CHECK(has(table, "rusts rim and valve"));
  CHECK(has(table, "brine compared with water; in brackets: where the difference lies nineteen times in twenty:"));
  CHECK(has(table, "Slow on bare steel."));
  CHECK(has(table, "Strongly corrosive to bare steel"));
}

TEST_CASE("first ice is never said to be colder than it is, in neither unit") {
  const SetUpComparison all =
      compare_set_ups({{"brine", filled({"ballast.rear.medium=calcium_chloride_3_5"})}, {"water", filled()}});
  const SetUpRow& ice = row_of("first_ice_c");
  const double celsius = *ice.value(all.set_ups[0]) - kZeroCelsius;
  REQUIRE(celsius < -23.4);
  REQUIRE(celsius > -24);
  CHECK(cell_words(ice, all.set_ups[0], Units::si) == "-23 °C");  // as the medium's name has it
  CHECK(cell_words(ice, all.set_ups[0], Units::us) == "-10 °F");  // -10.3
  CHECK(cell_words(ice, all.set_ups[1], Units::si) == "0 °C");
}

TEST_CASE("before both intervals are known a difference is shown without one") {
  const SetUpComparison all =
      compare_set_ups({{"A", filled()}, {"B", filled({"ballast.rear.medium=calcium_chloride_3_5"})}});
  const SetUpRow& mass = row_of("total_mass_kg");
  const std::string with = difference_words(mass, all.set_ups[0], all.set_ups[1], &all.differences[0], Units::si),
                    without = difference_words(mass, all.set_ups[0], all.set_ups[1], nullptr, Units::si);
  CHECK(has(with, " ("));
  CHECK_FALSE(without.empty());
  CHECK_FALSE(has(without, "("));
  CHECK(with.starts_with(without));
}

TEST_CASE("the first line names the slope of the job that is failed, not of a set-up without one") {
  const std::string table = set_ups_table(
      compare_set_ups({{"A", filled({"job.work=none"})}, {"B", filled({"job.steepest_deg=40"})}}), Units::si);
  CHECK(table.starts_with("! On the job's 40.0\u00b0 = 84 % these DO NOT STAND: B."));
}

TEST_CASE("a set-up that stands and breaks a limit is not first said to stand") {
  const std::string table =
      set_ups_table(compare_set_ups({{"A", filled({"job.work=none"})},
                                     {"B", filled({"job.work=none", "vehicle.rear.capacity_kg=1000"})}}),
                    Units::si);
  CHECK(table.starts_with("! LIMITS NOT MET: B "));
  const auto limits = table.find("LIMITS NOT MET"), stands = table.find("STANDS");
  REQUIRE(stands != table.npos);
  CHECK(limits < stands);
}
