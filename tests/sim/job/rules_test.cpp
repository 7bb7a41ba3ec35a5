#include "sim/job/rules.h"

#include <algorithm>
#include <cmath>

#include "render/text/job/rule_words.h"
#include "sim/rest/mass_sums.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

RuleAnswer rule_of(const Scene& scene, RuleId id) {
  const auto rules = rules_on(scene, build(scene)).rules;
  const auto at = std::ranges::find(rules, id, &RuleAnswer::id);
  REQUIRE_MESSAGE(at != rules.end(), std::string(rule_words(id)));
  CHECK_FALSE(at->source.empty());
  return *at;
}

std::string asked(const RuleAnswer& rule) { return asked_words(rule, Units::si); }
std::string there(const RuleAnswer& rule) { return there_words(rule, Units::si); }

}  // namespace

TEST_CASE("bolted on, the weights a machine lacks just meet the rule") {
  Scene scene = test_machine("utility_75kw");
  CHECK(rule_of(scene, RuleId::loader_rear_axle).amount == 0);
  scene.ballast.loader_payload = 3500;
  const RuleAnswer loader = rule_of(scene, RuleId::loader_rear_axle);
  CHECK(loader.state == RuleState::not_met);
  CHECK(loader.cure == Cure::rear_weights);
  scene.ballast.rear_weights += loader.amount;
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
  const RuleAnswer steering = rule_of(heavy, RuleId::steering_axle);
  CHECK(steering.state == RuleState::not_met);
  CHECK(steering.cure == Cure::front_weights);
  heavy.ballast.front_weights += steering.amount;
  CHECK_NEAR(axle_share(build(heavy)).front, 0.2 * unladen, 1e-6);

  heavy.ballast.rear_weights = 0;
  heavy.ballast.front_weights = 9000;
  const RuleAnswer rear = rule_of(heavy, RuleId::rear_with_front_weight);
  CHECK(rear.state == RuleState::not_met);
  heavy.ballast.rear_weights += rear.amount;
  CHECK_NEAR(axle_share(build(heavy)).rear, 0.45 * unladen, 1e-6);
}

TEST_CASE("applied to a machine, each rule turns when it should") {
  const auto met = [](const Scene& scene, RuleId id) { return rule_of(scene, id).state == RuleState::met; };
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75"});
  CHECK(met(scene, RuleId::steering_axle));
  CHECK(met(scene, RuleId::loader_tipping));
  scene.ballast.loader_payload = 3000;
  CHECK_FALSE(met(scene, RuleId::loader_tipping));
  CHECK_FALSE(met(scene, RuleId::loader_rear_axle));
  CHECK_FALSE(met(scene, RuleId::loader_rating));
  CHECK_FALSE(met(scene, RuleId::front_axle));
  scene.ballast.loader_payload = 20000;  // on its nose
  CHECK_FALSE(met(scene, RuleId::both_axles));
  scene.ballast.loader_payload = 0;
  CHECK(met(scene, RuleId::loader_rating));
  CHECK(met(scene, RuleId::front_axle));
  scene.ballast.rear_weights = 6000;
  CHECK_FALSE(met(scene, RuleId::steering_axle));
  CHECK(met(scene, RuleId::mass_per_power));
  CHECK_FALSE(met(scene, RuleId::axle_split));
  Scene tall = test_machine("orchard_60kw");
  CHECK(met(tall, RuleId::centre_height));
  tall.vehicle.chassis.centre_of_gravity.z = 2.0;
  CHECK_FALSE(met(tall, RuleId::centre_height));
}

TEST_CASE("tyres are rows: stated, typical of the size, or not known") {
  const Scene stated = test_machine("utility_75kw", {"programme.speed_kmh=20"});
  const RuleAnswer front = rule_of(stated, RuleId::front_tyres);
  CHECK(front.state == RuleState::met);
  CHECK(front.kind == RuleKind::maker);
  CHECK_NEAR(*front.high, 1800, 1e-9);  // 128A8 at its 160 kPa
  const Scene typical = test_machine("utility_75kw", {"programme.speed_kmh=20", "vehicle.front.tyre.service="});
  CHECK(rule_of(typical, RuleId::front_tyres).kind == RuleKind::practice);
  const Scene unknown = test_machine("utility_75kw", {"vehicle.rear.tyre.size=12.4-28"});
  const RuleAnswer open = rule_of(unknown, RuleId::rear_tyres);
  CHECK(open.state == RuleState::not_known);
  CHECK(open.cure == Cure::read_plate);
  CHECK(asked(open).find("vehicle.rear.tyre.service") != std::string::npos);
  const Scene heavy = test_machine("utility_75kw", {"programme.speed_kmh=20", "ballast.loader_payload_kg=3000"});
  CHECK(rule_of(heavy, RuleId::front_tyres).state == RuleState::not_met);
  CHECK_NEAR(rules_on(test_machine("utility_75kw"), build(test_machine("utility_75kw"))).loads.tyres[2].multiple.factor,
             1.70, 1e-12);
  CHECK(rule_of(test_machine("utility_75kw", {"vehicle.front.capacity_kg=0"}), RuleId::front_axle).state ==
        RuleState::not_known);
}

TEST_CASE("on a job's slope over 20 % the law's multiples are void") {
  const Scene flat = test_machine("utility_75kw", {"job.work=mowing_on_slopes", "job.steepest_deg=11"});
  const Scene steep = test_machine("utility_75kw", {"job.work=mowing_on_slopes", "job.steepest_deg=12"});
  CHECK_NEAR(*rule_of(flat, RuleId::rear_tyres).high / *rule_of(steep, RuleId::rear_tyres).high, 1.70, 1e-9);
}

TEST_CASE("a trailer, an implement, a load on a rope and the bucket all count") {
  const std::vector<std::string> trailer{"ballast.trailer.mass_kg=5000", "ballast.trailer.drawbar_load_kg=1200"};
  const Scene bare = test_machine("utility_75kw"), drawn = test_machine("utility_75kw", trailer);
  CHECK(there(rule_of(drawn, RuleId::rear_axle)) != there(rule_of(bare, RuleId::rear_axle)));
  // On the rear axle by the lever rule: 1200 kg x (1 + 0.75 / wheelbase), hitch 0.75 m behind.
  const double more = 1200 * (1 - drawn.vehicle.hitch.x / drawn.vehicle.wheelbase);
  CHECK_NEAR(axle_share(build(drawn)).rear - axle_share(build(bare)).rear, more, 1e-6);
  const RuleAnswer hitch = rule_of(drawn, RuleId::coupling_height);
  CHECK(hitch.kind == RuleKind::law);
  CHECK(hitch.state == RuleState::met);
  Scene high = drawn;
  high.vehicle.hitch.z = 2.5;
  CHECK(rule_of(high, RuleId::coupling_height).state == RuleState::not_met);
  CHECK(std::ranges::count(rules_on(bare, build(bare)).rules, RuleId::coupling_height, &RuleAnswer::id) == 0);
  CHECK(there(rule_of(drawn, RuleId::mass_per_power)) ==
        there(rule_of(bare, RuleId::mass_per_power)));  // the trailer's kilograms are not the tractor's

  const Scene plough = test_machine("utility_75kw", {"ballast.implement.mass_kg=900"});
  CHECK(axle_share(build(plough)).rear > axle_share(build(bare)).rear + 900);
  CHECK(there(rule_of(plough, RuleId::steering_axle)) != there(rule_of(bare, RuleId::steering_axle)));

  const Scene rope = test_machine("utility_75kw", {"ballast.loader_pin_height_m=1.5", "ballast.hanging_mass_kg=1600"});
  CHECK(rule_of(rope, RuleId::loader_rating).state == RuleState::not_met);
  Scene both = test_machine("utility_75kw", {"ballast.loader_pin_height_m=1.5", "ballast.hanging_mass_kg=800",
                                             "ballast.loader_payload_kg=800"});
  CHECK(there(rule_of(both, RuleId::loader_rating)) == "1 600 kg");
}

TEST_CASE("the job's implement counts where the scene hangs none, on the linkage and on the drawbar") {
  const std::vector<std::string> job{"job.work=heavy_pull", "job.hitch=linkage", "job.implement_mass_kg=900",
                                     "job.implement_x_m=-1.9"};
  const Scene asked_for = test_machine("utility_75kw", job);
  std::vector<std::string> hung = job;
  hung.insert(hung.end(), {"ballast.implement.mass_kg=900", "ballast.implement.x_m=-1.9"});
  const Scene there_already = test_machine("utility_75kw", hung);
  const RuleReport a = rules_on(asked_for, build(asked_for)), b = rules_on(there_already, build(there_already));
  CHECK_NEAR(a.axles.front, b.axles.front, 1e-9);
  CHECK_NEAR(a.axles.rear, b.axles.rear, 1e-9);
  CHECK_NEAR(a.tractor.front, b.tractor.front, 1e-9);  // the tractor alone is the same
  CHECK(std::ranges::count(a.rules, RuleId::steering_with_load, &RuleAnswer::id) == 1);
  CHECK(std::ranges::count(b.rules, RuleId::steering_with_load, &RuleAnswer::id) == 0);  // as it stands says it

  const Scene drawn =
      test_machine("utility_75kw", {"job.work=hauling", "job.hitch=drawbar", "job.implement_mass_kg=1200"});
  const Scene trailed = test_machine(
      "utility_75kw", {"job.work=hauling", "ballast.trailer.mass_kg=5000", "ballast.trailer.drawbar_load_kg=1200"});
  for (const RuleId id : {RuleId::coupling_height, RuleId::drawbar_load, RuleId::rear_axle})
    CHECK(there(rule_of(drawn, id)) == there(rule_of(trailed, id)));
  CHECK_NEAR(*rule_of(drawn, RuleId::coupling_height).high, *rule_of(trailed, RuleId::coupling_height).high, 1e-9);
  CHECK(rule_of(drawn, RuleId::drawbar_load).state == RuleState::not_known);
}

TEST_CASE("what is in the tyre is held against maker, speed, height and the coldest night") {
  const auto with = [](std::vector<std::string> more) {
    more.insert(more.end(), {"job.work=loader", "job.coldest_c=-15"});
    return test_machine("utility_75kw", more);
  };
  const auto rows = [](const Scene& scene, RuleId id) {
    std::vector<RuleAnswer> all = rules_on(scene, build(scene)).rules;
    std::erase_if(all, [&](const RuleAnswer& rule) { return rule.id != id; });
    return all;
  };
  const Scene air = with({"ballast.rear.fill_fraction=0"});
  for (const RuleId id : {RuleId::liquid_permitted, RuleId::fill_height, RuleId::fill_alike, RuleId::liquid_speed,
                          RuleId::frost, RuleId::tube})
    CHECK(rows(air, id).empty());
  const Scene water = with({"ballast.rear.fill_fraction=0.75"});
  CHECK(rule_of(water, RuleId::liquid_permitted).state == RuleState::not_known);
  CHECK(rule_of(with({"ballast.rear.fill_fraction=0.75", "job.liquid_permitted=no"}), RuleId::liquid_permitted).state ==
        RuleState::not_met);
  CHECK(rule_of(water, RuleId::frost).state == RuleState::not_met);
  CHECK_NEAR(*margin_of(rule_of(water, RuleId::frost)), -15, 0.3);  // water freezes at 0 C
  const Scene own =
      with({"ballast.rear.fill_fraction=0.75", "ballast.rear.medium=own", "ballast.own_medium.density_kg_per_m3=1200"});
  CHECK(rule_of(own, RuleId::frost).state == RuleState::not_known);  // the sheet does not say
  const Scene brine = with({"ballast.rear.fill_fraction=0.75", "ballast.rear.medium=calcium_chloride_3_5"});
  CHECK(rule_of(brine, RuleId::frost).state == RuleState::met);
  CHECK(rule_of(brine, RuleId::tube).state == RuleState::not_known);
  // 75 and 90 % of every rear tyre, 40 % of a radial by one maker: side by side, and they differ.
  const auto heights = rows(water, RuleId::fill_height);
  REQUIRE(heights.size() == 3);
  CHECK(heights[0].state == RuleState::met);
  CHECK(heights[2].state == RuleState::not_met);
  CHECK_FALSE(heights[2].limit);
  CHECK(rows(with({"ballast.rear.fill_fraction=0.95"}), RuleId::fill_height)[0].state == RuleState::not_met);
  CHECK(rows(with({"ballast.rear.fill_fraction=0.5", "job.backhoe=true"}), RuleId::fill_height).back().state ==
        RuleState::not_met);
  CHECK(rows(with({"ballast.rear.fill_fraction=0", "ballast.front.fill_fraction=0.5"}), RuleId::fill_height).size() ==
        1);
  CHECK(
      rule_of(with({"ballast.rear_left.fill_fraction=0.75", "ballast.rear_right.fill_fraction=0"}), RuleId::fill_alike)
          .state == RuleState::not_met);
  const auto speeds = rows(with({"ballast.rear.fill_fraction=0.75", "job.road_speed_kmh=31"}), RuleId::liquid_speed);
  REQUIRE(speeds.size() == 2);
  CHECK(speeds[0].state == RuleState::not_met);
  CHECK(speeds[1].state == RuleState::met);
  const Scene foam =
      with({"ballast.rear.medium=polyurethane", "ballast.rear.fill_fraction=1", "job.road_speed_kmh=40"});
  CHECK(rows(foam, RuleId::liquid_speed).empty());
  CHECK(rows(foam, RuleId::frost).empty());
}

TEST_CASE("mass per power and the front axle's share are asked by speed, drive and hitch, as printed") {
  const auto rows = [](const std::vector<std::string>& changes, RuleId id) {
    const Scene scene = test_machine("utility_75kw", changes);
    std::vector<RuleAnswer> all = rules_on(scene, build(scene)).rules;
    std::erase_if(all, [&](const RuleAnswer& rule) { return rule.id != id; });
    return all;
  };
  const auto has = [](const std::vector<RuleAnswer>& rules, double low) {
    return std::ranges::any_of(
        rules, [&](const RuleAnswer& rule) { return rule.low && std::abs(*rule.low * 1e3 - low) < 0.01; });
  };
  // kg/kW: 140 and 120 lb a PTO horsepower, 50 kg a metric one, 130 lb; 49 kg a metric horsepower by practice.
  const auto slow = rows({"job.work=heavy_pull", "job.working_speed_kmh=6"}, RuleId::mass_per_power);
  CHECK(has(slow, 85.16));
  CHECK_FALSE(has(slow, 67.98));
  CHECK(has(slow, 79.08));
  CHECK(has(slow, 66.62));
  const auto middle = rows({"job.work=heavy_pull", "job.working_speed_kmh=8"}, RuleId::mass_per_power);
  CHECK(has(middle, 67.98));
  CHECK_FALSE(has(middle, 85.16));
  const auto fast = rows({"job.work=light_pull", "job.working_speed_kmh=10"}, RuleId::mass_per_power);
  CHECK(has(fast, 72.99));
  CHECK(has(fast, 60.83));
  CHECK_FALSE(has(fast, 66.62));  // asked of heavy work alone
  CHECK(rows({"job.work=loader"}, RuleId::mass_per_power).empty());
  CHECK(rows({}, RuleId::mass_per_power).size() == 1);
  // Where the speed is not known, no row that depends on it is taken.
  CHECK_FALSE(has(rows({"job.work=heavy_pull"}, RuleId::mass_per_power), 85.16));
  // Power at the power take-off is 0.9 of the engine's.
  CHECK_NEAR(*slow[1].there / *slow[0].there, 1 / 0.9, 1e-12);

  const auto split = rows({"job.work=heavy_pull", "job.hitch=linkage"}, RuleId::axle_split);
  REQUIRE(split.size() == 3);  // 40, 30 to 35, 40 to 45 %: they differ, and all are shown
  CHECK_NEAR(*split[1].low, 0.30, 1e-12);
  CHECK_NEAR(*split[1].high, 0.35, 1e-12);
  const auto two_wheel =
      rows({"vehicle_file=two_wheel_45kw", "job.work=light_pull", "job.hitch=drawbar"}, RuleId::axle_split);
  REQUIRE(two_wheel.size() == 2);
  CHECK_NEAR(0.5 * (*two_wheel[0].low + *two_wheel[0].high), 0.25, 1e-12);
  const auto joint = rows(
      {"vehicle_file=articulated_40kw", "job.work=heavy_pull", "job.hitch=drawbar", "ballast.rear.fill_fraction=0"},
      RuleId::axle_split);
  REQUIRE(joint.size() == 2);
  CHECK_NEAR(0.5 * (*joint[0].low + *joint[0].high), 0.60, 1e-12);
  CHECK_NEAR(*joint[1].low, 0.55, 1e-12);
}

TEST_CASE("the weight that cures the share is there to the kilogram") {
  Scene scene = test_machine("utility_75kw", {"job.work=heavy_pull", "job.hitch=linkage"});
  const AxleShare before = rules_on(scene, build(scene)).tractor;
  const double share = before.front / (before.front + before.rear) + 0.03;
  const auto weight = weight_for_share(before, scene.vehicle.wheelbase, scene.vehicle.front_mount.x, share);
  REQUIRE(weight);
  REQUIRE(*weight > 0);
  scene.ballast.front_weights += *weight;
  const AxleShare after = rules_on(scene, build(scene)).tractor;
  CHECK_NEAR(after.front / (after.front + after.rear), share, 1e-12);
  CHECK_FALSE(weight_for_share(before, 2.5, 2.5 * share, share));  // a weight there changes nothing
}

TEST_CASE("the worst stands first, a target missed is no fault, and rows of one rule stay together") {
  const Scene scene = test_machine("utility_75kw", {"ballast.loader_payload_kg=3000", "ballast.rear.fill_fraction=0.75",
                                                    "job.work=heavy_pull", "job.working_speed_kmh=6"});
  const RuleReport report = rules_on(scene, build(scene));
  CHECK(breaks_limit(report));
  const auto rules = worst_first(report.rules);
  CHECK(rules.size() == report.rules.size());
  CHECK(rules.front().limit);
  CHECK(rules.front().state == RuleState::not_met);
  for (std::size_t i = 2; i < rules.size(); ++i)
    if (rules[i].id != rules[i - 1].id)
      CHECK(std::ranges::count(rules.begin(), rules.begin() + static_cast<std::ptrdiff_t>(i), rules[i].id,
                               &RuleAnswer::id) == 0);
  Scene light =
      test_machine("compact_26kw", {"job.work=heavy_pull", "job.working_speed_kmh=6", "vehicle.engine_power_kw=60"});
  const RuleReport weak = rules_on(light, build(light));
  CHECK(rule_of(light, RuleId::mass_per_power).state == RuleState::not_met);
  CHECK_FALSE(breaks_limit(weak));
}
