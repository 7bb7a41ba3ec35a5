#include "vehicles/price.h"

#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("a cost is litres times price, from low to high, and there is none without a price") {
  CHECK_FALSE(is_given({}));
  CHECK(is_given({0, 0.6}));
  CHECK_NEAR(cost_of({0.2, 0.6}, 0.45).low, 90, 1e-9);
  CHECK_NEAR(cost_of({0.2, 0.6}, 0.45).high, 270, 1e-9);
  CHECK_NEAR(cost_of({0.2, 0}, 0.45).high, 90, 1e-9);  // one end stands for both
  CHECK_NEAR(cost_of({0, 0.6}, 0.45).low, 270, 1e-9);
}
