// What the program said when this was written, for the machines that come with it: not a truth but a tripwire. A change
// of more than 0.05 degrees is either a mistake or worth a line in the commit that moves these numbers.
#include <doctest/doctest.h>

#include "sim/base/constants.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

struct GoldenRow {
  const char* machine;
  const char* fill;
  double first_lift_off, tip_over, rigid_lift_off;  // [deg], across the slope, bucket empty and low, driver on
};

constexpr GoldenRow kGoldenRows[] = {
    {"compact_26kw", "0", 31.718, 31.718, 33.081},   {"compact_26kw", "0.75", 33.865, 33.865, 35.509},
    {"utility_75kw", "0", 34.251, 34.251, 35.876},   {"utility_75kw", "0.75", 37.116, 37.116, 39.182},
    {"row_crop_150kw", "0", 32.937, 32.937, 35.883}, {"row_crop_150kw", "0.75", 34.753, 34.753, 38.235},
    {"orchard_60kw", "0", 27.469, 27.469, 30.146},   {"orchard_60kw", "0.75", 28.825, 28.825, 31.817},
    {"two_wheel_45kw", "0", 37.579, 37.579, 38.916}, {"two_wheel_45kw", "0.75", 39.856, 39.856, 41.689},
};

}  // namespace

TEST_CASE("the machines that come with the program lift and go over where they did") {
  for (const GoldenRow& row : kGoldenRows) {
    const std::string which = std::string(row.machine) + ", fill " + row.fill;
    INFO(which);
    const StaticSolution solution =
        solve_statics(build(test_machine(row.machine, {std::string("ballast.rear.fill_fraction=") + row.fill})));
    REQUIRE(solution.first_lift_off);
    REQUIRE(solution.tip_over);
    REQUIRE(solution.rigid_lift_off);
    CHECK_NEAR(*solution.first_lift_off / kDegree, row.first_lift_off, 0.05);
    CHECK_NEAR(*solution.tip_over / kDegree, row.tip_over, 0.05);
    CHECK_NEAR(*solution.rigid_lift_off / kDegree, row.rigid_lift_off, 0.05);
  }
}
