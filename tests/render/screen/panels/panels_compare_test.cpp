#ifdef SIDEHILL_SCREEN
// What differs between two set-ups, in words: every number with its unit and the axle it belongs to.
#include <doctest/doctest.h>

#include "tests/kit/table.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

TEST_CASE("what differs is named with its axle and its unit, in the units read") {
  Table table;
  table.click("Compare");
  REQUIRE(table.desk.other);
  Session& b = *table.desk.other;
  Scene changed = b.scene();
  changed.vehicle.front.track = changed.vehicle.front.track + 0.2;
  changed.vehicle.front.tyre.pressure = changed.vehicle.front.tyre.pressure + 10e3;
  changed.settings.temperature += 5;
  b.edit(changed);
  const std::string si = what_differs(table.desk, 20), us = what_differs(table.desk, 20, Units::us);
  CAPTURE(si);
  CAPTURE(us);
  const auto names = [](const std::string& all, std::string_view name, std::string_view unit) {
    const std::size_t at = all.find(std::string(name) + ": A ");
    if (at == all.npos) return false;
    const std::string one = all.substr(at, all.find(';', at) - at);
    const std::size_t b_at = one.find(", B ");
    return b_at != one.npos && one.substr(0, b_at).ends_with(unit) && one.ends_with(unit);
  };
  CHECK(names(si, "front track", " m"));
  CHECK(names(us, "front track", " in"));
  CHECK(names(si, "Front tyre pressure", " kPa"));
  CHECK(names(us, "Front tyre pressure", " psi"));
  CHECK(si.find("_m") == std::string::npos);
  CHECK(si.find(" m:") == std::string::npos);  // no unit left in a name
  // The smallest change has digits enough to be seen.
  changed = table.session.scene();
  changed.vehicle.front.track += 0.0004;
  b.edit(changed);
  const std::string small = what_differs(table.desk, 20);
  CAPTURE(small);
  CHECK(small.find("front track: A ") != std::string::npos);
  CHECK(small.find("1.7204 m") != std::string::npos);
}
#endif
