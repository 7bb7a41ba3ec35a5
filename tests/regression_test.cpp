// What the program said when this was written, for the machines that come with it: not a truth but a tripwire. A change
// of more than 0.05 degrees is either a mistake or worth a line in the commit that moves these numbers.
#include <doctest/doctest.h>

#include "sim/statics.h"
#include "tests/machines.h"
#include "tests/near.h"

using namespace sidehill;

namespace {

struct Row {
  const char* machine;
  const char* fill;
  double first_lift_off, tip_over, rigid_lift_off;  // [deg], across the slope, bucket empty and low, driver on
};

constexpr Row kRows[] = {
    {"compact_26kw", "0", 32.465, 32.465, 33.081},   {"compact_26kw", "0.75", 34.901, 34.901, 35.509},
    {"utility_75kw", "0", 35.288, 35.288, 35.876},   {"utility_75kw", "0.75", 38.635, 38.635, 39.182},
    {"row_crop_150kw", "0", 34.834, 34.834, 35.883}, {"row_crop_150kw", "0.75", 37.304, 37.304, 38.235},
    {"orchard_60kw", "0", 28.658, 28.658, 30.146},   {"orchard_60kw", "0.75", 30.298, 30.298, 31.817},
    {"two_wheel_45kw", "0", 38.606, 38.606, 38.916}, {"two_wheel_45kw", "0.75", 41.333, 41.333, 41.689},
};

}  // namespace

TEST_CASE("the machines that come with the program lift and go over where they did") {
  for (const Row& row : kRows) {
    const std::string which = std::string(row.machine) + ", fill " + row.fill;
    INFO(which);
    const StaticSolution solution =
        solve_statics(build(test_machine(row.machine, {std::string("ballast.rear.fill_fraction=") + row.fill})));
    REQUIRE(solution.first_lift_off);
    REQUIRE(solution.tip_over);
    REQUIRE(solution.rigid_lift_off);
    CHECK_NEAR(*solution.first_lift_off * kDegrees, row.first_lift_off, 0.05);
    CHECK_NEAR(*solution.tip_over * kDegrees, row.tip_over, 0.05);
    CHECK_NEAR(*solution.rigid_lift_off * kDegrees, row.rigid_lift_off, 0.05);
  }
}
