#include "sim/insight/breakdown.h"

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

double share_of(const Breakdown& b, const std::string& name) {
  for (const Cause& cause : b.causes)
    if (cause.name == name) return cause.share;
  FAIL(name);
  return 0;
}

}  // namespace

TEST_CASE("the causes sum to the whole, on every machine and heading tried") {
  for (const char* machine : kMachines) {
    for (double heading : {-90.0, -110.0, 60.0}) {
      const std::string which = std::string(machine) + " at " + std::to_string(heading);
      INFO(which);
      Scene scene = test_machine(machine, {"ballast.rear.fill_fraction=0.75", "ballast.front.fill_fraction=0.5"});
      scene.start.heading = heading * kDegree;
      const Model model = build(scene);
      const auto b = breakdown(model);
      REQUIRE(b);
      double sum = b->bare;
      for (const Cause& cause : b->causes) sum += cause.share;
      CHECK_NEAR(sum, b->whole, 1e-9);
      CHECK_NEAR(b->whole, *first_lift_off(model).slope, 1e-12);
    }
  }
}

TEST_CASE("two causes by hand: each is the mean of coming first and coming second") {
  Scene scene = machine_r();
  scene.ballast.point_masses = {{"behind", Carrier::chassis, 500, {-0.6, 0, 0.7}},
                                {"high", Carrier::chassis, 300, {1, 0, 2}}};
  const auto b = breakdown(build(scene));
  REQUIRE(b);
  const auto lift = [&](bool behind, bool high) {
    Scene one = scene;
    if (!high) one.ballast.point_masses.pop_back();
    if (!behind) one.ballast.point_masses.erase(one.ballast.point_masses.begin());
    return *first_lift_off(build(one)).slope;
  };
  const double none = lift(false, false), a = lift(true, false), h = lift(false, true), both = lift(true, true);
  CHECK_NEAR(b->bare, none, 1e-7);
  CHECK_NEAR(share_of(*b, "behind"), 0.5 * (a - none + both - h), 1e-7);
  CHECK_NEAR(share_of(*b, "high"), 0.5 * (h - none + both - a), 1e-7);
  // The order of the list is nothing to it.
  std::swap(scene.ballast.point_masses[0], scene.ballast.point_masses[1]);
  CHECK_NEAR(share_of(*breakdown(build(scene)), "behind"), share_of(*b, "behind"), 1e-7);
}

TEST_CASE("what hangs on a pivoting front axle leaves the first lift-off alone; twins share alike") {
  Scene scene = machine_r();
  scene.ballast.point_masses = {{"weights on the axle", Carrier::front_axle, 400, {2.2, 0, 0.55}},
                                {"twin one", Carrier::chassis, 200, {0.2, 0, 0.9}},
                                {"twin two", Carrier::chassis, 200, {0.2, 0, 0.9}}};
  const auto b = breakdown(build(scene));
  REQUIRE(b);
  CHECK_NEAR(share_of(*b, "weights on the axle") / kDegree, 0, 1e-6);
  CHECK_NEAR(share_of(*b, "twin one"), share_of(*b, "twin two"), 1e-9);
}

TEST_CASE("a track beyond its narrowest setting is a cause, by as much as the machine set narrow lifts earlier") {
  Scene scene = machine_r();
  scene.vehicle.rear.narrowest_track = 1.3;
  const auto b = breakdown(build(scene));
  REQUIRE(b);
  REQUIRE(b->causes.size() == 1);
  scene.vehicle.rear.track = 1.3;
  const double narrow = *first_lift_off(build(scene)).slope;
  CHECK_NEAR(b->causes[0].share, b->whole - narrow, 1e-9);
  CHECK(b->causes[0].share / kDegree > 4);
  // Wheels, weights and filling go with their track.
  Scene filled = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75", "ballast.rear_wheel_weights_kg=100"});
  filled.vehicle.front.narrowest_track = 0;
  const Model narrowed = on_narrowest_tracks(build(filled));
  filled.vehicle.rear.track = filled.vehicle.rear.narrowest_track;
  filled.vehicle.rear.narrowest_track = 0;
  CHECK_NEAR(*first_lift_off(narrowed).slope / kDegree, *first_lift_off(build(filled)).slope / kDegree, 1e-4);
}

TEST_CASE("many causes become nine, and still sum up") {
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75", "ballast.loader_payload_kg=300",
                                              "ballast.rear_weights_kg=300", "ballast.rear_wheel_weights_kg=100"});
  for (int i = 0; i < 5; ++i)
    scene.ballast.point_masses.push_back({"box " + std::to_string(i), Carrier::chassis, 10.0 + i, {0.5, 0, 1.2}});
  const auto b = breakdown(build(scene));
  REQUIRE(b);
  CHECK(b->causes.size() == 9);
  double sum = b->bare;
  for (const Cause& cause : b->causes) sum += cause.share;
  CHECK_NEAR(sum, b->whole, 1e-9);
  CHECK(share_of(*b, "filling of the rear tyres") > 0);
  CHECK(std::abs(share_of(*b, "the rest")) > 0);
}
