// Units against their definitions, there and back, and against the field list's own factors.
#include "render/text/words/units.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "sim/base/constants.h"
#include "sim/scene/scene_fields.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

// SI value of one unit shown.
double one(Quantity quantity, Units units) {
  const ShownUnit unit = shown_unit(quantity, units);
  return (1 - unit.offset) / unit.factor;
}

}  // namespace

TEST_CASE("US units are what NIST says they are") {
  // Source: NIST SP 811 (2008), appendix B.8; the values printed there to seven figures are rounded, those exact by
  // definition are to the last.
  CHECK_NEAR(one(Quantity::mass, Units::us), 0.45359237, 1e-15);            // pound, exact
  CHECK_NEAR(one(Quantity::length, Units::us), 0.0254, 1e-16);              // inch, exact
  CHECK_NEAR(one(Quantity::small_length, Units::us), 0.0254, 1e-16);        // inch, exact
  CHECK_NEAR(one(Quantity::force, Units::us), 4.4482216152605, 1e-12);      // pound-force, exact
  CHECK_NEAR(one(Quantity::pressure, Units::us), 6894.757, 1e-3);           // psi
  CHECK_NEAR(one(Quantity::volume, Units::us), 3.785411784e-3, 1e-15);      // gallon of 231 cubic inches, exact
  CHECK_NEAR(one(Quantity::speed, Units::us), 0.44704, 1e-15);              // mile per hour, exact
  CHECK_NEAR(one(Quantity::power, Units::us), 745.6999, 1e-4);              // horsepower, 550 ft lbf/s
  CHECK_NEAR(one(Quantity::energy, Units::us), 1.355818, 1e-6);             // foot pound-force
  CHECK_NEAR(one(Quantity::acceleration, Units::us), 0.3048, 1e-15);        // foot per second squared, exact
  CHECK_NEAR(one(Quantity::inertia, Units::us), 4.214011e-2, 1e-8);         // pound foot squared
  CHECK_NEAR(one(Quantity::stiffness, Units::us), 175.1268, 1e-4);          // pound-force per inch
  CHECK_NEAR(one(Quantity::density, Units::us), 119.8264, 1e-4);            // pound per gallon
  CHECK_NEAR(one(Quantity::mass_per_power, Units::us), 6.082774e-4, 1e-9);  // lb/hp: 0.45359237 / 745.6999
  CHECK_NEAR(shown_unit(Quantity::temperature, Units::us).factor * 373.15 +
                 shown_unit(Quantity::temperature, Units::us).offset,
             212, 1e-10);
  CHECK_NEAR(shown_unit(Quantity::temperature, Units::us).factor * 273.15 +
                 shown_unit(Quantity::temperature, Units::us).offset,
             32, 1e-10);
}

TEST_CASE("what is shown reads as people write it") {
  CHECK(shown(Quantity::mass, 4310.2, Units::si) == "4 310 kg");
  CHECK(shown(Quantity::mass, 4310.2, Units::us) == "9,502 lb");
  CHECK(shown(Quantity::mass, 850, Units::si) == "850 kg");
  CHECK(shown(Quantity::length, 1.42, Units::si) == "1.42 m");
  CHECK(shown(Quantity::length, 1.42, Units::us) == "4 ft 7.9 in");
  CHECK(shown(Quantity::length, -0.2, Units::us) == "-7.9 in");
  CHECK(shown(Quantity::length, 0.3047, Units::us) == "1 ft 0.0 in");  // never "0 ft 12 in"
  CHECK(shown(Quantity::length, 0.6095, Units::us) == "2 ft 0.0 in");
  CHECK(shown(Quantity::length, 30.48, Units::us) == "100 ft 0 in");
  CHECK(shown(Quantity::small_length, 0.045, Units::si) == "45 mm");
  CHECK(shown(Quantity::small_length, 0.045, Units::us) == "1.77 in");
  CHECK(shown(Quantity::force, 12345, Units::si) == "12.3 kN");
  CHECK(shown(Quantity::force, 12345, Units::us) == "2,775 lbf");
  CHECK(shown(Quantity::angle, 0.6, Units::us) == "34.4°");
  CHECK(shown(Quantity::speed, 10, Units::us) == "22.4 mph");
  CHECK(shown(Quantity::pressure, 1.6e5, Units::us) == "23.2 psi");
  CHECK(shown(Quantity::temperature, 283.15, Units::si) == "10 °C");
  CHECK(shown(Quantity::temperature, 283.15, Units::us) == "50 °F");
  CHECK(shown(Quantity::share, 0.354, Units::us) == "35 %");
  CHECK(shown(Quantity::number, 0.6, Units::si) == "0.60");
  CHECK(shown(Quantity::mass, std::nullopt, Units::si) == "never");
  CHECK(shown(Quantity::angle, -1e-9, Units::si) == "0.0°");
  CHECK(shown(Quantity::mass, 1234567, Units::si) == "1 234 567 kg");
  CHECK(shown_change(Quantity::angle, 0.02, Units::si) == "+1.1°");
  CHECK(shown_change(Quantity::length, -0.1, Units::us) == "-3.9 in");
  CHECK(shown_change(Quantity::mass, 1e-9, Units::si) == "0 kg");
  CHECK(shown_change(Quantity::temperature, 10, Units::us) == "+18 °F");  // a difference knows no zero
  CHECK(shown_interval(Quantity::length, 1.77, 1.83, Units::si) == "1.77 to 1.83 m");
  CHECK(shown_interval(Quantity::length, 1.798, 1.801, Units::si) == "1.798 to 1.801 m");  // never shown as no width
  CHECK(shown_interval(Quantity::length, 1.8, 1.8, Units::si) == "1.80 to 1.80 m");
  CHECK(shown_interval(Quantity::angle, 0.8 * kDegree, 3.5 * kDegree, Units::si) == "0.8° to 3.5°");
  CHECK(shown_interval(Quantity::angle, 0.8 * kDegree, {}, Units::si) == "0.8° or more");
  CHECK(shown_interval(Quantity::temperature, 273.15, 283.15, Units::us) == "32 to 50 °F");
  CHECK(shown_change_interval(Quantity::angle, -0.8 * kDegree, 3.5 * kDegree, Units::si) == "-0.8° to +3.5°");
  CHECK(shown_change_interval(Quantity::angle, {}, 3.5 * kDegree, Units::si) == "+3.5° or less");
  CHECK(shown_change_interval(Quantity::angle, -3.5 * kDegree, {}, Units::si) == "-3.5° or more");
  CHECK(shown_change_interval(Quantity::angle, {}, {}, Units::si) == "not known");
  CHECK(shown_change_interval(Quantity::temperature, 0, 10, Units::us) == "0 to +18 °F");
}

TEST_CASE("what is not a number is never shown as one") {
  for (int q = 0; q <= static_cast<int>(Quantity::area); ++q) {
    for (Units units : {Units::si, Units::us}) {
      const Quantity quantity = static_cast<Quantity>(q);
      for (double bad : {std::nan(""), std::numeric_limits<double>::infinity(),
                         -std::numeric_limits<double>::infinity(), std::numeric_limits<double>::max()}) {
        for (const std::string& text :
             {shown(quantity, bad, units), shown_change(quantity, bad, units),
              shown_interval(quantity, bad, bad, units), shown_change_interval(quantity, 0.0, bad, units)}) {
          INFO(q << " " << text.substr(0, 20));
          CHECK(text.find("nan") == std::string::npos);
          CHECK(text.find("inf") == std::string::npos);
          CHECK_FALSE(text.empty());
        }
      }
    }
  }
}

TEST_CASE("every datum of the file is typed in a unit that leads back to it") {
  for (const Field& field : scene_fields()) {
    const auto* number = std::get_if<NumberField>(&field.kind);
    if (!number) continue;
    INFO(field.key);
    for (Units units : {Units::si, Units::us}) {
      const TypedUnit typed = typed_unit(field.key, units, number->max);
      CHECK(typed.factor > 0);
      // The list of suffixes here and the field list's own say the same.
      CHECK_NEAR(typed.to_si, number->to_si, 1e-12 * number->to_si);
      CHECK_NEAR(typed.si_offset, number->offset, 1e-12);
      CHECK((typed.unit.empty() == field.unit.empty() || typed.unit == "%"));
      for (double value : {number->min, 0.5 * (number->min + number->max), number->max}) {
        CHECK_NEAR(typed.file(typed.shown(value)), value, 1e-12 * std::max(1.0, std::abs(value)));
        // The long way round, over SI.
        const ShownUnit unit = shown_unit(typed.quantity, units);
        const double direct = (value * number->to_si + number->offset) * unit.factor + unit.offset;
        if (typed.unit == unit.name && typed.unit != "kN")
          CHECK_NEAR(typed.shown(value), direct, 1e-9 * std::max(1.0, std::abs(direct)));
      }
    }
  }
}

TEST_CASE("steps are handy in either unit") {
  const auto step = [](const char* key, double file_step) {
    return typed_step(typed_unit(key, Units::us), file_step, Units::us);
  };
  CHECK_NEAR(step("ballast.front_weights_kg", 10), 20, 1e-9);
  CHECK_NEAR(step("vehicle.rear.track_m", 0.02), 1, 1e-9);
  CHECK_NEAR(step("ballast.loader_pin_height_m", 0.05), 2, 1e-9);
  CHECK_NEAR(step("terrain.slope_deg", 0.5), 0.5, 1e-9);
  CHECK_NEAR(step("ballast.rear.fill_fraction", 0.05), 5, 1e-9);
  CHECK_NEAR(typed_step(typed_unit("vehicle.rear.track_m", Units::si), 0.02, Units::si), 0.02, 1e-12);
  CHECK(typed_unit("manoeuvre.turn_radius_m", Units::us, 1000).unit == "ft");
  CHECK(typed_unit("vehicle.rear.track_m", Units::us, 8).unit == "in");
}

TEST_CASE("a sentence of ours in the other units, and what is no measure left alone") {
  CHECK(in_us_units("Rear axle: 112 % of what it may carry (4 310 kg). Take load off.") ==
        "Rear axle: 112 % of what it may carry (9,502 lb). Take load off.");
  CHECK(in_us_units("Turning left at 40 km/h in a bend of 8 m lifts a wheel.") ==
        "Turning left at 24.9 mph in a bend of 26.2 ft lifts a wheel.");
  CHECK(in_us_units("Braking with 3.0 m/s2 slides on this slope.") == "Braking with 9.8 ft/s2 slides on this slope.");
  CHECK(in_us_units("At -15 °C the water is frozen") == "At 5 °F the water is frozen");
  CHECK(in_us_units("At -12 C the water is frozen") == "At 10 F the water is frozen");
  CHECK(in_us_units("700-900 kg, 2.45 m, -3 m, 51 kg per kW, 18.4R34, 5") ==
        "700-1,984 lb, 96.5 in, -118.1 in, 84 lb per hp, 18.4R34, 5");
  CHECK(in_us_units("A hole 25 cm deep, 5 t behind.") == "A hole 9.8 in deep, 11,023 lb behind.");
  CHECK(in_us_units("1 234 567 kg") == "2,721,754 lb");
  CHECK(in_us_units("at 12 300 wheels") == "at 12 300 wheels");
  CHECK(in_us_units("off by 7 to 27 kPa, 2.5 +-0.3 kg") == "off by 1 to 3.9 psi, 5.5 +-0.7 lb");
  CHECK(in_us_units("first ice -23.0 +-1.5 °C, 5.0 K in hand") == "first ice -9.4 +-2.7 °F, 9 °F in hand");
  CHECK(in_us_units("at 15, 30 and 50 cm, index 128, 50 kPa") == "at 5.9, 11.8 and 19.7 in, index 128, 7.3 psi");
  // As many digits as there were: 43 kN is known to the kilonewton, that is to two hundred pounds.
  CHECK(in_us_units("a plate of 43 kN, a pull of 12.3 kN") == "a plate of 9,700 lbf, a pull of 2,770 lbf");
  CHECK(in_us_units("15 to 55 kN/m2, 0.123 m2, 30 L/min, 1.25 kg/L") ==
        "2.2 to 8 psi, 1.32 ft2, 7.9 gal/min, 10.43 lb/gal");
  CHECK(in_us_units("It takes 2.1 kJ. 500 J are 5.") == "It takes 1,550 ft lbf. 369 ft lbf are 5.");
  CHECK(in_us_units("count litres, each kilogram") == "count gallons, each pound");
  CHECK(in_us_units("--load-kg, a 12 V lamp, 5 N/A") == "--load-kg, a 12 V lamp, 5 N/A");
  CHECK(read_in("5 kg", Units::si) == "5 kg");
  CHECK(read_in("5 kg", Units::us) == "11 lb");
  CHECK(in_us_units("") == "");
  CHECK(in_us_units("-") == "-");
}

TEST_CASE("a number with its own digits says as much in the other units") {
  CHECK(measured(Quantity::mass, 12.34, 1, Units::si) == "12.3 kg");
  CHECK(measured(Quantity::mass, 12.34, 1, Units::us) == "27.2 lb");
  CHECK(measured(Quantity::length, 0.623, 3, Units::si) == "0.623 m");
  CHECK(measured(Quantity::length, 0.623, 3, Units::us) == "24.53 in");
  CHECK(measured(Quantity::volume, 0.35, 0, Units::si) == "350 L");
  CHECK(measured(Quantity::volume, 0.35, 0, Units::us) == "92.5 gal");
  CHECK(measured(Quantity::temperature, 263.15, 1, Units::us) == "14.0 °F");
  CHECK(measured(Quantity::area, 0.123, 3, Units::us) == "1.32 ft2");
  CHECK(measured(Quantity::mass, -0.04, 1, Units::si) == "0.0 kg");
  CHECK(measured(Quantity::mass, std::nan(""), 1, Units::us) == "-");
  CHECK(number_in(1200, 0, Units::us) == "1,200");
  CHECK(number_in(1200, 0, Units::si) == "1200");
  CHECK(number_in(-0.001, 2, Units::si) == "0.00");
}

TEST_CASE("a unit that a file names is read in the other system") {
  const ReadUnit stiffness = read_unit("kN/m", Units::us);
  CHECK(stiffness.name == "lbf/in");
  CHECK_NEAR(stiffness.factor, 1e3 * 0.0254 / 4.4482216152605, 1e-9);
  CHECK_NEAR(read_unit("C", Units::us).factor * -40 + read_unit("C", Units::us).offset, -40, 1e-9);
  CHECK_NEAR(read_unit("kN/m2", Units::us).factor, 1e3 / 6894.757293168, 1e-9);
  for (const char* same : {"", "deg", "s", "furlong"}) {
    CAPTURE(same);
    CHECK(read_unit(same, Units::us).name == same);
    CHECK(read_unit(same, Units::us).factor == 1);
  }
  CHECK(read_unit("kg", Units::si).name == "kg");
}

TEST_CASE("a bale's density is read by the cubic foot, a liquid's by the gallon") {
  // Source: NIST SP 811 (2008) appendix B.8: 1 lb/ft3 = 16.01846 kg/m3, 1 lb/gal = 119.8264 kg/m3.
  constexpr std::string_view kBale = "ballast.bale.density_kg_per_m3", kLiquid = "ballast.own_medium.density_kg_per_m3";
  const TypedUnit typed = typed_unit(kBale, Units::us);
  CHECK(typed.unit == "lb/ft3");
  CHECK_NEAR(typed.shown(160.1846), 10, 1e-5);
  CHECK_NEAR(typed.file(10), 160.1846, 1e-4);
  CHECK(read_unit("kg/m3", Units::us, kBale).name == "lb/ft3");
  CHECK_NEAR(1 / read_unit("kg/m3", Units::us, kBale).factor, 16.01846, 1e-5);
  CHECK(typed_unit(kLiquid, Units::us).unit == "lb/gal");
  CHECK(read_unit("kg/m3", Units::us, kLiquid).name == "lb/gal");
  CHECK_NEAR(1 / read_unit("kg/m3", Units::us).factor, 119.8264, 1e-4);
  CHECK(typed_unit(kBale, Units::si).unit == "kg/m3");
  CHECK(read_unit("kg/m3", Units::si, kBale).name == "kg/m3");
}

TEST_CASE("a sentence about a bale has its density by the cubic foot too") {
  CHECK(read_in(change_words("ballast.bale.density_kg_per_m3=160"), Units::us) == "bale density 10 lb/ft3");
  CHECK(read_in("Changed: rear fill 75 %, bale density 160 kg/m3.", Units::us) ==
        "Changed: rear fill 75 %, bale density 10 lb/ft3.");
  // In another clause it is a liquid again.
  CHECK(read_in("bale diameter 1.2 m, own medium density 1198.264 kg/m3", Units::us) ==
        "bale diameter 47.2 in, own medium density 10 lb/gal");
}

TEST_CASE("a person has one unit of weight for masses, loads and limits: kg, kN or lb") {
  // Standard gravity 9.80665 m/s2 exactly; 1 lb = 0.45359237 kg exactly.
  struct Case {
    Units units;
    const char *mass, *load;
  };
  for (const Case& one : {Case{Units::si, "1 000 kg", "1 000 kg"}, Case{Units::kn, "9.81 kN", "9.81 kN"},
                          Case{Units::us, "2,205 lb", "2,205 lb"}}) {
    CAPTURE(one.mass);
    CHECK(shown(Quantity::mass, 1000, one.units) == one.mass);
    CHECK(shown(Quantity::load, 9806.65, one.units) == one.load);
  }
  CHECK(shown(Quantity::force, 9806.65, Units::si) == "9.8 kN");  // a pull is no weight
  const TypedUnit typed = typed_unit("ballast.loader_payload_kg", Units::kn);
  CHECK(typed.unit == "kN");
  CHECK_NEAR(typed.shown(1000), 9.80665, 1e-9);
  CHECK_NEAR(typed.file(9.80665), 1000, 1e-9);
  CHECK_NEAR(typed_step(typed, 10, Units::kn), 0.1, 1e-12);
  CHECK(typed_unit("vehicle.rear.track_m", Units::kn).factor == 1);
  CHECK_NEAR(typed_step(typed_unit("terrain.slope_deg", Units::kn), 2.5, Units::kn), 2.5, 1e-12);
  CHECK(read_unit("kg", Units::kn).name == "kN");
  CHECK(read_unit("kg/m3", Units::kn).name == "kg/m3");
}

TEST_CASE("a sentence in kN has its masses in kN, and everything else as it was") {
  const auto read = [](const char* words) { return read_in(words, Units::kn); };
  CHECK(read("front axle 3 968 kg of 2 930 kg, 35 % over") == "front axle 38.91 kN of 28.73 kN, 35 % over");
  CHECK(read("2.5 t at 12 km/h") == "25 kN at 12 km/h");
  for (const char* same : {"1198 kg/m3", "55 kg per kW", "55 kg/kW", "120 kg m2", "18.4-38 at 110 kPa", "pull 12.3 kN"})
    CHECK(read(same) == same);
}

TEST_CASE("what the command line changed is said in words, with its unit") {
  CHECK(change_words("terrain.slope_deg=40") == "terrain slope 40° = 84 %");
  CHECK(change_words("terrain.slope_deg=12.5") == "terrain slope 12.5° = 22 %");
  CHECK(change_words("job.steepest_deg=15") == "job steepest 15° = 27 %");
  CHECK(change_words("start.heading_deg=-90") == "start heading -90°");  // no slope
  CHECK(change_words("ballast.rear.fill_fraction=0.75") == "rear fill 75 %");
  CHECK(change_words("manoeuvre.speed_kmh=20") == "manoeuvre speed 20 km/h");
  CHECK(change_words("ballast.rear.medium=\"calcium_chloride\"") == "rear medium calcium chloride");
  CHECK(change_words("terrain.soil.adhesion=0.3") == "soil adhesion 0.3");
  for (const char* change : {"ballast.load.mass_kg=900", "settings.temperature_c=-15", "odd"}) {
    CAPTURE(change);
    CHECK(change_words(change).find_first_of("_.=") == std::string::npos);
  }
}
