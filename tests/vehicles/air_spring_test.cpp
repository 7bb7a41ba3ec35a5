// Liquid takes the air's room: stiffening by Boyle's law.
#include "vehicles/air_spring.h"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>

#include "tests/kit/near.h"

using namespace sidehill;

namespace {

// Boyle: absolute pressure times volume stays. The volume lost is half the contact patch times the deflection, the
// patch load over pressure.
double by_boyle(double cavity, double fill, double pressure, double stiffness, double load) {
  const double atmosphere = 101325, lost = 0.5 * (load / pressure) * (load / stiffness);
  const auto gauge_after = [&](double air) { return (pressure + atmosphere) * air / (air - lost) - atmosphere; };
  return gauge_after(cavity * (1 - fill)) / gauge_after(cavity);
}

}  // namespace

TEST_CASE("a fill stiffens by Boyle's law: about a tenth at 75 per cent in a rear tyre") {
  for (const double fill : {0.0, 0.25, 0.5, 0.75}) {
    CHECK_NEAR(stiffening_by_liquid(0.45, fill, 1.2e5, 3.5e5, 14e3), by_boyle(0.45, fill, 1.2e5, 3.5e5, 14e3), 1e-9);
    CHECK_NEAR(stiffening_by_liquid(0.2, fill, 1.6e5, 3.0e5, 9e3), by_boyle(0.2, fill, 1.6e5, 3.0e5, 9e3), 1e-9);
  }
  const double at75 = stiffening_by_liquid(0.45, 0.75, 1.2e5, 3.5e5, 14e3);
  CHECK(at75 > 1.02);
  CHECK(at75 < 1.2);
  // With a quarter of the air the pressure rises four times as much: small deflections, first order.
  const double lost = 1e-5, cavity = 0.45, p = 1.2e5, pa = 101325;
  const double rise = (p + pa) * lost / cavity;
  CHECK_NEAR(stiffening_by_liquid(cavity, 0.75, p, 1e12, std::sqrt(2 * lost * p * 1e12)) - 1, 3 * rise / p,
             0.01 * 3 * rise / p);
}

TEST_CASE("no air, no load, no numbers: never softer, never infinite") {
  double last = 1;
  for (double fill = 0; fill <= 1.0001; fill += 0.01) {
    const double k = stiffening_by_liquid(0.4, fill, 1.2e5, 3.5e5, 20e3);
    CHECK(k >= last - 1e-12);  // more liquid is never softer
    CHECK(std::isfinite(k));
    last = k;
  }
  CHECK_NEAR(stiffening_by_liquid(0.4, 1, 1.2e5, 3.5e5, 20e3), stiffening_by_liquid(0.4, 0.97, 1.2e5, 3.5e5, 20e3),
             1e-12);
  CHECK(stiffening_by_liquid(0.4, 0, 1.2e5, 3.5e5, 20e3) == 1);
  CHECK(stiffening_by_liquid(0, 0.75, 1.2e5, 3.5e5, 20e3) == 1);
  CHECK(stiffening_by_liquid(0.4, 0.75, 1.2e5, 0, 20e3) == 1);
  CHECK(stiffening_by_liquid(0.4, 0.75, 1.2e5, 3.5e5, 0) == 1);
  CHECK(std::isfinite(stiffening_by_liquid(0.01, 0.97, 0, 1, 1e6)));
}

TEST_CASE("the stiffening carries its doubt") {
  const double added = stiffening_by_liquid(0.45, 0.75, 1.2e5, 3.5e5, 14e3) - 1;
  const double doubt = stiffening_uncertainty(0.45, 0.75, 1.2e5, 3.5e5, 14e3);
  CHECK(doubt >= 0.5 * added);
  CHECK(doubt < added);
  CHECK(stiffening_uncertainty(0.45, 0, 1.2e5, 3.5e5, 14e3) == 0);
  CHECK(stiffening_uncertainty(0, 0.5, 1.2e5, 3.5e5, 14e3) == 0);
}

TEST_CASE("warmth raises the pressure, more so over liquid that grows") {
  // Gay-Lussac by hand: 120 kPa at 10 C is (221.325 kPa) x 303.15 / 283.15 - 101.325 = 135.633 kPa at 30 C.
  CHECK_NEAR(pressure_with_liquid(0.45, Medium::water, 0, 0, 1.2e5, 283.15, 303.15), 135633, 2);
  // 75 % water grows by 999.7026 / 995.6473 - 1 = 0.40730 %: air's room x (1 - 3 x 0.0040730) = 0.98778.
  CHECK_NEAR(pressure_with_liquid(0.45, Medium::water, 0, 0.75, 1.2e5, 283.15, 303.15),
             (1.2e5 + 101325) * 303.15 / 283.15 / 0.98778 - 101325, 20);
  CHECK(pressure_with_liquid(0.45, Medium::water, 0, 0.75, 1.2e5, 303.15, 283.15) < 1.2e5);
  CHECK(pressure_with_liquid(0.45, Medium::polyurethane, 0, 1, 1.2e5, 283.15, 303.15) == 1.2e5);
  CHECK(std::isfinite(pressure_with_liquid(0.45, Medium::methanol, 0.6, 1, 1.2e5, 250, 313)));
}

TEST_CASE("less pressure, softer tyre, never without a casing") {
  CHECK_NEAR(stiffness_at_pressure(3.5e5, 1.2e5, 1.2e5), 3.5e5, 1e-6);
  CHECK_NEAR(stiffness_at_pressure(3.5e5, 1.2e5, 0.6e5), 0.6 * 3.5e5, 1e-6);
  CHECK(stiffness_at_pressure(3.5e5, 1.2e5, -5e4) >= 0.2 * 3.5e5 - 1e-6);
  CHECK(stiffness_at_pressure(3.5e5, 0, 1e5) == 3.5e5);
}

TEST_CASE("a tyre as it stands: air brought to pressure, stiffened by its fill, doubt by both") {
  Tyre tyre;
  tyre.pressure = 1.2e5;
  TyreFill fill;
  const TyreStiffness air = stiffness_now(tyre, fill, 0, 1.2e5, 15000);
  CHECK_NEAR(air.value, tyre.vertical_stiffness, 1e-6);
  CHECK(air.uncertainty == 0);
  const TyreStiffness soft = stiffness_now(tyre, fill, 0, 0.6e5, 15000);
  CHECK_NEAR(soft.value, 0.6 * tyre.vertical_stiffness, 1e-6);  // a fifth of it is the casing's
  CHECK_NEAR(soft.uncertainty, 0.1 * soft.value, 1e-6);         // one octave down
  const TyreStiffness full = stiffness_now(tyre, fill, 0.75, 1.2e5, 15000);
  CHECK(full.value > air.value);
  CHECK(full.uncertainty >= 0.5 * (full.value - air.value) * (1 - 1e-9));
  fill.medium = Medium::polyurethane;
  const TyreStiffness foam = stiffness_now(tyre, fill, 1, 1.2e5, 15000);
  CHECK(foam.value > full.value);
  CHECK(foam.uncertainty > full.uncertainty);
}

TEST_CASE("a filling whose expansion is not known takes the same room at any temperature") {
  OwnMedium own;
  own.density = 1250;
  const Mix mix{Medium::own, 0, &own};
  // The air alone: absolute pressure goes with absolute temperature (ideal gas).
  CHECK_NEAR(pressure_with_liquid(0.45, mix, 0.75, 1.2e5, 283.15, 303.15), (1.2e5 + 101325) * 303.15 / 283.15 - 101325,
             1);
}

TEST_CASE("a tyre pumped up and let down again is the tyre it was, and a stiffness set by hand is kept in proportion") {
  Tyre given;
  given.pressure = 1.2e5;
  given.vertical_stiffness = 3e5, given.lateral_stiffness = 1.8e5, given.longitudinal_stiffness = 2.7e5;
  const Tyre soft = pumped(given, given, 0.8e5);
  CHECK_NEAR(soft.vertical_stiffness, stiffness_at_pressure(3e5, 1.2e5, 0.8e5), 1e-6);
  CHECK(soft.vertical_stiffness < given.vertical_stiffness);
  CHECK_NEAR(soft.lateral_stiffness / soft.vertical_stiffness, 0.6, 1e-12);
  const Tyre back = pumped(given, pumped(given, soft, 1.6e5), 1.2e5);
  CHECK_NEAR(back.vertical_stiffness, 3e5, 1e-6);
  Tyre by_hand = soft;
  by_hand.vertical_stiffness *= 2;
  CHECK_NEAR(pumped(given, by_hand, 1e5).vertical_stiffness,
             stiffness_at_pressure(by_hand.vertical_stiffness, 0.8e5, 1e5), 1e-6);
}
