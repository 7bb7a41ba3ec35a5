// Marks on a sidewall, and the air behind it.
#include "vehicles/load_index.h"

#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>

#include "tests/kit/csv.h"
#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("load indices and speed symbols are those of the standard's table") {
  // Source: load index table as carried by three independent public tables (53 to 180), ISO 4223-1 style; the rest
  // recalled.
  int indices = 0, symbols = 0;
  for (const CsvRow& row : read_csv("load_index.csv")) {
    const double value = std::stod(row.at("value"));
    CAPTURE(row.at("index"));
    if (row.at("table") == "load_index") {
      CHECK(load_index_mass(std::stoi(row.at("index"))) == value);
      ++indices;
    } else {
      CHECK_NEAR(speed_symbol_speed(row.at("index")) * 3.6, value, 1e-9);
      ++symbols;
    }
  }
  CHECK(indices >= 148);
  CHECK(symbols >= 17);
}

TEST_CASE("the table follows its own law: 45 kg x 10^(index / 80), within rounding") {
  // Source: preferred numbers R80; the standard rounds to at most 2.6 %.
  for (int i = 0; i <= kMaxLoadIndex; ++i) {
    CAPTURE(i);
    CHECK(std::abs(load_index_mass(i) / (45 * std::pow(10, i / 80.0)) - 1) < 0.026);
    if (i > 0) CHECK(load_index_mass(i) > load_index_mass(i - 1));
    CHECK(load_index_for(load_index_mass(i)) == i);
    CHECK(load_index_for(load_index_mass(i) - 0.01) == i);
  }
  CHECK(load_index_for(0) == 0);
  CHECK_FALSE(load_index_for(14000.1).has_value());
  CHECK_FALSE(load_index_for(std::numeric_limits<double>::quiet_NaN()).has_value());
}

TEST_CASE("marks that do not exist are refused in words") {
  CHECK_THROWS_AS(load_index_mass(-1), std::invalid_argument);
  CHECK_THROWS_WITH(load_index_mass(201), "load index 201: 0 to 200 are known (146 is 3000 kg)");
  for (const char* bad : {"", "A", "A9", "A0", "I", "40", "d8"}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(speed_symbol_speed(bad), std::invalid_argument);
  }
  CHECK(speed_symbol_speed("a8") == speed_symbol_speed("A8"));
}

TEST_CASE("load margins") {
  const LoadMargin field = load_margin(2500, Service{146, "A8"}, 40 / 3.6);
  CHECK(field.capacity == 3000);
  CHECK(field.margin == 500);
  CHECK_NEAR(field.used, 2500.0 / 3000, 1e-12);
  const LoadMargin road = load_margin(2500, Service{146, "A8"}, 50 / 3.6);  // faster than marked: nothing allowed
  CHECK(road.capacity == 0);
  CHECK(road.margin == -2500);
  CHECK(std::isinf(road.used));
  CHECK(load_margin(3200, 3000.0).margin == -200);
  CHECK(load_margin(0, 0.0).used == 0);
}

TEST_CASE("rule of thumb for other pressures") {
  // Source: P = Pmax (L / Lmax)^1.25, agronomy press. Half the pressure carries 0.5^0.8 = 57.4 % of the load.
  CHECK_NEAR(rule_of_thumb_load(0.8e5, 3000, 1.6e5), 3000 * 0.574349, 0.01);
  CHECK_NEAR(rule_of_thumb_pressure(1500, 3000, 1.6e5).value(), 1.6e5 * 0.420448, 0.1);
  for (const double mass : {200.0, 1234.0, 3000.0}) {
    CHECK_NEAR(rule_of_thumb_load(*rule_of_thumb_pressure(mass, 3000, 1.6e5), 3000, 1.6e5), mass, 1e-6);
  }
  CHECK(rule_of_thumb_load(3e5, 3000, 1.6e5) == 3000);
  CHECK_FALSE(rule_of_thumb_pressure(3001, 3000, 1.6e5).has_value());
  CHECK(rule_of_thumb_load(-1, 3000, 1.6e5) == 0);
}

TEST_CASE("a tyre set warm is soft in the cold") {
  // Ideal gas: 160 kPa gauge at 20 C is 261.325 kPa absolute; at -20 C 261.325 x 253.15 / 293.15 - 101.325 = 124.34
  // kPa.
  CHECK_NEAR(pressure_at_temperature(1.6e5, 293.15, 253.15), 124342, 5);
  CHECK(pressure_at_temperature(1.6e5, 293.15, 293.15) == doctest::Approx(1.6e5));
  // Liquid that takes 2 % of the air's room lifts the absolute pressure by 1 / 0.98.
  CHECK_NEAR(pressure_at_temperature(1.6e5, 293.15, 293.15, 0.98), 261325 / 0.98 - 101325, 1e-6);
  CHECK(pressure_at_temperature(1.6e5, 0, 253.15) == 1.6e5);  // no temperature: no change rather than a wrong one
}

TEST_CASE("standard atmosphere") {
  // Source: ISO 2533 tables: 101325 Pa at 0 m, 89874.6 at 1000 m, 54019.9 at 5000 m.
  CHECK_NEAR(atmosphere_at(0), 101325, 1e-6);
  CHECK_NEAR(atmosphere_at(1000), 89874.6, 2);
  CHECK_NEAR(atmosphere_at(5000), 54019.9, 4);
}

TEST_CASE("a service description is read, and nonsense is refused in one line") {
  CHECK(parse_service("145D").load_index == 145);
  CHECK(parse_service("155A8/152B").speed_symbol == "A8");
  for (const char* wrong : {"", "A8", "145", "999A8", "145Q9", "145A8/", "145A8/x", "-5A8"}) {
    INFO(std::string(wrong));
    CHECK_THROWS_AS(parse_service(wrong), std::invalid_argument);
  }
}
