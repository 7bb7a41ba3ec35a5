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
    {"compact_26kw", "0", 32.475, 32.475, 33.092},   {"compact_26kw", "0.75", 34.985, 34.985, 35.597},
    {"utility_75kw", "0", 35.287, 35.287, 35.875},   {"utility_75kw", "0.75", 38.616, 38.616, 39.162},
    {"row_crop_150kw", "0", 34.838, 34.838, 35.886}, {"row_crop_150kw", "0.75", 37.283, 37.283, 38.210},
    {"orchard_60kw", "0", 28.665, 28.665, 30.153},   {"orchard_60kw", "0.75", 30.290, 30.290, 31.806},
    {"two_wheel_45kw", "0", 38.608, 38.608, 38.918}, {"two_wheel_45kw", "0.75", 41.335, 41.335, 41.690},
};

}  // namespace

TEST_CASE("the machines that come with the program lift and go over where they did") {
  for (const Row& row : kRows) {
    INFO(std::string(row.machine) << ", fill " << row.fill);
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
