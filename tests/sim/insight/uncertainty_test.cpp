#include "sim/insight/uncertainty.h"

#include <algorithm>
#include <cmath>
#include <random>

#include "sim/base/constants.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "vehicles/loader_tool.h"

using namespace sidehill;

TEST_CASE("what is not known of the stiffening moves the lift-off, and only with something in the tyres") {
  const auto doubt = [](std::vector<std::string> more) {
    more.push_back("terrain.soil.adhesion_unlimited=true");
    return stiffening_doubt(build(test_machine("utility_75kw", more)));
  };
  CHECK(*doubt({"ballast.rear.fill_fraction=0"}) == 0);
  const auto half = doubt({"ballast.rear.fill_fraction=0.5"}), full = doubt({"ballast.rear.fill_fraction=0.9"});
  REQUIRE(half);
  REQUIRE(full);
  CHECK(*half > 0);
  CHECK(*full > *half);
  CHECK(*doubt({"ballast.rear.fill_fraction=0.9", "ballast.front.fill_fraction=0.9"}) > *full);
  CHECK(*doubt({"settings.temperature_c=-20"}) > 0);  // cold air, softer tyres: estimated too
  CHECK(*full / kDegree < 0.5);                       // small against everything else, and said so
}

TEST_CASE("the doubt covers the answers at either end of the stiffness") {
  Model model = build(test_machine("row_crop_150kw", {"ballast.rear.fill_fraction=0.9"}));
  const double middle = *first_lift_off(model).slope, doubt = *stiffening_doubt(model);
  for (int side : {-1, 1}) {
    Model moved = model;
    for (std::size_t i = kRearLeft; i <= kRearRight; ++i)
      moved.wheels[i].tyre.vertical_stiffness += 2 * side * model.wheels[i].tyre.vertical_stiffness_uncertainty;
    CHECK(std::abs(*first_lift_off(moved).slope - middle) < 1.5 * doubt);
    CHECK(std::abs(*first_lift_off(moved).slope - middle) > 0.5 * doubt);
  }
}

TEST_CASE("intervals: one doubt alone is the answer's own difference, two add as squares") {
  Scene scene = machine_r();
  // Everything known exactly but two.
  for (const Field& field : scene_fields())
    if (default_tolerance(field, scene) > 0) scene.tolerances.push_back({std::string(field.key), 0});
  for (const char* axle : {"front", "rear"})
    scene.tolerances.push_back({std::string("vehicle.") + axle + ".tyre.pressure_offset_m", 0});
  const Model model = build(scene);
  const StaticSolution statics = solve_statics(model);
  Uncertainty u = uncertainty(scene, model, statics);
  REQUIRE(u.first_lift_off);
  CHECK_NEAR(u.first_lift_off->high - u.first_lift_off->low, 0, 1e-12);
  const auto moved = [&](std::string_view key, double value) {
    for (Tolerance& t : scene.tolerances)
      if (t.key == key) t.value = value;
    return uncertainty(scene, model, statics);
  };
  // Machine R, rigid: tan a = b (L - xg) / (h L - hp xg); here with the rear track +- 10 mm.
  const auto closed = [](double b, double h) { return std::atan2(b * (2.2 - 0.9), h * 2.2 - 0.55 * 0.9); };
  u = moved("vehicle.rear.track_m", 0.01);
  const double up = closed(0.805, 0.85) - closed(0.8, 0.85), down = closed(0.8, 0.85) - closed(0.795, 0.85);
  CHECK_NEAR((u.first_lift_off->high - *statics.first_lift_off) / kDegree, up / kDegree, 1e-3);
  CHECK_NEAR((*statics.first_lift_off - u.first_lift_off->low) / kDegree, down / kDegree, 1e-3);
  REQUIRE(u.doubts.size() >= 1);
  CHECK(u.doubts.front().key == "vehicle.rear.track_m");
  u = moved("vehicle.chassis.centre_of_gravity_z_m", 0.02);
  const double lower = closed(0.8, 0.83) - closed(0.8, 0.85);
  CHECK_NEAR((u.first_lift_off->high - *statics.first_lift_off) / kDegree, std::hypot(up, lower) / kDegree, 2e-3);
}

TEST_CASE("random machines drawn within the tolerances fall into the interval nineteen times in twenty") {
  Scene scene = test_machine("utility_75kw", {"terrain.slope_deg=10"});
  const std::pair<const char*, double> drawn[] = {{"vehicle.rear.track_m", 0.05},
                                                  {"vehicle.chassis.centre_of_gravity_z_m", 0.05},
                                                  {"vehicle.chassis.centre_of_gravity_y_m", 0.02},
                                                  {"vehicle.chassis.mass_kg", 100},
                                                  {"ballast.rear_left.fill_fraction", 0.1}};
  for (const Field& field : scene_fields())
    if (default_tolerance(field, scene) > 0) scene.tolerances.push_back({std::string(field.key), 0});
  for (const char* key : {"vehicle.front.tyre.pressure_offset_m", "vehicle.rear.tyre.pressure_offset_m",
                          "vehicle.front.tyre.cavity_volume_l", "vehicle.rear.tyre.cavity_volume_l"})
    scene.tolerances.push_back({key, 0});
  for (const auto& [key, value] : drawn)
    for (Tolerance& t : scene.tolerances)
      if (t.key == key) t.value = value;
  const Model model = build(scene);
  const Uncertainty u = uncertainty(scene, model, solve_statics(model));
  std::mt19937_64 random(5);
  std::normal_distribution<double> bell;
  constexpr int kRounds = 200;
  int inside = 0, load_inside = 0;
  for (int round = 0; round < kRounds; ++round) {
    Scene one = scene;
    for (const auto& [key, value] : drawn) {
      const auto& number = std::get<NumberField>(find_field(key)->kind);
      set_file_value(number, one, file_value(number, one) + 0.5 * value * bell(random));
    }
    const StaticSolution s = solve_statics(build(one, &model));
    REQUIRE(s.first_lift_off);
    inside += *s.first_lift_off >= u.first_lift_off->low && *s.first_lift_off <= u.first_lift_off->high;
    load_inside +=
        s.rest->load[kRearLeft] >= u.load[kRearLeft].low && s.rest->load[kRearLeft] <= u.load[kRearLeft].high;
  }
  // 190 of 200 expected; the binomial's own three sigma are 9.
  CHECK(inside >= 181);
  CHECK(inside <= 199);
  CHECK(load_inside >= 181);
  CHECK(load_inside <= 200);
}

TEST_CASE("a model built like another borrows its tables and is the same to the bit") {
  const Scene scene =
      test_machine("row_crop_150kw", {"ballast.rear.fill_fraction=0.7", "ballast.front.fill_fraction=0.4"});
  const Model a = build(scene), b = build(scene, &a);
  CHECK(a.wheels[kRearLeft].liquid.table.z == b.wheels[kRearLeft].liquid.table.z);
  CHECK(a.wheels[kRearLeft].liquid.mass == b.wheels[kRearLeft].liquid.mass);
  CHECK(*first_lift_off(a).slope == *first_lift_off(b).slope);
  Scene other = scene;
  other.ballast.fill[kRearLeft].fill_fraction = 0.5;
  const Model c = build(other, &a), d = build(other);
  CHECK(c.wheels[kRearLeft].liquid.table.z == d.wheels[kRearLeft].liquid.table.z);
}

TEST_CASE("the grip across the wheels has a doubt of its own where grip has an end") {
  Scene scene = load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
  const Field& ratio = *find_field("terrain.soil.adhesion_across_ratio");
  scene.terrain.soil.adhesion_unlimited = true;
  CHECK(default_tolerance(ratio, scene) == 0);
  scene.terrain.soil.adhesion_unlimited = false;
  scene.terrain.soil.adhesion = 0.4, scene.terrain.soil.adhesion_across_ratio = 0.8;
  CHECK_NEAR(default_tolerance(ratio, scene), 0.1, 1e-12);
  const Model model = build(scene);
  const Uncertainty u = uncertainty(scene, model, solve_statics(model));
  CHECK(std::ranges::any_of(u.doubts, [](const Doubt& d) { return d.key == "terrain.soil.adhesion_across_ratio"; }));
  scene.tolerances.push_back({"terrain.soil.adhesion_across_ratio", 1e-6});
  const Uncertainty known = uncertainty(scene, model, solve_statics(model));
  REQUIRE(u.slide);
  REQUIRE(known.slide);
  CHECK(u.slide->high - u.slide->low > known.slide->high - known.slide->low + 0.01);
}

TEST_CASE("the density of what is in the tyres is in doubt too, liquid, frozen or cured") {
  const auto masses = [](const std::vector<std::string>& changes) {
    Scene scene = test_machine("utility_75kw", changes);
    for (const Field& field : scene_fields())
      if (default_tolerance(field, scene) > 0) scene.tolerances.push_back({std::string(field.key), 0});
    for (const char* axle : {"front", "rear"})
      scene.tolerances.push_back({std::string("vehicle.") + axle + ".tyre.cavity_volume_l", 0});
    const Model model = build(scene);
    double fill = 0;
    for (const LedgerLine& line : model.ledger)
      if (line.item == LedgerItem::fill) fill += line.props.mass;
    const Uncertainty u = uncertainty(scene, model, solve_statics(model));
    const auto density = std::ranges::find(u.doubts, "rear tyres: density of the filling", &Doubt::key);
    struct Said {
      double fill, half, tolerance;
    };
    return Said{fill, (u.mass.high - u.mass.low) / 2, density == u.doubts.end() ? 0 : density->tolerance};
  };
  const std::string medium = "ballast.rear.medium=", full = "ballast.rear.fill_fraction=0.75";
  CHECK(masses({"ballast.rear.fill_fraction=0"}).tolerance == 0);
  for (const char* what : {"water", "calcium_chloride_5", "magnesium_chloride", "beet_by_product"}) {
    CAPTURE(what);
    const auto said = masses({medium + what, full});
    const Medium filled = test_machine("utility_75kw", {medium + what, full}).ballast.fill[kRearLeft].medium;
    REQUIRE(said.fill > 0);
    // Alike left and right, so both are off together: two standard deviations of the density over all of it.
    CHECK_NEAR(said.half, 2 * density_uncertainty(filled, 0) * said.fill, 1e-6 * said.fill);
    CHECK(said.tolerance > 0);
  }
  // Of a data sheet: 2 % at two standard deviations, or what the scene says.
  const std::string sheet = "ballast.own_medium.density_kg_per_m3=1250";
  const auto own = masses({medium + "own", full, sheet});
  CHECK_NEAR(own.half, 0.02 * own.fill, 1e-6 * own.fill);
  CHECK_NEAR(own.tolerance, 25, 1e-9);
  const auto measured =
      masses({medium + "own", full, sheet, R"(tolerance+={key="ballast.own_medium.density_kg_per_m3", value=5})"});
  CHECK_NEAR(measured.half, 5 / 1250. * own.fill, 1e-6 * own.fill);
  const auto frozen = masses({medium + "water", full, "settings.temperature_c=-20"});
  CHECK_NEAR(frozen.half, 0.002 * frozen.fill, 1e-6 * frozen.fill);
  const auto foam = masses({medium + "polyurethane", "ballast.rear.fill_fraction=1"});
  CHECK_NEAR(foam.half, 0.05 * foam.fill, 1e-6 * foam.fill);
}

TEST_CASE("the room in a tyre is in doubt whether what fills it is liquid, frozen or cured") {
  for (const char* change : {"settings.temperature_c=10", "settings.temperature_c=-20"}) {
    CAPTURE(change);
    const Scene scene = test_machine(
        "utility_75kw", {"ballast.rear.medium=water", "ballast.rear.fill_fraction=0.75", std::string(change)});
    const Model model = build(scene);
    const Uncertainty u = uncertainty(scene, model, solve_statics(model));
    CHECK(std::ranges::any_of(u.doubts, [](const Doubt& d) { return d.key == "vehicle.rear.tyre.cavity_volume_l"; }));
  }
}

TEST_CASE("a load whose place nobody measured, and a tool that nobody weighed, are in the intervals") {
  const auto doubt_of = [](const Scene& scene, std::string_view key) -> std::optional<Doubt> {
    const Model model = build(scene);
    const Uncertainty u = uncertainty(scene, model, solve_statics(model));
    const auto found = std::ranges::find(u.doubts, key, &Doubt::key);
    return found == u.doubts.end() ? std::nullopt : std::optional(*found);
  };
  const std::string_view ahead = "ballast.loader_load_ahead_m", mass = "ballast.loader_tool_mass_kg";
  const auto scene = [](std::vector<std::string> more) {
    more.insert(more.begin(), {"ballast.loader_payload_kg=600", "ballast.loader_pin_height_m=2.5"});
    return test_machine("utility_75kw", more);
  };
  // Of a bucket the load's usual place; its mass is the machine's bucket_mass_kg.
  const auto bucket = doubt_of(scene({}), ahead);
  REQUIRE(bucket);
  CHECK_NEAR(bucket->tolerance, load_off(scene({}).ballast), 1e-12);
  CHECK(bucket->high - bucket->low > 0);
  CHECK_FALSE(doubt_of(scene({}), mass));
  // Of another tool both, until they are given; then as any number that is.
  const Scene forks = scene({"ballast.loader_tool=pallet_forks"});
  CHECK(doubt_of(forks, ahead)->tolerance > 0.05);
  CHECK_NEAR(doubt_of(forks, mass)->tolerance, kToolMassOff * tool_mass(forks.vehicle.loader, forks.ballast), 1e-9);
  const Scene known =
      scene({"ballast.loader_tool=pallet_forks", "ballast.loader_tool_mass_kg=180", "ballast.loader_load_ahead_m=0.7"});
  CHECK_NEAR(doubt_of(known, ahead)->tolerance, 0.05, 1e-12);
  CHECK_NEAR(doubt_of(known, mass)->tolerance, 9, 1e-9);
  // The ends are the answers of scenes that say so.
  const auto change_at = [&](double off) {
    Scene moved = scene({});
    moved.ballast.loader_load_ahead = load_from_pin(moved.ballast).x + off;
    return *solve_statics(build(moved)).first_lift_off - *solve_statics(build(scene({}))).first_lift_off;
  };
  const double off = load_off(scene({}).ballast), back = change_at(-off), ahead_of_it = change_at(off);
  const double near = 0.02 * (bucket->high - bucket->low);
  CHECK_NEAR(bucket->low, std::min({back, ahead_of_it, 0.0}), near);
  CHECK_NEAR(bucket->high, std::max({back, ahead_of_it, 0.0}), near);
  // A tolerance of one's own counts, and an empty loader has no load to be off.
  Scene said = scene({});
  said.tolerances.push_back({std::string(ahead), 0.02});
  CHECK_NEAR(doubt_of(said, ahead)->tolerance, 0.02, 1e-12);
  CHECK_FALSE(doubt_of(test_machine("utility_75kw"), ahead));
}
