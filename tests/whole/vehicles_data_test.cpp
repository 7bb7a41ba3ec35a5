// The machines that come with the program: each loads, writes every datum, and is a plausible machine of its class.
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>
#include <vector>

#include "sim/base/constants.h"
#include "sim/model/model.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

std::vector<std::filesystem::path> machine_files() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(SIDEHILL_SOURCE_DIR "/vehicles")) {
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

Scene scene_with(const std::filesystem::path& machine) {
  Scene scene = parse_scene("title = \"plain\"\nvehicle_file = \"" + machine.string() + "\"\n", "plain.toml");
  scene.terrain.soil.adhesion_unlimited = true;
  return scene;
}

double front_share(const Model& model) { return centre_of_gravity(model).x / model.wheelbase; }

// What a maker's sheet gives: no driver, no loader, no ballast.
Scene unladen(Scene scene) {
  scene.vehicle.driver.on_seat = false;
  scene.vehicle.loader.fitted = false;
  return scene;
}

}  // namespace

TEST_CASE("the five classes are there") {
  std::vector<std::string> names;
  for (const auto& file : machine_files()) names.push_back(file.stem().string());
  for (const char* name : {"compact_26kw", "orchard_60kw", "row_crop_150kw", "two_wheel_45kw", "utility_75kw"}) {
    CAPTURE(name);
    CHECK(std::find(names.begin(), names.end(), name) != names.end());
  }
}

TEST_CASE("machines weigh, balance and stand as their classes do") {
  for (const auto& file : machine_files()) {
    CAPTURE(file.stem().string());
    const Scene scene = scene_with(file);
    const Vehicle& v = scene.vehicle;
    const Model bare = build(unladen(scene));

    // 43 to 60 kg/kW unballasted: typical practice (49 kg per horsepower, 66 kg/kW, is a ballasted tractor at heavy
    // work)
    const double per_kw = total_mass(bare) / (v.engine_power / 1000);
    CHECK(per_kw > 43);
    CHECK(per_kw < 60);
    // 30 to 45 % of it on the front axle: typical practice, about 40/60 with a driven front axle
    const bool articulated = v.front_axle.kind == AxleKind::articulated;  // the engine sits on the front half
    CHECK(front_share(bare) > 0.30);
    CHECK(front_share(bare) < (articulated ? 0.62 : 0.45));
    if (v.front_drive) CHECK_NEAR(front_share(bare), articulated ? 0.60 : 0.40, 0.015);
    CHECK_NEAR(centre_of_gravity(bare).y, 0, 1e-12);

    // As it stands in the scene: driver up, loader empty and low.
    const Model model = build(scene);
    CHECK(front_share(model) > 0.30);
    CHECK(front_share(model) < (articulated ? 0.62 : 0.50));
    // Speed class by height: centre of gravity over mean track not above 0.90 (Reg. (EU) 167/2013 Art. 4), as for any
    // tractor allowed on the road at full speed.
    CHECK(centre_of_gravity(model).z / (0.5 * (v.front.track + v.rear.track)) < 0.90);
    CHECK(model.cautions.size() == (v.frame.kind == FrameKind::none ? 1U : 0U));

    // Parts fit: tyres inside each other's tracks, nose ahead of the axle, front wheels not larger than rear.
    CHECK((articulated || v.front.tyre.free_radius < v.rear.tyre.free_radius));
    CHECK(v.front.tyre.free_radius <= v.rear.tyre.free_radius);
    CHECK(v.wheelbase > v.front.tyre.free_radius + v.rear.tyre.free_radius);
    CHECK(v.chassis.length_ahead > v.wheelbase);
    CHECK(v.front_mount.x > v.chassis.length_ahead);
    // A body's moments of inertia: each at most the sum of the others.
    const Vec3& i = v.chassis.inertia;
    CHECK(i.x + i.y > i.z);
    CHECK(i.x + i.z > i.y);
    CHECK(i.y + i.z > i.x);
    // Static deflection of a tyre: 4 to 20 % of its section height.
    for (const bool front : {true, false}) {
      const Tyre& tyre = front ? v.front.tyre : v.rear.tyre;
      const double share = front ? front_share(model) : 1 - front_share(model);
      const double deflection = 0.5 * share * total_mass(model) * model.gravity / tyre.vertical_stiffness;
      CAPTURE(front);
      CHECK(deflection > 0.04 * (tyre.free_radius - tyre.rim_radius));
      CHECK(deflection < 0.20 * (tyre.free_radius - tyre.rim_radius));
    }
    if (v.loader.fitted) {  // a low bucket hangs clear of the front wheels and the nose
      const double drop = v.loader.pivot_z - v.loader.min_pin_height;
      const double pin = v.loader.pivot_x + std::sqrt(v.loader.boom_length * v.loader.boom_length - drop * drop);
      CHECK(pin > v.wheelbase + v.front.tyre.free_radius);
      CHECK(pin > v.chassis.length_ahead);
    }
  }
}

TEST_CASE("first lift-off across the slope is that of the class") {
  for (const auto& file : machine_files()) {
    const std::string name = file.stem().string();
    CAPTURE(name);
    const StaticSolution solution = solve_statics(build(scene_with(file)));
    REQUIRE(solution.rigid_lift_off.has_value());
    REQUIRE(solution.first_lift_off.has_value());
    const double rigid = *solution.rigid_lift_off / kDegree, real = *solution.first_lift_off / kDegree;
    CAPTURE(rigid);
    CAPTURE(real);
    // Rigid: 33 to 42 deg for machines of ordinary width, about 30 for a narrow one; by the closed form of a body on a
    // pivoting axle, tan a = b (L - xg) / (h L - hp xg). Real tyres take off a few degrees.
    CHECK(rigid > (name == "orchard_60kw" ? 27 : 33));
    CHECK(rigid < (name == "orchard_60kw" ? 33 : 42));
    CHECK(real < rigid);
    CHECK(real > rigid - 6);
    // Heading -90: downhill to the right, so an uphill wheel; the rear one where the front axle swings.
    CHECK(is_left(solution.first_wheel));
    if (!name.starts_with("forestry")) CHECK(solution.first_wheel == kRearLeft);
  }
}
