// Densities and first ice against published values.
#include "vehicles/liquid.h"

#include <string>

#include "tests/csv.h"
#include "tests/near.h"

using namespace sidehill;

TEST_CASE("water is as dense as Kell says") {
  // Source: Kell 1975, J. Chem. Eng. Data 20(1):97, table of air-free water at one atmosphere, as in the CRC Handbook
  // F-6.
  CHECK_NEAR(water_density(273.15), 999.8395, 1e-4);
  CHECK_NEAR(water_density(277.15), 999.9720, 1e-4);
  CHECK_NEAR(water_density(293.15), 998.2041, 2e-4);
  CHECK_NEAR(water_density(298.15), 997.0449, 2e-4);
  CHECK_NEAR(water_density(303.15), 995.6473, 3e-4);
  CHECK_NEAR(water_density(313.15), 992.2158, 5e-4);
  // Source: IAPWS-95 (Wagner and Pruss 2002), another formulation and temperature scale, at 10 deg C.
  CHECK_NEAR(water_density(283.15), 999.7026, 0.01);
  CHECK(density(Medium::water, 293.15) == water_density(293.15));
}

TEST_CASE("calcium chloride is as dense, and freezes as late, as Melinder's coefficients say") {
  // Source: Melinder 2010 coefficients; grid computed outside this project from the open property library CoolProp.
  int checked = 0;
  for (const CsvRow& row : read_csv("fluid_density_freezing.csv")) {
    if (row.at("kind") != "grid" || row.at("dataset") != "MCA") continue;
    const double x = std::stod(row.at("concentration")) / 100, kelvin = std::stod(row.at("T_C")) + 273.15;
    const double published = std::stod(row.at("density_kg_m3_or_SG"));
    CAPTURE(x);
    CHECK_NEAR(calcium_chloride_density(x, kelvin), published, 0.002 * published);
    CHECK_NEAR(calcium_chloride_slush_free(x) - 273.15, std::stod(row.at("freezing_C")), 0.2);
    ++checked;
  }
  CHECK(checked == 18);
}

TEST_CASE("the 3.5 lb mix") {
  // Source: recipe of the trade, 0.77 m_flake / (m_flake + m_water); density and ice by Melinder 2010.
  const MediumInfo& mix = info(Medium::calcium_chloride_3_5);
  CHECK_NEAR(mix.mass_fraction, 0.77 * 3.5 / (3.5 + 8.345), 1e-4);
  CHECK_NEAR(density(Medium::calcium_chloride_3_5, 293.15), 1207, 1);
  CHECK_NEAR(mix.slush_free - 273.15, -23.5, 0.1);
  CHECK(density(Medium::calcium_chloride_3_5, 283.15) > density(Medium::calcium_chloride_3_5, 293.15));
}

TEST_CASE("outside the fits the nearest valid temperature counts") {
  for (const Medium medium : {Medium::water, Medium::calcium_chloride_3_5}) {
    CHECK(density(medium, 200) == density(medium, 273.15));
    CHECK(density(medium, 900) == density(medium, 313.15));
  }
  CHECK(calcium_chloride_density(0.9, 293.15) == calcium_chloride_density(0.3, 293.15));
}

TEST_CASE("every medium is listed once, with key, caution and source") {
  CHECK(media().size() == 2);
  for (const MediumInfo& medium : media()) {
    CHECK(&info(medium.medium) == &medium);
    CHECK_FALSE(medium.key.empty());
    CHECK_FALSE(medium.name.empty());
    CHECK_FALSE(medium.caution.empty());
    CHECK_FALSE(medium.source.empty());
  }
}
