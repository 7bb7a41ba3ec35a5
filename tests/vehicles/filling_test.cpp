// Valve clock, level and gauge against exact ring fills and hand calculation.
#include "vehicles/filling.h"

#include <cmath>
#include <string>

#include "tests/kit/csv.h"
#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("fill by the valve's hour is the exact ring's") {
  // Source: exact fills of ring cavities, computed outside this project.
  for (const CsvRow& row : read_csv("annulus_fill_cg.csv")) {
    const std::string clock = row.at("valve_clock");
    const double hour = std::stod(clock.substr(0, clock.find_first_of(":/"))), inner = std::stod(row.at("ri_over_Ro"));
    CAPTURE(clock);
    CAPTURE(inner);
    for (const SectionShape shape : {SectionShape::rectangle, SectionShape::ellipse}) {
      const Cavity cavity{inner, 1.0, 0.5, shape};
      const double fill =
          std::stod(row.at(shape == SectionShape::rectangle ? "fraction_rect_section" : "fraction_elliptic_section"));
      CHECK_NEAR(fill_at_valve(cavity, hour), fill, 1e-4);
      CHECK_NEAR(fill_at_valve(cavity, 12 - hour), fill, 1e-4);
      const double back = valve_for_fill(cavity, fill_at_valve(cavity, hour)).hour;
      // the clock is flat at 12 and 6: compare heights, and hours elsewhere
      CHECK_NEAR(std::cos(back * std::acos(-1.0) / 6), std::cos(hour * std::acos(-1.0) / 6), 1e-6);
      if (hour != 12 && hour != 6) CHECK_NEAR(back, hour >= 6 ? hour : 12 - hour, 1e-5);
    }
  }
  const Cavity cavity{0.48, 0.85, 0.4, SectionShape::ellipse};
  CHECK_FALSE(valve_for_fill(cavity, 0.95).reached);
  CHECK(valve_for_fill(cavity, 0.95).hour == 12);
  CHECK_FALSE(valve_for_fill(cavity, 0.05).reached);
  CHECK(valve_for_fill(cavity, 0.05).hour == 6);
  CHECK(valve_for_fill(cavity, 0.6).reached);
}

TEST_CASE("levels add up, jacked and let down") {
  const Cavity cavity{0.48, 0.85, 0.4, SectionShape::ellipse};
  const FillAnswer at = fill_answer(cavity, 0.875, fill_at_valve(cavity, 12));
  CHECK_NEAR(at.level, 0.48, 1e-7);
  CHECK_NEAR(at.level_over_rim, 0.96, 1e-7);
  CHECK_NEAR(at.level_over_ground, 1.355, 1e-7);
  CHECK_NEAR(at.wetted_height, 1.33, 1e-7);
  CHECK_NEAR(at.volume + at.air_volume, cavity_volume(cavity), 1e-12);
  // By hand: 20 kN on 350 kN/m sink 57 mm; contact 20 kN / 120 kPa = 0.167 m2; displaced 0.167 x 0.057 / 2 = 4.8 L.
  const LoadedFill down = loaded_fill(cavity, 0.875, 0.5, 20000, 350000, 120000);
  CHECK_NEAR(down.deflection, 0.05714, 1e-5);
  CHECK_NEAR(1000 * down.displaced, 4.762, 1e-3);
  // At half fill the surface is two ellipses at the axle's height, 2 x pi/4 x 0.37 x 0.40 m2: 4.8 L raise it by 20.5
  // mm.
  CHECK_NEAR(down.rise, 4.762e-3 / (2 * std::acos(-1.0) / 4 * 0.37 * 0.40), 5e-4);
  CHECK_NEAR(down.level_over_ground, 0.875 - 0.05714 + down.rise, 1e-4);
  CHECK(down.fill_fraction > 0.5);
  const LoadedFill none = loaded_fill(cavity, 0.875, 0.5, 0, 350000, 120000);
  CHECK(none.rise == 0);
  CHECK(none.deflection == 0);
  CHECK(std::isfinite(loaded_fill(cavity, 0.875, 1, 1e9, 1, 0).level_over_ground));
}

TEST_CASE("the gauge reads the air at the top and the head at the bottom") {
  const Cavity cavity{0.48, 0.85, 0.4, SectionShape::ellipse};
  const double fill = fill_at_valve(cavity, 12);
  CHECK_NEAR(gauge_reading(cavity, fill, 12, 1.1e5, 1207, 9.80665), 1.1e5, 1e-1);
  // By hand: valve at 6 is 0.96 m under the level: 1207 x 9.80665 x 0.96 = 11 363 Pa.
  CHECK_NEAR(gauge_reading(cavity, fill, 6, 1.1e5, 1207, 9.80665) - 1.1e5, 11363, 1);
  CHECK(gauge_reading(cavity, 0, 6, 1.1e5, 1207, 9.80665) == 1.1e5);
  CHECK(gauge_reading(cavity, 0.2, 9, 1.1e5, 1207, 9.80665) == 1.1e5);
}

TEST_CASE("pumping takes volume over flow") {
  CHECK_NEAR(pump_time(0.3, 30e-3 / 60), 600, 1e-9);
  CHECK(pump_time(0.3, 0) == 0);
  CHECK(pump_time(0, 1) == 0);
}

TEST_CASE("the fill of a level is the inverse of the level of a fill") {
  for (const SectionShape shape : {SectionShape::ellipse, SectionShape::rectangle}) {
    const Cavity cavity{0.48, 0.85, 0.4, shape};
    for (const double fill : {0.01, 0.2, 0.5, 0.75, 0.93, 0.999})
      CHECK_NEAR(fill_at_level(cavity, liquid_place(cavity, fill, 0).level), fill, 1e-6);
    CHECK(fill_at_level(cavity, -0.9) == 0);
    CHECK(fill_at_level(cavity, 0.9) == 1);
    CHECK(fill_at_level(cavity, 0.48) == fill_at_valve(cavity, 12));
  }
}
