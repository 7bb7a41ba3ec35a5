#include "sim/own_machine/weighing.h"

#include <algorithm>
#include <cmath>
#include <random>

#include "render/text/machine/weighing_report.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "vehicles/cavity.h"
#include "vehicles/tyre_size.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

// A machine as lumps, weighed by moments about the rear contact: written from the picture, not from the formulas.
struct Lump {
  double mass;
  Vec3 place;  // x ahead of the rear axle, y left, z over level ground [m]
};
struct Rig {
  std::vector<Lump> lumps{{2700, {0.9, 0.02, 1.0}}, {430, {2.45, 0, 0.575}}, {500, {0, -0.03, 0.785}}};
  double front_liquid = 150, rear_liquid = 880, front_depth = 0.12, rear_depth = 0.185;
  double wheelbase = 2.45, front_radius = 0.575, rear_radius = 0.785, front_track = 1.72, rear_track = 1.8;

  Vec3 centre(double& mass) const {
    Vec3 sum(0.0);
    mass = 0;
    const auto add = [&](double m, const Vec3& p) { sum += m * p, mass += m; };
    for (const Lump& lump : lumps) add(lump.mass, lump.place);
    add(front_liquid, {wheelbase, 0, front_radius - front_depth});
    add(rear_liquid, {0, 0, rear_radius - rear_depth});
    return sum / mass;
  }

  Weighing weigh(bool raise_front, double height, double sunk) const {
    Weighing w;
    w.wheelbase = wheelbase, w.front_radius = front_radius, w.rear_radius = rear_radius;
    w.front_track = front_track, w.rear_track = rear_track;
    double mass;
    const Vec3 c = centre(mass);
    w.front = mass * c.x / wheelbase;
    w.rear = mass - w.front;
    // Any split between left and right that has the right lateral moment.
    const double moment = mass * c.y;
    w.wheel = {0.5 * w.front, 0.5 * w.front, 0.5 * w.rear + moment / rear_track, 0.5 * w.rear - moment / rear_track};
    w.front_raised = raise_front, w.height = height;
    w.standing_radius_then = (raise_front ? rear_radius : front_radius) - sunk;
    w.front_liquid = front_liquid, w.rear_liquid = rear_liquid;
    w.front_liquid_depth = front_depth, w.rear_liquid_depth = rear_depth;
    // Wheel centres then, found by turning the line between them until both heights are right.
    const Vec3 rear_then(0, 0, raise_front ? rear_radius - sunk : rear_radius + height);
    const double front_height = raise_front ? front_radius + height : front_radius - sunk;
    double lo = -1.2, hi = 1.2;
    const Vec3 between(wheelbase, 0, front_radius - rear_radius);
    const auto front_at = [&](double a) { return rear_then.z + between.x * std::sin(a) + between.z * std::cos(a); };
    for (int i = 0; i < 100; ++i) (front_at(0.5 * (lo + hi)) < front_height ? lo : hi) = 0.5 * (lo + hi);
    const double a = lo;
    const auto turned = [&](const Vec3& p) {
      const double dx = p.x, dz = p.z - rear_radius;
      return dx * std::cos(a) - dz * std::sin(a);  // ahead of the rear wheel centre
    };
    double about_rear = 0;
    for (const Lump& lump : lumps) about_rear += lump.mass * turned(lump.place);
    const double apart = between.x * std::cos(a) - between.z * std::sin(a);
    about_rear += front_liquid * apart;  // hangs under the front wheel centre
    w.front_then = about_rear / apart;
    return w;
  }
};

}  // namespace

TEST_CASE("what was put in comes out: three directions, either axle raised, tyres sinking, liquid staying level") {
  const Rig rig;
  double mass;
  const Vec3 c = rig.centre(mass);
  for (const bool front : {true, false}) {
    for (const double height : {0.2, 0.6, 1.0}) {
      CAPTURE(height);
      const Weighing w = rig.weigh(front, height, 0.012);
      REQUIRE_FALSE(find_weighing_conflict(w));
      const WeighedCentre got = centre_of_gravity_of(w);
      CHECK_NEAR(got.mass, mass, 1e-9);
      CHECK_NEAR(got.x, c.x, 1e-9);
      CHECK_NEAR(*got.y, c.y, 1e-9);
      CHECK_NEAR(got.z, c.z, 1e-6);
      CHECK((got.angle > 0) == front);
      // The other axle's load says the same.
      Weighing other = w;
      other.rear_then = w.front + w.rear - *w.front_then;
      other.front_then.reset();
      CHECK_NEAR(centre_of_gravity_of(other).z, c.z, 1e-6);
      CHECK_NEAR(*weighed_at(w, c.z).front_then, *w.front_then, 1e-6);
    }
  }
}

TEST_CASE("leaving out that liquid stays level, or that tyres sink, shows") {
  const Rig rig;
  double mass;
  const Vec3 c = rig.centre(mass);
  Weighing w = rig.weigh(true, 0.6, 0.012);
  w.standing_radius_then.reset();
  CHECK(std::abs(centre_of_gravity_of(w).z - c.z) > 0.002);
  w = rig.weigh(true, 0.6, 0);
  w.front_liquid = w.rear_liquid = 0;
  CHECK(std::abs(centre_of_gravity_of(w).z - c.z) > 0.02);
}

TEST_CASE("a machine of the program, weighed level by its own statics, has its centre where the ledger says") {
  const Scene scene = test_machine("utility_75kw", {"vehicle.rear.tyre.rigid=true", "vehicle.front.tyre.rigid=true",
                                                    "ballast.rear.fill_fraction=0.75"});
  const Model model = build(scene);
  const auto rest = rest_at(model, 0);
  REQUIRE(rest);
  Weighing w;
  w.wheelbase = model.wheelbase;
  w.front_radius = scene.vehicle.front.tyre.free_radius, w.rear_radius = scene.vehicle.rear.tyre.free_radius;
  w.front_track = scene.vehicle.front.track, w.rear_track = scene.vehicle.rear.track;
  for (std::size_t i = 0; i < 4; ++i) w.wheel[i] = rest->load[i] / model.gravity;
  w.front = *w.wheel[0] + *w.wheel[1], w.rear = *w.wheel[2] + *w.wheel[3];
  w.height = 0.6;
  w.rear_liquid = 2 * model.wheels[kRearLeft].liquid.mass, w.rear_liquid_depth = model.wheels[kRearLeft].liquid.depth;
  const Vec3 c = centre_of_gravity(model);
  const WeighedCentre got = centre_of_gravity_of(weighed_at(w, c.z));
  CHECK_NEAR(got.x, c.x, 1e-4);
  CHECK_NEAR(*got.y, c.y, 1e-4);
  CHECK_NEAR(got.z, c.z, 1e-9);
}

TEST_CASE("noisy weighings scatter as the stated error says") {
  const Rig rig;
  const Weighing w = rig.weigh(true, 0.6, 0.01);
  const WeighingTolerance t;
  const WeighingError e = error_of(w, t);
  std::mt19937_64 random(11);
  std::normal_distribution<double> bell;
  const auto noise = [&](double tolerance) { return 0.5 * tolerance * bell(random); };
  const auto scale = [&](double load) { return noise(std::max(t.scale * load, t.scale_least)); };
  const WeighedCentre middle = centre_of_gravity_of(w);
  int inside = 0;
  Vec3 squares(0.0);
  constexpr int kRounds = 2000;
  for (int i = 0; i < kRounds; ++i) {
    Weighing n = w;
    for (std::size_t k = 0; k < 4; ++k) *n.wheel[k] += scale(*w.wheel[k]);
    n.front = *n.wheel[0] + *n.wheel[1], n.rear = *n.wheel[2] + *n.wheel[3];
    *n.front_then += scale(*w.front_then);
    n.wheelbase += noise(t.length), n.front_radius += noise(t.length), n.rear_radius += noise(t.length);
    n.front_track += noise(t.length), n.rear_track += noise(t.length);
    n.height += noise(t.length), *n.standing_radius_then += noise(t.length);
    n.front_liquid *= 1 + noise(t.liquid), n.rear_liquid *= 1 + noise(t.liquid);
    n.front_liquid_depth += noise(t.depth), n.rear_liquid_depth += noise(t.depth);
    const WeighedCentre got = centre_of_gravity_of(n);
    const Vec3 off(got.x - middle.x, *got.y - *middle.y, got.z - middle.z);
    squares += off * off;
    inside += std::abs(off.z) <= e.centre.z;
  }
  CHECK_NEAR(inside / double(kRounds), 0.954, 0.015);  // three sigma of 2000 draws
  for (int k = 0; k < 3; ++k) CHECK_NEAR(2 * std::sqrt(squares[k] / kRounds), e.centre[k], 0.06 * e.centre[k]);
}

TEST_CASE("the plan's height gives the accuracy it promises, whichever axle is read") {
  const Rig rig;
  const WeighingTolerance t;
  double mass;
  const double z = rig.centre(mass).z;
  std::array<double, 2> raise{};
  for (const bool front_read : {true, false}) {
    const auto sheet = [&](double height) {
      Weighing w = rig.weigh(true, height, 0);
      if (!front_read) w.rear_then = w.front + w.rear - *w.front_then, w.front_then.reset();
      return w;
    };
    const auto height = least_raise(sheet(0.6), t, z, 0.05);
    REQUIRE(height);
    raise[front_read] = *height;
    CHECK(error_of(sheet(*height), t).centre.z <= 0.05);
    CHECK(error_of(sheet(*height - 0.05), t).centre.z > 0.05);
  }
  Weighing fine = rig.weigh(true, 0.6, 0);
  const auto steep = least_raise(fine, t, z, 0.015);
  CHECK_FALSE(steep);  // only beyond 25 deg
  fine.height = 1.2;
  CHECK(error_of(weighed_at(fine, z), t).centre.z < 0.02);
  CHECK(raise[false] > raise[true]);  // the heavier axle is weighed with the larger error
}

TEST_CASE("liquid in a tyre: the room of its size, and the centroid found point by point") {
  const double free = 0.815, rim = 0.432, width = 0.467, fill = 0.6, density = 1207;
  const TyreLiquid in = liquid_in_tyre(free, rim, width, fill, density);
  const double room = tyre_cavity_volume(SizeSeries::drive, width, 2 * free, 2 * rim);
  CHECK_NEAR(in.mass, density * fill * room, 1e-6);
  // The same ring as points: those below a level that holds the fill, and their mean.
  const Cavity cavity = cavity_of(free, rim, width, room);
  const double middle = 0.5 * (cavity.inner_radius + cavity.outer_radius),
               half = 0.5 * (cavity.outer_radius - cavity.inner_radius);
  std::vector<std::pair<double, double>> points;  // height, weight: the width of the section there
  constexpr int kSteps = 600;
  double all = 0;
  for (int i = 0; i < kSteps; ++i)
    for (int k = 0; k < kSteps; ++k) {
      const double x = cavity.outer_radius * (2 * (i + 0.5) / kSteps - 1),
                   z = cavity.outer_radius * (2 * (k + 0.5) / kSteps - 1);
      const double over = (std::hypot(x, z) - middle) / half;
      if (std::abs(over) >= 1) continue;
      points.emplace_back(z, std::sqrt(1 - over * over));
      all += points.back().second;
    }
  std::ranges::sort(points);
  double below = 0, moment = 0;
  for (const auto& [z, weight] : points) {
    if (below >= fill * all) break;
    below += weight;
    moment += weight * z;
  }
  CHECK_NEAR(-moment / below, in.depth, 0.001);
  CHECK_NEAR(liquid_in_tyre(free, rim, width, 1, density).depth, 0, 1e-6);
}

TEST_CASE("raised higher the height is known better, and the plan says how high") {
  const Rig rig;
  const WeighingTolerance t;
  CHECK(error_of(rig.weigh(true, 0.3, 0), t).centre.z > error_of(rig.weigh(true, 0.9, 0), t).centre.z);
  Weighing w = rig.weigh(true, 0.6, 0);
  const auto height = least_raise(w, t, 0.9, 0.05);
  REQUIRE(height);
  w.height = *height;
  CHECK(error_of(weighed_at(w, 0.9), t).centre.z <= 0.05);
  CHECK_FALSE(least_raise(w, t, 0.9, 1e-4));
}

TEST_CASE("files: the example is read, slips are named, and nothing crashes") {
  const WeighingSheet sheet = load_weighing(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/weighing/utility_tractor.toml");
  const WeighedCentre c = centre_of_gravity_of(sheet.weighing);
  CHECK(c.z > 0.6);
  CHECK(c.z < 1.2);
  CHECK(c.y);
  CHECK(weighing_table(sheet).find("nan") == std::string::npos);
  CHECK(weighing_plan(&sheet).find("raise the front axle by") != std::string::npos);
  const std::string good = read_text(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/weighing/utility_tractor.toml");
  const auto message = [&](const std::string& from, const std::string& to) {
    std::string text = good;
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    text.replace(at, from.size(), to);
    try {
      parse_weighing(text, "w.toml");
    } catch (const InputError& error) {
      return std::string(error.what());
    }
    return std::string("read");
  };
  const auto says = [&](const std::string& from, const std::string& to, const char* words) {
    const std::string said = message(from, to);
    INFO(said);
    CHECK(said.find(words) != std::string::npos);
  };
  says("wheelbase_m = 2.45", "wheelbase = 2.45", "did you mean wheelbase_m");
  says("front_left_kg = 830", "", "stands alone");
  says("raise_front_m = 0.60", "raise_front_m = 2.9", "would tip the machine");
  says("raise_front_m = 0.60", "", "one axle must have been raised");
  says("raise_front_m = 0.60", "raise_front_m = 0.6\nraise_rear_m = 0.5", "allowed one of them");
  says("raised_rear_kg = 3296", "", "at least one axle's load");
  says("raised_rear_kg = 3296", "raised_rear_kg = 2000", "check which axle was raised");
  says("rear_liquid_kg = 880", "rear_liquid_kg = 19000", "does not fit into two tyres");
  says("rear_liquid_kg = 880", "rear_liquid_kg = 2500", "does not fit into two tyres");
  says("rear_fill_fraction = 0.75", "rear_fill_fraction = 0",
       "rear_liquid_kg: does not fit into two tyres filled to 0");
  says("wheelbase_m = 2.45", "wheelbase_m = nan", "not finite");
  says("raised_rear_kg = 3296", "raised_rear_kg = 4900", "more than the whole machine");
  says("raised_standing_radius_m = 0.780", "raised_standing_radius_m = 0.5", "no tyre gives so much");
  says("rear_fill_fraction = 0.75", "", "where does it lie");
  says("rear_fill_fraction = 0.75", "rear_fill_fraction = 0.75\nrear_liquid_depth_m = 0.2", "is said twice");
  says("rear_rim_radius_m = 0.432", "", "rear_fill_fraction needs it");
  says("rear_rim_radius_m = 0.432", "rear_rim_radius_m = 0.8", "no room for a tyre");
  says("rear_liquid_kg = 880", "", "needs rear_liquid_kg or rear_liquid_kg_per_m3");
  says("raise_front_m = 0.60", "raise_front_m = 0.05\nlength_tolerance_m = 0.06", "too little for these tolerances");
  says("raised_rear_kg = 3296", "raised_rear_kg = 3296\nfront_liquid_kg = 100\nfront_liquid_depth_m = 0.6",
       "under the ground");
  CHECK(message("raised_rear_kg = 3296", "raised_rear_kg = 4900").starts_with("w.toml:16: raised_rear_kg: "));
  // Filled by density instead of mass: both tyres of the axle, and the place of the fill.
  std::string by_density = good;
  by_density.replace(by_density.find("rear_liquid_kg = 880"), 20, "rear_liquid_kg_per_m3 = 1207");
  const Weighing filled = parse_weighing(by_density, "w.toml").weighing;
  const TyreLiquid in = liquid_in_tyre(0.815, 0.432, 0.467, 0.75, 1207);
  CHECK_NEAR(filled.rear_liquid, 2 * in.mass, 1e-9);
  CHECK_NEAR(filled.rear_liquid_depth, in.depth, 1e-12);
  CHECK_NEAR(sheet.weighing.rear_liquid, 880, 1e-12);
  CHECK_NEAR(sheet.weighing.rear_liquid_depth, in.depth, 1e-12);
  std::mt19937_64 random(2);
  int read = 0;
  for (int round = 0; round < 400; ++round) {
    // The good file with some values anywhere in their range or nearly as they were, some keys gone.
    std::string text;
    const auto values = read_numbers(good, "w.toml", weighing_keys());
    for (std::size_t k = 0; k < values.size(); ++k) {
      const NumberKey& key = weighing_keys()[k];
      if (!values[k].given || random() % 40 == 0) continue;
      double value = values[k].value * std::uniform_real_distribution<double>(0.9, 1.1)(random);
      if (random() % 30 == 0) value = std::uniform_real_distribution<double>(key.min, key.max)(random);
      text += std::string(key.key) + " = " + std::to_string(std::clamp(value, key.min, key.max)) + "\n";
    }
    try {
      const WeighingSheet one = parse_weighing(text, "r.toml");
      ++read;
      CHECK(weighing_json(one).dump().find("nan") == std::string::npos);
      CHECK(std::isfinite(centre_of_gravity_of(one.weighing).z));
    } catch (const InputError&) {
    }
  }
  CHECK(read > 40);
  CHECK(read < 400);
}

TEST_CASE("a sheet whose sums can be done but hardly be true says so") {
  const auto table = [](const std::string& from, const std::string& to) {
    std::string text = read_text(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/weighing/utility_tractor.toml");
    text.replace(text.find(from), from.size(), to);
    return weighing_table(parse_weighing(text, "w.toml"));
  };
  CHECK(table("raised_rear_kg = 3296", "raised_rear_kg = 3296").find("odd") == std::string::npos);
  CHECK(table("raised_rear_kg = 3296", "raised_rear_kg = 2900").find("is odd for a tractor") != std::string::npos);
  CHECK(table("raised_rear_kg = 3296", "raised_rear_kg = 3900").find("is odd for a tractor") != std::string::npos);
}
