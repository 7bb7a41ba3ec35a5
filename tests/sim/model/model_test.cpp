// A scene turned into bodies: masses, places, liquid, what is refused, what is warned of.
#include "sim/model/model.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "sim/base/errors.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "vehicles/liquid.h"
#include "vehicles/tyre_cavity.h"

using namespace sidehill;

namespace {

bool warns(const Model& model, const std::string& words) {
  return std::any_of(model.cautions.begin(), model.cautions.end(),
                     [&](const std::string& caution) { return caution.find(words) != std::string::npos; });
}

std::string refusal(const Scene& scene) {
  try {
    build(scene);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("the bodies together weigh what the ledger says, about the same centre, with the same inertia") {
  for (const char* machine : kMachines) {
    INFO(std::string(machine));
    Scene scene = test_machine(machine, {"ballast.rear.fill_fraction=0.7", "ballast.front.fill_fraction=0.3"});
    scene.ballast.rear_weights = 200, scene.ballast.rear_wheel_weights = 60;
    const Model m = build(scene);
    // Add the model's bodies up again, in V.
    MassProperties sum_of = combine(m.chassis, moved(m.axle, {Mat3(1.0), m.pin}));
    if (m.loader.fitted) sum_of = combine(sum_of, moved(m.loader.boom, {Mat3(1.0), m.loader.pivot}));
    for (const WheelModel& wheel : m.wheels) {
      sum_of = combine(sum_of, moved(wheel.dry, {Mat3(1.0), wheel.centre}));
      if (wheel.liquid.mass > 0)
        sum_of =
            combine(sum_of, {wheel.liquid.mass, wheel.centre - Vec3(0, 0, wheel.liquid.depth), wheel.liquid.inertia});
    }
    const MassProperties ledger = sum(m.ledger);
    CHECK_NEAR(sum_of.mass, ledger.mass, 1e-9 * ledger.mass);
    CHECK_NEAR(total_mass(m), ledger.mass, 1e-9 * ledger.mass);
    const Vec3 up(0, 0, scene.vehicle.rear.tyre.free_radius);  // V's origin over the ground
    CHECK_NEAR(glm::length(sum_of.com + up - centre_of_gravity(m)), 0, 1e-9);
    for (int k = 0; k < 3; ++k) CHECK_NEAR(sum_of.inertia[k][k], ledger.inertia[k][k], 1e-9 * ledger.inertia[k][k]);
  }
}

TEST_CASE("wheels, pin and loader stand where the machine's file puts them") {
  const Scene scene = test_machine("utility_75kw");
  const Model m = build(scene);
  const Vehicle& v = scene.vehicle;
  const double r = v.rear.tyre.free_radius;
  for (int w = 0; w < kWheels; ++w) {
    const Axle& axle = axle_of(v, w);
    const Vec3 expected(is_front(w) ? v.wheelbase : 0.0, (is_left(w) ? 0.5 : -0.5) * axle.track,
                        axle.tyre.free_radius - r);
    CHECK_NEAR(glm::length(m.wheels[static_cast<std::size_t>(w)].centre - expected), 0, 1e-12);
  }
  CHECK_NEAR(glm::length(m.pin - Vec3(v.wheelbase, 0, v.front_axle.pin_height - r)), 0, 1e-12);
  CHECK_NEAR(m.loader.pivot.z + m.loader.length * std::sin(m.loader.angle) + r, scene.ballast.loader_pin_height, 1e-12);
  for (const HullPoint& point : m.hull) CHECK(point.place.z + r > 0);
}

TEST_CASE("a fill weighs its share of the cavity times its density, and hangs under the axle") {
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75"});
  const Model m = build(scene);
  const Tyre& tyre = scene.vehicle.rear.tyre;
  const Cavity cavity = cavity_of(tyre);
  const LiquidLump& lump = m.wheels[kRearLeft].liquid;
  CHECK_NEAR(lump.mass, 0.75 * cavity_volume(cavity) * water_density(scene.settings.temperature), 1e-9 * lump.mass);
  CHECK_NEAR(lump.depth, -liquid_place(cavity, 0.75, 0).z, 1e-9);
  CHECK(lump.depth > 0);
  CHECK(m.wheels[kFrontLeft].liquid.mass == 0);
  scene.ballast.fill[kRearLeft].fill_fraction = scene.ballast.fill[kRearRight].fill_fraction = 0;
  const Model dry = build(scene);
  CHECK_NEAR(total_mass(m) - total_mass(dry), 2 * lump.mass, 1e-9);
  CHECK(centre_of_gravity(m).z < centre_of_gravity(dry).z);
  CHECK(m.wheels[kRearLeft].tyre.vertical_stiffness > dry.wheels[kRearLeft].tyre.vertical_stiffness);
}

TEST_CASE("each piece of ballast adds its mass where it sits") {
  struct Case {
    const char* name;
    std::function<void(Scene&)> put;
    double mass;
    std::function<double(const Vehicle&)> ahead;
  };
  const Case cases[] = {
      {"front weights", [](Scene& s) { s.ballast.front_weights = 300; }, 300,
       [](const Vehicle& v) { return v.front_mount.x; }},
      {"rear weights", [](Scene& s) { s.ballast.rear_weights = 300; }, 300,
       [](const Vehicle& v) { return v.rear_mount.x; }},
      {"front wheel weights", [](Scene& s) { s.ballast.front_wheel_weights = 50; }, 100,
       [](const Vehicle& v) { return v.wheelbase; }},
      {"rear wheel weights", [](Scene& s) { s.ballast.rear_wheel_weights = 50; }, 100,
       [](const Vehicle&) { return 0.0; }},
      {"nobody on the seat", [](Scene& s) { s.vehicle.driver.on_seat = false; }, -85,
       [](const Vehicle& v) { return v.driver.place.x; }},
  };
  const Scene plain = test_machine("utility_75kw");
  const Model before = build(plain);
  for (const Case& c : cases) {
    INFO(std::string(c.name));
    Scene scene = plain;
    c.put(scene);
    const Model after = build(scene);
    CHECK_NEAR(total_mass(after) - total_mass(before), c.mass, 1e-9);
    const double moment =
        total_mass(after) * centre_of_gravity(after).x - total_mass(before) * centre_of_gravity(before).x;
    CHECK_NEAR(moment / c.mass, c.ahead(plain.vehicle), 1e-6);
  }
}

TEST_CASE("a loader's load moves up and back on its circle as the boom rises") {
  Scene scene = test_machine("utility_75kw");
  scene.ballast.loader_payload = 500;
  const Loader& loader = scene.vehicle.loader;
  double last = 0;
  for (double pin = loader.min_pin_height; pin <= loader.max_pin_height; pin += 0.25) {
    scene.ballast.loader_pin_height = pin;
    const Model m = build(scene);
    const double height = centre_of_gravity(m).z;
    CHECK(height > last);
    last = height;
    CHECK_NEAR(m.loader.length * std::sin(m.loader.angle), pin - loader.pivot_z, 1e-12);
  }
}

TEST_CASE("the impossible is refused by the datum's key") {
  Scene scene = test_machine("utility_75kw");
  scene.ballast.loader_pin_height = 9;
  CHECK(refusal(scene).find("ballast.loader_pin_height_m = 9") != std::string::npos);
  scene = test_machine("utility_75kw");
  scene.vehicle.loader.max_pin_height = 50;
  CHECK(refusal(scene).find("vehicle.loader.max_pin_height_m") != std::string::npos);
  scene = test_machine("row_crop_150kw");
  scene.vehicle.loader.fitted = false;
  scene.ballast.point_masses.push_back({"hook", Carrier::boom, 100, {3, 0, 1}});
  CHECK(refusal(scene).find("ballast.point_mass") != std::string::npos);
  scene = machine_r();
  scene.vehicle.chassis.mass = 0;
  CHECK(refusal(scene).find("vehicle.chassis.mass_kg") != std::string::npos);
}

TEST_CASE("what was pumped in keeps its mass in the cold; its room, the air's pressure and the spring change") {
  const Model warm = build(
      test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75", "ballast.rear.medium=calcium_chloride_3_5"}));
  const Model cold =
      build(test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.75", "ballast.rear.medium=calcium_chloride_3_5",
                                          "settings.temperature_c=-15"}));
  const WheelModel &a = warm.wheels[kRearLeft], &b = cold.wheels[kRearLeft];
  CHECK_NEAR(a.liquid.mass, b.liquid.mass, 1e-9);
  CHECK(b.liquid.depth > a.liquid.depth + 1e-4);  // it shrank and lies deeper
  CHECK_NEAR(a.tyre.pressure, 1.2e5, 1e-6);
  // Ideal gas in a room that grew by what the brine lost: (p + pa) T'/T x room / room'.
  const double shrunk = 0.75 * expansion(Medium::calcium_chloride_3_5, 0, 283.15, 258.15);
  CHECK_NEAR(b.tyre.pressure, (1.2e5 + 101325) * 258.15 / 283.15 * 0.25 / (0.25 - shrunk) - 101325, 1);
  CHECK(b.tyre.vertical_stiffness < a.tyre.vertical_stiffness);
  CHECK(b.tyre.vertical_stiffness_uncertainty > a.tyre.vertical_stiffness_uncertainty);
}

TEST_CASE("a fill that is frozen through is part of its wheel, out of the middle; a cured one in the middle") {
  const Model liquid = build(test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.6"}));
  const Model frozen =
      build(test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.6", "settings.temperature_c=-20"}));
  const WheelModel &a = liquid.wheels[kRearLeft], &b = frozen.wheels[kRearLeft];
  CHECK(b.liquid.mass == 0);
  CHECK_NEAR(b.dry.mass, a.dry.mass + a.liquid.mass, 1e-9);
  CHECK_NEAR(-b.dry.com.z * b.dry.mass, a.liquid.depth * a.liquid.mass, 0.02 * a.liquid.depth * a.liquid.mass);
  CHECK_NEAR(total_mass(frozen), total_mass(liquid), 1e-9);
  const Model cured =
      build(test_machine("utility_75kw", {"ballast.rear.medium=polyurethane", "ballast.rear.fill_fraction=1"}));
  CHECK_NEAR(glm::length(cured.wheels[kRearLeft].dry.com), 0, 1e-12);
  CHECK(cured.wheels[kRearLeft].liquid.mass == 0);
}

TEST_CASE("with its own ledger a model is itself; without a line it weighs that much less there") {
  const Model m =
      build(test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.6", "ballast.loader_payload_kg=300"}));
  const Model same = with_ledger(m, m.ledger);
  CHECK(same.chassis.mass == m.chassis.mass);
  CHECK(same.wheels[kRearLeft].dry.inertia == m.wheels[kRearLeft].dry.inertia);
  CHECK(same.loader.boom.com == m.loader.boom.com);
  for (std::size_t i = 0; i < m.ledger.size(); ++i) {
    std::vector<LedgerLine> less = m.ledger;
    less.erase(less.begin() + static_cast<long>(i));
    const Model other = with_ledger(m, less);
    double bodies = other.chassis.mass + other.axle.mass + other.loader.boom.mass;
    for (const WheelModel& wheel : other.wheels) bodies += wheel.dry.mass + wheel.liquid.mass;
    CHECK_NEAR(bodies, total_mass(m) - m.ledger[i].props.mass, 1e-9);
  }
}

TEST_CASE("cautions speak up when there is reason, and not otherwise") {
  const Scene plain = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0.7"});
  const auto check = [&](const char* words, const std::function<void(Scene&)>& change) {
    INFO(std::string(words));
    CHECK_FALSE(warns(build(plain), words));
    Scene scene = plain;
    change(scene);
    CHECK(warns(build(scene), words));
  };
  check(": an air cushion must stay", [](Scene& s) { s.ballast.fill[kRearLeft].fill_fraction = 0.9; });
  check("frozen solid", [](Scene& s) { s.settings.temperature = 263.15; });
  // Source: a second source has the first ice of magnesium chloride 3.1 K off the fit's -28.7 C.
  check("may freeze: its first ice is at -28.7 °C, give or take 3.1 K", [](Scene& s) {
    s.settings.temperature = 273.15 - 27;
    for (TyreFill& fill : s.ballast.fill) fill.medium = Medium::magnesium_chloride;
  });
  check("It may be frozen solid", [](Scene& s) {
    s.settings.temperature = 273.15 - 49;
    for (TyreFill& fill : s.ballast.fill) fill.medium = Medium::calcium_chloride_3_5;
  });
  check("Front weights exceed", [](Scene& s) { s.ballast.front_weights = 5000; });
  check("Rear weights exceed", [](Scene& s) { s.ballast.rear_weights = 5000; });
  check("Rear wheel weights exceed", [](Scene& s) { s.ballast.rear_wheel_weights = 900; });
  check("loader's rated", [](Scene& s) { s.ballast.loader_payload = 4000; });
  check("raised above its pivot", [](Scene& s) { s.ballast.loader_pin_height = s.vehicle.loader.pivot_z + 0.5; });
  check("No protective frame", [](Scene& s) { s.vehicle.frame.kind = FrameKind::none; });
  check("folded", [](Scene& s) { s.vehicle.frame = {FrameKind::two_post, true}; });
  check("not belted", [](Scene& s) { s.vehicle.driver.belted = false; });
}

TEST_CASE("the rigid variant is the same machine to the kilogram, on rigid tyres and even ground") {
  Scene scene = test_scene("over_a_stump");
  const Model m = build(scene), rigid = rigid_variant(m);
  CHECK(total_mass(rigid) == total_mass(m));
  CHECK(rigid.terrain.features.empty());
  double mass = rigid.chassis.mass + rigid.axle.mass + rigid.loader.boom.mass;
  for (const WheelModel& wheel : rigid.wheels) {
    CHECK(wheel.tyre.rigid);
    CHECK(wheel.liquid.mass == 0);
    mass += wheel.dry.mass;
  }
  CHECK_NEAR(mass, total_mass(m), 1e-9 * mass);  // the liquid is frozen in, not lost
  CHECK_NEAR(rigid.wheels[kRearLeft].dry.com.z * rigid.wheels[kRearLeft].dry.mass,
             -m.wheels[kRearLeft].liquid.depth * m.wheels[kRearLeft].liquid.mass, 1e-9);
}

TEST_CASE("front weights of an articulated machine belong to its front half, and turn with it") {
  const auto built = [](double weights, double turned) {
    Scene scene = test_machine("articulated_40kw");
    scene.ballast.front_weights = weights;
    scene.start.articulation = turned;
    return build(scene);
  };
  const Model without = built(0, 0), with = built(100, 0);
  CHECK_NEAR(with.axle.mass - without.axle.mass, 100, 1e-9);
  CHECK(with.chassis.mass == without.chassis.mass);
  // Turned to the left the nose carries them to the left: the left wheels bear more of them than on the straight
  // machine.
  const auto left = [](const Model& model) {
    const auto rest = solve_statics(model).rest;
    REQUIRE(rest);
    return rest->load[kFrontLeft] + rest->load[kRearLeft];
  };
  const double straight = left(built(100, 0)) - left(built(0, 0));
  CHECK(left(built(100, 0.5)) - left(built(0, 0.5)) > straight + 100);
}
