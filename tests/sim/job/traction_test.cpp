// The traction equations of one wheel against tables that an independent program computed from the same equations.
#include "sim/job/traction.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "sim/base/constants.h"
#include "tests/kit/cells.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

TyreSet set_of(const CsvRow& row) { return row.at("set") == "bias" ? TyreSet::bias : TyreSet::radial; }
WheelTraction table_wheel(const CsvRow& row) { return wheel_traction(set_of(row), cell(row, "Bn")); }

const TyreShape kUsualTyre = {.width = 0.467, .diameter = 1.755, .section_height = 0.395, .deflection = 0.079};

}  // namespace

// Source of the tables: Brixius 1987 and Al-Hamad et al. 1994 worked out by an independent program; coefficients from
// memory there as here.
TEST_CASE("gross, resistance, net and efficiency agree with the table") {
  for (const CsvRow& row : read_csv("job/traction_grid.csv")) {
    INFO(row.at("set"), " ", row.at("Bn"), " ", row.at("slip"));
    const Traction t = traction_at(table_wheel(row), cell(row, "slip"));
    check_relative(t.gross, cell(row, "GTR"));
    check_relative(t.resistance, cell(row, "MRR"));
    check_relative(t.net, cell(row, "NTR"));
    check_relative(t.efficiency, cell(row, "TE"));
  }
}

TEST_CASE("the best slips agree with the table") {
  for (const CsvRow& row : read_csv("job/traction_best_slip.csv")) {
    INFO(row.at("set"), " ", row.at("Bn"));
    const WheelTraction wheel = table_wheel(row);
    const auto best = slip_of_best_efficiency(wheel);
    REQUIRE(best.has_value());
    CHECK_NEAR(*best, cell(row, "slip_maxTE"), 1e-4);
    CHECK_NEAR(traction_at(wheel, *best).efficiency, cell(row, "TE_max"), 1e-6);
    CHECK_NEAR(net_ratio(wheel, *best), cell(row, "NTR_there"), 1e-5);
    CHECK_NEAR(slip_of_most_net(wheel), cell(row, "slip_maxNTR"), 1e-4);
    check_relative(net_ratio(wheel, slip_of_most_net(wheel)), cell(row, "NTR_max"));
  }
}

TEST_CASE("the slip for a pull agrees with the table, and no slip is invented where there is none") {
  int beyond = 0;
  for (const CsvRow& row : read_csv("job/slip_for_pull.csv")) {
    INFO(row.at("set"), " ", row.at("Bn"), " ", row.at("NTR"));
    const WheelTraction wheel = table_wheel(row);
    const SlipAnswer answer = slip_for_net(wheel, cell(row, "NTR"));
    if (row.at("slip").empty()) {
      CHECK(answer.kind == SlipFor::out_of_reach);
      ++beyond;
      continue;
    }
    REQUIRE(answer.kind == SlipFor::needs_slip);
    check_relative(answer.slip, cell(row, "slip"));
    check_relative(traction_at(wheel, answer.slip).efficiency, cell(row, "TE"));
    CHECK_NEAR(net_ratio(wheel, answer.slip), cell(row, "NTR"), 1e-10);
  }
  CHECK(beyond > 5);
}

TEST_CASE("the mobility number agrees with the table") {
  for (const CsvRow& row : read_csv("job/mobility_number.csv")) {
    INFO(row.at("tyre"), " ", row.at("W_kN"));
    const TyreShape tyre = {cell(row, "b_m"), cell(row, "d_m"), cell(row, "h_m"), cell(row, "delta_m")};
    check_relative(mobility_number(tyre, cell(row, "W_kN") * 1e3, cell(row, "CI_kPa") * 1e3), cell(row, "Bn"));
  }
}

TEST_CASE("the plain wheel number of a printed example") {
  // Source: CI 800 kPa, b 0.45 m, d 1.40 m, W 12 kN: CI b d / W = 42; a public question bank citing Wismer and Luth.
  const TyreShape tyre = {.width = 0.45, .diameter = 1.40, .section_height = 0.3, .deflection = 0};
  CHECK_NEAR(mobility_number(tyre, 12e3, 800e3) * (1 + 3 * 0.45 / 1.40), 42, 1e-9);
}

TEST_CASE("at no slip a wheel has to be pushed by the first coefficient over its mobility number") {
  for (const TyreSet set : {TyreSet::bias, TyreSet::radial})
    for (const double mobility : {8.0, 20.0, 55.0, 200.0}) {
      const Traction t = traction_at(wheel_traction(set, mobility), 0);
      CHECK_NEAR(t.net, -coefficients(set).by_inverse / mobility, 1e-15);
      CHECK_NEAR(t.gross - t.resistance, t.net, 1e-15);
    }
}

TEST_CASE("a pull that holds at no slip says so, and the greatest pull is just reached") {
  const WheelTraction wheel = wheel_traction(TyreSet::radial, 30);
  const SlipAnswer pushed = slip_for_net(wheel, -0.1);
  CHECK(pushed.kind == SlipFor::holds_already);
  CHECK(pushed.slip == 0);
  CHECK(slip_for_net(wheel, net_ratio(wheel, 0)).kind == SlipFor::holds_already);
  const double most = slip_of_most_net(wheel), pull = net_ratio(wheel, most);
  const SlipAnswer greatest = slip_for_net(wheel, pull * (1 - 1e-12));
  CHECK(greatest.kind == SlipFor::needs_slip);
  CHECK_NEAR(greatest.slip, most, 1e-4);
  CHECK(slip_for_net(wheel, pull * (1 + 1e-9)).kind == SlipFor::out_of_reach);
  // What is asked for by what is no number is out of reach, not reached.
  CHECK(slip_for_net(wheel, std::nan("")).kind == SlipFor::out_of_reach);
}

TEST_CASE("a wheel that never pulls has no best slip") {
  CHECK_FALSE(slip_of_best_efficiency(wheel_traction(TyreSet::bias, 1)).has_value());
}

TEST_CASE("on a hard road the resistance is the coefficient at any slip") {
  const WheelTraction road = road_traction(TyreSet::radial, 80, 0.02);
  CHECK_NEAR(net_ratio(road, 0), -0.02, 1e-15);
  for (const double slip : {0.0, 0.05, 0.2}) CHECK_NEAR(traction_at(road, slip).resistance, 0.02, 1e-15);
  const auto on_road = slip_of_best_efficiency(road),
             on_soil = slip_of_best_efficiency(wheel_traction(TyreSet::radial, 80));
  REQUIRE((on_road && on_soil));
  CHECK(*on_road < *on_soil);
  CHECK(traction_at(road, *on_road).efficiency > traction_at(wheel_traction(TyreSet::radial, 80), *on_soil).efficiency);
}

TEST_CASE("what is left of the range is listed, each by itself") {
  CHECK(ranges_left(kUsualTyre, 20e3).empty());
  CHECK(ranges_left(kUsualTyre, 15e3 * 0.467 * 1.755).empty());  // a border is within
  CHECK(ranges_left(kUsualTyre, 55e3 * 0.467 * 1.755).empty());
  const auto light = ranges_left(kUsualTyre, 6e3);
  REQUIRE(light.size() == 1);
  CHECK(std::string(light[0].symbol) == "W/(b d)");
  CHECK_NEAR(light[0].value, 6 / (0.467 * 1.755), 1e-12);
  TyreShape flat = kUsualTyre;
  flat.deflection = 0.35 * flat.section_height;
  flat.width = 1.3;
  const auto all = ranges_left(flat, 200e3);
  REQUIRE(all.size() == 3);
  CHECK(std::string(all[0].symbol) == "b/d");
  CHECK(std::string(all[1].symbol) == "delta/h");
}

TEST_CASE("cone index by class of soil falls, and mud has none") {
  // Source: 1800, 1200, 900, 450 kPa; ASABE D497 from memory, as in the table of mobility numbers.
  CHECK(cone_index_of(SoilClass::hard) == 1800e3);
  CHECK(cone_index_of(SoilClass::firm) == 1200e3);
  CHECK(cone_index_of(SoilClass::tilled) == 900e3);
  CHECK(cone_index_of(SoilClass::soft) == 450e3);
  CHECK_FALSE(cone_index_of(SoilClass::mud).has_value());
  CHECK(std::string(soil_class_name(SoilClass::mud)) == "mud");
}

TEST_CASE("a mobility number of nothing is none") {
  CHECK(std::isnan(mobility_number(kUsualTyre, 0, 900e3)));
  CHECK(std::isnan(mobility_number(kUsualTyre, 20e3, 0)));
  CHECK(std::isnan(mobility_number({}, 20e3, 900e3)));
}
