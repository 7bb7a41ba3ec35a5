// How far the difference of two set-ups may be off: what both share cancels, what one has alone does not.
#include "sim/insight/difference.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <random>

#include "sim/base/constants.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

Uncertainty doubts_of(const Scene& scene) {
  const Model model = build(scene);
  return uncertainty(scene, model, solve_statics(model));
}

SetUpDifference differ(const Scene& a, const Scene& b) { return difference(a, doubts_of(a), b, doubts_of(b)); }

// Everything known exactly; what is in doubt is set by the test.
void know_all(Scene& scene) {
  for (const Field& field : scene_fields())
    if (default_tolerance(field, scene) > 0) scene.tolerances.push_back({std::string(field.key), 0});
  for (const char* axle : {"front", "rear"})
    for (const char* key : {".tyre.pressure_offset_m", ".tyre.cavity_volume_l"})
      scene.tolerances.push_back({std::string("vehicle.") + axle + key, 0});
}

void doubt(Scene& scene, std::string_view key, double value) {
  for (Tolerance& t : scene.tolerances)
    if (t.key == key) t.value = value;
}

double half(const Interval& i) { return 0.5 * (i.high - i.low); }
double half(const DifferenceOf& of) { return 0.5 * (of.high.value() - of.low.value()); }

}  // namespace

TEST_CASE("two set-ups alike in everything differ by exactly nothing") {
  for (const char* name : kMachines) {
    const Scene scene = test_machine(name, {"terrain.slope_deg=10", "ballast.rear.fill_fraction=0.6"});
    const SetUpDifference d = differ(scene, scene);
    INFO(name);
    for (const auto& one : {d.gives_way, d.first_lift_off, d.tip_over, d.slide, d.rigid_lift_off, d.margin}) {
      if (!one) continue;
      CHECK(one->value == 0);
      CHECK(one->low == 0);
      CHECK(one->high == 0);
    }
    REQUIRE(d.first_lift_off);
    REQUIRE(d.gives_way);
    for (const auto& load : d.load) {
      REQUIRE(load);
      CHECK(load->low == 0);
      CHECK(load->high == 0);
    }
    CHECK(half(d.mass) == 0);
    CHECK(half(d.centre_of_gravity[2]) == 0);
    CHECK(d.doubts.size() > 20);
    CHECK(std::ranges::all_of(d.doubts, &DifferenceDoubt::common));
  }
}

// Machine R, rigid: tan a = b (L - xg) / (h L - hp xg), the answer of a planar body on a pivoting front axle; b is half
// the rear track, h the height of its weight. Source: moments about the line from the rear wheel to the pin.
TEST_CASE("a common cause moves both at once, a cause of one alone adds its square") {
  Scene a = machine_r();
  know_all(a);
  Scene b = a;
  b.vehicle.chassis.centre_of_gravity.z = 0.75;
  const auto closed = [](double half_track, double h) {
    return std::atan2(half_track * (2.2 - 0.9), h * 2.2 - 0.55 * 0.9);
  };
  for (Scene* scene : {&a, &b}) doubt(*scene, "vehicle.rear.track_m", 0.1);
  SetUpDifference d = differ(a, b);
  REQUIRE(d.first_lift_off);
  const double middle = closed(0.8, 0.75) - closed(0.8, 0.85);
  CHECK_NEAR(d.first_lift_off->value / kDegree, middle / kDegree, 1e-3);
  const double wide = closed(0.85, 0.75) - closed(0.85, 0.85), narrow = closed(0.75, 0.75) - closed(0.75, 0.85);
  CHECK_NEAR(*d.first_lift_off->high / kDegree, std::max(wide, narrow) / kDegree, 2e-3);
  CHECK_NEAR(*d.first_lift_off->low / kDegree, std::min(wide, narrow) / kDegree, 2e-3);
  // As if they were two unrelated machines it would be many times as wide.
  const double apart = std::hypot(closed(0.85, 0.75) - closed(0.8, 0.75), closed(0.85, 0.85) - closed(0.8, 0.85));
  CHECK(half(*d.first_lift_off) < 0.3 * apart);

  // The two heights are two numbers, each in doubt by itself.
  for (Scene* scene : {&a, &b}) doubt(*scene, "vehicle.chassis.centre_of_gravity_z_m", 0.02);
  d = differ(a, b);
  const double own_a = closed(0.8, 0.83) - closed(0.8, 0.85), own_b = closed(0.8, 0.75) - closed(0.8, 0.77);
  const double common = middle - std::min(wide, narrow);
  CHECK_NEAR((d.first_lift_off->value - *d.first_lift_off->low) / kDegree, std::hypot(own_a, own_b, common) / kDegree,
             5e-3);
}

TEST_CASE("of two machines nothing cancels but our own rules") {
  const Scene a = test_machine("compact_26kw"), b = test_machine("utility_75kw");
  CHECK_FALSE(same_unknown(a, b, "vehicle.rear.track_m"));
  CHECK_FALSE(same_unknown(a, b, "vehicle.driver.mass_kg"));
  CHECK(same_unknown(a, b, "terrain.slope_deg"));
  CHECK(same_unknown(a, b, "sharing of side force between the tyres"));
  const Scene other = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.2"});
  CHECK(same_unknown(b, other, "vehicle.rear.track_m"));
  CHECK(same_unknown(b, other, "vehicle.rear.tyre.cavity_volume_l"));
  CHECK_FALSE(same_unknown(b, other, "ballast.rear.fill_fraction"));
  CHECK(same_unknown(b, other, "rear tyres: density of the filling"));
  const Scene brine = test_machine("utility_75kw", {"ballast.rear.medium=calcium_chloride_3_5"});
  CHECK_FALSE(same_unknown(b, brine, "rear tyres: density of the filling"));
  CHECK_FALSE(same_unknown(b, brine, "ballast.rear.fill_fraction"));
}

TEST_CASE("more liquid in the same machine is surely more, though each interval alone is wider than the difference") {
  const Scene a = load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
  Scene b = a;
  for (int wheel : {kRearLeft, kRearRight}) b.ballast.fill[static_cast<std::size_t>(wheel)].fill_fraction = 0.25;
  const auto now = [] { return std::chrono::steady_clock::now(); };
  const auto before = now();
  const Uncertainty of_a = doubts_of(a), of_b = doubts_of(b);
  const auto start = now();
  const SetUpDifference d = difference(a, of_a, b, of_b);
  CHECK(now() - start < 0.5 * (start - before));  // nothing is worked out anew
  REQUIRE(d.first_lift_off);
  CHECK(d.first_lift_off->value < 0);
  CHECK(*d.first_lift_off->high < 0);
  CHECK(half(*d.first_lift_off) < 0.6 * std::hypot(half(*of_a.first_lift_off), half(*of_b.first_lift_off)));
  // The parts filled are two numbers; the masses differ by what was left out, give or take both.
  CHECK(d.mass.value < 0);
  CHECK(half(d.mass) > 1);
  // Turned round it is the same with the other sign.
  const SetUpDifference back = difference(b, of_b, a, of_a);
  CHECK_NEAR(*back.first_lift_off->low, -*d.first_lift_off->high, 1e-12);
  CHECK_NEAR(*back.first_lift_off->high, -*d.first_lift_off->low, 1e-12);
}

TEST_CASE("differences of random pairs of set-ups fall into the interval nineteen times in twenty") {
  Scene a = test_machine("utility_75kw", {"terrain.slope_deg=10", "ballast.rear.fill_fraction=0.75"});
  Scene b = test_machine("utility_75kw", {"terrain.slope_deg=10", "ballast.rear.fill_fraction=0.3"});
  const std::pair<const char*, double> common[] = {{"vehicle.rear.track_m", 0.05},
                                                   {"vehicle.chassis.centre_of_gravity_z_m", 0.05},
                                                   {"vehicle.chassis.mass_kg", 100}};
  const std::pair<const char*, double> own[] = {{"ballast.rear_left.fill_fraction", 0.1},
                                                {"ballast.rear_right.fill_fraction", 0.1}};
  for (Scene* scene : {&a, &b}) {
    know_all(*scene);
    for (const auto& [key, value] : common) doubt(*scene, key, value);
    for (const auto& [key, value] : own) doubt(*scene, key, value);
  }
  // The rules that no tolerance switches off are left out of the draws: their share must be small here.
  const SetUpDifference d = differ(a, b);
  REQUIRE(d.first_lift_off);
  std::mt19937_64 random(7);
  std::normal_distribution<double> bell;
  const auto move = [](Scene& scene, const char* key, double by) {
    const auto& number = std::get<NumberField>(find_field(key)->kind);
    set_file_value(number, scene, file_value(number, scene) + by);
  };
  const Model like_a = build(a), like_b = build(b);
#ifdef NDEBUG
  constexpr int kRounds = 2000;
#else
  constexpr int kRounds = 200;  // checked by sanitizers, this takes long
#endif
  int inside = 0, load_inside = 0;
  for (int round = 0; round < kRounds; ++round) {
    Scene one = a, two = b;
    for (const auto& [key, value] : common) {
      const double by = 0.5 * value * bell(random);
      move(one, key, by), move(two, key, by);
    }
    for (const auto& [key, value] : own) {
      move(one, key, 0.5 * value * bell(random));
      move(two, key, 0.5 * value * bell(random));
    }
    const StaticSolution sa = solve_statics(build(one, &like_a)), sb = solve_statics(build(two, &like_b));
    REQUIRE(sa.first_lift_off);
    REQUIRE(sb.first_lift_off);
    const double change = *sb.first_lift_off - *sa.first_lift_off;
    inside += change >= *d.first_lift_off->low && change <= *d.first_lift_off->high;
    const double load = sb.rest->load[kRearLeft] - sa.rest->load[kRearLeft];
    load_inside += load >= *d.load[kRearLeft]->low && load <= *d.load[kRearLeft]->high;
  }
  // 95 % expected, less the binomial's own three sigma. Our rules make the interval a little wider.
  const double least = 0.95 * kRounds - 3 * std::sqrt(kRounds * 0.95 * 0.05);
  CHECK(inside >= least);
  CHECK(load_inside >= least);
}

TEST_CASE("who never lifts or cannot rest has no difference") {
  const Scene a = load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
  const Uncertainty known = doubts_of(a);
  Uncertainty never = known;
  never.middle.first_lift_off.reset();
  never.middle.rests = false;
  const SetUpDifference d = difference(a, known, a, never);
  CHECK_FALSE(d.first_lift_off);
  CHECK_FALSE(d.load[0]);
  CHECK(d.tip_over.has_value() == known.middle.tip_over.has_value());
}

TEST_CASE("a side at which one of the two never lifts has no end, and it is that one's side") {
  Scene a = machine_r();
  know_all(a);
  doubt(a, "vehicle.rear.track_m", 0.1);
  const Uncertainty known = doubts_of(a);
  Uncertainty never = known;
  const auto track = std::ranges::find(never.moved, "vehicle.rear.track_m", &Moved::key);
  REQUIRE(track != never.moved.end());
  track->ends[1]->first_lift_off.reset();
  track->ends[1]->slide.reset();
  track->ends[1]->rests = false;
  SetUpDifference d = difference(a, known, a, never);  // the second may never lift: it may be ahead without end
  CHECK(d.first_lift_off->low == 0);
  CHECK_FALSE(d.first_lift_off->high);
  CHECK_FALSE(d.load[0]->low);
  CHECK_FALSE(d.load[0]->high);
  d = difference(a, never, a, known);
  CHECK_FALSE(d.first_lift_off->low);
  CHECK(d.first_lift_off->high == 0);
}

TEST_CASE("the difference of what gives way first is of whichever comes first in each") {
  // Soil on which the one slides before it lifts, and the other, its load high, lifts before it slides.
  const Scene low = test_scene("bucket_up", {"ballast.loader_pin_height_m=0.4", "terrain.soil.adhesion=0.55"});
  const Scene high = test_scene("bucket_up", {"ballast.loader_pin_height_m=3", "terrain.soil.adhesion=0.55"});
  const StaticSolution a = solve_statics(build(low)), b = solve_statics(build(high));
  REQUIRE(a.slide);
  REQUIRE(a.first_lift_off);
  REQUIRE(b.first_lift_off);
  REQUIRE(*a.slide < *a.first_lift_off);
  REQUIRE((!b.slide || *b.first_lift_off < *b.slide));
  const SetUpDifference d = differ(low, high);
  REQUIRE(d.gives_way);
  CHECK_NEAR(d.gives_way->value, *b.first_lift_off - *a.slide, 1e-9);
  CHECK(*d.gives_way->low <= d.gives_way->value);
  CHECK(*d.gives_way->high >= d.gives_way->value);
}

TEST_CASE("the usual place of a load is one unknown for both set-ups only on one and the same tool") {
  const auto loaded = [](const char* tool) {
    return test_machine("utility_75kw", {"ballast.loader_payload_kg=600", "ballast.loader_pin_height_m=2.5",
                                         std::string("ballast.loader_tool=") + tool});
  };
  const Scene forks = loaded("pallet_forks"), spike = loaded("bale_spike");
  Scene heavier = forks;
  heavier.ballast.rear_weights += 200;
  for (const char* key : {"ballast.loader_load_ahead_m", "ballast.loader_tool_mass_kg"}) {
    CHECK(same_unknown(forks, heavier, key));
    CHECK_FALSE(same_unknown(forks, spike, key));
  }
  CHECK(same_unknown(forks, spike, "ballast.loader_pin_height_m"));
}
