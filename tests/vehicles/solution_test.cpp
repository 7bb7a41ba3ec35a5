// Fits of solutions against the published coefficients, and what follows from them.
#include "vehicles/solution.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "sim/base/constants.h"
#include "tests/kit/csv.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {
const Solute kAllSolutes[] = {Solute::sodium_chloride, Solute::calcium_chloride, Solute::magnesium_chloride,
                              Solute::ethylene_glycol, Solute::propylene_glycol, Solute::methanol};
}  // namespace

TEST_CASE("solutions are as dense, and freeze as late, as Melinder's coefficients say") {
  // Source: Melinder 2010 coefficients; grid computed outside this project from the open property library CoolProp.
  const std::map<std::string, Solute> fits{
      {"MCA", Solute::calcium_chloride}, {"MNA", Solute::sodium_chloride}, {"MEG", Solute::ethylene_glycol}};
  std::map<std::string, int> checked;
  for (const CsvRow& row : read_csv("fluid_density_freezing.csv")) {
    if (row.at("kind") != "grid") continue;
    const Solute solute = fits.at(row.at("dataset"));
    const double x = std::stod(row.at("concentration")) / 100, kelvin = std::stod(row.at("T_C")) + kZeroCelsius;
    const double published = std::stod(row.at("density_kg_m3_or_SG"));
    CAPTURE(row.at("dataset"));
    CAPTURE(x);
    CHECK_NEAR(solution_density(solute, x, kelvin), published, 0.06);
    CHECK_NEAR(solution_slush_free(solute, x) - kZeroCelsius, std::stod(row.at("freezing_C")), 0.011);
    ++checked[row.at("dataset")];
  }
  CHECK(checked["MCA"] == 18);
  CHECK(checked["MNA"] == 12);
  CHECK(checked["MEG"] == 16);
}

TEST_CASE("densities at 20 deg C agree with another collection") {
  // Source: CRC Handbook of Chemistry and Physics, concentrative properties of aqueous solutions, 20 deg C (recalled,
  // hence the wide tolerance): an independent check that no coefficient slipped.
  CHECK_NEAR(solution_density(Solute::sodium_chloride, 0.20, 293.15), 1147.8, 2);
  CHECK_NEAR(solution_density(Solute::calcium_chloride, 0.20, 293.15), 1177.5, 6);
  CHECK_NEAR(solution_density(Solute::magnesium_chloride, 0.20, 293.15), 1174.2, 6);
  CHECK_NEAR(solution_density(Solute::ethylene_glycol, 0.40, 293.15), 1051.4, 4);
  CHECK_NEAR(solution_density(Solute::propylene_glycol, 0.40, 293.15), 1035, 4);
  CHECK_NEAR(solution_density(Solute::methanol, 0.40, 293.15), 934.5, 4);
}

TEST_CASE("stronger freezes later and no fit jumps or turns back inside its range") {
  for (const Solute solute : kAllSolutes) {
    CAPTURE(info(solute).name);
    double last = 273.2;
    for (double x = 0; x <= info(solute).max_mass_fraction; x += 0.002) {
      const double first_ice = solution_slush_free(solute, x);
      CHECK(first_ice <= last);
      CHECK(last - first_ice < 2.5);
      if (info(solute).solid) CHECK(first_ice >= *info(solute).solid);
      last = first_ice;
    }
    CHECK_NEAR(solution_slush_free(solute, 0), kZeroCelsius, 0.05);
    CHECK_NEAR(solution_density(solute, 0, 283.15), 999.7, 1.5);  // plain water
    CHECK(solution_density(solute, 2, 293.15) == solution_density(solute, info(solute).max_mass_fraction, 293.15));
    CHECK(solution_density(solute, 0.1, 100) == solution_density(solute, 0.1, solution_slush_free(solute, 0.1)));
    CHECK(solution_density(solute, 0.1, 900) == solution_density(solute, 0.1, 313.15));
    CHECK(std::isfinite(solution_density(solute, std::nan(""), std::nan(""))));
  }
}

TEST_CASE("the strength for a wanted temperature leads back to it") {
  for (const Solute solute : kAllSolutes) {
    CHECK(*mass_fraction_for(solute, 280) == 0);
    for (const double celsius : {-5.0, -12.0, -19.0}) {
      const auto x = mass_fraction_for(solute, celsius + kZeroCelsius);
      REQUIRE(x);
      CHECK_NEAR(solution_slush_free(solute, *x) - kZeroCelsius, celsius, 1e-6);
    }
    CHECK_FALSE(mass_fraction_for(solute, 150));
    CHECK_FALSE(mass_fraction_for(solute, std::nan("")));
  }
  CHECK_FALSE(mass_fraction_for(Solute::sodium_chloride, -25 + kZeroCelsius));
  CHECK_FALSE(mass_fraction_for(Solute::magnesium_chloride, -32 + kZeroCelsius));
}

TEST_CASE("ice share: none, some, all") {
  // Lever rule by hand: 10 % salt cooled to where 20 % freezes is half ice.
  const double where = solution_slush_free(Solute::sodium_chloride, 0.20);
  CHECK_NEAR(ice_share(Solute::sodium_chloride, 0.10, where), 0.5, 1e-6);
  CHECK(ice_share(Solute::sodium_chloride, 0.10, 271) == 0);
  CHECK(ice_share(Solute::sodium_chloride, 0.10, 245) == 1);
  CHECK(ice_share(Solute::sodium_chloride, 0, 272) == 1);
  CHECK(ice_share(Solute::propylene_glycol, 0.3, 200) < 1);
  for (const Solute solute : kAllSolutes) {
    double last = 0;
    for (double kelvin = 275; kelvin > 200; kelvin -= 0.5) {
      const double share = ice_share(solute, 0.15, kelvin);
      CHECK(share >= last);
      CHECK(share <= 1);
      last = share;
    }
  }
}

TEST_CASE("the stated doubt is as wide as second sources lie off, and not much wider") {
  // Source: tests/data/solution_second_sources.csv names one in every row. Recalled rows warn and decide nothing.
  const std::map<std::string, Solute> names{
      {"sodium_chloride", Solute::sodium_chloride},       {"calcium_chloride", Solute::calcium_chloride},
      {"magnesium_chloride", Solute::magnesium_chloride}, {"ethylene_glycol", Solute::ethylene_glycol},
      {"propylene_glycol", Solute::propylene_glycol},     {"methanol", Solute::methanol}};
  std::map<Solute, double> off_density, off_ice, said_density, said_ice;
  int compared = 0;
  for (const CsvRow& row : read_csv("solution_second_sources.csv")) {
    const Solute solute = names.at(row.at("medium"));
    const double x = std::stod(row.at("mass_fraction")), kelvin = std::stod(row.at("T_C")) + kZeroCelsius;
    CAPTURE(row.at("medium"));
    CAPTURE(x);
    CAPTURE(kelvin - kZeroCelsius);
    if (!row.at("density_kg_m3").empty()) {
      const double off = std::stod(row.at("density_kg_m3")) / solution_density(solute, x, kelvin) - 1;
      const double said = solution_density_uncertainty(solute, x);
      CHECK(std::abs(off) <= said);
      off_density[solute] = std::max(off_density[solute], std::abs(off));
      said_density[solute] = std::max(said_density[solute], said);
    }
    if (!row.at("freezing_C").empty()) {
      const double off = std::stod(row.at("freezing_C")) + kZeroCelsius - solution_slush_free(solute, x);
      const double said = slush_free_uncertainty(solute, x);
      if (row.at("status") == "MEMORY") {
        WARN(std::abs(off) <= said);
        continue;
      }
      CHECK(std::abs(off) <= said + 1e-9);
      off_ice[solute] = std::max(off_ice[solute], std::abs(off));
      said_ice[solute] = std::max(said_ice[solute], said);
    }
    ++compared;
  }
  CHECK(compared > 120);
  for (const Solute solute : kAllSolutes) {
    CAPTURE(info(solute).name);
    CHECK(said_density[solute] < 1.5 * off_density[solute] + 0.001);
    if (off_ice.contains(solute)) CHECK(said_ice[solute] < 1.2 * off_ice[solute] + 0.5);
  }
}

TEST_CASE("the doubt grows with strength and is never below that of a fit to its own data") {
  for (const Solute solute : kAllSolutes) {
    CAPTURE(info(solute).name);
    double last_density = 0.001, last_ice = 0.5;
    for (double x = 0; x <= info(solute).max_mass_fraction; x += 0.001) {
      CHECK(solution_density_uncertainty(solute, x) >= last_density);
      CHECK(slush_free_uncertainty(solute, x) >= last_ice);
      last_density = solution_density_uncertainty(solute, x);
      last_ice = slush_free_uncertainty(solute, x);
    }
    CHECK(solution_density_uncertainty(solute, 2) ==
          solution_density_uncertainty(solute, info(solute).max_mass_fraction));
    CHECK(std::isfinite(slush_free_uncertainty(solute, std::nan(""))));
  }
  // Source: figures found outside this project. Calcium chloride freezes 3 K (0.284) to 7.5 K (0.299) colder in a
  // second source and is up to 0.63 % denser; magnesium chloride near its usual 20 % differs by 1.3 to 1.8 K.
  CHECK(slush_free_uncertainty(Solute::calcium_chloride, 0.284) >= 3);
  CHECK(slush_free_uncertainty(Solute::calcium_chloride, 0.299) >= 7.5);
  CHECK(solution_density_uncertainty(Solute::calcium_chloride, 0.2885) >= 0.0063);
  CHECK(solution_density_uncertainty(Solute::calcium_chloride, 0.149) >= 0.0024);
  CHECK(slush_free_uncertainty(Solute::magnesium_chloride, 0.20) >= 1.8);
  CHECK(slush_free_uncertainty(Solute::calcium_chloride, 0.2275) <= 1);
}
