#include "vehicles/tyre_cavity.h"

#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "vehicles/tyre_library.h"
#include "vehicles/tyre_size.h"

using namespace sidehill;

TEST_CASE("a data book's volume is kept to the drop; else the room comes from the tyre's own dimensions") {
  Tyre tyre = tyre_of_size("18.4-38");
  tyre.cavity_volume = 0.5;
  CHECK_NEAR(cavity_volume(cavity_of(tyre)), 0.5, 1e-12);
  CHECK(cavity_uncertainty(tyre) == 0.01);
  tyre.cavity_volume = 0;
  CHECK_NEAR(cavity_volume(cavity_of(tyre)),
             tyre_cavity_volume(SizeSeries::drive, tyre.section_width, 2 * tyre.free_radius, 2 * tyre.rim_radius),
             1e-12);
  CHECK(cavity_uncertainty(tyre) == parse_tyre_size("18.4-38").volume_uncertainty);
  tyre.size = "something round";
  CHECK(cavity_uncertainty(tyre) == 0.10);
}

TEST_CASE("a narrow front's nominal width and its measured one give one room") {
  Tyre tyre = tyre_of_size("7.50-16");
  tyre.cavity_volume = 0;
  tyre.section_width = 7.5 * 0.0254;
  const double nominal = cavity_volume(cavity_of(tyre));
  tyre.section_width = parse_tyre_size("7.50-16").measured_width;
  CHECK_NEAR(cavity_volume(cavity_of(tyre)), nominal, 1e-12);
}

TEST_CASE("the machines' rear tyres hold what their size says, within its own doubt") {
  for (const char* machine : kMachines) {
    INFO(std::string(machine));
    const Tyre tyre = test_machine(machine).vehicle.rear.tyre;
    const TyreSize size = parse_tyre_size(tyre.size);
    CHECK_NEAR(cavity_volume(cavity_of(tyre)), size.cavity_volume, 2 * size.volume_uncertainty * size.cavity_volume);
  }
}
