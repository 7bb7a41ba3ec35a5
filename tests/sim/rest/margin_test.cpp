#include "sim/rest/margin.h"

#include <cmath>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>

#include "sim/base/constants.h"
#include "sim/rest/manoeuvre.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

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

// On a side slope, downhill to the right (-y).
Vec3 pull_on(double slope) { return {0, -kStandardGravity * std::sin(slope), -kStandardGravity * std::cos(slope)}; }

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
    const LineMeasure m = about_line(corner[edge], corner[(edge + 1) % 3], body_r(), pull_on(15 * kDegree));
    const auto& e = values["edge " + std::to_string(edge)];
    CHECK_NEAR(m.angle / kDegree, e["theta_deg"].get<double>(), 1e-6 * 50);  // printed to six decimals
    CHECK_RELATIVE(m.angle_by_force, e["theta_fr_1996"].get<double>());
    CHECK_RELATIVE(m.angle_by_moment, e["beta_2000"].get<double>());
    CHECK_NEAR(m.energy_height, e["NESM_m"].get<double>(), 6e-7);
    CHECK_RELATIVE(m.energy, e["ESM_J"].get<double>());
    CHECK_NEAR(m.plumb_line, e["SSM_m"].get<double>(), 6e-7);
  }
}

TEST_CASE("machine R's critical roll rate about the line rear contact - pivot") {
  auto values = published("R_wcrit_15deg");
  const LineMeasure m = about_line({2.2, 0, 0.55}, {0, -0.8, 0}, body_r(), pull_on(15 * kDegree));
  CHECK_RELATIVE(m.critical_rate, values["critical roll rate about rear-contact/pivot edge"].get<double>());
  CHECK_RELATIVE(m.angle / kDegree, values["rotation to balance"].get<double>());
  CHECK_RELATIVE(m.energy, values["energy barrier"].get<double>());
}

TEST_CASE("body V at 15 degrees") {
  auto values = published("V_planar_15deg");
  MassProperties lump = point_mass(3000, {0, 0, 0.85});
  lump.inertia[0][0] = 1200;
  const LineMeasure m = about_line({1, -0.8, 0}, {-1, -0.8, 0}, lump, pull_on(15 * kDegree));
  CHECK_RELATIVE(m.angle / kDegree, values["force-angle theta"].get<double>());
  CHECK_RELATIVE(m.angle_by_force, values["theta*|f| (1996)"].get<double>());
  CHECK_RELATIVE(m.angle_by_moment, values["theta*|d|*|f| (2000)"].get<double>());
  CHECK_RELATIVE(m.energy_height, values["NESM"].get<double>());
  CHECK_RELATIVE(m.energy, values["ESM"].get<double>());
  CHECK_RELATIVE(m.plumb_line, values["SSM"].get<double>());
  CHECK_RELATIVE(m.critical_rate, values["critical roll rate about downhill line"].get<double>());
  CHECK_RELATIVE(load_transfer(values["N_up"].get<double>(), values["N_down"].get<double>()),
                 values["LTR"].get<double>());
}

TEST_CASE("the standing machine R gives the same from its own balance, either way round") {
  auto edges = published("R_measures_triangle_15deg");
  auto transfer = published("R_LTR");
  for (const double heading : {-90.0, 90.0}) {
    CAPTURE(heading);
    Scene scene = machine_r();
    scene.terrain.slope = 15 * kDegree;
    scene.start.heading = heading * kDegree;
    const Model model = build(scene);
    const auto rest = solve_statics(model).rest;
    REQUIRE(rest);
    const Measures all = measures(model, *rest);
    const bool right = heading < 0;  // where downhill is
    const auto check = [&](TipLine line, const char* edge) {
      INFO(std::string(edge));
      const LineMeasure& m = all.lines[static_cast<std::size_t>(line)];
      const auto& e = edges[edge];
      CHECK_NEAR(m.angle / kDegree, e["theta_deg"].get<double>(), 1e-6);  // printed to six decimals
      CHECK_RELATIVE(m.angle_by_force, e["theta_fr_1996"].get<double>());
      CHECK_RELATIVE(m.angle_by_moment, e["beta_2000"].get<double>());
      CHECK_RELATIVE(m.energy, e["ESM_J"].get<double>());
      CHECK_NEAR(m.energy_height, e["NESM_m"].get<double>(), 6e-7);
      CHECK_NEAR(m.plumb_line, e["SSM_m"].get<double>(), 6e-7);
    };
    check(TipLine::rear, "edge 0");
    check(right ? TipLine::left : TipLine::right, "edge 1");
    check(right ? TipLine::right : TipLine::left, "edge 2");
    CHECK(all.nearest == (right ? TipLine::right : TipLine::left));
    CHECK_RELATIVE(all.lines[static_cast<std::size_t>(all.nearest)].critical_rate,
                   published("R_wcrit_15deg")["critical roll rate about rear-contact/pivot edge"].get<double>());
    const double sign = right ? 1 : -1;
    CHECK_NEAR(sign * all.rear_transfer, transfer["rear"].get<double>(), 1e-6);
    CHECK_NEAR(sign * all.front_transfer, transfer["front"].get<double>(), 1e-6);
    CHECK_NEAR(sign * all.whole_transfer, transfer["whole"].get<double>(), 1e-6);
  }
}

TEST_CASE("the standing body V gives its planar values, by its four contacts") {
  auto values = published("V_planar_15deg");
  Scene scene = machine_v();
  scene.terrain.slope = 15 * kDegree;
  const Model model = build(scene);
  const Measures all = measures(model, *solve_statics(model).rest);
  const LineMeasure& m = all.lines[static_cast<std::size_t>(TipLine::right)];
  CHECK(all.nearest == TipLine::right);
  CHECK_RELATIVE(m.angle / kDegree, values["force-angle theta"].get<double>());
  CHECK_RELATIVE(m.energy, values["ESM"].get<double>());
  CHECK_RELATIVE(m.critical_rate, values["critical roll rate about downhill line"].get<double>());
  CHECK_NEAR(all.whole_transfer, values["LTR"].get<double>(), 1e-6);
}

TEST_CASE("machine R rears up about its axle: balance, and how long the torque may last") {
  // Its wheels are held and the chassis turns about the rear axle, 0.75 m high, under 1.5 times the torque that just
  // lifts it. What the line says - energy, angle, inertia - gives the whole story by quadrature.
  auto values = published("R_rear_torque_1.5xWa");
  const LineMeasure m = about_line({0, -0.8, 0.75}, {0, 0.8, 0.75}, body_r(), pull_on(0));
  CHECK_RELATIVE(m.angle / kDegree, values["balance_deg"].get<double>());
  const double weight = 3000 * kStandardGravity, torque = 1.5 * weight * 0.9, reach = std::hypot(0.9, 0.1);
  // Motion's energy at a turn: torque's work less the climb, which is m.energy at the balance.
  const auto climb = [&](double turn) { return m.energy - weight * reach * (1 - std::cos(m.angle - turn)); };
  // Time to a turn under the torque: the start, where speed is nothing, by turn = u^2.
  const auto time_to = [&](double turn) {
    constexpr int n = 20000;
    const double end = std::sqrt(turn);
    double sum = 0;
    for (int i = 0; i < n; ++i) {
      const double u = (i + 0.5) * end / n, speed = std::sqrt(2 * (torque * u * u - climb(u * u)) / m.inertia);
      sum += 2 * u / speed * end / n;
    }
    return sum;
  };
  CHECK_NEAR(time_to(20 * kDegree), values["to_20deg"].get<double>(), 1e-6);
  CHECK_NEAR(time_to(45 * kDegree), values["to_45deg"].get<double>(), 1e-6);
  CHECK_NEAR(time_to(m.angle), values["to_balance"].get<double>(), 1e-6);
  CHECK_NEAR(time_to(105 * kDegree), values["to_105deg"].get<double>(), 1e-6);
  // Cut when its work is just the climb to the balance: later is too late.
  CHECK_NEAR(time_to(m.energy / torque), values["point_of_no_return_s"].get<double>(), 1e-6);
}

TEST_CASE("a moment counts in the force angle as the shifted pull does, and tips where all moments about the line do") {
  const Vec3 from(1, -0.8, 0), to(-1, -0.8, 0), centre(0, 0, 0.85), force(150, -4000, -28000);
  const ForceAngle plain = force_angle(from, to, centre, force);
  CHECK_NEAR(plain.by_force, plain.angle * glm::length(force), 1e-9);
  CHECK_NEAR(plain.by_moment, plain.angle * plain.arm * std::hypot(4000, 28000), 1e-6);
  // About the line: what holds it down less what tips it.
  const double holding = 28000 * 0.8 - 4000 * 0.85;
  CHECK_NEAR(plain.arm * std::hypot(4000, 28000), holding, 1e-6);
  // A roll moment that uses just that up leaves no angle; more and it is beyond. About the line's own axis (-x) the
  // tipping way is +x.
  CHECK_NEAR(force_angle(from, to, centre, force, {holding, 0, 0}).angle, 0, 1e-12);
  CHECK(force_angle(from, to, centre, force, {1.01 * holding, 0, 0}).angle < 0);
  CHECK(force_angle(from, to, centre, force, {-holding, 0, 0}).angle > plain.angle);
  // MachineStates square to the line do nothing to it.
  CHECK_NEAR(force_angle(from, to, centre, force, {0, 9000, -7000}).angle, plain.angle, 1e-15);
  // In a steady bend the felt pull is the force: same answer as gravity turned.
  const Vec3 felt(0, -3, -kStandardGravity);
  const LineMeasure m = about_line(from, to, point_mass(3000, centre), felt);
  CHECK_NEAR(force_angle(from, to, centre, 3000.0 * felt).angle, m.angle, 1e-15);
}

TEST_CASE("a bend counts in the measures of the standing machine") {
  Scene scene = machine_r();
  Model model = build(scene);
  // Level ground, pulled to the right as hard as a 15 deg slope pulls, and pressed as hard: the same as the slope.
  const double slope = 15 * kDegree;
  model.gravity = kStandardGravity * std::cos(slope);
  model.inertial_acceleration = {0, -kStandardGravity * std::sin(slope), 0};
  const auto rest = solve_statics(model).rest;
  REQUIRE(rest);
  const LineMeasure m = measures(model, *rest).lines[static_cast<std::size_t>(TipLine::right)];
  CHECK_RELATIVE(m.energy, published("R_wcrit_15deg")["energy barrier"].get<double>());
}

TEST_CASE("on its stop with a wheel in the air a machine goes over the line between the wheels that carry") {
  Scene scene = test_machine("compact_26kw", {"ballast.rear.fill_fraction=0"});
  scene.vehicle.front_axle.stop_angle = 4 * kDegree;
  Model model = build(scene);
  const StaticSolution limits = solve_statics(model);
  REQUIRE(limits.first_lift_off);
  REQUIRE(limits.tip_over);
  REQUIRE(*limits.tip_over > *limits.first_lift_off);
  scene.terrain.slope = 0.5 * (*limits.first_lift_off + *limits.tip_over);
  model = build(scene);
  const auto rest = solve_statics(model).rest;
  REQUIRE(rest);
  REQUIRE(rest->load[kRearLeft] <= 0);
  const Measures all = measures(model, *rest);
  const auto line = [&](TipLine which) { return all.lines[static_cast<std::size_t>(which)]; };
  // Left and rear lines met at the wheel in the air: both are the diagonal now.
  CHECK_NEAR(line(TipLine::left).energy, line(TipLine::rear).energy, 1e-9);
  const Vec3 diagonal = glm::normalize(rest->contact_G[kFrontLeft] - rest->contact_G[kRearRight]);
  CHECK_NEAR(glm::length(line(TipLine::left).axis - diagonal), 0, 1e-12);
  CHECK(line(TipLine::left).energy >= 0);
  CHECK(line(TipLine::right).energy > 0);
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
    CHECK_NEAR(measures(model, *rest).lines[static_cast<std::size_t>(TipLine::right)].angle / kDegree, 0, 1e-3);
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
    scene.terrain.slope = slope * kDegree;
    const auto answers = manoeuvres(scene, build(scene));
    REQUIRE(answers[way].speed_at_limit);
    return *answers[way].speed_at_limit;
  };
  CHECK_NEAR(speed(0, 0), values["flat_R8_v_mps"].get<double>(), 0.002);
  // Downhill is to the right: turning left throws it downhill, its centre of turn lies uphill.
  CHECK_NEAR(speed(15, 0), values["slope15_R8_v"].get<double>(), 0.002);
  CHECK_NEAR(speed(15, 1), values["slope15_R8_v_other_direction"].get<double>(), 0.002);
}
