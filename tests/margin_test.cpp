#include "sim/margin.h"

#include <cmath>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>

#include "sim/manoeuvre.h"
#include "tests/machines.h"
#include "tests/near.h"

using namespace sidehill;

namespace {

// Published measures of machines R and V: derived by closed form and quadrature outside this project.
std::map<std::string, nlohmann::json> published(const std::string& id) {
  std::ifstream file(std::string(SIDEHILL_SOURCE_DIR) + "/tests/data/stability_measures.json");
  const auto all = nlohmann::json::parse(file);
  for (const auto& one : all["cases"]) {
    if (one["id"] != id) continue;
    std::map<std::string, nlohmann::json> values;
    for (const auto& output : one["outputs"]) values[output["quantity"]] = output["value"];
    return values;
  }
  FAIL(id);
  return {};
}

#define CHECK_RELATIVE(value, expected) CHECK_NEAR(value, expected, 1e-6 * std::abs(expected))

constexpr double kGravity = 9.80665;
// On a side slope, downhill to the right (-y).
Vec3 pull_on(double slope) { return {0, -kGravity * std::sin(slope), -kGravity * std::cos(slope)}; }

MassProperties body_r() {
  MassProperties lump = point_mass(3000, {0.9, 0, 0.85});
  lump.inertia = Mat3(1200, 0, 0, 0, 3200, 0, 0, 0, 3400);
  return lump;
}

}  // namespace

TEST_CASE("machine R at 15 degrees about the three lines of its support triangle") {
  auto values = published("R_measures_triangle_15deg");
  const Vec3 corner[] = {{0, -0.8, 0}, {0, 0.8, 0}, {2.2, 0, 0.55}};
  for (int edge = 0; edge < 3; ++edge) {
    CAPTURE(edge);
    const LineMeasure m = about_line(corner[edge], corner[(edge + 1) % 3], body_r(), pull_on(15 / kDegrees));
    const auto& e = values["edge " + std::to_string(edge)];
    CHECK_NEAR(m.angle * kDegrees, e["theta_deg"].get<double>(), 1e-6 * 50);  // printed to six decimals
    CHECK_RELATIVE(m.angle_by_force, e["theta_fr_1996"].get<double>());
    CHECK_RELATIVE(m.angle_by_moment, e["beta_2000"].get<double>());
    CHECK_NEAR(m.energy_height, e["NESM_m"].get<double>(), 6e-7);
    CHECK_RELATIVE(m.energy, e["ESM_J"].get<double>());
    CHECK_NEAR(m.plumb_line, e["SSM_m"].get<double>(), 6e-7);
  }
}

TEST_CASE("machine R's critical roll rate about the line rear contact - pivot") {
  auto values = published("R_wcrit_15deg");
  const LineMeasure m = about_line({2.2, 0, 0.55}, {0, -0.8, 0}, body_r(), pull_on(15 / kDegrees));
  CHECK_RELATIVE(m.critical_rate, values["critical roll rate about rear-contact/pivot edge"].get<double>());
  CHECK_RELATIVE(m.angle * kDegrees, values["rotation to balance"].get<double>());
  CHECK_RELATIVE(m.energy, values["energy barrier"].get<double>());
}

TEST_CASE("body V at 15 degrees") {
  auto values = published("V_planar_15deg");
  MassProperties lump = point_mass(3000, {0, 0, 0.85});
  lump.inertia[0][0] = 1200;
  const LineMeasure m = about_line({1, -0.8, 0}, {-1, -0.8, 0}, lump, pull_on(15 / kDegrees));
  CHECK_RELATIVE(m.angle * kDegrees, values["force-angle theta"].get<double>());
  CHECK_RELATIVE(m.angle_by_force, values["theta*|f| (1996)"].get<double>());
  CHECK_RELATIVE(m.angle_by_moment, values["theta*|d|*|f| (2000)"].get<double>());
  CHECK_RELATIVE(m.energy_height, values["NESM"].get<double>());
  CHECK_RELATIVE(m.energy, values["ESM"].get<double>());
  CHECK_RELATIVE(m.plumb_line, values["SSM"].get<double>());
  CHECK_RELATIVE(m.critical_rate, values["critical roll rate about downhill line"].get<double>());
  CHECK_RELATIVE(load_transfer(values["N_up"].get<double>(), values["N_down"].get<double>()),
                 values["LTR"].get<double>());
}

TEST_CASE("the standing machine R gives the same from its own balance") {
  Scene scene = machine_r();
  scene.terrain.slope = 15 / kDegrees;
  const Model model = build(scene);
  const auto rest = solve_statics(model).rest;
  REQUIRE(rest);
  const Measures all = measures(model, *rest);
  auto edges = published("R_measures_triangle_15deg");
  const auto check = [&](TipLine line, const char* edge) {
    INFO(std::string(edge));
    const LineMeasure& m = all.lines[static_cast<std::size_t>(line)];
    CHECK_NEAR(m.angle * kDegrees, edges[edge]["theta_deg"].get<double>(), 1e-3);
    CHECK_NEAR(m.energy, edges[edge]["ESM_J"].get<double>(), 0.5);
    CHECK_NEAR(m.plumb_line, edges[edge]["SSM_m"].get<double>(), 1e-4);
  };
  check(TipLine::rear, "edge 0");
  check(TipLine::left, "edge 1");
  check(TipLine::right, "edge 2");
  CHECK(all.nearest == TipLine::right);
  auto transfer = published("R_LTR");
  CHECK_NEAR(all.rear_transfer, transfer["rear"].get<double>(), 1e-5);
  CHECK_NEAR(all.front_transfer, transfer["front"].get<double>(), 1e-5);
  CHECK_NEAR(all.whole_transfer, transfer["whole"].get<double>(), 1e-5);
}

TEST_CASE("the measure about the downhill line vanishes where the first wheel lifts") {
  for (const char* machine : kMachines) {
    INFO(std::string(machine));
    Scene scene = test_machine(
        machine, {"ballast.rear.fill_fraction=0.7", "vehicle.rear.tyre.rigid=true", "vehicle.front.tyre.rigid=true",
                  "vehicle.rear.tyre.laterally_rigid=true", "vehicle.front.tyre.laterally_rigid=true"});
    const LiftOff at = first_lift_off(build(scene));
    REQUIRE(at.slope);
    scene.terrain.slope = *at.slope - 1e-6;
    const Model model = build(scene);
    const auto rest = solve_statics(model).rest;
    REQUIRE(rest);
    CHECK_NEAR(measures(model, *rest).lines[static_cast<std::size_t>(TipLine::right)].angle * kDegrees, 0, 1e-3);
  }
}

TEST_CASE("past its balance nothing is left, and what cannot be a line gives zeros") {
  const LineMeasure over = about_line({1, -0.8, 0}, {-1, -0.8, 0}, point_mass(3000, {0, -1.2, 0.85}), pull_on(0));
  CHECK(over.angle < 0);
  CHECK(over.plumb_line < 0);
  CHECK(over.energy == 0);
  CHECK(about_line({1, 0, 0}, {1, 0, 0}, body_r(), pull_on(0)).angle == 0);
  CHECK(load_transfer(0, 0) == 0);
}

TEST_CASE("machine R turns as fast as published before a wheel lifts") {
  auto values = published("R_turn");
  Scene scene = machine_r();
  scene.manoeuvre = {5, 8, 0};
  const auto speed = [&](double slope, std::size_t way) {
    scene.terrain.slope = slope / kDegrees;
    const auto answers = manoeuvres(scene, build(scene));
    REQUIRE(answers[way].speed_at_limit);
    return *answers[way].speed_at_limit;
  };
  CHECK_NEAR(speed(0, 0), values["flat_R8_v_mps"].get<double>(), 0.002);
  // Downhill is to the right: turning left throws it downhill, its centre of turn lies uphill.
  CHECK_NEAR(speed(15, 0), values["slope15_R8_v"].get<double>(), 0.002);
  CHECK_NEAR(speed(15, 1), values["slope15_R8_v_other_direction"].get<double>(), 0.002);
}
