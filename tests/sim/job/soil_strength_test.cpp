// Precompression stress against a table, and the rules that stand beside it.
#include "sim/job/soil_strength.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "tests/kit/cells.h"
#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("precompression stress agrees with the table") {
  // Source: Severiano et al. 2013 by way of soilphysics 5.1; Brazilian Latosols.
  for (const CsvRow& row : read_csv("job/soil_strength.csv")) {
    INFO(row.at("clay_pct"), " ", row.at("suction_kPa"));
    const auto stress = precompression_stress(cell(row, "clay_pct") / 100, cell(row, "suction_kPa") * 1e3);
    REQUIRE(stress.has_value());
    const double expected = cell(row, "Pc_kPa");
    CHECK_NEAR(*stress * 1e-3, expected, 1e-5 * expected);
    CHECK_NEAR(*stress * 1e-3 * kGreenUpTo, cell(row, "half_Pc"), 1e-5 * expected);
    CHECK_NEAR(*stress * 1e-3 * kRedAbove, cell(row, "Pc_x_1p1"), 1e-5 * expected);
  }
}

TEST_CASE("each share of clay has its class, and what is no share has none") {
  for (const SoilStrengthClass& c : soil_strength_classes())
    CHECK_NEAR(*precompression_stress(c.most_clay, 1e3) * 1e-3, c.k, 1e-9);
  CHECK_FALSE(precompression_stress(1.2, 10e3).has_value());
  CHECK_FALSE(precompression_stress(-0.1, 10e3).has_value());
  CHECK_FALSE(precompression_stress(0.2, 0).has_value());
  CHECK_FALSE(precompression_stress(std::nan(""), 10e3).has_value());
}

TEST_CASE("green, between and red") {
  CHECK(stress_verdict(50e3, 100e3) == StressVerdict::green);
  CHECK(stress_verdict(51e3, 100e3) == StressVerdict::between);
  CHECK(stress_verdict(110e3, 100e3) == StressVerdict::between);
  CHECK(stress_verdict(111e3, 100e3) == StressVerdict::red);
}

TEST_CASE("the rules hold the published numbers") {
  // Source: tests/data/job/compaction_rules.csv, each row with its own.
  const auto has_low = [](double value, const std::string& unit) {
    for (const PublishedFigure& rule : compaction_rules())
      if (std::abs(rule.low - value) < 1e-9 && unit == rule.unit) return true;
    return false;
  };
  int compared = 0;
  for (const CsvRow& row : read_csv("job/compaction_rules.csv")) {
    CAPTURE(row.at("rule"));
    double value = cell(row, "value");
    std::string unit = row.at("unit");
    if (unit == "US ton") value = 9.07, unit = "t";  // 10 US tons of 907 kg
    if (unit == "psi") value = std::round(value * 6.894757), unit = "kPa";
    if (unit.find("years") == 0) unit = "years";
    if (unit.find("x Pc") == 0) unit = "-";
    CHECK(has_low(value, unit));
    ++compared;
  }
  CHECK(compared == 10);
  for (const PublishedFigure& rule : compaction_rules()) CHECK(std::string(rule.source).size() > 5);
}
