// The machine as a whole against MuJoCo, which moves a tractor of its own making: its joints, springs and contacts,
// none of our forces. Tilted slowly, and driven over a bump.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "sim/base/constants.h"
#include "sim/motion/run.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"
#include "tests/witness/mujoco_tractor.h"

using namespace sidehill;

namespace {

constexpr double kDegreesPerSecond = 1 * kDegree;

std::vector<std::string> side_give(double share) {
  std::vector<std::string> keys;
  for (const char* axle : {"front", "rear"})
    keys.push_back("vehicle." + std::string(axle) + ".tyre.side_give_share=" + std::to_string(share));
  return keys;
}

// Without liquid, grip without limit.
Scene dry_machine(const std::string& vehicle, std::vector<std::string> more) {
  more.push_back("ballast.rear.fill_fraction=0");
  return test_machine(vehicle, more);
}

std::vector<std::string> operator+(std::vector<std::string> a, const std::vector<std::string>& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

// The slope at which the first tread leaves the ground and stays off it for a while; a tyre that lets go of its side
// force, as they all do near lift-off, makes the machine tremble. Quickly up to a little before `expected`, then at
// `rate` [rad/s].
LiftOff tilted(const Model& model, MujocoTractorSetup setup, double expected, double rate) {
  constexpr double kOff = 0.15, kFast = 3 * kDegreesPerSecond, kBefore = 2 * kDegree, kSettles = 0.8;
  MujocoTractor tractor(model, setup);
  double slope = 0, off = 0;
  while (slope < expected + 5 * kDegree) {
    const double turning =
        tractor.time() < kSettles ? 0 : std::clamp((expected - kBefore - slope) / kSettles, rate, kFast);
    slope += turning * setup.time_step;
    tractor.step(slope);
    const std::array<double, kWheels> loads = tractor.loads();
    const auto least = std::min_element(loads.begin(), loads.end());
    off = *least <= 0 && tractor.time() > kSettles ? off + setup.time_step : 0;
    if (off > kOff) return {slope - off * turning, static_cast<int>(least - loads.begin())};
  }
  return {};
}

// A machine, what MuJoCo of an outside study says of it (side give 1, and rigid sideways), and the answer with side
// give 0, which was that of the first statics.
struct Row {
  const char* vehicle;
  std::vector<std::string> keys;
  double bends, rigid, under_disc;  // [deg]
};
const std::vector<Row> kRows = {
    {"utility_75kw", {"ballast.loader_pin_height_m=0.5", "ballast.loader_payload_kg=400"}, 32.33, 34.24, 34.17},
    {"utility_75kw", {"ballast.loader_pin_height_m=2.5", "ballast.loader_payload_kg=800"}, 16.76, 17.41, 17.34},
    {"two_wheel_45kw", {}, 36.30, 38.63, 38.61},
};

}  // namespace

TEST_CASE("across a slope a whole tractor in MuJoCo lifts the same wheel at the same slope") {
  for (std::size_t i = 0; i < std::size(kRows); i += kShare) {
    const Row& row = kRows[i];
    CAPTURE(std::string(row.vehicle));
    const Model model = build(dry_machine(row.vehicle, row.keys + side_give(1)));
    const LiftOff ours = first_lift_off(model);
    REQUIRE(ours.slope);
    const LiftOff theirs = tilted(model, {}, *ours.slope, 0.5 * kDegreesPerSecond);
    REQUIRE(theirs.slope);
    CHECK_NEAR(*ours.slope / kDegree, *theirs.slope / kDegree, 0.15);
    CHECK_NEAR(*ours.slope / kDegree, row.bends, 0.3);
    CHECK(ours.wheel == theirs.wheel);
    if (&row == kRows.data()) {  // slow enough
      const LiftOff slower = tilted(model, {}, *ours.slope, 0.25 * kDegreesPerSecond);
      REQUIRE(slower.slope);
      CHECK_NEAR(*slower.slope / kDegree, *theirs.slope / kDegree, 0.05);
    }
    const LiftOff under_disc = first_lift_off(build(dry_machine(row.vehicle, row.keys + side_give(0))));
    REQUIRE(under_disc.slope);
    CHECK_NEAR(*under_disc.slope / kDegree, row.under_disc, 0.1);
  }
}

TEST_CASE("tyres that do not give sideways: the load is under the disc, as in MuJoCo") {
  for (const Row& row : {kRows[0], kRows[2]}) {
    CAPTURE(std::string(row.vehicle));
    const Model model =
        build(dry_machine(row.vehicle, row.keys + std::vector<std::string>{"vehicle.front.tyre.laterally_rigid=true",
                                                                           "vehicle.rear.tyre.laterally_rigid=true"}));
    const LiftOff ours = first_lift_off(model);
    REQUIRE(ours.slope);
    MujocoTractorSetup setup;
    setup.sideways_rigid = true;
    const LiftOff theirs = tilted(model, setup, *ours.slope, 0.5 * kDegreesPerSecond);
    REQUIRE(theirs.slope);
    CHECK_NEAR(*ours.slope / kDegree, *theirs.slope / kDegree, 0.1);
    CHECK_NEAR(*ours.slope / kDegree, row.rigid, 0.1);
    CHECK(ours.wheel == theirs.wheel);
  }
}

TEST_CASE("at other headings too") {
  for (const double heading : {-60.0, -120.0}) {
    CAPTURE(heading);
    const Model model = build(dry_machine(
        "utility_75kw",
        kRows[0].keys + side_give(1) + std::vector<std::string>{"start.heading_deg=" + std::to_string(heading)}));
    const LiftOff ours = first_lift_off(model);
    REQUIRE(ours.slope);
    const LiftOff theirs = tilted(model, {}, *ours.slope, 0.5 * kDegreesPerSecond);
    REQUIRE(theirs.slope);
    CHECK_NEAR(*ours.slope / kDegree, *theirs.slope / kDegree, 0.3);
    CHECK(ours.wheel == theirs.wheel);
  }
}

namespace {

// A bump under the uphill wheels, across a slope.
struct Bump {
  double length = 0, height = 0;  // [m]
};
constexpr double kBumpAt = 7, kSpeed = 8 / 3.6;  // along the way [m]; [m/s]

// `relaxation`: of the tyres' side force, 0 = the machine's own [m].
Scene over_bump(const Bump& bump, double slope_deg, double relaxation) {
  std::vector<std::string> keys = kRows[0].keys + side_give(1);
  if (relaxation > 0)
    for (const char* axle : {"front", "rear"})
      keys.push_back("vehicle." + std::string(axle) + ".tyre.lateral_relaxation_m=" + std::to_string(relaxation));
  Scene scene = dry_machine("utility_75kw", keys);
  scene.terrain.slope = slope_deg * kDegree;
  scene.terrain.soil.rolling_resistance = 0;
  scene.terrain.features = {Feature{"", FeatureKind::bump, kBumpAt, 0.9, 0, bump.length, 1.2, bump.height}};
  scene.programme.speed = kSpeed;
  scene.programme.drive_from = 0.5;
  scene.programme.duration = 12;
  return scene;
}

// From just before the bump to well behind it.
struct Crossed {
  double roll = 0;                     // most, left side up [deg]
  std::array<double, kWheels> most{};  // heaviest of each wheel [N]
  std::array<double, kWheels> off{};   // how long each was off the ground [s]
  bool over = false;                   // it went over
};

void note(Crossed& crossed, const Mat3& R, const std::array<double, kWheels>& loads, double seconds) {
  for (std::size_t i = 0; i < kWheels; ++i)
    if (loads[i] <= 0) crossed.off[i] += seconds;
  crossed.roll = std::max(crossed.roll, std::atan2(R[1].z, R[2].z) / kDegree);
  for (std::size_t i = 0; i < kWheels; ++i) crossed.most[i] = std::max(crossed.most[i], loads[i]);
  crossed.over = crossed.over || R[2].z < 0.5;
}

constexpr double kFrom = kBumpAt - 4, kTo = kBumpAt + 6;  // of the rear axle [m]

// `sticks`: side forces do not relax at all while it rolls, as in MuJoCo.
Crossed ours(const Scene& scene, bool sticks = false) {
  constexpr double kLook = 2e-3;  // [s]
  Crossed crossed;
  Model model = build(scene);
  for (WheelModel& wheel : model.wheels)
    if (sticks) wheel.tyre.relaxation = 1e6;
  Runner runner(scene, model);
  while (!runner.done() && !crossed.over && runner.state().X_GV.p.x < kTo) {
    runner.advance(kLook);
    const State& state = runner.state();
    std::array<double, kWheels> loads{};
    for (std::size_t i = 0; i < kWheels; ++i) loads[i] = state.wheels[i].load;
    if (state.X_GV.p.x > kFrom) note(crossed, state.X_GV.R, loads, kLook);
  }
  return crossed;
}

// Loads on the hubs, or those of the ground on the treads, which tremble more.
Crossed theirs(const Scene& scene, bool treads_loads = false) {
  MujocoTractorSetup setup;
  setup.time_step = 2.5e-4;  // the discs are stiff: half of it changes the heaviest load by 1 %
  setup.drives = true;
  Scene there = scene;
  there.start.x = kFrom - 0.5;
  MujocoTractor tractor(build(there), setup);
  constexpr double kRests = 0.3, kStands = 3, kTilts = 12 * kDegreesPerSecond;
  while (tractor.time() < kStands)
    tractor.step(std::clamp((tractor.time() - kRests) * kTilts, 0.0, scene.terrain.slope));
  tractor.drive_at(kSpeed);
  Crossed crossed;
  while (!crossed.over && tractor.X_GV().p.x < kTo && tractor.time() < kStands + 8) {
    tractor.step(scene.terrain.slope);
    if (tractor.X_GV().p.x > kFrom)
      note(crossed, tractor.X_GV().R, treads_loads ? tractor.loads() : tractor.pressed(), setup.time_step);
  }
  return crossed;
}

}  // namespace

// MuJoCo's treads stick while they roll; so do ours here, with side forces that hardly relax. What relaxation and the
// footprint do is in DEVELOPERS.md. The uphill wheels land behind the bump, where a stiff disc strikes harder.
TEST_CASE("driven over a long bump: as heavy and as far over as in MuJoCo") {
  const Scene scene = over_bump({3, 0.15}, 15, 10);
  const Crossed a = ours(scene), b = theirs(scene);
  CHECK_FALSE(a.over);
  CHECK_FALSE(b.over);
  CHECK_NEAR(a.roll, b.roll, 0.4);
  CHECK_NEAR(a.most[kFrontRight] / b.most[kFrontRight], 1, 0.05);
  CHECK_NEAR(a.most[kRearRight] / b.most[kRearRight], 1, 0.05);
}

// Half a second: a tread of MuJoCo's trembles off the ground for a twentieth even where it carries.
TEST_CASE("a long bump lifts the same wheel from the same slope on as in MuJoCo" * doctest::skip(kShare > 1)) {
  constexpr double kLifted = 0.5;  // [s]
  const auto lifted = [](const Crossed& crossed) {
    std::array<bool, kWheels> wheels{};
    for (std::size_t i = 0; i < kWheels; ++i) wheels[i] = crossed.off[i] > kLifted;
    return wheels;
  };
  const std::array<bool, kWheels> none{}, rear_left{false, false, true, false};
  const auto limit = [&](auto cross) {
    double lo = 19.5, hi = 22;  // [deg]
    CHECK(lifted(cross(over_bump({4, 0.15}, lo, 10))) == none);
    CHECK(lifted(cross(over_bump({4, 0.15}, hi, 10))) == rear_left);
    while (round_step() == 1 && hi - lo > 0.1) {  // else only that it lies between the ends
      const double mid = 0.5 * (lo + hi);
      (lifted(cross(over_bump({4, 0.15}, mid, 10))) == none ? lo : hi) = mid;
    }
    return 0.5 * (lo + hi);
  };
  const double here = limit([](const Scene& scene) { return ours(scene, true); });
  const double there = limit([](const Scene& scene) { return theirs(scene, true); });
  CAPTURE(here);
  CAPTURE(there);
  CHECK_NEAR(here, there, 0.3);
}

// On this slope both stand, on the other both go over. Closed in to 0.1 deg, MuJoCo's limit is 28.0 deg and ours 28.5,
// also with side forces that do not relax: its stiff disc on the tread climbs the bump earlier than our footprint and
// drops off it harder. With side forces that relax ours rises the longer it has rolled before the bump.
TEST_CASE("a bump throws it over on the slopes on which it does in MuJoCo") {
  for (const double slope : {27.5, 29.0}) {
    CAPTURE(slope);
    const Scene scene = over_bump({3, 0.2}, slope, 10);
    CHECK(ours(scene).over == (slope > 28));
    CHECK(theirs(scene).over == (slope > 28));
  }
}
