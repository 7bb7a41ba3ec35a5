// The integrator by itself: each motion against its own series, and what no step may create or lose.
#include "sim/motion/world.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/rest/equilibrium.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "vehicles/mass.h"

using namespace sidehill;

namespace {

// A machine whose parts do not move against each other: axle fixed, wheels dry, no loader.
Scene in_one_piece() {
  return test_machine("row_crop_150kw", {"ballast.rear.fill_fraction=0", "vehicle.front_axle.kind=\"fixed\"",
                                         "vehicle.loader.fitted=false"});
}

// All of it as one body, in V.
MassProperties whole(const Model& m) {
  MassProperties all = combine(m.chassis, moved(m.axle, {Mat3(1.0), m.pin}));
  for (const WheelModel& wheel : m.wheels) all = combine(all, moved(wheel.dry, {Mat3(1.0), wheel.centre}));
  return all;
}

Pose high_above(const Model& model, double height) {
  Pose X = start_trial(make_system(model)).X_GV;
  X.p.z += height;
  return X;
}

}  // namespace

TEST_CASE("a machine in free fall follows the series of the semi-implicit Euler rule") {
  // z_n = z_0 - g h^2 n (n + 1) / 2, derived by summing v_k = -g h k. Rams that carry what has no weight now move boom
  // and bucket during the fall; to the first order of the step that moves the sum.
  const Model model = build(test_machine("utility_75kw"));
  World world(model, high_above(model, 20), 0);
  const double z0 = world.state().centre_of_gravity_G.z;
  Input input;
  for (int n = 1; n <= 1000; ++n) {
    world.step(input);
    if (n % 250 == 0)
      CHECK_NEAR(world.state().centre_of_gravity_G.z, z0 - model.gravity * 1e-6 * n * (n + 1) / 2, 3e-6);
  }
}

TEST_CASE(
    "in flight for ten seconds a tumbling machine keeps its energy to a thousandth, its angular momentum to first "
    "order") {
  const auto drift_with = [](double time_step) {
    Scene scene = in_one_piece();
    scene.settings.time_step = time_step;
    Model model = build(scene);
    model.gravity = 1e-9;  // nothing but its own motion
    const MassProperties body = whole(model);
    World world(model, high_above(model, 50), 0);
    world.set_velocity({1, 0, 0}, {0.4, 0.7, 0.3});
    const auto spin_of = [&] {
      const State& s = world.state();
      Vec3 spin = s.X_GV.R * (body.inertia * (glm::transpose(s.X_GV.R) * s.w_G));
      for (std::size_t i = 0; i < kWheels; ++i)  // front wheels turn freely, and so keep their own share
        spin += model.wheels[i].dry.inertia[1][1] * s.wheels[i].spin_rate * s.wheels[i].axle_G;
      return spin;
    };
    const auto speed_of = [&] {
      const State& s = world.state();
      return s.v_G + glm::cross(s.w_G, s.X_GV.R * body.com);
    };
    const double energy = world.state().kinetic_energy;
    const Vec3 spin = spin_of(), speed = speed_of();
    // The State's energy is that of one rigid body: 1/2 m v^2 + 1/2 w . L.
    CHECK_NEAR(energy, 0.5 * body.mass * glm::dot(speed, speed) + 0.5 * glm::dot(world.state().w_G, spin),
               1e-6 * energy);
    const Vec3 start = world.state().centre_of_gravity_G;
    double energy_drift = 0, spin_drift = 0, speed_drift = 0;
    for (int n = 1; n <= std::lround(10 / time_step); ++n) {
      world.step({});
      if (n % 100 != 0) continue;
      energy_drift = std::max(energy_drift, std::abs(world.state().kinetic_energy - energy) / energy);
      spin_drift = std::max(spin_drift, glm::length(spin_of() - spin) / glm::length(spin));
      speed_drift = std::max(speed_drift, glm::length(speed_of() - speed));
    }
    CHECK(energy_drift < 1e-3);
    CHECK(speed_drift < 1e-3);
    CHECK_NEAR(glm::length(world.state().centre_of_gravity_G - start - 10.0 * speed), 0, 0.01);
    return spin_drift;
  };
  // The rule's own error, of first order: the turn in one step, over ten seconds.
  const double coarse = drift_with(1e-3), fine = drift_with(0.5e-3);
  CHECK(coarse < 1e-3);
  CHECK_NEAR(fine / coarse, 0.5, 0.02);
}

TEST_CASE(
    "falling and tumbling for ten seconds, all its parts loose, a machine gains no energy and loses a thousandth") {
  // Pivoting axle, loader on its rams, liquid in the tyres: dampers may take a little, nothing may give.
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75"});
  const Model model = build(scene);
  World world(model, high_above(model, 600), 0);
  world.set_velocity({0, 0, 0}, {0.05, 0.1, 0.05});
  Input input;
  input.boom_angle = model.loader.angle;
  const double before = world.state().kinetic_energy + world.potential_energy();
  for (int n = 0; n < 10000; ++n) world.step(input);
  const double after = world.state().kinetic_energy + world.potential_energy();
  // Semi-implicit Euler alone: m g^2 h t / 2 too low after t, a share h / t of the energy of motion.
  CHECK(after < before + 1e-4 * world.state().kinetic_energy);
  CHECK_NEAR(after, before, 1e-3 * world.state().kinetic_energy);
}

TEST_CASE("liquid swings in a wheel of a machine that does not give, as the integrator's own series of a pendulum") {
  // A chassis of ten thousand tonnes on springs to match, facing 4 degrees uphill: the fills start "straight down in V"
  // and swing about the true vertical. q'' = -(g d / k^2) sin(q - q0) - 2 zeta w q', stepped by the same rule.
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75", "terrain.slope_deg=4",
                                              "start.heading_deg=0", "vehicle.loader.fitted=false"});
  constexpr double kHeavy = 3000;
  scene.vehicle.chassis.mass *= kHeavy;
  scene.vehicle.chassis.inertia *= kHeavy;
  for (Axle* axle : {&scene.vehicle.front, &scene.vehicle.rear}) {
    axle->tyre.vertical_stiffness *= kHeavy, axle->tyre.vertical_damping *= kHeavy;
    axle->tyre.lateral_stiffness *= kHeavy, axle->tyre.lateral_damping *= kHeavy;
    axle->tyre.longitudinal_stiffness *= 100 * kHeavy;  // does not give
  }
  scene.vehicle.rear.spin_inertia = 50 * kHeavy;  // held by a brake to match
  scene.vehicle.front.spin_inertia = 15 * kHeavy;
  scene.vehicle.front_axle.kind = AxleKind::fixed;
  const Model model = build(scene);
  const std::optional<Rest> rest = solve_statics(model).rest;
  REQUIRE(rest);
  World world(model, rest->X_GV, rest->axle_angle);
  const LiquidLump& liquid = model.wheels[kRearLeft].liquid;
  const double squared = model.gravity * liquid.depth / liquid.gyration_squared,
               damping = 2 * 0.05 * std::sqrt(squared);
  Input input;
  input.slope = model.terrain.slope;
  // Downhill is behind; the liquid hangs back by the slope, plus the little the machine pitches on its tyres.
  const double pitch = std::asin(-rest->X_GV.R[0].z);
  const double down = world.state().wheels[kRearLeft].liquid_swing;
  CHECK_NEAR(down, 0, 1e-12);
  double q = 0, rate = 0, worst = 0, furthest = 0, side = 0;
  for (int n = 0; n < 6000; ++n) {
    world.step(input);
    const double swing = world.state().wheels[kRearLeft].liquid_swing;
    if (side == 0 && std::abs(swing) > 1e-4) side = swing > 0 ? 1 : -1;
    const double middle = input.slope - pitch;
    rate += model.time_step * (-squared * std::sin(q - middle) - damping * rate);
    q += model.time_step * rate;
    worst = std::max(worst, std::abs(std::abs(swing) - std::abs(q)));
    furthest = std::max(furthest, std::abs(swing));
  }
  CHECK(furthest > 1.7 * 4 * kDegree);  // it did swing through, to nearly twice the slope
  CHECK(worst < 0.02 * 4 * kDegree);
  CHECK(side == 1);  // about +y, the way the wheel rolls forward: the fill under the axle moves back
}

TEST_CASE("the axle's stop pushes and never pulls") {
  // In flight, the axle put 2 degrees beyond its stop: it is thrown back, and once free it turns at a steady rate. With
  // no damping the rate is that of the stop's energy.
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0", "vehicle.loader.fitted=false",
                                              "vehicle.front_axle.stop_damping_knms_per_rad=0"});
  Model model = build(scene);
  model.gravity = 1e-9;
  const double beyond = 2 * kDegree;
  World world(model, high_above(model, 50), model.stop_angle + beyond);
  world.step({});
  const double stored = world.state().kinetic_energy + world.potential_energy();
  CHECK_NEAR(stored, 0.5 * model.stop_stiffness * beyond * beyond, 0.02 * stored);
  double free_rate = 0;
  bool seen_free = false, hit_other = false;
  for (int n = 0; n < 3000 && !hit_other; ++n) {
    world.step({});
    const State& s = world.state();
    if (std::abs(s.axle_angle) < model.stop_angle - 0.005) {
      if (!seen_free) free_rate = s.axle_rate;
      seen_free = true;
      CHECK_NEAR(s.axle_rate, free_rate, 1e-3 * std::abs(free_rate));
      CHECK_FALSE(s.on_stop);
    }
    hit_other = s.axle_angle < -model.stop_angle;
  }
  REQUIRE(seen_free);
  CHECK(hit_other);
  CHECK(free_rate < 0);
  CHECK_NEAR(world.state().kinetic_energy + world.potential_energy(), stored, 0.02 * stored);
}

TEST_CASE("a stop with a damper takes energy out and gives none back") {
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0", "vehicle.loader.fitted=false"});
  Model model = build(scene);
  model.gravity = 1e-9;
  World world(model, high_above(model, 50), model.stop_angle + 2 * kDegree);
  world.step({});
  double last = world.state().kinetic_energy + world.potential_energy();
  const double first = last;
  for (int n = 0; n < 4000; ++n) {
    world.step({});
    if (n % 40 != 0) continue;
    const double now = world.state().kinetic_energy + world.potential_energy();
    CHECK(now < last + 0.01 * first);
    last = now;
  }
  CHECK(last < 0.7 * first);
}

TEST_CASE("a standing machine stands: no creep in half a minute, its weight on its wheels") {
  const Scene scene =
      test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75", "terrain.slope_deg=14",
                                    "terrain.soil.adhesion_unlimited=false", "terrain.soil.adhesion=0.6"});
  const Model model = build(scene);
  World world(model, start_trial(make_system(model)).X_GV, 0);
  Input input;
  input.slope = model.terrain.slope;
  input.boom_angle = model.loader.angle;
  for (int n = 0; n < 5000; ++n) world.step(input);
  const Vec3 settled = world.state().X_GV.p;
  for (int n = 0; n < 25000; ++n) world.step(input);
  const State& s = world.state();
  CHECK(glm::length(s.X_GV.p - settled) < 1e-3);
  CHECK(s.kinetic_energy < 1e-3);
  double load = 0, aside = 0;
  for (const WheelState& wheel : s.wheels) load += wheel.force_G.z, aside += wheel.force_G.y;
  const double weight = total_mass(model) * model.gravity;
  CHECK_NEAR(load / weight, std::cos(input.slope), 1e-5);
  CHECK_NEAR(aside / weight, std::sin(input.slope), 1e-5);
}

TEST_CASE("a divergence names a part, a quantity and a time") {
  // A spring far too stiff for the step.
  Scene scene = test_machine("compact_26kw", {"ballast.rear.fill_fraction=0"});
  scene.vehicle.rear.tyre.vertical_stiffness = 1e12;
  const Model model = build(scene);
  World world(model, high_above(model, 0.05), 0);
  std::string message;
  try {
    for (int n = 0; n < 5000; ++n) world.step({});
  } catch (const Diverged& error) {
    message = error.what();
  }
  INFO(message);
  CHECK(message.find("diverged: ") == 0);
  CHECK((message.find("speed is") != std::string::npos || message.find("turning rate is") != std::string::npos));
  CHECK(message.find(" s") != std::string::npos);
}

TEST_CASE("a machine on rigid tyres is refused in words") {
  const Model model = build(test_scene("validate/reference_r"));
  CHECK_THROWS_AS(World(model, start_trial(make_system(model)).X_GV, 0), InputError);
}
