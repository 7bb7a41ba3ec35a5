#include "sim/world.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "sim/equilibrium.h"
#include "tests/machines.h"
#include "tests/near.h"

using namespace sidehill;

namespace {

Pose high_above(const Model& model, double height) {
  Pose X = start_trial(make_system(model)).X_GV;
  X.p.z += height;
  return X;
}

}  // namespace

TEST_CASE("a machine in free fall follows the series of the semi-implicit Euler rule") {
  // z_n = z_0 - g h^2 n (n + 1) / 2, derived by summing v_k = -g h k.
  const Model model = build(test_machine("utility_75kw"));
  World world(model, high_above(model, 20), 0);
  const double z0 = world.state().centre_of_gravity_G.z;
  Input input;
  for (int n = 1; n <= 1000; ++n) {
    world.step(input);
    if (n % 250 == 0)
      CHECK_NEAR(world.state().centre_of_gravity_G.z, z0 - model.gravity * 1e-6 * n * (n + 1) / 2, 1e-6);
  }
}

TEST_CASE("a machine turning in flight keeps its energy and its angular momentum's size") {
  Scene scene = test_machine("row_crop_150kw", {"ballast.rear.fill_fraction=0", "vehicle.front_axle.kind=\"fixed\""});
  Model model = build(scene);
  model.gravity = 1e-9;  // in flight: nothing but its own motion
  World world(model, high_above(model, 50), 0);
  world.set_velocity({0, 0, 0}, {0.4, 0.7, 0.3});
  Input input;
  world.step(input);
  const double before = world.state().kinetic_energy;
  double lowest = before, highest = before;
  for (int n = 0; n < 10000; ++n) {
    world.step(input);
    if (n % 100 == 0) {
      lowest = std::min(lowest, world.state().kinetic_energy);
      highest = std::max(highest, world.state().kinetic_energy);
    }
  }
  CHECK((highest - lowest) / before < 1e-3);
}

TEST_CASE("liquid swings in its tyre with the period of its own moment of inertia") {
  // A compound pendulum about the axle: omega^2 = g d / gyration^2. The machine hangs still in flight-free space by its
  // mass; rear wheels held; a small swing of two fills in step hardly moves six tonnes, so the period is met within a
  // few per cent.
  Scene scene = test_machine("row_crop_150kw", {"ballast.rear.fill_fraction=0.75"});
  const Model model = build(scene);
  World world(model, start_trial(make_system(model)).X_GV, 0);
  Input input;
  for (int n = 0; n < 4000; ++n) world.step(input);
  world.set_velocity({0.35, 0, 0}, {0, 0, 0});  // a push forward: the fills stay behind and swing
  const LiquidLump& liquid = model.wheels[kRearLeft].liquid;
  const double omega = std::sqrt(model.gravity * liquid.depth / liquid.gyration_squared);
  double last = world.state().wheels[kRearLeft].liquid_swing;
  std::vector<double> crossings;
  for (int n = 0; n < 12000 && crossings.size() < 4; ++n) {
    world.step(input);
    const double swing = world.state().wheels[kRearLeft].liquid_swing;
    if (swing * last < 0 && n > 300) crossings.push_back(n * model.time_step);
    last = swing;
  }
  REQUIRE(crossings.size() == 4);
  const double period = crossings[3] - crossings[1];
  CHECK_NEAR(period * omega / (2 * 3.14159265358979), 1.0, 0.06);
}

TEST_CASE("a machine on rigid tyres is refused in words") {
  const Model model = build(test_scene("validate/reference_r"));
  CHECK_THROWS_AS(World(model, start_trial(make_system(model)).X_GV, 0), InputError);
}
