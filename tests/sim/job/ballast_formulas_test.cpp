#include "sim/job/ballast_formulas.h"

#include <algorithm>
#include <cmath>
#include <random>

#include "sim/rest/mass_sums.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

// Vectors derived outside this project, each closed on its own rule.
TEST_CASE("the published formulas give the vectors") {
  CHECK_NEAR(front_ballast(2500, 2400, 6000, {1.2, 2.6, 1.0, 0.8}), 363.158, 5e-4);
  CHECK_NEAR(rear_ballast(2500, 3600, 6000, {1.2, 2.6, 1.0, 0.8}), 150.000, 5e-4);
  CHECK_NEAR(loader_counterweight(1700, 3300, 1500, 1.4, 0.8, 2.4), 419.118, 5e-4);
  // Ballast of 800 kg 1.2 m ahead of the front axle: it puts 800 (l + 1.2) / l on it.
  const double l = 2.6, front = 2400 + 800 * (l + 1.2) / l;
  CHECK_NEAR(coupling_height(front, 6000, 6800, l, 1500, 1.0), 1.09390, 5e-6);
}

TEST_CASE("with the ballast they ask for, the rules are met to the kilogram") {
  std::mt19937_64 random(3);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  int asked = 0;
  for (int round = 0; round < 300; ++round) {
    const Levers l{between(0.5, 2), between(1.8, 3), between(0.6, 1.2), between(0.4, 1.5)};
    const double mass = between(2000, 9000), front = mass * between(0.25, 0.5);
    const double behind = between(0, 4000), weights = front_ballast(behind, front, mass, l);
    if (weights > 0) {
      ++asked;
      // Front axle by the lever rule about the rear axle.
      CHECK_NEAR(front + (weights * (l.a + l.b) - behind * (l.c + l.d)) / l.b, 0.2 * mass, 1e-6);
    }
    const double ahead = between(0, 4000), box = rear_ballast(ahead, mass - front, mass, l);
    if (box > 0) CHECK_NEAR(mass - front + (box * (l.b + l.c + l.d) - ahead * l.a) / l.b, 0.45 * mass, 1e-6);
  }
  CHECK(asked > 50);
}

TEST_CASE("with its counterweight the rear axle carries a fifth; at its height a coupling leaves the front enough") {
  std::mt19937_64 random(4);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  int asked = 0;
  for (int round = 0; round < 300; ++round) {
    const double base = between(1.8, 3), ahead = between(0.4, 2), behind = between(0.3, 1.5);
    const double rear = between(800, 3000), front = between(800, 4000), load = between(0, 3000);
    const double weights = loader_counterweight(rear, front, load, ahead, behind, base);
    // Lever rule about the front axle.
    const double then = rear - load * ahead / base + weights * (base + behind) / base;
    if (weights > 0) {
      ++asked;
      CHECK_NEAR(then, 0.2 * (rear + front + load + weights), 1e-6);
    } else {
      CHECK(then >= 0.2 * (rear + front + load));
    }
    // Coupling: pulled with 0.6 of what is above the front axle's fifth and of the load, front axle down to that fifth.
    const double unladen = between(2000, 9000), ballast = between(0, 1500), down = between(0, 2000);
    const double ballasted = unladen + ballast, front_then = between(0.4, 0.6) * ballasted;
    const double height = coupling_height(front_then, unladen, ballasted, base, down, behind);
    const double pull = 0.6 * (ballasted - 0.2 * unladen + down);
    CHECK_NEAR(front_then - (down * behind + pull * height) / base, 0.2 * unladen, 1e-6);
  }
  CHECK(asked > 50);
}

TEST_CASE("no height of the bucket tips the machine sooner than the farthest reach") {
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75"});
  scene.ballast.loader_payload = 300;
  const auto tips = loader_tipping(build(scene));
  REQUIRE(tips);
  scene.ballast.loader_payload = tips->load;
  double least = 1e9;
  const Loader& loader = scene.vehicle.loader;
  for (int i = 0; i <= 40; ++i) {
    scene.ballast.loader_pin_height = loader.min_pin_height + (loader.max_pin_height - loader.min_pin_height) * i / 40;
    least = std::min(least, axle_share(build(scene)).rear);
  }
  CHECK(least > -1e-6);
  scene.ballast.loader_pin_height = loader.pivot_z;
  CHECK_NEAR(axle_share(build(scene)).rear, 0, 1e-6);
  // What already hangs in the bucket, and how high, changes nothing.
  scene.ballast.loader_payload = 0;
  scene.ballast.loader_pin_height = loader.min_pin_height;
  CHECK_NEAR(loader_tipping(build(scene))->load, tips->load, 1e-6);
  CHECK_FALSE(loader_tipping(build(test_machine("orchard_60kw"))));
}

TEST_CASE("at its tipping load the rear axle of the machine carries nothing") {
  Scene scene = test_machine("utility_75kw");
  scene.ballast.loader_payload = 100;
  const Model model = build(scene);
  double ahead = 0;
  for (const LedgerLine& line : model.ledger)
    if (line.item == LedgerItem::payload) ahead = line.props.com.x - model.wheelbase;
  const double rear_empty = axle_share(model).rear + 100 * ahead / model.wheelbase;
  const auto tips = tipping_load(rear_empty, model.wheelbase, ahead);
  REQUIRE(tips);
  scene.ballast.loader_payload = *tips;
  CHECK_NEAR(axle_share(build(scene)).rear, 0, 1e-6);
  CHECK_FALSE(tipping_load(1000, 2.4, -0.1));
}
