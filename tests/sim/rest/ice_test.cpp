// A frozen tyre turns with its wheel: every answer at rest takes the ice where it harms most.
#include "sim/rest/ice.h"

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/insight/breakdown.h"
#include "sim/motion/run.h"
#include "sim/rest/manoeuvre.h"
#include "sim/rest/margin.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

Scene frozen(const char* machine, double heading, std::vector<std::string> more = {}) {
  std::vector<std::string> changes{"ballast.rear.fill_fraction=0.75", "settings.temperature_c=-20"};
  changes.insert(changes.end(), more.begin(), more.end());
  Scene scene = test_machine(machine, changes);
  scene.start.heading = heading * kDegree;
  return scene;
}

// The ice put by hand to one place round its axle, and bolted on there as any other mass.
Model put_by_hand(const Model& model, double front, double rear) {
  std::vector<LedgerLine> ledger = model.ledger;
  for (LedgerLine& line : ledger) {
    if (!line.ice) continue;
    line.ice = false;
    const bool at_front = line.body == LedgerBody::front_left || line.body == LedgerBody::front_right;
    const double hub = model.wheels[at_front ? kFrontLeft : kRearLeft].centre.z + model.wheels[kRearLeft].tyre.radius;
    const double depth = hub - line.props.com.z, turn = at_front ? front : rear;
    line.props.com.x -= depth * std::sin(turn);
    line.props.com.z = hub - depth * std::cos(turn);
  }
  return with_ledger(model, std::move(ledger));
}

double lowest_by_hand(const Model& model, int front_places, int rear_places) {
  double lowest = 90;
  for (int f = 0; f < front_places; ++f)
    for (int r = 0; r < rear_places; ++r) {
      const auto at = first_lift_off(put_by_hand(model, 2 * kPi * f / front_places, 2 * kPi * r / rear_places));
      REQUIRE(at.slope);
      lowest = std::min(lowest, *at.slope / kDegree);
    }
  return lowest;
}

}  // namespace

TEST_CASE("of 36 places round the wheel none lets the first wheel lift sooner than the one that is taken") {
  double most_below = 0, most_above = 0;
  for (const char* machine : {"utility_75kw", "orchard_60kw", "two_wheel_45kw", "articulated_40kw"})
    for (const double heading : {-90.0, -130.0, -45.0, 20.0, 0.0, 180.0}) {
      INFO(std::string(machine) << ", heading " << heading);
      const Model model = build(frozen(machine, heading));
      REQUIRE(model.wheels[kRearLeft].ice);
      const auto taken = first_lift_off(model);
      REQUIRE(taken.slope);
      const double by_hand = lowest_by_hand(model, 1, 36), ours = *taken.slope / kDegree;
      most_below = std::max(most_below, by_hand - ours);
      most_above = std::max(most_above, ours - by_hand);
      CHECK(ours < by_hand + 0.02);
      CHECK(ours > by_hand - 0.05);  // between two of the 36 places, 5 deg off at most, it is hardly lower
      CHECK(ours < *first_lift_off(with_ice_at_the_bottom(model)).slope / kDegree - 0.3);
    }
  MESSAGE("taken lies at most ", most_below, " deg below and ", most_above, " deg above the lowest by hand");
}

TEST_CASE("ice in front and rear tyres is taken at the worst of both, each axle by itself") {
  for (const double heading : {-90.0, 160.0}) {
    INFO("heading " << heading);
    const Model model =
        build(frozen("utility_75kw", heading, {"ballast.front.medium=\"water\"", "ballast.front.fill_fraction=0.75"}));
    REQUIRE(model.wheels[kFrontLeft].ice);
    const double by_hand = lowest_by_hand(model, 12, 18), ours = *first_lift_off(model).slope / kDegree;
    CHECK(ours < by_hand + 0.02);
    CHECK(ours > by_hand - 0.1);
  }
}

TEST_CASE("every answer at rest has the ice at the same place") {
  Scene scene = frozen("utility_75kw", -90);
  scene.terrain.slope = 10 * kDegree;
  const Model model = build(scene);
  const StaticSolution statics = solve_statics(model);
  REQUIRE(statics.rest);
  REQUIRE(statics.first_lift_off);
  CHECK_NEAR(*statics.first_lift_off, *first_lift_off(model).slope, 1e-12);
  CHECK_NEAR(envelope(model, 4)[1].first_lift_off.value_or(0), *statics.first_lift_off, 1e-9);  // heading -90
  const double turned = statics.rest->turned[kRearLeft];
  CHECK(std::abs(turned) / kDegree > 90);  // above the axle
  CHECK(turned == statics.rest->turned[kRearRight]);
  CHECK(statics.rest->turned[kFrontLeft] == 0);
  // All masses at their places by hand: the plumb line and the centre of gravity follow.
  const Model by_hand = put_by_hand(model, 0, turned);
  const StaticSolution same = solve_statics(by_hand);
  REQUIRE(same.rest);
  CHECK_NEAR(*same.first_lift_off, *statics.first_lift_off, 1e-9);
  CHECK_NEAR(*same.tip_over, *statics.tip_over, 1e-6);
  CHECK(glm::length(same.rest->centre_of_gravity_G - statics.rest->centre_of_gravity_G) < 1e-9);
  const Measures ours = measures(model, *statics.rest), theirs = measures(by_hand, *same.rest);
  for (std::size_t i = 0; i < 4; ++i) CHECK_NEAR(ours.lines[i].energy, theirs.lines[i].energy, 1e-6);
  // The number for comparison leaves it where it froze.
  CHECK_NEAR(*statics.rigid_lift_off, *first_lift_off(rigid_variant(with_ice_at_the_bottom(model))).slope, 1e-12);
}

TEST_CASE("liquid, foam and a turned machine are left alone") {
  CHECK_FALSE(with_ice_at_its_worst(build(test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75"}))));
  CHECK_FALSE(with_ice_at_its_worst(
      build(test_machine("utility_75kw", {"ballast.rear.medium=polyurethane", "ballast.rear.fill_fraction=1",
                                          "settings.temperature_c=-20"}))));
  const auto turned = with_ice_at_its_worst(build(frozen("utility_75kw", -90)));
  REQUIRE(turned);
  CHECK_FALSE(with_ice_at_its_worst(*turned));
}

TEST_CASE("the pull that lifts a wheel in a bend is the least of 36 places round the wheel") {
  Scene scene = frozen("utility_75kw", -90);
  scene.terrain.slope = 12 * kDegree;
  scene.manoeuvre.speed = 3;
  scene.manoeuvre.turn_radius = 8;
  const Model model = build(scene);
  const auto ours = manoeuvres(scene, model);
  std::vector<double> least(ours.size(), 20);
  for (int r = 0; r < 36; ++r) {
    const auto by_hand = manoeuvres(scene, put_by_hand(model, 0, 2 * kPi * r / 36));
    for (std::size_t k = 0; k < ours.size(); ++k)
      least[k] = std::min(least[k], by_hand[k].acceleration_at_limit.value_or(20));
  }
  int lifted = 0;
  for (std::size_t k = 0; k < ours.size(); ++k) {
    INFO("kind " << k);
    // Turning uphill the balance is lost before the load of the lightest wheel is; that place depends little on the
    // ice.
    CHECK_NEAR(ours[k].acceleration_at_limit.value_or(20), least[k], 0.05);
    if (ours[k].acceleration_at_limit) ++lifted;
  }
  CHECK(lifted >= 2);
}

TEST_CASE("Why names the ice, and it alone takes what lies between the bottom and the worst") {
  Scene scene = frozen("utility_75kw", -90);
  const Model model = build(scene);
  const auto why = breakdown(model);
  REQUIRE(why);
  double sum = why->bare, ice = 1;
  for (const Cause& cause : why->causes) {
    sum += cause.share;
    if (cause.name == "ice turned to where it harms most") ice = cause.share;
  }
  CHECK_NEAR(sum, why->whole, 1e-9);
  CHECK_NEAR(why->whole, *first_lift_off(model).slope, 1e-12);
  CHECK(ice / kDegree < -0.5);
  const auto liquid = breakdown(build(test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75"})));
  REQUIRE(liquid);
  CHECK(std::ranges::none_of(liquid->causes, [](const Cause& c) { return c.name.find("ice turned") == 0; }));
}

TEST_CASE("a frozen machine set down at rest has its wheels turned as statics has them, and does not stir") {
  for (const bool front : {false, true})
    for (const double heading : {-90.0, -40.0, 0.0, 130.0}) {
      INFO("heading " << heading << ", front " << front);
      std::vector<std::string> more;
      if (front) more = {"ballast.front.medium=\"water\"", "ballast.front.fill_fraction=0.75"};
      Scene scene = frozen("utility_75kw", heading, more);
      scene.terrain.slope = 12 * kDegree;
      const Model model = build(scene);
      const StaticSolution statics = solve_statics(model);
      REQUIRE(statics.rest);
      REQUIRE(statics.status == RestStatus::stands);
      const double weight = total_mass(model) * model.gravity;
      Runner runner(scene, model);
      double furthest = 0;
      for (int i = 0; i < 50; ++i) {
        runner.advance(0.02);
        for (std::size_t w = 0; w < kWheels; ++w)
          furthest = std::max(furthest, std::abs(runner.state().wheels[w].load - statics.rest->load[w]) / weight);
      }
      MESSAGE("loads off by at most ", furthest, " of the weight");
      CHECK(furthest < (front ? 2e-3 : 1e-5));
      for (std::size_t w = 0; w < kWheels; ++w)
        CHECK_NEAR(runner.state().wheels[w].spin_angle, statics.rest->turned[w], 0.02);
    }
}
