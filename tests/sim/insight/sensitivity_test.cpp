// What one unit more does: against closed forms, and against answers a whole step apart.
#include "sim/insight/sensitivity.h"

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

const Sensitivity& of(const std::vector<Sensitivity>& all, const std::string& key) {
  const auto at = std::find_if(all.begin(), all.end(), [&](const Sensitivity& s) { return s.key == key; });
  if (at == all.end()) throw std::runtime_error("no " + key);
  return *at;
}

}  // namespace

TEST_CASE("machine R's sensitivities are the derivatives of its closed form") {
  Scene scene = machine_r();
  scene.start.heading = -90 * kDegree;
  const auto all = sensitivities(scene);
  // tan a = b (L - xg) / (h L - hp xg)
  const double b = 0.8, L = 2.2, x = 0.9, h = 0.85, hp = 0.55;
  const auto lift_off = [](double half, double base, double at, double up, double pin) {
    return std::atan(half * (base - at) / (up * base - pin * at));
  };
  const double d = 1e-6;
  const auto slope = [&](double up, double down) { return (up - down) / (2 * d) / kDegree; };
  CHECK_NEAR(*of(all, "vehicle.chassis.centre_of_gravity_z_m").per_unit / kDegree,
             slope(lift_off(b, L, x, h + d, hp), lift_off(b, L, x, h - d, hp)), 0.01);
  CHECK_NEAR(*of(all, "vehicle.chassis.centre_of_gravity_x_m").per_unit / kDegree,
             slope(lift_off(b, L, x + d, h, hp), lift_off(b, L, x - d, h, hp)), 0.01);
  CHECK_NEAR(*of(all, "vehicle.rear.track_m").per_unit / kDegree,
             slope(lift_off(b + d / 2, L, x, h, hp), lift_off(b - d / 2, L, x, h, hp)), 0.01);
  CHECK_NEAR(*of(all, "vehicle.front_axle.pin_height_m").per_unit / kDegree,
             slope(lift_off(b, L, x, h, hp + d), lift_off(b, L, x, h, hp - d)), 0.01);
  // A heavier machine of the same shape, a wider front track, a steeper slope move nothing.
  CHECK_NEAR(*of(all, "vehicle.chassis.mass_kg").per_unit, 0, 1e-9);
  CHECK_NEAR(*of(all, "vehicle.front.track_m").per_unit / kDegree, 0, 1e-3);
  CHECK_NEAR(*of(all, "terrain.slope_deg").per_unit, 0, 1e-9);
}

TEST_CASE("every number of a scene has its sensitivity, and it foretells a small change") {
  const Scene scene = test_scene("first_slope");
  const auto all = sensitivities(scene);
  CHECK(all.size() > 100);
  const double before = *first_lift_off(build(scene)).slope / kDegree;
  int moved = 0;
  for (const auto& [key, by] : {std::pair<std::string, double>{"ballast.rear.fill_fraction", 0.01},
                                {"ballast.loader_pin_height_m", 0.02},
                                {"ballast.loader_payload_kg", 10},
                                {"vehicle.rear.tyre.vertical_stiffness_kn_per_m", 10},
                                {"vehicle.driver.mass_kg", 5}}) {
    const auto& this_key = key;
    INFO(this_key);
    const Sensitivity& s = of(all, key);
    REQUIRE(s.per_unit);
    const std::string change = key + "=" + std::to_string(s.value + by);
    const double after = *first_lift_off(build(test_scene("first_slope", {change}))).slope / kDegree;
    CHECK_NEAR(after - before, *s.per_unit / kDegree * by, 0.05 * std::abs(after - before) + 1e-4);
    moved += std::abs(after - before) > 1e-3;
  }
  CHECK(moved == 5);
  CHECK_FALSE(of(all, "vehicle.rear.tyre.cavity_volume_l").per_unit);  // 0 = from the dimensions
  for (const Sensitivity& s : all)
    if (s.per_unit) CHECK(std::isfinite(*s.per_unit));
}
