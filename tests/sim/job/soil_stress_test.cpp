// Contact patch and stress at depth against tables that an independent program computed from the same equations.
#include "sim/job/soil_stress.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "tests/kit/cells.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

SoilWheel soil_wheel(const CsvRow& row) {
  return {.width = cell(row, "w_m"),
          .diameter = cell(row, "d_m"),
          .pressure = cell(row, "p_kPa") * 1e3,
          .recommended = cell(row, "prec_kPa") * 1e3,
          .load = cell(row, "F_kN") * 1e3};
}

const SoilWheel kSoilWheel = {.width = 0.467, .diameter = 1.755, .pressure = 100e3, .recommended = 100e3, .load = 26e3};

// The stress on the whole patch, summed over a grid [N].
double whole_load(const StressField& f, int steps) {
  double sum = 0;
  const double dx = f.patch.length / steps, dy = f.patch.width / steps;
  for (int i = 0; i < steps; ++i)
    for (int j = 0; j < steps; ++j)
      sum += surface_stress(f, (i + 0.5) * dx - f.patch.length / 2, (j + 0.5) * dy - f.patch.width / 2) * dx * dy;
  return sum;
}

}  // namespace

TEST_CASE("the contact patch agrees with the table") {
  // Source: Keller 2005 by way of soilphysics 5.1 (formula read as code), worked out by an independent program.
  for (const CsvRow& row : read_csv("job/keller_contact.csv")) {
    INFO(row.at("w_m"), " ", row.at("p_kPa"), " ", row.at("prec_kPa"), " ", row.at("F_kN"));
    const auto patch = contact_patch(soil_wheel(row));
    REQUIRE(patch.has_value());
    check_relative(patch->length, cell(row, "length_m"), 1e-5);
    check_relative(patch->exponent, cell(row, "exponent_n"), 1e-5);
    check_relative(patch->area, cell(row, "area_m2"), 1e-5);
    check_relative(patch->peak * 1e-3, cell(row, "peak_kPa"), 1e-5);
    check_relative(patch->mean * 1e-3, cell(row, "mean_kPa"), 1e-5);
  }
}

TEST_CASE("alpha and the stress at depth agree with the table") {
  // Source: as above, with Froehlich's point loads; grid error of that program about 0.5 % at 0.1 m, so 2 %.
  for (const CsvRow& row : read_csv("job/keller_stress_depth.csv")) {
    INFO(row.at("w_m"), " ", row.at("F_kN"), " ", row.at("nu"), " ", row.at("z_m"));
    const StressField field = stress_field(soil_wheel(row));
    REQUIRE(field.range == StressRange::within);
    check_relative(field.alpha, cell(row, "alpha"), 0.01);
    const auto stress = stress_below(field, cell(row, "nu"), cell(row, "z_m"));
    REQUIRE(stress.has_value());
    check_relative(*stress * 1e-3, cell(row, "sigma_z_kPa"), 0.02);
  }
}

TEST_CASE("the field carries the load, and has its peak") {
  const StressField field = stress_field(kSoilWheel);
  REQUIRE(field.range == StressRange::within);
  CHECK_NEAR(whole_load(field, 800), kSoilWheel.load, kSoilWheel.load * 1e-3);
  double greatest = 0;
  for (int i = 0; i <= 2000; ++i) greatest = std::max(greatest, surface_stress(field, 0, i * field.patch.width / 4000));
  CHECK_NEAR(greatest, field.patch.peak, field.patch.peak * 1e-5);
  CHECK(surface_stress(field, field.patch.length, 0) == 0);
  CHECK(surface_stress(field, 0, field.patch.width) == 0);
}

TEST_CASE("the stress at depth meets the field at the surface and a point load far below") {
  const StressField field = stress_field(kSoilWheel);
  const double top = surface_stress(field, 0, 0);
  CHECK_NEAR(*stress_below(field, 5, 0), top, 1e-9);
  CHECK_NEAR(*stress_below(field, 5, 1e-3), top, top * 0.03);
  const double depth = 30;
  check_relative(*stress_below(field, 5, depth), 5 * kSoilWheel.load / (2 * 3.14159265358979 * depth * depth), 1e-3);
}

TEST_CASE("the sum at depth is as exact as stated: a grid of point loads gives the same") {
  const StressField field = stress_field(kSoilWheel);
  const double nu = 4, depth = 0.2;
  const int steps = 1200;
  double sum = 0;
  const double dx = field.patch.length / steps, dy = field.patch.width / steps;
  for (int i = 0; i < steps; ++i)
    for (int j = 0; j < steps; ++j) {
      const double x = (i + 0.5) * dx - field.patch.length / 2, y = (j + 0.5) * dy - field.patch.width / 2;
      const double r = std::sqrt(x * x + y * y + depth * depth);
      sum += nu * surface_stress(field, x, y) * dx * dy / (2 * 3.14159265358979 * r * r) * std::pow(depth / r, nu);
    }
  check_relative(*stress_below(field, nu, depth), sum, 1e-4);
}

TEST_CASE("outside its range the model says so and gives no stress") {
  SoilWheel light = kSoilWheel;
  light.load = 6e3, light.pressure = light.recommended = 240e3;
  const StressField field = stress_field(light);
  CHECK(field.range == StressRange::peak_too_high);
  CHECK(field.alpha < 1);
  CHECK_FALSE(stress_below(field, 5, 0.3).has_value());
  const auto words = stress_cautions(light, field);
  REQUIRE(words.size() == 2);  // and the load is below the wheels measured
  CHECK(words[0].find("Outside the range") == 0);

  SoilWheel heavy = kSoilWheel;
  heavy.load = 90e3;
  CHECK(stress_field(heavy).range == StressRange::peak_too_low);
  CHECK_FALSE(stress_below(stress_field(heavy), 5, 0.3).has_value());

  SoilWheel wide = kSoilWheel;
  wide.width = 1.3;
  CHECK(stress_field(wide).range == StressRange::too_wide);

  SoilWheel odd = kSoilWheel;
  odd.pressure = 1000e3, odd.recommended = 1e3;
  CHECK(stress_field(odd).range == StressRange::no_patch);
  CHECK_FALSE(contact_patch({}).has_value());
  CHECK(stress_cautions(kSoilWheel, stress_field(kSoilWheel)).empty());
}

TEST_CASE("a round plate agrees with the closed form") {
  // Source: Froehlich 1934, worked out by an independent program.
  for (const CsvRow& row : read_csv("job/froehlich_circle.csv")) {
    INFO(row.at("p_kPa"), " ", row.at("F_kN"), " ", row.at("nu"), " ", row.at("z_m"));
    check_relative(
        stress_below_circle(cell(row, "p_kPa") * 1e3, cell(row, "F_kN") * 1e3, cell(row, "nu"), cell(row, "z_m")) *
            1e-3,
        cell(row, "sigma_z_kPa"), 1e-5);
  }
}

TEST_CASE("round and square plates agree with the table") {
  // Source: loads, areas and depths of Lamande et al. 2007; stresses worked out by an independent program.
  for (const CsvRow& row : read_csv("job/sohne_plate.csv")) {
    INFO(row.at("F_kN"), " ", row.at("nu"), " ", row.at("z_m"));
    const double load = cell(row, "F_kN") * 1e3, pressure = load / cell(row, "area_m2");
    check_relative(stress_below_circle(pressure, load, cell(row, "nu"), cell(row, "z_m")) * 1e-3,
                   cell(row, "circle_kPa"), 1e-5);
    check_relative(stress_below_square(pressure, load, cell(row, "nu"), cell(row, "z_m")) * 1e-3,
                   cell(row, "square_kPa"), 1e-5);
  }
}

TEST_CASE("more load and softer soil press deeper") {
  SoilWheel heavier = kSoilWheel;
  heavier.load = 34e3;
  const double at = 0.5;
  CHECK(*stress_below(stress_field(heavier), 5, at) > *stress_below(stress_field(kSoilWheel), 5, at));
  CHECK(*stress_below(stress_field(kSoilWheel), 6, at) > *stress_below(stress_field(kSoilWheel), 4, at));
  CHECK(std::string(concentration_words(6)) == "soft, wet soil");
  CHECK(std::string(concentration_words(3.2)) == "elastic");
}
