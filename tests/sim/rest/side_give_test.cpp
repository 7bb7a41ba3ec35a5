// How much of a tyre's sideways bend the load stays behind by (`side_give_share`): the closed form, another engine's
// answers, what must not change it, and that motion and rest take it alike.
#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>

#include "sim/base/constants.h"
#include "sim/insight/uncertainty.h"
#include "sim/motion/run.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

void set_share(Scene& scene, double share) {
  scene.vehicle.front.tyre.side_give_share = scene.vehicle.rear.tyre.side_give_share = share;
}

double lift_off_deg(const Scene& scene) {
  const LiftOff out = first_lift_off(build(scene));
  REQUIRE(out.slope);
  return *out.slope / kDegree;
}

// Body V on tyres that give sideways only, `stiffness` per tyre [N/m].
Scene giving_sideways(double share, double stiffness) {
  Scene scene = machine_v();
  for (Axle* axle : {&scene.vehicle.front, &scene.vehicle.rear}) {
    axle->tyre.laterally_rigid = false;
    axle->tyre.lateral_stiffness = stiffness;
  }
  set_share(scene, share);
  return scene;
}

// The slope at which the moving machine lifts its first wheel [deg]; -1 if none.
double tilted_slowly(const Scene& scene) {
  Runner runner(scene, build(scene));
  while (!runner.done()) {
    runner.advance(0.02);
    for (const Event& event : runner.recording().events)
      if (event.kind == EventKind::lift_off) return event.slope / kDegree;
  }
  return -1;
}

// A machine as the outside study had it: across, downhill to the right, no liquid, grip without limit.
Scene machine_with_share(const std::string& vehicle, double share, std::vector<std::string> more = {}) {
  more.insert(more.begin(), {"ballast.rear.fill_fraction=0", "start.heading_deg=-90"});
  Scene scene = test_machine(vehicle, more);
  set_share(scene, share);
  return scene;
}

}  // namespace

TEST_CASE("a planar body on tyres that give sideways: the closed form of its lift-off") {
  // Derived: all weight on the two downhill tyres, which alone hold it sideways: m g sin(a) = k d with k of both. The
  // load acts by s d uphill of where it would on rigid tyres, so tan(a) = (t/2 - s d) / h, d = m g sin(a) / k.
  const double mass = 3000, half_track = 0.8, height = 0.85, stiffness = 200e3;
  const auto closed = [&](double share) {
    double angle = 0.7;
    for (int i = 0; i < 200; ++i)
      angle = std::atan((half_track - share * mass * kStandardGravity * std::sin(angle) / (2 * stiffness)) / height);
    return angle / kDegree;
  };
  const std::pair<double, double> solved[] = {{0, 43.264}, {0.5, 42.366}, {1, 41.473}};
  for (const auto& [share, angle] : solved) {
    const auto& this_share = share;
    CAPTURE(this_share);
    CHECK_NEAR(closed(share), angle, 0.001);  // the same equation solved elsewhere
    const LiftOff out = first_lift_off(build(giving_sideways(share, stiffness)));
    REQUIRE(out.slope);
    CHECK_NEAR(*out.slope / kDegree, closed(share), 0.005);
    CHECK((out.wheel == kFrontLeft || out.wheel == kRearLeft));
  }
}

TEST_CASE(
    "another engine's tractor lifts its wheel at the same slope where the load stays with the tread, or under the "
    "disc") {
  // Source: a study apart from this project, the same masses, springs and geometry in MuJoCo 3, tread discs on slides;
  // slope raised slowly. Share 1: the load stays with the tread; 0: tyres rigid sideways but for a force at the disc.
  struct Row {
    const char* machine;
    std::vector<std::string> load;
    double with_tread, under_disc;
  };
  for (const Row& row :
       {Row{"utility_75kw", {"ballast.loader_pin_height_m=0.5", "ballast.loader_payload_kg=400"}, 32.33, 34.17},
        Row{"utility_75kw", {"ballast.loader_pin_height_m=2.5", "ballast.loader_payload_kg=800"}, 16.76, 17.34},
        Row{"two_wheel_45kw", {}, 36.30, 38.61}}) {
    INFO(row.machine);
    const double with_tread = lift_off_deg(machine_with_share(row.machine, 1, row.load)),
                 between = lift_off_deg(machine_with_share(row.machine, 0.5, row.load)),
                 under_disc = lift_off_deg(machine_with_share(row.machine, 0, row.load));
    CHECK_NEAR(with_tread, row.with_tread, 0.3);
    CHECK_NEAR(under_disc, row.under_disc, 0.1);
    CHECK(between > with_tread);
    CHECK(between < under_disc);
  }
}

TEST_CASE("tilted slowly that planar body lifts both uphill wheels at the closed form too") {
  // Tyres hard upright, and adhesion that has an end: a tyre that lifts lets go sideways by itself.
  for (const double share : {0.0, 0.5, 1.0}) {
    CAPTURE(share);
    Scene scene = giving_sideways(share, 200e3);
    for (Axle* axle : {&scene.vehicle.front, &scene.vehicle.rear}) {
      axle->tyre.rigid = false;
      axle->tyre.vertical_stiffness = 5e6, axle->tyre.vertical_damping = 8e4;
      axle->tyre.lateral_damping = 4e3;
    }
    scene.terrain.soil.adhesion_unlimited = false;
    scene.terrain.soil.adhesion = 1;
    scene.settings.time_step = 2e-4;
    scene.settings.engine = Engine::own;
    scene.programme.duration = 60, scene.programme.drive_from = 0.5, scene.programme.tilt_rate = 1 * kDegree;
    CHECK_NEAR(tilted_slowly(scene), lift_off_deg(giving_sideways(share, 200e3)), 0.02);
  }
}

TEST_CASE("half the share by default, and the interval holds both ends") {
  for (const char* machine : kMachines) {
    INFO(machine);
    const Scene scene = machine_with_share(machine, 0.5);
    CHECK(test_machine(machine).vehicle.rear.tyre.side_give_share == 0.5);
    CHECK(test_machine(machine).vehicle.front.tyre.side_give_share == 0.5);
    const Model model = build(scene);
    const Uncertainty u = uncertainty(scene, model, solve_statics(model));
    REQUIRE(u.first_lift_off);
    CHECK(u.first_lift_off->low / kDegree < lift_off_deg(machine_with_share(machine, 1)));
    CHECK(u.first_lift_off->high / kDegree > lift_off_deg(machine_with_share(machine, 0)));
    CHECK((u.first_lift_off->high - u.first_lift_off->low) / kDegree < 8);
  }
}

TEST_CASE("tyres softer sideways never raise the lift-off where the load stays with the tread") {
  for (const char* machine : kMachines) {
    INFO(machine);
    double before = 90;
    for (const double times : {4.0, 2.0, 1.0, 0.7, 0.5}) {
      Scene scene = machine_with_share(machine, 1);
      scene.vehicle.front.tyre.lateral_stiffness *= times;
      scene.vehicle.rear.tyre.lateral_stiffness *= times;
      const double now = lift_off_deg(scene);
      CHECK(now < before);
      before = now;
    }
  }
}

TEST_CASE("shares apart front and rear: mirrored and turned by a whole circle the same answer") {
  for (const char* machine : kMachines) {
    for (const double heading : {-90.0, -60.0, -130.0}) {
      INFO(machine);
      CAPTURE(heading);
      Scene scene = machine_with_share(machine, 1, {"ballast.point_mass+={mass_kg=150, x_m=0.5, y_m=0.3, z_m=0.8}"});
      scene.vehicle.front.tyre.side_give_share = 0.3;
      scene.start.heading = heading * kDegree;
      const LiftOff one = first_lift_off(build(scene));
      scene.start.heading += 2 * kPi;
      const LiftOff turned = first_lift_off(build(scene));
      scene.start.heading = -heading * kDegree;
      scene.ballast.point_masses[0].place.y *= -1;
      const LiftOff other = first_lift_off(build(scene));
      REQUIRE(one.slope);
      REQUIRE(turned.slope);
      REQUIRE(other.slope);
      CHECK_NEAR(*one.slope / kDegree, *turned.slope / kDegree, 1e-6);
      CHECK_NEAR(*one.slope / kDegree, *other.slope / kDegree, 1e-6);
      CHECK(one.wheel / 2 == other.wheel / 2);
      CHECK(one.wheel != other.wheel);
    }
  }
}

TEST_CASE("motion and rest agree: the settled run carries the loads of the rest, with the load at the tread") {
  for (const char* machine : kMachines) {
    INFO(machine);
    Scene scene = machine_with_share(machine, 1, {"terrain.slope_deg=15", "programme.duration_s=6"});
    const Model model = build(scene);
    const StaticSolution still = solve_statics(model);
    REQUIRE(still.rest);
    const Recording moving = run(scene);
    const double weight = total_mass(model) * model.gravity;
    for (std::size_t i = 0; i < kWheels; ++i)
      CHECK_NEAR(moving.states.back().wheels[i].load / weight, still.rest->load[i] / weight, 1e-4);
    // The share shows in what they carry: this is no check of two zeros.
    const StaticSolution under_disc = solve_statics(build(machine_with_share(machine, 0, {"terrain.slope_deg=15"})));
    REQUIRE(under_disc.rest);
    CHECK(std::abs(under_disc.rest->load[kRearLeft] - still.rest->load[kRearLeft]) / weight > 1e-3);
  }
}

// Adhesion has an end here, beyond what lift-off needs: on ground that holds without limit the moving tyre keeps its
// side force to the last newton, which nature does not.
TEST_CASE("tilted slowly the moving machine lifts its wheel where the rest says, at half the share") {
  for (const char* machine : {"utility_75kw", "two_wheel_45kw", "compact_26kw"}) {
    INFO(machine);
    Scene scene = machine_with_share(
        machine, 0.5,
        {"terrain.soil.adhesion_unlimited=false", "terrain.soil.adhesion=1", "programme.tilt_rate_deg_per_s=0.5",
         "programme.duration_s=90", "programme.drive_from_s=1", "settings.engine=\"own\""});
    CHECK_NEAR(tilted_slowly(scene), lift_off_deg(scene), 0.1);
  }
}

TEST_CASE("a measured compact tractor: the angle at which it goes over lies in the interval") {
  // Source: Majdan et al. (2021), cited in the file: on its downhill wheels the tractor is in unstable equilibrium at
  // an angle so many per cent above the rigid calculation. Another machine than ours, so only the ratio is taken over:
  // the interval of ours must hold it. Here first lift-off and going over are one angle.
  std::ifstream file(std::string(SIDEHILL_SOURCE_DIR) + "/tests/data/side_tilt_compact.json");
  REQUIRE(file);
  const auto cases = nlohmann::json::parse(file).at("cases");
  REQUIRE(cases.size() == 10);
  for (const auto& one : cases) {
    const double weights = one.at("rear_wheel_weights_kg"), above = one.at("measured_above_rigid_percent");
    CAPTURE(weights);
    CAPTURE(above);
    // All of the weights together, half on either wheel; no loader on it.
    Scene scene = machine_with_share("compact_26kw", 0.5, {"vehicle.loader.fitted=false"});
    scene.ballast.rear_wheel_weights = weights / 2;
    const Model model = build(scene);
    const StaticSolution still = solve_statics(model);
    REQUIRE(still.rigid_lift_off);
    const Uncertainty u = uncertainty(scene, model, still);
    REQUIRE(u.first_lift_off);
    REQUIRE(u.tip_over);
    const double measured = *still.rigid_lift_off * (1 + above / 100);
    CHECK(measured > u.first_lift_off->low);
    CHECK(measured < u.first_lift_off->high);
    CHECK(measured > u.tip_over->low);
    CHECK(measured < u.tip_over->high);
  }
}

// Two tyres side by side: what moves from the one to the other as the machine leans moves the load, not the hub.
TEST_CASE("load that moves between the tyres of a pair bends none of them sideways") {
  const auto loader = [](double apart) {
    return test_scene("bucket_up", {"ballast.loader_payload_kg=900", "terrain.slope_deg=15",
                                    "vehicle.rear.dual_spacing_m=" + std::to_string(apart)});
  };
  const Scene scene = loader(0.55);
  const Model model = build(scene);
  const StaticSolution pair = solve_statics(model), single = solve_statics(build(loader(0)));
  REQUIRE(pair.rest);
  for (const int wheel : {kRearLeft, kRearRight}) {  // uphill and downhill, both hold uphill
    const auto i = static_cast<std::size_t>(wheel);
    CHECK(pair.rest->force_G[i].y > 0);
    CHECK(pair.rest->force_G[i].y < 0.5 * total_mass(model) * model.gravity * std::sin(15 * kDegree));
  }
  REQUIRE(pair.slide);
  REQUIRE(single.slide);
  CHECK_NEAR(*pair.slide / kDegree, *single.slide / kDegree, 2);
  const Uncertainty u = uncertainty(scene, model, pair);
  REQUIRE(u.slide);
  CHECK(u.slide->low > *pair.slide - 7 * kDegree);  // as of single tyres; once it reached down to 3.6 deg
}
