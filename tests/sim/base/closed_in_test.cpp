// Closing in on the place where an answer turns from no to yes.
#include "sim/base/closed_in.h"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace sidehill;

TEST_CASE("what is left holds the place, and is as narrow as asked") {
  for (const double place : {0.1, 0.25, 1 / 3.0, 0.9999}) {
    CAPTURE(place);
    const auto [without, with] = closed_in(0, 1, 1e-6, [&](double x) { return x >= place; });
    CHECK(without < place);
    CHECK(with >= place);
    CHECK(with - without <= 1e-6);
    CHECK(with - without > 4e-7);  // no narrower than halving makes it
  }
}

TEST_CASE("the ends are not asked again, and each place asked is nearer to the answer") {
  std::vector<double> asked;
  closed_in(0, 1, 0.01, [&](double x) { return asked.push_back(x), x >= 0.3; });
  REQUIRE(asked.size() == 7);
  CHECK(asked.front() == 0.5);
  for (std::size_t i = 1; i < asked.size(); ++i) CHECK(std::abs(asked[i] - asked[i - 1]) == std::pow(0.5, i + 1));
}

TEST_CASE("it ends where no number lies between, and where there is nothing between") {
  const auto [without, with] = closed_in(0, 1, 0, [](double x) { return x > 0.3; });
  CHECK(with == std::nextafter(without, 1));
  CHECK(closed_in(2, 2, 0, [](double) { return true; }) == std::pair(2.0, 2.0));
}
