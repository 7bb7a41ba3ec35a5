// In free flight nothing acts but gravity: whatever swings, sloshes and hangs on the machine, its centre of gravity
// keeps to its parabola and its energy to a thousandth, whoever moves the bodies.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "sim/motion/tree.h"
#include "sim/motion/world.h"
#include "sim/rest/equilibrium.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

// Everything there is to hang on: liquid in all four tyres, loader up with a load in the bucket and one on a rope, a
// round tank half full.
Scene laden(Engine engine, bool liquid) {
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75", "ballast.front.medium=\"water\"",
                                              "ballast.front.fill_fraction=0.6", "ballast.loader_payload_kg=300",
                                              "ballast.loader_pin_height_m=2.5", "ballast.hanging_mass_kg=250",
                                              "vehicle.tank.radius_m=0.3", "ballast.tank_fraction=0.5"});
  scene.settings.engine = engine;
  if (!liquid)
    for (TyreFill& fill : scene.ballast.fill) fill.fill_fraction = 0;
  return scene;
}

Vec3 mass_centre(const Tree& tree, const TreeNow& now) {
  Vec3 sum(0.0);
  for (std::size_t i = 0; i < tree.bodies.size(); ++i) sum += tree.bodies[i].props.mass * now[i].com;
  return sum / tree_mass(tree);
}

struct Flight {
  double off_parabola = 0, off_series = 0;  // of the centre of gravity, furthest [m]
  double energy = 0;                        // gained, of the energy of motion at the end
  double most_gained = -1;                  // furthest above the start, the same
  double spin = 0;                          // change of its angular momentum about its centre of gravity, of its size
};

Flight fly(Engine engine, bool liquid, double time_step) {
  Scene scene = laden(engine, liquid);
  scene.settings.time_step = time_step;
  const Model model = build(scene);
  Pose X = start_trial(make_system(model)).X_GV;
  X.p.z += 800;
  World world(model, X, 0);
  world.set_velocity({6, 0, 9}, {0.1, 0.2, 0.1});
  Input input;
  input.boom_angle = model.loader.angle;
  input.hold = false;
  input.gear_speed = 1;
  input.clutch = 0;
  world.step(input);
  const State first = world.state();
  world.step(input);
  const double h = model.time_step;
  const Vec3 start = first.centre_of_gravity_G, speed = (world.state().centre_of_gravity_G - start) / h;
  const double before = world.state().kinetic_energy + world.potential_energy();
  const auto spin = [&] {
    TreeNow now;
    const Tree& tree = world.machine().tree;
    look(tree, world.moment().motion, now);
    return angular_momentum(tree, now, mass_centre(tree, now));
  };
  const Vec3 spun = spin();
  Flight out;
  for (int n = 2; n <= std::lround(10 / h); ++n) {
    world.step(input);
    if (n % 100 != 0) continue;
    const Vec3 at = world.state().centre_of_gravity_G;
    // The rule's own series from the first step's displacement on: n h v - g h^2 n (n - 1) / 2; and the parabola
    // itself.
    const double time = n * h;
    const Vec3 series = start + time * speed - 0.5 * model.gravity * h * h * n * (n - 1) * Vec3(0, 0, 1);
    const Vec3 parabola = start + time * (speed + Vec3(0, 0, 0.5 * h * model.gravity)) -
                          0.5 * model.gravity * time * time * Vec3(0, 0, 1);
    out.off_series = std::max(out.off_series, glm::length(at - series));
    out.off_parabola = std::max(out.off_parabola, glm::length(at - parabola));
    out.most_gained = std::max(out.most_gained, world.state().kinetic_energy + world.potential_energy() - before);
  }
  const double motion = world.state().kinetic_energy;
  out.energy = (motion + world.potential_energy() - before) / motion;
  out.most_gained /= motion;
  out.spin = glm::length(spin() - spun) / glm::length(spun);
  return out;
}

}  // namespace

TEST_CASE(
    "in ten seconds of free flight a laden machine's centre of gravity keeps to its parabola, its energy to a "
    "thousandth") {
  for (const Engine engine : {Engine::own, Engine::bullet}) {
    const Flight flight = fly(engine, true, 1e-3);
    const std::string who = engine == Engine::own ? "our own step" : "the physics engine";
    MESSAGE(who, ": off the parabola ", flight.off_parabola, " m, off the rule's series ", flight.off_series,
            " m, energy ", flight.energy, ", at most gained ", flight.most_gained);
    CHECK(flight.off_parabola < 0.02);  // of some 430 m it has fallen
    CHECK(flight.off_series < 0.02);
    CHECK(std::abs(flight.energy) < 1e-3);
    CHECK(flight.most_gained < 1e-4);  // dampers inside take a little, nothing may give
  }
}

TEST_CASE("its angular momentum about its centre of gravity stays, to the first order of the step") {
  // The rule's own error halves with the step. Liquid takes some along as it swings against its own losses, and gives
  // it to the wheel's carrier: nothing comes from outside.
  const Flight coarse = fly(Engine::own, false, 1e-3), fine = fly(Engine::own, false, 0.5e-3);
  const Flight engines = fly(Engine::bullet, false, 1e-3), filled = fly(Engine::own, true, 1e-3);
  MESSAGE("changed by ", coarse.spin, ", at half the step ", fine.spin, ", by the physics engine ", engines.spin,
          ", with liquid ", filled.spin);
  CHECK(coarse.spin < 1e-3);
  CHECK(engines.spin < 1e-3);
  CHECK(filled.spin < 1e-3);
  CHECK_NEAR(fine.spin / coarse.spin, 0.5, 0.05);
  CHECK_NEAR(fine.energy / coarse.energy, 0.5, 0.02);
}
