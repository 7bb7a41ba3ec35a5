// Media: densities, freezing and the list itself against published values.
#include "vehicles/liquid.h"

#include <set>
#include <string>

#include "tests/kit/near.h"

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

TEST_CASE("calcium chloride by the trade's measure") {
  // Source: recipes of the trade, 0.77 m_flake / (m_flake + m_water); density and ice by Melinder 2010.
  struct Mix {
    Medium medium;
    double pounds, x, density, slush_free, within;
  };
  for (const Mix& mix : {Mix{Medium::calcium_chloride_2, 2, 0.149, 1132, -10.9, 0.1},
                         Mix{Medium::calcium_chloride_3_5, 3.5, 0.2275, 1207, -23.5, 0.1},
                         Mix{Medium::calcium_chloride_5, 5, 0.2885, 1269, -42, 0.6}}) {
    CAPTURE(mix.pounds);
    CHECK_NEAR(info(mix.medium).mass_fraction, mix.x, 2e-4);
    CHECK_NEAR(info(mix.medium).mass_fraction, 0.77 * mix.pounds / (mix.pounds + 8.345), 1e-9);
    CHECK_NEAR(density(mix.medium, 293.15), mix.density, 1);
    CHECK_NEAR(slush_free(mix.medium, 0) - 273.15, mix.slush_free, mix.within);
    CHECK(density(mix.medium, 283.15) > density(mix.medium, 293.15));
    CHECK(*freezing_points(mix.medium, 0).solid < *freezing_points(mix.medium, 0).slush_free);
    CHECK(density(mix.medium, 0.1, 293.15) == density(mix.medium, 293.15));  // the name says the strength
    CHECK(strength_range(mix.medium).max == 0);
  }
  CHECK_NEAR(density(Medium::calcium_chloride, 0.149, 293.15), 1132, 1);
}

TEST_CASE("strength: the usual one, the wished one, or the nearest that exists") {
  CHECK(strength(Medium::sodium_chloride, 0) == 0.20);
  CHECK(strength(Medium::sodium_chloride, 0.12) == 0.12);
  CHECK(strength(Medium::sodium_chloride, 0.5) == 0.23);
  CHECK(strength(Medium::magnesium_chloride, 0.5) == 0.205);
  CHECK(strength(Medium::water, 0.3) == 0);
  CHECK(strength(Medium::ethylene_glycol, std::nan("")) == 0.40);
  CHECK(density(Medium::sodium_chloride, 0.10, 293.15) < density(Medium::sodium_chloride, 293.15));
}

TEST_CASE("ready products lie in the range they are sold in") {
  // Source: product ranges found: beet by-product 1282 to 1318 kg/m3, polyurethane 950 to 1050 kg/m3.
  const double beet = density(Medium::beet_by_product, 283.15), foam = density(Medium::polyurethane, 283.15);
  CHECK(beet * (1 - 2 * density_uncertainty(Medium::beet_by_product, 0)) >= 1281.9);
  CHECK(beet * (1 + 2 * density_uncertainty(Medium::beet_by_product, 0)) <= 1318.1);
  CHECK(foam * (1 - 2 * density_uncertainty(Medium::polyurethane, 0)) >= 949.9);
  CHECK(foam * (1 + 2 * density_uncertainty(Medium::polyurethane, 0)) <= 1050.1);
  CHECK_NEAR(slush_free(Medium::beet_by_product, 0) - 273.15, -39, 1e-9);
  CHECK_FALSE(freezing_points(Medium::polyurethane, 0).slush_free);
  CHECK_FALSE(freezing_points(Medium::polyurethane, 0).solid);
  CHECK(ice_share(Medium::polyurethane, 0, 200) == 0);
  CHECK(info(Medium::polyurethane).turns_with_wheel);
}

TEST_CASE("the doubt of a density is that of its strength") {
  CHECK(density_uncertainty(Medium::water, 0) == 0.001);
  // Source: a second table of calcium chloride lies 0.24 % in the median, 0.63 % at most, off the fit.
  CHECK(density_uncertainty(Medium::calcium_chloride_5, 0) >= 0.0063);
  CHECK(density_uncertainty(Medium::calcium_chloride_3_5, 0) >= 0.0024);
  CHECK(density_uncertainty(Medium::calcium_chloride, 0.10) < density_uncertainty(Medium::calcium_chloride, 0.25));
  CHECK(density_uncertainty(Medium::calcium_chloride_2, 0.29) == density_uncertainty(Medium::calcium_chloride_2, 0));
  for (const MediumInfo& medium : media()) {
    CHECK(density_uncertainty(medium.medium, 0) >= 0.001);
    CHECK(density_uncertainty(medium.medium, 0) < 0.03);
  }
}

TEST_CASE("liquids grow when they warm") {
  // Water from 4 to 30 deg C, from Kell's own table: 999.9720 / 995.6473 - 1.
  CHECK_NEAR(expansion(Medium::water, 0, 277.15, 303.15), 0.0043436, 1e-6);
  for (const MediumInfo& medium : media()) CHECK(expansion(medium.medium, 0, 283.15, 303.15) >= 0);
}

TEST_CASE("outside the fits the nearest valid temperature counts") {
  for (const MediumInfo& medium : media()) {
    CAPTURE(medium.key);
    CHECK(density(medium.medium, 100) == density(medium.medium, 150));
    CHECK(density(medium.medium, 900) == density(medium.medium, 313.15));
    CHECK(std::isfinite(density(medium.medium, std::nan(""), std::nan(""))));
  }
  CHECK(density(Medium::water, 200) == density(Medium::water, 273.15));
}

TEST_CASE("every medium is listed once, in words") {
  std::set<std::string> keys, names;
  CHECK(media().size() == 12);
  for (const MediumInfo& medium : media()) {
    CAPTURE(medium.key);
    CHECK(&info(medium.medium) == &medium);
    keys.insert(std::string(medium.key));
    names.insert(std::string(medium.name));
    for (const std::string_view words :
         {medium.key, medium.name, medium.caution, medium.corrosion, medium.toxicity, medium.spill, medium.tube,
          medium.source, freezing_points(medium.medium, 0).note})
      CHECK(words.size() >= 4);
    CHECK(medium.typical_fill <= 1);
    if (medium.solute) CHECK(medium.mass_fraction <= info(*medium.solute).max_mass_fraction);
    CHECK(density(medium.medium, 283.15) > 900);
    CHECK(density(medium.medium, 283.15) < 1350);
  }
  CHECK(keys.size() == media().size());
  CHECK(names.size() == media().size());
}

TEST_CASE("a solution is called by the frost it stands, which is calculated") {
  CHECK(medium_name({Medium::water}) == "water");
  CHECK(medium_name({Medium::beet_by_product}) == "beet by-product");
  // Published recipe (see above): 3.5 lb/US gal is free of ice to -23.5 C. The name never promises more.
  CHECK(medium_name({Medium::calcium_chloride_3_5}) == "calcium chloride, to -23 °C");
  CHECK(medium_name({Medium::calcium_chloride_3_5}, true) == "calcium chloride, to -23 °C (3.5 lb/US gal)");
  CHECK(medium_name({Medium::calcium_chloride, 0.149}) == "calcium chloride, to -10 °C");  // -10.9
  CHECK(medium_name({Medium::ethylene_glycol, 0.01}) == "ethylene glycol and water, to 0 °C");
  std::set<std::string> names;
  for (const MediumInfo& medium : media_choices()) {
    const std::string name = medium_name({medium.medium}, true);
    CAPTURE(name);
    CHECK(names.insert(name).second);
    CHECK((name.find(", to -") != name.npos) == medium.solute.has_value());
  }
  // Whatever the strength, the mix is free of ice at the temperature in its name, and one kelvin colder it is not sure.
  for (double x = 0.02; x < 0.28; x += 0.01) {
    const std::string name = medium_name({Medium::calcium_chloride, x});
    const double said = std::stod(name.substr(name.find(" to ") + 4)) + 273.15;
    CHECK(slush_free(Medium::calcium_chloride, x) <= said + 1e-5);
    CHECK(slush_free(Medium::calcium_chloride, x) > said - 1);
  }
}

TEST_CASE("an own medium has what its data sheet says, and no more") {
  OwnMedium own;
  const Mix mix{Medium::own, 0, &own};
  CHECK(medium_name(mix) == "own medium");
  CHECK(std::isnan(density(mix, 283.15)));  // nothing is assumed
  CHECK(std::isnan(density(Medium::own, 283.15)));
  own = {"winter filling", 1250, 293.15, 243.15, 233.15, "Slow.", "None known.", {}};
  CHECK(medium_name(mix) == "winter filling");
  CHECK(density(mix, 253.15) == 1250);
  CHECK(density(mix, 303.15) == 1250);
  CHECK(density_uncertainty(mix) == 0.01);
  CHECK_FALSE(expansion_known(Medium::own));
  CHECK(expansion_known(Medium::water));
  CHECK(expansion(mix, 283.15, 303.15) == 0);
  CHECK(corrosion_of(mix) == "Slow.");
  CHECK(toxicity_of(mix) == "None known.");
  CHECK(corrosion_of({Medium::water}) == info(Medium::water).corrosion);
  const FreezingPoints points = freezing_points(mix);
  CHECK(points.known);
  CHECK(*points.slush_free == 243.15);
  CHECK(*points.solid == 233.15);
  CHECK(*ice_share(mix, 250) == 0);
  CHECK_FALSE(ice_share(mix, 240));  // how much is not known
  CHECK(*ice_share(mix, 230) == 1);
  own = {};
  own.density = 1250;
  CHECK_FALSE(freezing_points(mix).known);
  CHECK_FALSE(ice_share(mix, 240));
  CHECK(std::string(corrosion_of(mix)).starts_with("Not known"));
  CHECK(std::string(toxicity_of(mix)).starts_with("Not known"));
}

TEST_CASE("what a medium does to steel, in a word, is how its sentence begins") {
  for (const MediumInfo& medium : media_choices()) {
    const std::string_view says = medium.corrosion;
    const Rust begins = says.starts_with("Strongly") || says.starts_with("Corrosive") ? Rust::strong
                        : says.starts_with("Mild")                                    ? Rust::mild
                        : says.starts_with("Low")                                     ? Rust::low
                        : says.starts_with("None")                                    ? Rust::none
                                                                                      : Rust::not_known;
    CHECK_MESSAGE(rust_of({medium.medium}) == begins, std::string(medium.key));
  }
  REQUIRE(medium_keys().size() == media_choices().size());
  for (std::size_t i = 0; i < medium_keys().size(); ++i) CHECK(medium_keys()[i] == media_choices()[i].key);
}
