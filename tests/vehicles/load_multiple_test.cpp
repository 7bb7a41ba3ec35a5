// What a tyre may carry beyond its load index at a crawl, and side by side with another.
#include "vehicles/load_multiple.h"

#include <cmath>

#include "tests/kit/csv.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

constexpr double kLevel = 0, kKmh = 1 / 3.6;

TyreUse use_named(const std::string& name) {
  if (name == "drive_high_torque") return TyreUse::drive_high_torque;
  if (name == "drive_low_torque") return TyreUse::drive_low_torque;
  if (name == "loader_front") return TyreUse::steering_with_loader;
  REQUIRE(name == "loader_drive_IF_VF");
  return TyreUse::improved_with_loader;
}

}  // namespace

TEST_CASE("the law's low-speed multiples are those of its table, and end at their speed") {
  int rows = 0;
  for (const CsvRow& row : read_csv("tyre_low_speed_load.csv")) {
    const Service service{std::stoi(row.at("LI")), row.at("symbol")};
    const TyreUse use = use_named(row.at("use"));
    const double top = std::stod(row.at("v_km_h")) * kKmh;
    CAPTURE(row.at("use"));
    CAPTURE(row.at("symbol"));
    const LoadMultiple m = load_multiple(use, false, service, top, kLevel);
    CHECK_NEAR(m.factor, std::stod(row.at("factor")), 1e-12);
    CHECK_NEAR(m.factor * load_index_mass(service.load_index), std::stod(row.at("allowed_kg")), 1e-6);
    CHECK_NEAR(m.top_speed, top, 1e-9);
    CHECK_FALSE(m.source.empty());
    CHECK(load_multiple(use, false, service, top * 1.05, kLevel).factor == 1);
    ++rows;
  }
  CHECK(rows == 12);
}

TEST_CASE("above a slope of 20 % no multiple holds") {
  const double twenty = std::atan(0.2);
  const Service service{147, "D"};
  CHECK(load_multiple(TyreUse::drive_low_torque, false, service, 0, twenty).factor == 1.55);
  CHECK(load_multiple(TyreUse::drive_low_torque, false, service, 0, twenty * 1.01).factor == 1);
  CHECK(load_multiple(TyreUse::steering_with_loader, true, service, 0, twenty * 1.01).factor == 1);
  CHECK(load_multiple(TyreUse::drive_low_torque, false, service, 0, twenty * 1.01).use.empty());
}

TEST_CASE("a cross ply tyre carries 1.2 below 16 km/h by a maker's manual, where the law gives no more") {
  // Source: a maker's manual, utility tractor.
  const Service slow{100, "A6"}, ordinary{137, "A8"};
  CHECK(load_multiple(TyreUse::plain, true, slow, 15.9 * kKmh, kLevel).factor == 1.2);
  CHECK(load_multiple(TyreUse::plain, true, slow, 16 * kKmh, kLevel).factor == 1);
  CHECK(load_multiple(TyreUse::plain, false, slow, 5 * kKmh, kLevel).factor == 1);
  CHECK(load_multiple(TyreUse::drive_low_torque, true, ordinary, 5 * kKmh, kLevel).factor == 1.7);
  CHECK(load_multiple(TyreUse::drive_low_torque, true, ordinary, 12 * kKmh, kLevel).factor == 1.2);
  CHECK(load_multiple(TyreUse::drive_high_torque, true, ordinary, 5 * kKmh, kLevel).factor == 1.2);
}

TEST_CASE("tyres side by side carry less than each alone") {
  for (const CsvRow& row : read_csv("tyre_side_by_side.csv"))
    CHECK_NEAR(side_by_side(std::stoi(row.at("tyres"))), std::stod(row.at("factor")), 1e-12);
}
