#include "render/text/words/words.h"

#include <cmath>
#include <limits>
#include <optional>
#include <string>

#include "sim/base/constants.h"
#include "tests/kit/has.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

TEST_CASE("a slope of ground in degrees and per cent, never surer than its degrees") {
  const auto at = [](double deg, int digits = 1, bool limit = false) {
    return degrees_and_percent(deg * kDegree, digits, limit);
  };
  // Per cent are 100 times the tangent.
  CHECK(at(0) == "0.0° = 0 %");
  CHECK(at(8) == "8.0° = 14 %");
  CHECK(at(15) == "15.0° = 27 %");
  CHECK(at(45) == "45.0° = 100 %");
  CHECK(at(-0.01) == "0.0° = 0 %");
  CHECK(at(20, 0) == "20° = 36 %");
  // The same degrees as shown never stand with two figures of per cent.
  CHECK(at(26.449) == at(26.351));
  // Of a limit not to pass per cent are rounded down: 12.4° is 21.99 %.
  CHECK(at(12.4) == "12.4° = 22 %");
  CHECK(at(12.4, 2, true) == "12.40° = 21 %");
  CHECK(at(45, 2, true) == "45.00° = 100 %");
  // Where a tenth of a degree is more than one per cent, in tens; near the vertical none at all.
  CHECK(at(64.9) == "64.9° = 213 %");
  CHECK(at(70.1) == "70.1° = 280 %");
  CHECK(at(70.1, 1, true) == "70.1° = 270 %");
  CHECK(at(80) == "80.0° = 570 %");
  for (const double steep : {80.1, 89.99, 90.0, 95.0, 180.0}) CHECK_FALSE(has(at(steep), "%"));
  CHECK(at(90) == "90.0°");
  CHECK(at(-5) == "-5.0°");  // down the other way: a difference, not a slope
  CHECK(degrees_and_percent(std::nullopt) == "never");
  CHECK(degrees_and_percent(std::nan("")) == "-");
  CHECK(degrees_and_percent(std::numeric_limits<double>::infinity()) == "-");
}

TEST_CASE("where a slope of ground lies, in degrees and per cent") {
  const auto range = [](double low, std::optional<double> high) {
    return range_in_degrees_and_percent(low * kDegree, high ? std::optional(*high * kDegree) : high);
  };
  // Per cent are 100 times the tangent: 58.9 and 59.6, 46.6 and 47.3.
  CHECK(range(30.5, 30.8) == "30.5° to 30.8° = 59 to 60 %");
  CHECK(range(25.0, 25.1) == "25.0° to 25.1° = 47 %");
  CHECK(range(25.3, std::nullopt) == "25.3° or more = 47 % or more");
  CHECK(range(30.51, 30.52) == "30.5° = 59 %");
  CHECK(range(64, 70) == "64.0° to 70.0° = 205 to 270 %");
  // Near the vertical and below the level there is no per cent: the other side keeps its own.
  CHECK(range(70, 81) == "70.0° to 81.0° = 270 % or more");
  CHECK(range(-1, 2) == "-1.0° to 2.0° = 3 % or less");
  CHECK(range(81, 85) == "81.0° to 85.0°");
  CHECK(range(85, std::nullopt) == "85.0° or more");
}
