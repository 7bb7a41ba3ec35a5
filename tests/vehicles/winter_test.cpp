// Frost: liquid, slushy, solid, in that order as it gets colder.
#include "vehicles/winter.h"

#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("winter names what every farmer knows") {
  CHECK(winter(Medium::water, 0, 274.15).frost == Frost::liquid);
  CHECK(winter(Medium::water, 0, 272.15).frost == Frost::solid);
  // Source: first ice of the 3.5 lb mix -23.5 C (Melinder 2010); eutectic near -51 C.
  CHECK(winter(Medium::calcium_chloride_3_5, 0, 251.15).frost == Frost::liquid);
  CHECK(winter(Medium::calcium_chloride_3_5, 0, 248.15).frost == Frost::slushy);
  CHECK(winter(Medium::calcium_chloride_3_5, 0, 217.15).frost == Frost::solid);
  // Source: eutectic of sodium chloride -21.1 C.
  CHECK(winter(Medium::sodium_chloride, 0.10, 263.15).frost == Frost::slushy);
  CHECK(winter(Medium::sodium_chloride, 0.10, 251.15).frost == Frost::solid);
  CHECK(winter(Medium::beet_by_product, 0, 238.15).frost == Frost::liquid);
  CHECK(winter(Medium::polyurethane, 0, 200).frost == Frost::liquid);
  CHECK_NEAR(winter(Medium::calcium_chloride_3_5, 0, 253.15).reserve, 3.54, 0.05);
  CHECK(winter(Medium::calcium_chloride_5, 0, 231.15).doubtful);  // strong mixes carry kelvins of doubt
  CHECK_FALSE(winter(Medium::calcium_chloride_3_5, 0, 253.15).doubtful);
  CHECK(winter(Medium::water, 0, 260).meaning.find("turns with the wheel") != std::string_view::npos);
}

TEST_CASE("what second sources freeze earlier is in doubt") {
  // Source: the first ice of 20 % magnesium chloride lies 1.3 K (Lange's Handbook) to 3.1 K (VDI Heat Atlas) off the
  // fit's -28.7 C; that of 40 % ethylene glycol 1.6 K (ASHRAE) off -23.8 C.
  CHECK(winter(Medium::magnesium_chloride, 0.20, 273.15 - 27.2).doubtful);
  CHECK(winter(Medium::magnesium_chloride, 0.20, 273.15 - 27.2).frost == Frost::liquid);
  CHECK_FALSE(winter(Medium::magnesium_chloride, 0.20, 273.15 - 24).doubtful);
  CHECK(winter(Medium::ethylene_glycol, 0.40, 273.15 - 22.5).doubtful);
  CHECK_FALSE(winter(Medium::ethylene_glycol, 0.40, 273.15 - 20).doubtful);
}

TEST_CASE("colder is never softer") {
  for (const MediumInfo& medium : media()) {
    Frost last = Frost::liquid;
    for (double kelvin = 280; kelvin > 205; kelvin -= 0.25) {
      const WinterAnswer answer = winter(medium.medium, 0, kelvin);
      CAPTURE(medium.key);
      CAPTURE(kelvin);
      CHECK(answer.frost >= last);
      CHECK((answer.frost == Frost::liquid) == (answer.ice == 0));
      CHECK_FALSE(answer.meaning.empty());
      last = answer.frost;
    }
  }
  CHECK(winter_of_all(260).size() == media().size());
}

TEST_CASE("of an own medium the frost is what its sheet says, or not known") {
  OwnMedium own;
  own.density = 1250;
  const Mix mix{Medium::own, 0, &own};
  const WinterAnswer nothing = winter(mix, 263.15);
  CHECK(nothing.frost == Frost::not_known);
  CHECK(nothing.may_be_solid);
  CHECK(nothing.meaning.find("Nothing says when it freezes") != std::string_view::npos);
  own.solid = 243.15;  // a sheet that gives the solid alone
  CHECK(winter(mix, 263.15).frost == Frost::not_known);
  CHECK(winter(mix, 240.15).frost == Frost::solid);
  own.first_ice = 253.15;
  CHECK(winter(mix, 263.15).frost == Frost::liquid);
  CHECK_FALSE(winter(mix, 263.15).doubtful);
  CHECK(winter(mix, 254.15).doubtful);  // within 2 K
  CHECK(winter(mix, 248.15).frost == Frost::slushy);
  CHECK_FALSE(winter(mix, 248.15).may_be_solid);
  CHECK(winter(mix, 240.15).frost == Frost::solid);
  own.solid = OwnMedium{}.solid;
  CHECK(winter(mix, 220).frost == Frost::slushy);
  CHECK(winter(mix, 220).may_be_solid);  // nothing says that it is not
  CHECK_FALSE(winter(mix, 220).ice);
}
