// Recipes: mass in equals mass out, and the trade's own measures come back.
#include "vehicles/recipe.h"

#include <string>

#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("pounds of flake to the gallon of water come back") {
  // Source: the mixes are named so: 2, 3.5, 5 lb of 77 % flake to a US gallon (8.345 lb) of water.
  for (const auto& [medium, pounds] :
       {std::pair{Medium::calcium_chloride_2, 2.0}, std::pair{Medium::calcium_chloride_3_5, 3.5},
        std::pair{Medium::calcium_chloride_5, 5.0}}) {
    const Recipe recipe = recipe_for_volume(medium, 0, 0.3785, 293.15);
    const auto& this_pounds = pounds;
    CAPTURE(this_pounds);
    CHECK_NEAR(recipe.product_mass / recipe.water_mass, pounds / 8.345, 1e-9);
    CHECK_NEAR(recipe.product_mass + recipe.water_mass, recipe.mass, 1e-9);
    CHECK_NEAR(recipe.mass, 0.3785 * density(medium, 293.15), 1e-9);
    CHECK(recipe.swelling > 0.02);  // dissolved flake takes room
    CHECK(recipe.order.find("never water onto") != std::string::npos);
  }
  // Worked by hand: 378.5 L of 3.5 lb mix at 20 C is 456.9 kg; 0.29548 of it is flake.
  const Recipe by_hand = recipe_for_volume(Medium::calcium_chloride_3_5, 0, 0.3785, 293.15);
  CHECK_NEAR(by_hand.mass, 456.9, 0.5);
  CHECK_NEAR(by_hand.product_mass, 135.0, 0.3);
  CHECK_NEAR(1000 * by_hand.water_volume, 322.5, 0.5);
}

TEST_CASE("every product gives the same mix") {
  for (const MediumInfo& medium : media()) {
    for (const Product& product : products(medium.medium)) {
      const Recipe recipe = recipe_for_volume(medium.medium, 0, 0.2, 283.15, &product);
      CAPTURE(product.name);
      CHECK_NEAR(mixed_mass_fraction(recipe.product_mass, product.purity, recipe.water_mass), medium.mass_fraction,
                 1e-9);
      CHECK(recipe.water_mass > 0);
      CHECK((recipe.product_volume > 0) == (product.density > 0));
    }
    CHECK(products(medium.medium).empty() != medium.solute.has_value());
  }
}

TEST_CASE("glycol and methanol shrink a little when mixed") {
  // Source: ideal mixing would keep the volume; aqueous methanol at 30 % loses about 2.5 % (CRC densities, recalled).
  for (const Medium medium : {Medium::ethylene_glycol, Medium::propylene_glycol, Medium::methanol}) {
    const Recipe recipe = recipe_for_volume(medium, 0, 1, 293.15);
    CHECK(recipe.swelling < 0);
    CHECK(recipe.swelling > -0.04);
  }
}

TEST_CASE("strength for the cold") {
  const auto x = concentration_for_cold(Medium::calcium_chloride, 253.15);
  REQUIRE(x);
  const Recipe recipe = recipe_for_volume(Medium::calcium_chloride, *x, 0.4, 283.15);
  CHECK_NEAR(*recipe.slush_free, 253.15, 1e-6);
  CHECK(*concentration_for_cold(Medium::calcium_chloride, 253.15, 5) > *x);
  CHECK_FALSE(concentration_for_cold(Medium::sodium_chloride, 243.15));
  CHECK_FALSE(concentration_for_cold(Medium::water, 272.15));
  CHECK_FALSE(concentration_for_cold(Medium::calcium_chloride_2, 253.15));
  CHECK(*concentration_for_cold(Medium::calcium_chloride_3_5, 253.15) == 0);
  CHECK(*concentration_for_cold(Medium::polyurethane, 200) == 0);
  CHECK(*concentration_for_cold(Medium::sodium_chloride, 300) == 0.01);
}

TEST_CASE("water and ready products need no mixing") {
  const Recipe water = recipe_for_volume(Medium::water, 0, 0.2, 283.15);
  CHECK(water.product_mass == 0);
  CHECK_NEAR(water.water_volume, 0.2, 1e-12);
  CHECK_NEAR(water.swelling, 0, 1e-12);
  const Recipe beet = recipe_for_volume(Medium::beet_by_product, 0, 0.2, 283.15);
  CHECK(beet.water_mass == 0);
  CHECK_NEAR(beet.product_mass, 260, 1e-9);
  CHECK(beet.order.empty());
  CHECK(recipe_for_volume(Medium::water, 0, -1, 283.15).mass == 0);
}

TEST_CASE("an own medium comes ready, by its own density, and promises no frost") {
  OwnMedium own;
  own.density = 1250;
  const Recipe recipe = recipe_for_volume(Mix{Medium::own, 0, &own}, 0.2, 283.15);
  CHECK_NEAR(recipe.mass, 250, 1e-9);
  CHECK_NEAR(recipe.product_mass, 250, 1e-9);
  CHECK(recipe.water_mass == 0);
  CHECK_FALSE(recipe.slush_free);
  CHECK_FALSE(concentration_for_cold(Medium::own, 272.15));
}

TEST_CASE("a medium is found by its name for people, and by any frost that it stands") {
  for (const MediumInfo& medium : media_choices()) {
    const auto found = mix_named(medium_name({medium.medium, 0, nullptr}, true));
    REQUIRE(found);
    CHECK(found->medium == medium.medium);
    CHECK(found->concentration == 0.0);  // as it comes
  }
  for (const Medium medium : {Medium::calcium_chloride, Medium::magnesium_chloride, Medium::propylene_glycol})
    for (int celsius = -1; celsius >= -30; --celsius) {
      CAPTURE(celsius);
      const std::string name = std::string(info(medium).name) + ", to " + std::to_string(celsius) + " °C";
      const auto found = mix_named(name);
      REQUIRE(found);
      CHECK(found->medium == medium);
      REQUIRE(found->concentration);
      CHECK(medium_name({medium, *found->concentration, nullptr}) == name);  // and it is called so then
    }
  CHECK(mix_named("Calcium chloride to -24 C")->concentration ==
        mix_named("calcium chloride, to -24 °C")->concentration);
  CHECK(mix_named("calcium chloride, to -23 °C (3.5 lb/US gal)")->medium == Medium::calcium_chloride_3_5);
  CHECK(mix_named("calcium_chloride to -24")->concentration == mix_named("calcium chloride, to -24 °C")->concentration);
  CHECK(mix_named("sodium chloride to -10 C")->medium == Medium::sodium_chloride);  // without "brine"
}

TEST_CASE("a frost that a medium stands at no strength is said, and other words are no name") {
  const auto cold = mix_named("magnesium chloride, to -60 C");
  REQUIRE(cold);
  CHECK_FALSE(cold->concentration);
  CHECK_NEAR(cold->coldest, slush_free(Medium::magnesium_chloride, strength_range(Medium::magnesium_chloride).max),
             1e-9);
  for (const char* name : {"", "brine", "calcium chloride, to", "calcium chloride, to -24 K",
                           "calcium chloride, to nan C", "water, to -10 C", "calcium chloride to -24 C or so"})
    CHECK_FALSE_MESSAGE(mix_named(name), name);
}
