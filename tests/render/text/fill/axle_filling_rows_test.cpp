// The rows of a filling: every number is that of its sheet, and what is not in the tyre is not said.
#include "render/text/fill/axle_filling_rows.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "render/text/fill/axle_filling_words.h"
#include "sim/job/rules.h"
#include "tests/kit/machines.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

AxleFilling axle_of(const Scene& scene, bool front) {
  return axle_filling(scene, rules_on(scene, build(scene)), front);
}

std::string value_of(const std::vector<FillingRow>& rows, const std::string& key) {
  const auto found = std::ranges::find(rows, key, &FillingRow::key);
  return found == rows.end() ? "" : found->value;
}

}  // namespace

TEST_CASE("the rows of a filling say what its sheet computes") {
  const Scene scene = test_scene("first_slope", {"job_file=hill_bale"});
  const AxleFilling axle = axle_of(scene, false);
  const FillSheet& s = axle.sheet;
  for (const Units units : {Units::si, Units::us}) {
    const auto rows = filling_rows(axle, units);
    CHECK(value_of(rows, "litres").starts_with(litres_words(s.jacked.volume, units)));
    CHECK(value_of(rows, "litres_both").starts_with(litres_words(s.recipe.volume, units)));
    CHECK(value_of(rows, "kilograms").starts_with(measured(Quantity::mass, mass_of(s), 0, units)));
    CHECK(value_of(rows, "valve").starts_with(valve_words(axle)));
    CHECK(value_of(rows, "over_rim").starts_with(measured(Quantity::length, s.jacked.level_over_rim, 2, units)));
    CHECK(value_of(rows, "over_ground").starts_with(measured(Quantity::length, s.jacked.level_over_ground, 2, units)));
    CHECK(value_of(rows, "gauge_top").starts_with(air_words(s.gauge_top, units)));
    CHECK(value_of(rows, "gauge_bottom").starts_with(air_words(s.gauge_bottom, units)));
    CHECK(value_of(rows, "mix") == mix_words(axle, units));
    for (const char* key : {"first_ice", "solid", "coldest", "rust", "tube", "spill", "repair", "undo", "flat"})
      CHECK_MESSAGE(!value_of(rows, key).empty(), key);
    std::set<std::string> keys;
    for (const FillingRow& row : rows) CHECK_MESSAGE(keys.insert(row.key).second, row.key);
  }
}

TEST_CASE("water that freezes solid in the job's coldest night is grave, and the first fact") {
  const Scene scene = test_scene("first_slope", {"job_file=hill_bale", "ballast.rear.medium=water"});
  const AxleFilling axle = axle_of(scene, false);
  const auto rows = filling_rows(axle, Units::si);
  const auto cold = std::ranges::find(rows, "coldest", &FillingRow::key);
  REQUIRE(cold != rows.end());
  CHECK(cold->grave);
  CHECK(cold->value.find("FREEZES SOLID") != std::string::npos);
  const auto facts = ranked_facts(axle);
  REQUIRE_FALSE(facts.empty());
  CHECK(facts.front().words.find("FREEZES SOLID") != std::string::npos);
  CHECK(facts.front().grave);
  CHECK(std::ranges::is_sorted(facts, {}, &FillingFact::rank));
}

TEST_CASE("an axle on air has no liquid's rows or facts; foam has neither valve nor gauge") {
  const Scene scene = test_scene("first_slope", {"ballast.front.fill_fraction=0", "ballast.front.medium=water"});
  const AxleFilling air = axle_of(scene, true);
  CHECK(air.sheet.fill_fraction == 0);
  const auto rows = filling_rows(air, Units::si);
  CHECK(value_of(rows, "share") == "no liquid: on air");
  CHECK(value_of(rows, "litres").empty());
  CHECK(value_of(rows, "spill").empty());
  for (const FillingFact& fact : ranked_facts(air)) {
    CHECK_MESSAGE(fact.words.find("ice") == std::string::npos, fact.words);
    CHECK_MESSAGE(fact.words.find("LIQUID") == std::string::npos, fact.words);
  }
  const AxleFilling foam =
      axle_of(test_scene("first_slope", {"ballast.rear.medium=polyurethane", "ballast.rear.fill_fraction=1"}), false);
  CHECK(foam.sheet.fill_fraction == 1);
  const auto of_foam = filling_rows(foam, Units::si);
  CHECK_FALSE(value_of(of_foam, "kilograms").empty());
  CHECK(value_of(of_foam, "valve").empty());
  CHECK(value_of(of_foam, "gauge_top").empty());
  CHECK(value_of(of_foam, "first_ice") == "nothing in it freezes");
}

TEST_CASE("the filling of an axle alone is that of the sheet to be printed") {
  const Scene scene = test_scene("first_slope", {"job_file=hill_bale"});
  const auto printed = axle_fillings(scene);
  REQUIRE(printed.size() == 1);
  const AxleFilling alone = axle_of(scene, false);
  CHECK(alone.sheet.jacked.volume == printed[0].sheet.jacked.volume);
  CHECK(alone.sheet.gauge_bottom == printed[0].sheet.gauge_bottom);
  CHECK(alone.wheel == printed[0].wheel);
  CHECK(alone.alike == printed[0].alike);
}
