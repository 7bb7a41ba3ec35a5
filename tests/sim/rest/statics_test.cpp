// The machine at rest: reference bodies against their closed forms, random machines against a second calculation, and
// every balance added up anew.
#include "sim/rest/statics.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "sim/base/constants.h"
#include "sim/motion/run.h"
#include "sim/rest/equilibrium.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "tests/kit/rigid_machine.h"
#include "tests/kit/share.h"

using namespace sidehill;

namespace {

double in_degrees(const std::optional<double>& angle) {
  REQUIRE(angle);
  return *angle / kDegree;
}

StaticSolution solved(Scene scene, double slope_deg, double heading_deg) {
  scene.terrain.slope = slope_deg * kDegree;
  scene.start.heading = heading_deg * kDegree;
  return solve_statics(build(scene));
}

void add(Scene& scene, double mass, double x, double z) {
  PointMass added;
  added.mass = mass;
  added.place = {x, 0, z};
  scene.ballast.point_masses.push_back(added);
}

void check_loads(const StaticSolution& solution, const std::array<double, kWheels>& expected, double tolerance) {
  REQUIRE(solution.rest);
  for (std::size_t i = 0; i < kWheels; ++i) CHECK_NEAR(solution.rest->load[i], expected[i], tolerance);
}

constexpr double kWeight = 3000 * 9.80665;  // of R, V and P [N]

}  // namespace

// ---- Reference bodies. Sources: closed forms derived for machines R, V and P from their stated geometry.

TEST_CASE("machine R lifts its uphill rear wheel at 37.1025 degrees") {
  const StaticSolution solution = solved(machine_r(), 0, -90);
  CHECK_NEAR(in_degrees(solution.first_lift_off), 37.10253584338796, 0.01);
  CHECK_NEAR(in_degrees(solution.rigid_lift_off), 37.10253584338796, 0.01);
  CHECK(solution.first_wheel == kRearLeft);
  CHECK_FALSE(solution.slide);
  // The other way round, and the scene in the file is the same machine.
  CHECK_NEAR(in_degrees(solved(machine_r(), 0, 90).first_lift_off), 37.10253584338796, 0.01);
  CHECK(solved(machine_r(), 0, 90).first_wheel == kRearRight);
  CHECK_NEAR(in_degrees(first_lift_off(build(test_scene("validate/reference_r"))).slope),
             in_degrees(solution.first_lift_off), 1e-9);
}

TEST_CASE("weights, liquid, a loader's load and a wider track move machine R's lift-off as the closed form says") {
  Scene front_weights = machine_r(), rear_mass = machine_r(), load_ahead = machine_r(), wide = machine_r();
  add(front_weights, 300, 2.9, 0.6);
  add(rear_mass, 800, 0, 0.66);
  add(load_ahead, 800, 3.5, 0.6);
  wide.vehicle.rear.track = 1.8;
  CHECK_NEAR(in_degrees(solved(front_weights, 0, -90).first_lift_off), 36.13846, 0.01);
  CHECK_NEAR(in_degrees(solved(rear_mass, 0, -90).first_lift_off), 40.58022, 0.01);
  CHECK_NEAR(in_degrees(solved(load_ahead, 0, -90).first_lift_off), 32.1452, 0.01);
  CHECK_NEAR(in_degrees(solved(wide, 0, -90).first_lift_off), 40.39476, 0.01);
}

TEST_CASE("machine R with a locked axle goes over at 42.5243 degrees") {
  Scene scene = machine_r();
  scene.vehicle.front_axle.kind = AxleKind::fixed;
  CHECK_NEAR(in_degrees(solved(scene, 0, -90).tip_over), 42.52431846848468, 0.01);
}

TEST_CASE("machine R pitches back at 46.6366 and forward at 56.8215 degrees") {
  CHECK_NEAR(in_degrees(solved(machine_r(), 0, 0).first_lift_off), 46.63657704161672, 0.01);    // atan(0.9 / 0.85)
  CHECK_NEAR(in_degrees(solved(machine_r(), 0, 180).first_lift_off), 56.82148834060726, 0.01);  // atan(1.3 / 0.85)
}

TEST_CASE("machine R's wheel loads, level and at 20 degrees") {
  check_loads(solved(machine_r(), 0, -90), {6017.717, 6017.717, 8692.258, 8692.258}, 1e-3 * kWeight);
  check_loads(solved(machine_r(), 20, -90), {4145.472, 7164.137, 4237.498, 12098.604}, 1e-3 * kWeight);
  check_loads(solved(machine_r(), 20, 90), {7164.137, 4145.472, 12098.604, 4237.498}, 1e-3 * kWeight);
}

TEST_CASE("machine R's branch on the axle stop ends at 35.099 degrees with an 11 degree stop, at 38.466 with 6") {
  const StaticSolution late = solved(machine_r(), 0, -90);
  CHECK_NEAR(in_degrees(late.tip_on_stop), 35.099, 0.02);
  CHECK_NEAR(in_degrees(late.tip_over), 37.10253584338796, 0.02);  // the stop comes too late
  Scene scene = machine_r();
  scene.vehicle.front_axle.stop_angle = 6 * kDegree;
  CHECK_NEAR(in_degrees(solved(scene, 0, -90).tip_on_stop), 38.466, 0.02);
  // Between lift-off and that end it rests on the stop, one wheel up; beyond, nowhere.
  const StaticSolution rests = solved(scene, 37.8, -90);
  CHECK(
      (rests.status == RestStatus::on_stop || rests.status == RestStatus::tipped));  // tipped: the snap carries it over
  CHECK(solved(scene, 39, -90).status == RestStatus::tipped);
  CHECK_FALSE(solved(scene, 39, -90).rest);
}

TEST_CASE("machine R on springs lifts at 36.7073 degrees and ends on the stop at 34.8351") {
  Scene scene = machine_r();
  scene.vehicle.rear.tyre.rigid = scene.vehicle.front.tyre.rigid = false;
  scene.vehicle.rear.tyre.vertical_stiffness = 350e3;
  scene.vehicle.front.tyre.vertical_stiffness = 280e3;  // 0.8 of the rear
  const StaticSolution solution = solved(scene, 0, -90);
  CHECK_NEAR(in_degrees(solution.first_lift_off), 36.7073, 0.02);
  CHECK_NEAR(in_degrees(solution.tip_on_stop), 34.8351, 0.02);
  CHECK_NEAR(in_degrees(solution.rigid_lift_off), 37.10253584338796, 0.01);
}

TEST_CASE("planar body V: loads at 15 degrees, and atan(b/h) to the end") {
  const StaticSolution solution = solved(machine_v(), 15, -90);
  const double down = 18253.91779473486 / 2, up = 10163.571718398212 / 2;  // two wheels a side
  check_loads(solution, {up, down, up, down}, 1e-3 * kWeight);
  CHECK_NEAR(in_degrees(solution.first_lift_off), 43.264295411071615, 0.01);
  CHECK_NEAR(in_degrees(solution.tip_over), 43.264295411071615, 0.01);
  CHECK_NEAR(in_degrees(solution.margin), 28.264295411071615, 0.01);
}

TEST_CASE("planar body P on springs: lift-off at 43.1259 degrees; roll and loads at 15 and 20") {
  CHECK_NEAR(in_degrees(solved(machine_p(), 0, -90).first_lift_off), 43.1258711, 0.01);
  const auto check = [](double slope, double roll_deg, double up, double down) {
    const StaticSolution solution = solved(machine_p(), slope, -90);
    check_loads(solution, {up / 2, down / 2, up / 2, down / 2}, 1e-3 * kWeight);
    // Facing +x of G, roll to the downhill (right) side lowers y of V's left axis: R[1].z = sin(roll).
    CHECK_NEAR(std::asin(solution.rest->X_GV.R[1].z) / kDegree, roll_deg, 0.001);
  };
  check(15, 0.8331713660306647, 10137.244851981332, 18280.24466115171);
  check(20, 1.10083171790497, 8443.507296695041, 19202.202622195342);
}

// ---- A second calculation.

TEST_CASE("at 72 headings machine R lifts the wheel a direct calculation names, at its slope") {
  const RigidMachine direct;  // R's numbers
  CHECK_NEAR(direct.first_lift_off(-90 * kDegree).slope / kDegree, 37.10253584338796, 1e-6);
  CHECK_NEAR(direct.first_lift_off(0).slope / kDegree, 46.63657704161672, 1e-6);
  const std::vector<EnvelopePoint> points = envelope(build(machine_r()), 72);
  REQUIRE(points.size() == 72);
  for (const EnvelopePoint& point : points) {
    INFO("heading " << point.heading / kDegree);
    const RigidMachine::First first = direct.first_lift_off(point.heading);
    CHECK_NEAR(in_degrees(point.first_lift_off), first.slope / kDegree, 0.01);
    CHECK(is_front(point.wheel) == is_front(first.wheel));
    // Facing nearly up or down, both wheels of an axle go within rounding of each other.
    if (std::abs(std::sin(point.heading)) > 0.75) CHECK(point.wheel == first.wheel);
  }
}

TEST_CASE("random rigid machines lift at the closed form's slope, and at any heading as calculated directly") {
  std::mt19937 random(7);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  int by_rear = 0;
  for (int i = 0; i < 40 / kShare; ++i) {
    RigidMachine direct;
    direct.mass = between(1000, 9000);
    direct.wheelbase = between(1.5, 3);
    direct.ahead = between(0.25, 0.6) * direct.wheelbase;
    direct.height = between(0.6, 1.2);
    direct.pin = between(0.35, 0.8);
    direct.rear_track = between(1.2, 2.2);
    direct.front_track = direct.rear_track * between(0.8, 1.0);
    direct.on_axle = between(0, 600);
    Scene scene = machine_r();
    Vehicle& v = scene.vehicle;
    v.wheelbase = direct.wheelbase;
    v.chassis.mass = direct.mass;
    v.chassis.centre_of_gravity = {direct.ahead, 0, direct.height};
    v.front_axle.pin_height = direct.pin;
    v.rear.track = direct.rear_track;
    v.front.track = direct.front_track;
    PointMass hung;
    hung.on = Carrier::front_axle;
    hung.mass = direct.on_axle;
    hung.place = {v.wheelbase, 0, v.front_axle.pin_height};
    scene.ballast.point_masses = {hung};
    INFO("machine " << i);
    // tan a = b (L - xg) / (h L - hp xg), of all that does not hang on the front axle: moments about the line from the
    // downhill rear contact to the pin.
    const double closed = std::atan(direct.rear_track / 2 * (direct.wheelbase - direct.ahead) /
                                    (direct.height * direct.wheelbase - direct.pin * direct.ahead));
    scene.start.heading = -90 * kDegree;
    const LiftOff across = first_lift_off(build(scene));
    if (across.wheel == kRearLeft) {
      ++by_rear;
      CHECK_NEAR(in_degrees(across.slope), closed / kDegree, 0.01);
    }
    for (const double heading : {-90 * kDegree, between(-180, 180) * kDegree, between(-180, 180) * kDegree}) {
      INFO("heading " << heading / kDegree);
      scene.start.heading = heading;
      const LiftOff lift_off = first_lift_off(build(scene));
      CHECK_FALSE(lift_off.failed);
      CHECK_NEAR(in_degrees(lift_off.slope), direct.first_lift_off(heading).slope / kDegree, 0.01);
    }
  }
  CHECK(by_rear > 20 / kShare);
}

TEST_CASE(
    "liquid and weights in the front wheels leave the rigid first lift-off alone; in the rear wheels they raise it") {
  for (const char* machine : kMachines) {
    INFO(machine);
    Scene plain = test_machine(machine, {"ballast.rear.fill_fraction=0"});
    // The axle's own centre of mass may lie below or above the pin: what hangs on it must not matter either way.
    Scene front = plain, rear = plain;
    front.ballast.fill[kFrontLeft].fill_fraction = front.ballast.fill[kFrontRight].fill_fraction = 0.75;
    front.ballast.front_wheel_weights = 100;
    rear.ballast.fill[kRearLeft].fill_fraction = rear.ballast.fill[kRearRight].fill_fraction = 0.75;
    const double before = in_degrees(first_lift_off(rigid_variant(build(plain))).slope);
    CHECK_NEAR(in_degrees(first_lift_off(rigid_variant(build(front))).slope), before, 0.01);
    CHECK(in_degrees(first_lift_off(rigid_variant(build(rear))).slope) > before + 0.5);
  }
}

// ---- Balances added up anew, from the pose alone.

TEST_CASE("at rest every force and every moment is balanced, each force is what its spring says, each fill hangs") {
  std::mt19937 random(11);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  for (const char* machine : kMachines) {
    for (int k = 0; k < 4 / kShare; ++k) {
      Scene scene = test_machine(machine, {"ballast.rear.fill_fraction=0.6", "ballast.front.fill_fraction=0.4"});
      scene.start.heading = between(-kPi, kPi);
      scene.terrain.slope = between(2, 18) * kDegree;
      scene.ballast.rear_wheel_weights = 100;
      INFO(machine << ", heading " << scene.start.heading / kDegree << ", slope " << scene.terrain.slope / kDegree);
      const Model m = build(scene);
      const StaticSolution solution = solve_statics(m);
      REQUIRE(solution.rest);
      const Rest& rest = *solution.rest;
      const double weight = total_mass(m) * m.gravity;
      const Vec3 g(0, -m.gravity * std::sin(rest.slope), -m.gravity * std::cos(rest.slope));
      const double c = std::cos(rest.axle_angle), s = std::sin(rest.axle_angle);
      const Pose X_GA = rest.X_GV * Pose{Mat3(1, 0, 0, 0, c, s, 0, -s, c), m.pin};
      Vec3 force(0.0), moment(0.0), mass_moment(0.0);
      double joint = 0, mass = 0;
      const auto act = [&](const Vec3& at, const Vec3& f, bool on_axle) {
        force += f;
        moment += glm::cross(at, f);
        if (on_axle) joint += glm::dot(glm::cross(at - X_GA.p, f), X_GA.R[0]);
      };
      const auto weigh = [&](double lump, const Vec3& at, bool on_axle) {
        act(at, lump * g, on_axle);
        mass += lump;
        mass_moment += lump * at;
      };
      weigh(m.chassis.mass, rest.X_GV * m.chassis.com, false);
      weigh(m.axle.mass, X_GA * m.axle.com, true);
      if (m.loader.fitted) weigh(m.loader.boom.mass, rest.X_GV * (m.loader.pivot + m.loader.boom.com), false);
      const Vec3 ahead(-std::sin(scene.start.heading), std::cos(scene.start.heading), 0);
      const Vec3 aside(-ahead.y, ahead.x, 0);
      for (std::size_t i = 0; i < kWheels; ++i) {
        const WheelModel& wheel = m.wheels[i];
        const bool front = i < 2;
        const Vec3 centre = front ? X_GA * (wheel.centre - m.pin) : rest.X_GV * wheel.centre;
        const Vec3 axle = front ? X_GA.R[1] : rest.X_GV.R[1];
        weigh(wheel.dry.mass, centre, front);
        weigh(wheel.liquid.mass, rest.liquid_G[i], front);
        act(rest.contact_G[i], rest.force_G[i], front);
        // Lowest point of the disc, and how far it would be under the ground.
        const Vec3 up = glm::normalize(Vec3(0, 0, 1) - axle.z * axle);
        const Vec3 lowest = centre - wheel.tyre.radius * up;
        CHECK_NEAR(rest.load[i], wheel.tyre.vertical_stiffness * -lowest.z, 1e-6 * weight);
        CHECK_NEAR(rest.force_G[i].z, rest.load[i], 1e-9 * weight);
        // Sideways: a spring from where the undeflected tyre stood.
        const Vec3 left = glm::normalize(Vec3(axle.x, axle.y, 0));
        const double track = front ? scene.vehicle.front.track : scene.vehicle.rear.track;
        const Vec3 stood = (front ? scene.vehicle.wheelbase : 0.0) * ahead +
                           (is_left(static_cast<int>(i)) ? 0.5 : -0.5) * track * aside;
        const Vec3 under(lowest.x, lowest.y, 0);  // the disc
        const double bend = glm::dot(under - stood, left);
        CHECK_NEAR(glm::dot(rest.force_G[i], left), -wheel.tyre.lateral_stiffness * bend, 1e-6 * weight);
        // The load stays behind with the tread by its share of the bend.
        CHECK_NEAR(glm::length(rest.contact_G[i] - (under - wheel.tyre.side_give_share * bend * left)), 0, 1e-9);
        // Front wheels roll freely.
        if (front) CHECK_NEAR(glm::dot(rest.force_G[i], glm::cross(left, Vec3(0, 0, 1))), 0, 1e-9 * weight);
        // A fill hangs: no moment about the axle, and on the low side of the wheel's plane.
        const Vec3 arm = rest.liquid_G[i] - centre;
        CHECK_NEAR(glm::dot(glm::cross(arm, g), axle), 0, 1e-9);
        CHECK(glm::dot(arm, axle) * glm::dot(g, axle) >= 0);
      }
      CHECK(glm::length(force) < 1e-6 * weight);
      CHECK(glm::length(moment) < 1e-6 * weight);
      if (m.axle_kind == AxleKind::pivoting)
        CHECK_NEAR(joint, 0, 1e-6 * weight + 1.0 * std::abs(rest.axle_angle));  // centring
      CHECK_NEAR(mass, total_mass(m), 1e-9 * mass);
      CHECK_NEAR(glm::length(mass_moment / mass - rest.centre_of_gravity_G), 0, 1e-9);
    }
  }
}

TEST_CASE("past first lift-off the rest on the stop is the one that stays: a hand must push to turn it either way") {
  // On the two downhill wheels alone the same machine balances too, like a stick on end; that is no rest.
  int rests = 0;
  for (const char* machine : kMachines) {
    for (const double heading : {-90.0, -75.0, 90.0}) {
      for (const double stop : {2.0, 3.0, 4.0}) {
        Scene scene = test_machine(machine, {"ballast.rear.fill_fraction=0"});
        scene.vehicle.front_axle.stop_angle = stop * kDegree;
        scene.start.heading = heading * kDegree;
        const StaticSolution limits = solve_statics(build(scene));
        if (!limits.first_lift_off || !limits.tip_over || *limits.tip_over < *limits.first_lift_off + 0.01) continue;
        scene.terrain.slope = *limits.first_lift_off + 0.7 * (*limits.tip_over - *limits.first_lift_off);
        const Model model = build(scene);
        const StaticSolution there = solve_statics(model);
        CAPTURE(machine);
        CAPTURE(heading);
        CAPTURE(stop);
        REQUIRE(there.rest);
        ++rests;
        EquilibriumSystem system = make_system(model);
        TrialPose trial = start_trial(system);
        trial.X_GV = there.rest->X_GV;
        trial.axle_angle = there.rest->axle_angle;
        trial.slope = scene.terrain.slope;
        trial.stop = trial.axle_angle > 0 ? 1 : -1;
        for (std::size_t i = 0; i < kWheels; ++i) trial.touching[i] = there.rest->load[i] > 0;
        REQUIRE(balance_one_sided(system, pose_at_slope(), trial).converged);
        const TiltAxis about{trial.X_GV.R};
        for (const double way : {-1.0, 1.0}) {
          TrialPose pushed = trial;
          const Question held = at_tilt(Sought::moment_at_tilt, about, way * 0.01 * kDegree);
          REQUIRE(balance_one_sided(system, held, pushed).converged);
          CHECK(way * pushed.moment > 0);
        }
      }
    }
  }
  CHECK(rests > 5);
}

TEST_CASE("past first lift-off a machine whose stop comes early rests on it, one whose stop comes late goes over") {
  const std::vector<std::string> bare{"ballast.rear.fill_fraction=0"};
  Scene early = test_machine("compact_26kw", bare);
  early.vehicle.front_axle.stop_angle = 4 * kDegree;
  const StaticSolution rests = solve_statics(build(early));
  REQUIRE(rests.tip_on_stop);
  CHECK_NEAR(*rests.tip_over, *rests.tip_on_stop, 1e-12);
  CHECK(*rests.tip_over > *rests.first_lift_off + 1 * kDegree);
  Scene late = early;
  late.vehicle.front_axle.stop_angle = 9 * kDegree;
  const StaticSolution over = solve_statics(build(late));
  CHECK_NEAR(*over.tip_over, *over.first_lift_off, 1e-9);
  // The same in time: the ground tilted slowly, from a little below lift-off.
  for (Scene* scene : {&early, &late}) {
    scene->terrain.slope = *rests.first_lift_off - 1.5 * kDegree;
    scene->programme.tilt_rate = 0.2 * kDegree;
    scene->programme.drive_from = 2;
    scene->programme.duration = 18;  // to about 1.7 degrees past lift-off
  }
  CHECK(run(early).outcome == Outcome::wheel_up);
  const Outcome gone = run(late).outcome;
  CHECK((gone == Outcome::on_frame || gone == Outcome::rolls_on));
}

TEST_CASE("a slope is slid on where the grip is used up: about its angle of friction") {
  Scene scene = test_machine("utility_75kw", {"terrain.soil.adhesion_unlimited=false", "terrain.soil.adhesion=0.3"});
  const StaticSolution solution = solve_statics(build(scene));
  REQUIRE(solution.slide);
  CHECK_NEAR(*solution.slide / kDegree, std::atan(0.3) / kDegree, 2);  // one axle goes before the other
  scene.terrain.slope = 25 * kDegree;
  CHECK(solve_statics(build(scene)).status == RestStatus::slides);
  // Less grip across than along: on its own contour it slides sooner, straight up as before, and askew in between.
  const auto slides_at = [&](double heading, double across) {
    Scene asked = scene;
    asked.start.heading = heading * kDegree;
    asked.terrain.soil.adhesion_across_ratio = across;
    const std::optional<double> slide = solve_statics(build(asked)).slide;
    REQUIRE(slide);
    return *slide / kDegree;
  };
  CHECK_NEAR(slides_at(-90, 0.5), std::atan(0.15) / kDegree, 1);
  CHECK_NEAR(slides_at(0, 0.5), slides_at(0, 1), 1e-6);
  CHECK(slides_at(-45, 0.5) > slides_at(-90, 0.5) + 0.5);
  CHECK(slides_at(-45, 0.5) < slides_at(-45, 1) - 0.5);
}

TEST_CASE("at every heading the machine rests up to where it is said to go over, and nowhere beyond") {
  Scene early = test_machine("compact_26kw", {"ballast.rear.fill_fraction=0"});
  early.vehicle.front_axle.stop_angle = 4 * kDegree;
  int beyond_lift_off = 0;
  for (const Scene& scene : {test_scene("first_slope"), early, machine_r()}) {
    Model model = build(scene);
    const auto points = envelope(model, 24, true);
    for (std::size_t i = 0; i < points.size(); ++i) {
      const EnvelopePoint& point = points[i];
      INFO(scene.vehicle.name << " heading " << point.heading / kDegree);
      REQUIRE(point.tip_over);
      CHECK(*point.tip_over >= *point.first_lift_off - 1e-9);
      // Alike left and right.
      const EnvelopePoint& other = points[(points.size() - i) % points.size()];
      CHECK_NEAR(*point.tip_over / kDegree, *other.tip_over / kDegree, 0.05);
      model.start.heading = point.heading;
      CHECK_NEAR(in_degrees(solve_statics(model).tip_over), *point.tip_over / kDegree, 0.02);
      CHECK_FALSE(rest_at(model, *point.tip_over + 0.02 * kDegree));
      if (*point.tip_over < *point.first_lift_off + 0.5 * kDegree) continue;
      ++beyond_lift_off;
      CHECK(rest_at(model, *point.tip_over - 0.05 * kDegree));
    }
  }
  CHECK(beyond_lift_off > 10);
}

TEST_CASE("the worst heading is the least of a fine comb, closed in between the points") {
  for (const char* name : {"first_slope", "orchard_row"}) {
    Scene scene = test_scene(name);
    scene.terrain.features.clear();
    const Model model = build(scene);
    const auto worst = worst_heading(model, envelope(model, 72), -90 * kDegree);
    REQUIRE(worst);
    double least = 9;
    for (const EnvelopePoint& point : envelope(model, 720)) least = std::min(least, *point.first_lift_off);
    CHECK(*worst->first_lift_off <= least + 1e-9);
    CHECK_NEAR(*worst->first_lift_off / kDegree, least / kDegree, 0.01);
    CHECK(worst->heading < 0);  // on the side asked for
    Model there = model;
    there.start.heading = worst->heading;
    CHECK_NEAR(in_degrees(first_lift_off(there).slope), *worst->first_lift_off / kDegree, 1e-9);
  }
}
