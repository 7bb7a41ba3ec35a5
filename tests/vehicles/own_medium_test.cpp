#include "vehicles/own_medium.h"

#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("temperatures of a data sheet are known only if they are given") {
  OwnMedium own;
  CHECK_FALSE(first_ice_of(own));
  CHECK_FALSE(solid_of(own));
  own.first_ice = 243.15;
  own.solid = 273.15 + 20;
  CHECK_NEAR(*first_ice_of(own), 243.15, 0);
  CHECK_NEAR(*solid_of(own), 293.15, 0);
  own.first_ice = 273.15 + kNotKnownCelsius;  // as a file writes it
  CHECK_FALSE(first_ice_of(own));
}
