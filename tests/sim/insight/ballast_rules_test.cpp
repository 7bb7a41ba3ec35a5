#include "sim/insight/ballast_rules.h"

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

TEST_CASE("bolted on, the weights a machine lacks just meet the rule") {
  const auto answer_of = [](const Scene& scene, std::string_view words) {
    const auto answers = ballast_rules(scene, build(scene));
    const auto at = std::find_if(answers.begin(), answers.end(),
                                 [&](const RuleAnswer& a) { return a.rule.find(words) != std::string::npos; });
    REQUIRE(at != answers.end());
    return *at;
  };
  Scene scene = test_machine("utility_75kw");
  CHECK(answer_of(scene, "20 % of the gross").lacking == 0);
  scene.ballast.loader_payload = 3500;
  const RuleAnswer loader = answer_of(scene, "20 % of the gross");
  CHECK(loader.state == RuleState::not_met);
  CHECK_FALSE(loader.in_front);
  scene.ballast.rear_weights += loader.lacking;
  AxleShare axles = axle_share(build(scene));
  CHECK_NEAR(axles.rear, 0.2 * (axles.front + axles.rear), 1e-6);

  // The machine's masses as delivered, from the scene: no ledger.
  Scene heavy = test_machine("row_crop_150kw");
  const double unladen = [&] {
    Scene bare = heavy;
    bare.vehicle.driver.on_seat = false;
    bare.ballast.fill = {};
    bare.ballast.front_weights = bare.ballast.rear_weights = 0;
    bare.ballast.front_wheel_weights = bare.ballast.rear_wheel_weights = 0;
    return total_mass(build(bare));
  }();
  heavy.ballast.rear_weights = 6000;
  const RuleAnswer steering = answer_of(heavy, "steering axle");
  CHECK(steering.state == RuleState::not_met);
  CHECK(steering.in_front);
  heavy.ballast.front_weights += steering.lacking;
  CHECK_NEAR(axle_share(build(heavy)).front, 0.2 * unladen, 1e-6);

  heavy.ballast.rear_weights = 0;
  heavy.ballast.front_weights = 9000;
  const RuleAnswer rear = answer_of(heavy, "45 %");
  CHECK(rear.state == RuleState::not_met);
  heavy.ballast.rear_weights += rear.lacking;
  CHECK_NEAR(axle_share(build(heavy)).rear, 0.45 * unladen, 1e-6);
}

TEST_CASE("no height of the bucket tips the machine sooner than the farthest reach") {
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75"});
  scene.ballast.loader_payload = 300;
  const auto tips = loader_tipping(scene, build(scene));
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
  CHECK_NEAR(loader_tipping(scene, build(scene))->load, tips->load, 1e-6);
  CHECK_FALSE(loader_tipping(test_machine("orchard_60kw"), build(test_machine("orchard_60kw"))));
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

TEST_CASE("applied to a machine, each rule turns when it should") {
  const auto met = [](const Scene& scene, std::string_view words) {
    const auto answers = ballast_rules(scene, build(scene));
    const auto at = std::find_if(answers.begin(), answers.end(),
                                 [&](const RuleAnswer& a) { return a.rule.find(words) != std::string::npos; });
    REQUIRE(at != answers.end());
    CHECK_FALSE(at->source.empty());
    return at->state == RuleState::met;
  };
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75"});
  CHECK(met(scene, "steering axle"));
  CHECK(met(scene, "half of what tips"));
  scene.ballast.loader_payload = 3000;
  CHECK_FALSE(met(scene, "half of what tips"));
  CHECK_FALSE(met(scene, "rear axle carries at least 20 %"));
  CHECK_FALSE(met(scene, "rated for"));
  CHECK_FALSE(met(scene, "front axle carries at most"));
  scene.ballast.loader_payload = 20000;  // on its nose
  CHECK_FALSE(met(scene, "stands on both axles"));
  scene.ballast.loader_payload = 0;
  CHECK(met(scene, "rated for"));
  CHECK(met(scene, "front axle carries at most"));
  scene.ballast.rear_weights = 6000;
  CHECK_FALSE(met(scene, "steering axle"));
  CHECK(met(scene, "49 kg"));
  CHECK_FALSE(met(scene, "40 %"));
  Scene tall = test_machine("orchard_60kw");
  CHECK(met(tall, "0.90 of the mean track"));
  tall.vehicle.chassis.centre_of_gravity.z = 2.0;
  CHECK_FALSE(met(tall, "0.90 of the mean track"));
}

namespace {

RuleAnswer rule_of(const Scene& scene, std::string_view words) {
  const auto answers = ballast_rules(scene, build(scene));
  const auto at = std::ranges::find_if(answers, [&](const RuleAnswer& a) { return a.rule.find(words) != a.rule.npos; });
  REQUIRE_MESSAGE(at != answers.end(), std::string(words));
  return *at;
}

}  // namespace

TEST_CASE("tyres are rows: stated, typical of the size, or not known") {
  const Scene stated = test_machine("utility_75kw", {"programme.speed_kmh=20"});
  const RuleAnswer front = rule_of(stated, "front tyres");
  CHECK(front.state == RuleState::met);
  CHECK(front.kind == RuleKind::maker);
  CHECK(front.asked.find("1800 kg (128A8, at 160 kPa)") != front.asked.npos);
  const Scene typical = test_machine("utility_75kw", {"programme.speed_kmh=20", "vehicle.front.tyre.service="});
  const RuleAnswer asked = rule_of(typical, "front tyres");
  CHECK(asked.kind == RuleKind::practice);
  CHECK(asked.rule.find("typical of their size: read the sidewall, vehicle.front.tyre.service") != asked.rule.npos);
  const Scene unknown = test_machine("utility_75kw", {"vehicle.rear.tyre.size=12.4-28"});
  const RuleAnswer open = rule_of(unknown, "rear tyres");
  CHECK(open.state == RuleState::not_known);
  CHECK(open.asked.find("vehicle.rear.tyre.service") != open.asked.npos);
  CHECK(
      rule_of(test_machine("utility_75kw", {"programme.speed_kmh=20", "ballast.loader_payload_kg=3000"}), "front tyres")
          .state == RuleState::not_met);
  CHECK(rule_of(test_machine("utility_75kw"), "rear tyres").asked.find("1.70 times by the law") != std::string::npos);
  CHECK(rule_of(test_machine("utility_75kw", {"vehicle.front.capacity_kg=0"}), "front axle carries").state ==
        RuleState::not_known);
}

TEST_CASE("a trailer, an implement, a load on a rope and the bucket all count") {
  const std::vector<std::string> trailer{"ballast.trailer.mass_kg=5000", "ballast.trailer.drawbar_load_kg=1200"};
  const Scene bare = test_machine("utility_75kw"), drawn = test_machine("utility_75kw", trailer);
  CHECK(rule_of(drawn, "rear axle carries at most").there != rule_of(bare, "rear axle carries at most").there);
  // On the rear axle by the lever rule: 1200 kg x (1 + 0.75 / wheelbase), hitch 0.75 m behind.
  const double more = 1200 * (1 - drawn.vehicle.hitch.x / drawn.vehicle.wheelbase);
  CHECK_NEAR(axle_share(build(drawn)).rear - axle_share(build(bare)).rear, more, 1e-6);
  const RuleAnswer hitch = rule_of(drawn, "hitch at most");
  CHECK(hitch.kind == RuleKind::law);
  CHECK(hitch.state == RuleState::met);
  Scene high = drawn;
  high.vehicle.hitch.z = 2.5;
  CHECK(rule_of(high, "hitch at most").state == RuleState::not_met);
  for (const RuleAnswer& a : ballast_rules(bare, build(bare))) CHECK(a.rule.find("hitch at most") == a.rule.npos);
  CHECK(rule_of(drawn, "49 kg").there ==
        rule_of(bare, "49 kg").there);  // the trailer's kilograms are not the tractor's

  const Scene plough = test_machine("utility_75kw", {"ballast.implement.mass_kg=900"});
  CHECK(axle_share(build(plough)).rear > axle_share(build(bare)).rear + 900);
  CHECK(rule_of(plough, "steering axle").there != rule_of(bare, "steering axle").there);

  const Scene rope = test_machine("utility_75kw", {"ballast.loader_pin_height_m=1.5", "ballast.hanging_mass_kg=1600"});
  CHECK(rule_of(rope, "on its rope").state == RuleState::not_met);
  Scene both = test_machine("utility_75kw", {"ballast.loader_pin_height_m=1.5", "ballast.hanging_mass_kg=800",
                                             "ballast.loader_payload_kg=800"});
  CHECK(rule_of(both, "on its rope").there == "1600 kg");
}
