// Litres against tables that an independent program computed from the same equations, and against what is published.
#include "sim/job/fuel_use.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "tests/kit/cells.h"
#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("both fuel equations agree with the table") {
  // Source: ASAE D497.4 (older curve) and Grisso et al. 2004, worked out by an independent program.
  for (const CsvRow& row : read_csv("job/fuel_equations.csv")) {
    const double share = cell(row, "X"), cut = cell(row, "N_red_pct");
    INFO(share, " ", cut);
    check_relative(fuel_per_energy_full_throttle(share), cell(row, "old_L_per_kWh"));
    check_relative(fuel_rate_per_rated_power(share, cut), cell(row, "new_L_per_h_per_rated_kW"));
    check_relative(fuel_per_energy(share, cut), cell(row, "new_L_per_kWh"));
    check_relative(100 * fuel_rate_per_rated_power(share, cut), cell(row, "new_L_per_h_at_100kW"));
  }
}

TEST_CASE("outside the equations there is no number") {
  CHECK(std::isnan(fuel_per_energy_full_throttle(0)));
  CHECK(std::isnan(fuel_per_energy_full_throttle(1.2)));
  CHECK(std::isnan(fuel_rate_per_rated_power(0.5, -1)));
  CHECK(std::isnan(fuel_rate_per_rated_power(std::nan(""), 0)));
  CHECK(std::isnan(fuel_per_energy(0, 0)));
  CHECK_NEAR(fuel_rate_per_rated_power(0, 0), 0.096, 1e-12);  // the engine idles
}

TEST_CASE("less engine speed saves, and saves most at a small share") {
  const auto saved = [](double share) {
    return 1 - fuel_rate_per_rated_power(share, 20) / fuel_rate_per_rated_power(share, 0);
  };
  CHECK(saved(0.2) > saved(0.8));
  CHECK(saved(0.8) > 0);
}

TEST_CASE("what a mass costs to roll agrees with the table") {
  // Source: rho m g v, / 0.85 x 0.30 L/kWh, worked out by an independent program; the two numbers are assumptions there
  // too.
  for (const CsvRow& row : read_csv("job/rolling_cost_of_mass.csv")) {
    INFO(row.at("mass_kg"), " ", row.at("rho"), " ", row.at("v_km_h"));
    const RollingCost cost = rolling_cost(cell(row, "mass_kg"), cell(row, "rho"), cell(row, "v_km_h") / 3.6);
    check_relative(cost.power * 1e-3, cell(row, "power_kW"));
    check_relative(cost.litres_per_hour, cell(row, "fuel_L_per_h"));
  }
}

TEST_CASE("published litres of a tonne are more than rolling alone gives, as the caution says") {
  const RollingCost field = rolling_cost(1000, 0.08, 8 / 3.6);
  int of_a_tonne = 0;
  for (const PublishedFigure& figure : published_fuel()) {
    CAPTURE(figure.what);
    CHECK(std::string(figure.source).size() > 5);
    CHECK(figure.low > 0);
    if (figure.high) CHECK(*figure.high > figure.low);
    if (std::string(figure.what).find("tonne") == std::string::npos) continue;
    ++of_a_tonne;
    CHECK(figure.low > 1.5 * field.litres_per_hour);
  }
  CHECK(of_a_tonne == 2);
}
