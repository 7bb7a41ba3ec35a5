// The starting library agrees with the rules for sizes and with itself.
#include "vehicles/tyre_library.h"

#include <set>
#include <stdexcept>
#include <string>

#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("library sizes are sizes, listed once, with sane numbers") {
  std::set<std::string> seen;
  for (const LibraryTyre& tyre : tyre_library()) {
    CAPTURE(tyre.designation);
    const TyreSize size = parse_tyre_size(std::string(tyre.designation) + " " + std::string(tyre.service));
    CHECK(size.designation == tyre.designation);
    CHECK(seen.insert(size.designation).second);
    CHECK_NEAR(size.overall_diameter, tyre.overall_diameter, 0.02 * tyre.overall_diameter);
    CHECK_NEAR(size.section_width, tyre.section_width, 0.01 * tyre.section_width);
    CHECK_NEAR(size.rim_diameter, tyre.rim_diameter, 1e-9);
    CHECK(find_tyre(tyre.designation) == &tyre);
    CHECK(tyre.field_pressure > 0);
    CHECK(tyre.field_pressure <= tyre.reference_pressure);
    REQUIRE(size.service.has_value());
    // No tyre is marked for more than the air inside can hold up: the contact it would take at the reference pressure,
    // load over pressure, is a small part of the tyre's own shadow, diameter times width.
    const double load = load_index_mass(size.service->load_index) * 9.80665;
    const double share = load / tyre.reference_pressure / (tyre.overall_diameter * tyre.section_width);
    CHECK(share > 0.1);
    CHECK(share < 0.4);
  }
  CHECK(seen.size() >= 35);
}

TEST_CASE("finding a tyre") {
  REQUIRE(find_tyre("18.4R38") != nullptr);
  CHECK(find_tyre("18.4-38") == find_tyre("18.4R38"));
  CHECK(find_tyre("vf 480/70 r38 158d") == find_tyre("480/70R38"));
  CHECK(find_tyre("480/70R36") == nullptr);
  CHECK(find_tyre("18.4x38") == nullptr);
  CHECK(find_tyre("") == nullptr);
  CHECK(find_tyre(parse_tyre_size("vf480/70R38")) == find_tyre("480/70R38"));
  CHECK(find_tyre(parse_tyre_size("460/85R38")) == nullptr);
}

TEST_CASE("a whole tyre from its size") {
  const Tyre tyre = tyre_of_size("18.4R34");
  CHECK(tyre.size == "18.4R34");
  CHECK_NEAR(tyre.free_radius, 0.825, 1e-9);
  CHECK_NEAR(tyre.rim_radius, 0.4318, 1e-9);
  CHECK(tyre.cavity_volume == parse_tyre_size("18.4R34").cavity_volume);
  CHECK(tyre.pressure == doctest::Approx(1.2e5));
  CHECK_NEAR(tyre.vertical_stiffness, 330e3, 10e3);  // as in the machine file of the utility tractor
  CHECK(tyre_of_size("18.4R34", 0.6e5).vertical_stiffness == doctest::Approx(tyre.vertical_stiffness / 2));
  const Tyre unknown = tyre_of_size("460/85R38");  // not in the library: from the size alone
  CHECK(find_tyre("460/85R38") == nullptr);
  CHECK_NEAR(unknown.free_radius, (0.9652 + 2 * 0.85 * 0.46) / 2, 1e-9);
  CHECK_THROWS_AS(tyre_of_size("round"), std::invalid_argument);
  CHECK(estimated_vertical_stiffness(-1, 0.8, 0.4) == 0);
}
