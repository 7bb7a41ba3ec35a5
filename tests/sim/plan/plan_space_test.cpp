// What can be changed on a machine: every state is possible, within stock, and comes back from its place.
#include "sim/plan/plan_space.h"

#include <set>

#include "sim/scene/scene_checks.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "vehicles/tyre_cavity.h"

using namespace sidehill;

namespace {

bool kept(const PlanSpace& space, PlanLimit limit) { return space.limits[static_cast<std::size_t>(limit)]; }

Scene ploughing(std::vector<std::string> more = {}) {
  more.insert(more.begin(), "job_file=plough_heavy");
  return test_machine("utility_75kw", more);
}

}  // namespace

TEST_CASE("the machine as it is comes first, every other plan is unlike it and is a scene that may be built") {
  const Scene scene = ploughing({"ballast.rear.fill_fraction=0.75"});
  const PlanSpace space = plan_space(scene);
  CHECK(plan_at(space, 0) == PlanChoice{});
  CHECK(scene_of(scene, space, {}).ballast.fill[kRearLeft].fill_fraction == 0.75);
  std::set<PlanChoice> seen;
  for (std::size_t i = 0; i < space.size(); ++i) {
    const PlanChoice choice = plan_at(space, i);
    CHECK(place_of(space, choice) == i);
    seen.insert(choice);
    if (i % 7 == 0) CHECK_FALSE(find_conflict(scene_of(scene, space, choice)));
  }
  CHECK(seen.size() == space.size());
  // Rear: as it is, on air, and four of the five levels of water; the fifth is what is in it.
  CHECK(space.states(PlanPart::rear_fill) == 6);
  CHECK(space.states(PlanPart::front_fill) == 4);
  // Six discs of 65 kg: 0, 65, 130, 195 kg on each wheel.
  REQUIRE(space.weights[3].size() == 4);
  CHECK(space.weights[3][3].mass == 195);
  CHECK(space.states(PlanPart::track) == 1);
}

TEST_CASE("weights hang no heavier than their place takes, and too much of anything is said") {
  Scene scene = ploughing({"vehicle.front_mount.max_mass_kg=100"});
  PlanSpace space = plan_space(scene);
  for (const WeightState& state : space.weights[0]) CHECK(state.mass <= 100);
  CHECK(space.weights[0].size() == 3);  // none, one plate, two plates
  scene = ploughing({"vehicle.front_mount.max_mass_kg=40"});
  space = plan_space(scene);
  CHECK(space.weights[0].size() == 1);
  CHECK(kept(space, PlanLimit::no_place));
  CHECK_FALSE(kept(space, PlanLimit::thinned));
}

TEST_CASE("a hundred thousand plans are thinned, and ends of each list stay") {
  Scene scene = ploughing();
  for (const auto& place : kWeightPlaces) {
    scene.job.weights.push_back({"large", place.value, 11, 20, 0});
    scene.job.weights.push_back({"small", place.value, 7, 20, 0});
  }
  scene.job.media.push_back({Medium::calcium_chloride_3_5, 0, {}});
  scene.job.media.push_back({Medium::propylene_glycol, 0, {}});
  const PlanSpace space = plan_space(scene);
  CHECK(space.size() <= kMostPlans);
  CHECK(kept(space, PlanLimit::thinned));
  for (const auto& states : space.weights) CHECK(states.size() >= 2);
  // Wheels in every state leave little room: on air stays, for it is what a plan that drains stands on, and so does
  // something to pump in.
  scene = ploughing({"ballast.rear.fill_fraction=0.75", "ballast.front.fill_fraction=0.5"});
  for (const WheelsAxle axle : {WheelsAxle::front, WheelsAxle::rear})
    for (int i = 0; i < 4; ++i) {
      WheelsOnHand dual;
      dual.axle = axle;
      dual.dual_spacing = 0.6 + 0.02 * i;
      scene.job.wheels.push_back(dual);
    }
  const PlanSpace wheels = plan_space(scene);
  CHECK(kept(wheels, PlanLimit::thinned));
  CHECK(wheels.size() <= kMostPlans);
  for (const auto& fills : wheels.fills) {
    REQUIRE(fills.size() >= 3);
    CHECK(fills[1].fill_fraction == 0);
    CHECK(fills.back().fill_fraction > 0);
  }
}

TEST_CASE("liquid is taken only as far as it reaches, for both axles together") {
  Scene scene = test_machine("utility_75kw", {"job_file=plough_heavy", "ballast.rear.fill_fraction=0"});
  const double rear = 2 * cavity_volume(cavity_of(scene.vehicle.rear.tyre));
  scene.job.media = {{Medium::water, 0.5 * rear + 0.001, {}}};
  const PlanSpace space = plan_space(scene);
  for (const TyreFill& fill : space.fills[1]) CHECK(fill.fill_fraction <= 0.5);
  bool out_of_stock = false;
  for (std::size_t i = 0; i < space.size(); ++i) {
    const PlanChoice choice = plan_at(space, i);
    const double taken = liquid_taken(scene, space, choice).front();
    CHECK(is_in_stock(scene, space, choice) == (taken <= scene.job.media.front().volume + 1e-9));
    out_of_stock = out_of_stock || !is_in_stock(scene, space, choice);
  }
  CHECK(out_of_stock);
  scene.job.media.front().volume = 0.001;
  CHECK(kept(plan_space(scene), PlanLimit::too_little_liquid));
  scene.job.liquid_permitted = YesNo::no;
  CHECK(plan_space(scene).fills[1].size() == 1);
  CHECK(kept(plan_space(scene), PlanLimit::liquid_not_permitted));
}

TEST_CASE("nothing on hand leaves emptying, taking off and pressure") {
  const Scene scene = test_machine(
      "utility_75kw", {"job.work=heavy_pull", "ballast.rear.fill_fraction=0.5", "ballast.front_weights_kg=100"});
  const PlanSpace space = plan_space(scene);
  CHECK(kept(space, PlanLimit::nothing_on_hand));
  CHECK(space.size() == 2 * 2 * 2);
}

TEST_CASE("wheels on hand: duals and other tyres that fit are states of their axle, others are said to be left out") {
  Scene scene = ploughing({"ballast.rear.fill_fraction=0.5"});
  const Axle today = scene.vehicle.rear;
  WheelsOnHand dual;
  dual.dual_spacing = today.tyre.section_width + 0.1;
  WheelsOnHand wide;
  wide.fit = WheelsFit::instead;
  wide.size = "520/70R38";
  wide.wheel_mass = 250;
  WheelsOnHand small = wide;
  small.size = "13.6R24";
  scene.job.wheels = {dual, wide};
  CHECK_FALSE(find_conflict(scene));
  PlanSpace space = plan_space(scene);
  const PlanSpace without = plan_space(ploughing({"ballast.rear.fill_fraction=0.5"}));
  CHECK(space.states(PlanPart::rear_tyres) == 3);
  CHECK(space.states(PlanPart::front_tyres) == 1);
  CHECK(space.size() == 3 * without.size());
  CHECK_FALSE(kept(space, PlanLimit::wheels_do_not_fit));

  PlanChoice choice{};
  choice[static_cast<std::size_t>(PlanPart::rear_tyres)] = 1;
  const Scene with_duals = scene_of(scene, space, choice);
  CHECK(with_duals.vehicle.rear.dual_spacing == dual.dual_spacing);
  CHECK(is_in_stock(scene, space, choice));
  CHECK(room_in(space, choice, 1) == room_in(space, {}, 1));  // the inner tyres hold the liquid

  choice[static_cast<std::size_t>(PlanPart::rear_tyres)] = 2;
  const Scene wider = scene_of(scene, space, choice);
  CHECK(wider.vehicle.rear.tyre.size == "520/70R38");
  CHECK(wider.vehicle.rear.wheel_mass == 250);
  CHECK(wider.vehicle.rear.track == today.track);
  CHECK(wider.vehicle.rear.rim_capacity == 0);     // nobody gave it: not today's
  CHECK_FALSE(is_in_stock(scene, space, choice));  // today's water is in the tyres that come off
  choice[static_cast<std::size_t>(PlanPart::rear_fill)] = 1;
  CHECK(is_in_stock(scene, space, choice));
  CHECK(room_in(space, choice, 1) > room_in(space, {}, 1));

  // Today's dual wheels leave with the tyres beside them: a pair is two wheels.
  Scene twin = scene;
  twin.vehicle.rear.dual_spacing = 0.6;
  const PlanSpace of_twin = plan_space(twin);
  REQUIRE(of_twin.states(PlanPart::rear_tyres) == 2);
  CHECK(of_twin.wheels[1][1].axle.dual_spacing == 0);

  dual.dual_spacing = 0.5 * today.tyre.section_width;
  scene.job.wheels = {dual, small};
  space = plan_space(scene);
  CHECK(space.states(PlanPart::rear_tyres) == 1);
  CHECK(kept(space, PlanLimit::wheels_do_not_fit));
}
