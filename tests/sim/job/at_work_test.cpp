#include "sim/job/at_work.h"

#include <cmath>

#include "sim/base/constants.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

WorkAnswer work_of(const Scene& scene) {
  const Model model = build(scene);
  return at_work(scene, model, rules_on(scene, model));
}

std::vector<std::string> ploughing(std::vector<std::string> more = {}) {
  std::vector<std::string> all{"job.work=heavy_pull",     "job.hitch=linkage",      "job.pull_kn=15",
                               "job.working_speed_kmh=6", "job.working_time_h=100", "job.ground=firm"};
  all.insert(all.end(), more.begin(), more.end());
  return all;
}

}  // namespace

TEST_CASE("a machine's slip is that of the equations on its own loads") {
  const Scene scene = test_machine("utility_75kw", ploughing());
  const Model model = build(scene);
  const RuleReport rules = rules_on(scene, model);
  const WorkAnswer work = at_work(scene, model, rules);
  REQUIRE(work.level.answer.kind == PullKind::pulls);
  const Vehicle& v = scene.vehicle;
  // Lever rule about the contact lines: the pull at the hitch's height moves load to the rear.
  const double moved = 15e3 * v.hitch.z / v.wheelbase;
  CHECK_NEAR(work.level.answer.front_load, rules.axles.front * model.gravity - moved, 1e-6);
  CHECK_NEAR(work.level.answer.rear_load, rules.axles.rear * model.gravity + moved, 1e-6);
  // All four wheels together give the pull.
  const PullAnswer& a = work.level.answer;
  const double front = net_ratio(wheel_traction(TyreSet::radial, a.front_mobility), a.front_slip) * a.front_load;
  const double rear = net_ratio(wheel_traction(TyreSet::radial, a.rear_mobility), a.rear_slip) * a.rear_load;
  CHECK_NEAR(front + rear, 15e3, 1e-3);
  CHECK_NEAR((1 - a.front_slip) * (1 + kFrontLead), 1 - a.rear_slip, 1e-9);
  // Power at the wheels is pull times speed over the efficiency.
  CHECK_NEAR(work.level.axle_power, 15e3 * 6 / 3.6 / a.efficiency, 1e-3);
  CHECK(work.level.most);
  CHECK(*work.level.most > 15e3);
}

TEST_CASE("up a slope the weight pulls back, and moves load to the rear by its height") {
  const Scene scene = test_machine("utility_75kw", ploughing({"job.steepest_deg=12", "job.headings=up_and_down"}));
  const Model model = build(scene);
  const RuleReport rules = rules_on(scene, model);
  const WorkAnswer work = at_work(scene, model, rules);
  const double weight = total_mass(model) * model.gravity, slope = 12 * kDegree;
  CHECK_NEAR(work.uphill.of_weight, weight * std::sin(slope), 1e-6);
  CHECK_NEAR(work.uphill.asked, 15e3 + weight * std::sin(slope), 1e-6);
  const PullAnswer& a = work.uphill.answer;
  CHECK_NEAR(a.front_load + a.rear_load, weight * std::cos(slope), 1e-6);
  // Moments about the rear contact line: weight at its place, weight along the slope at its height, the pull at the
  // hitch.
  const Vec3 cg = centre_of_gravity(model);
  const double front =
      (weight * std::cos(slope) * cg.x - weight * std::sin(slope) * cg.z - 15e3 * scene.vehicle.hitch.z) /
      scene.vehicle.wheelbase;
  CHECK_NEAR(a.front_load, front, 1);
  CHECK(a.rear_slip > work.level.answer.rear_slip);
  REQUIRE(work.uphill.most);
  CHECK(*work.uphill.most < *work.level.most);
  CHECK(work_of(test_machine("utility_75kw", ploughing({"job.steepest_deg=12", "job.headings=across"}))).uphill.slope ==
        0);
}

TEST_CASE("on mud nothing is known, on a road the equations' motion resistance is not used") {
  CHECK_FALSE(work_of(test_machine("utility_75kw", ploughing({"job.ground=mud"}))).known);
  const WorkAnswer measured =
      work_of(test_machine("utility_75kw", ploughing({"job.ground=mud", "job.cone_index_kpa=300"})));
  CHECK(measured.known);
  CHECK_NEAR(measured.cone_index, 3e5, 1e-6);
  const WorkAnswer road =
      work_of(test_machine("utility_75kw", ploughing({"job.ground=road", "job.pull_kn=0", "job.hitch=none"})));
  CHECK(road.road);
  const double mass = total_mass(build(test_machine("utility_75kw")));
  // Rolling alone: the power is rho m g v, but for the slip that it takes.
  CHECK_NEAR(road.level.axle_power, kRoadRolling * mass * 9.80665 * 6 / 3.6, 0.02 * road.level.axle_power);
}

TEST_CASE("more pull than the ground gives is said, and more power than the engine has") {
  CHECK(work_of(test_machine("utility_75kw", ploughing({"job.pull_kn=200"}))).level.answer.kind != PullKind::pulls);
  const WorkAnswer fast =
      work_of(test_machine("utility_75kw", ploughing({"job.pull_kn=20", "job.working_speed_kmh=25"})));
  CHECK(fast.load_share > 1);
  CHECK_FALSE(fast.work_rate);
  const WorkAnswer slow = work_of(test_machine("utility_75kw", ploughing()));
  REQUIRE(slow.work_rate);
  CHECK_NEAR(slow.work_year, 100 * *slow.work_rate, 1e-9);
  CHECK(slow.load_share < 1);
}

TEST_CASE("across a slope as steep as its grip nothing is left lengthwise") {
  const auto at = [](double slope_deg) {
    return work_of(
        test_machine("utility_75kw", ploughing({"terrain.soil.adhesion_unlimited=false", "terrain.soil.adhesion=0.5",
                                                "job.steepest_deg=" + std::to_string(slope_deg)})));
  };
  const WorkAnswer mild = at(10);
  CHECK_NEAR(*mild.side_use, std::tan(10 * kDegree) / 0.5, 1e-9);
  CHECK_NEAR(*mild.left_lengthwise * *mild.left_lengthwise + *mild.side_use * *mild.side_use, 1, 1e-9);
  CHECK(*at(30).side_use > 1);
  CHECK(*at(30).left_lengthwise == 0);
}

TEST_CASE("ballast costs the fuel that rolls it, and presses the soil like any other kilogram") {
  const Scene air = test_machine(
      "utility_75kw", ploughing({"ballast.rear.fill_fraction=0", "job.road_speed_kmh=30", "job.road_time_h=50"}));
  Scene water = air;
  for (const int wheel : {kRearLeft, kRearRight})
    water.ballast.fill[static_cast<std::size_t>(wheel)].fill_fraction = 0.75;
  const WorkAnswer a = work_of(air), w = work_of(water);
  CHECK(a.ballast == 0);
  CHECK(a.ballast_year == 0);
  CHECK_NEAR(w.ballast, total_mass(build(water)) - total_mass(build(air)), 1e-6);
  CHECK(w.ballast_year > rolling_cost(w.ballast, kRoadRolling, 30 / 3.6).litres_per_hour * 50);
  CHECK(w.level.answer.rear_slip < a.level.answer.rear_slip);

  // The same mass as cast weights on the same wheels: the soil feels no difference.
  Scene cast = air;
  cast.ballast.rear_wheel_weights = 0.5 * w.ballast;
  const auto soil = [](const Scene& scene) {
    const Model model = build(scene);
    return soil_under(scene, model, rules_on(scene, model));
  };
  const SoilAnswer wet = soil(water), dry = soil(cast), light = soil(air);
  CHECK_NEAR(wet.axles[1].wheel.load, dry.axles[1].wheel.load, 2);
  CHECK(wet.axles[1].wheel.load > light.axles[1].wheel.load);
  CHECK(wet.axles[1].field.patch.mean > light.axles[1].field.patch.mean);
}
