// Two ways, one answer: the resting pose by Newton's rule, and the same machine stepped through time. Side forces
// depend on history (bristles stick), so the machine is put down on level ground and the ground is then tilted slowly
// under it.
#include <doctest/doctest.h>

#include <string>

#include "sim/base/constants.h"
#include "sim/motion/run.h"
#include "sim/motion/world.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

struct Tilted {
  std::array<double, kWheels> load{};  // when the slope passed `at`
  double lift_off = -1;                // slope of the first lift-off [deg]
};

Tilted tilt_slowly(const Scene& scene, double at) {
  const Model model = build(scene);
  Runner runner(scene, model);
  Tilted out;
  while (!runner.done()) {
    runner.advance(model.time_step);
    if (out.load[0] == 0 && runner.state().slope >= at) {
      for (std::size_t i = 0; i < kWheels; ++i) out.load[i] = runner.state().wheels[i].load;
    }
    for (const Event& event : runner.recording().events)
      if (event.kind == EventKind::lift_off && out.lift_off < 0) out.lift_off = event.slope / kDegree;
    if (out.lift_off >= 0) break;
  }
  return out;
}

}  // namespace

TEST_CASE(
    "statics, settled dynamics and a slow tilt agree: loads within 0.2 % of weight, lift-off within 0.1 degrees") {
  struct Case {
    const char* machine;
    const char* heading;
    const char* fill;
    const char* stop = nullptr;  // [deg]; short ones bear while every wheel still carries
  };
  for (const Case& c : {Case{"utility_75kw", "-90", "0.75"},
                        {"compact_26kw", "-90", "0"},
                        {"orchard_60kw", "90", "0.4"},
                        {"row_crop_150kw", "-110", "0.6"},
                        {"two_wheel_45kw", "-80", "0.75"},
                        {"utility_75kw", "-90", "0", "0.5"},
                        {"orchard_60kw", "90", "0.4", "0.3"}}) {
    INFO(c.machine << ", heading " << c.heading << ", fill " << c.fill);
    Scene scene = test_machine(
        c.machine, {std::string("start.heading_deg=") + c.heading, std::string("ballast.rear.fill_fraction=") + c.fill,
                    "programme.tilt_rate_deg_per_s=1", "programme.duration_s=60", "programme.drive_from_s=1",
                    // Much grip, but not without limit: then a bristle would hold its side force to the last newton of
                    // load, and let go half a degree after the balance without it.
                    "terrain.soil.adhesion_unlimited=false", "terrain.soil.adhesion=2"});
    if (c.stop) scene.vehicle.front_axle.stop_angle = std::stod(c.stop) * kDegree;
    const double at = 15 * kDegree;
    const Tilted moving = tilt_slowly(scene, at);
    scene.terrain.slope = at;
    const Model model = build(scene);
    const StaticSolution still = solve_statics(model);
    REQUIRE(still.rest);
    REQUIRE(still.first_lift_off);
    const double weight = total_mass(model) * model.gravity;
    for (std::size_t i = 0; i < kWheels; ++i) CHECK_NEAR(moving.load[i] / weight, still.rest->load[i] / weight, 0.002);
    // On a stop that bears, two uphill wheels go light together, and which lets go first sways the answer.
    CHECK_NEAR(moving.lift_off, *still.first_lift_off / kDegree, c.stop ? 0.2 : 0.1);
  }
}

TEST_CASE("the standing reference body settles to its static loads") {
  Scene scene = test_scene("validate/reference_p", {"programme.drop_height_m=0.02", "programme.duration_s=6"});
  const Recording recording = run(scene);
  const Model model = build(scene);
  const StaticSolution still = solve_statics(model);
  REQUIRE(still.rest);
  const double weight = total_mass(model) * model.gravity;
  for (std::size_t i = 0; i < kWheels; ++i)
    CHECK_NEAR(recording.states.back().wheels[i].load / weight, still.rest->load[i] / weight, 0.002);
}

TEST_CASE("body P over a bump under its uphill wheels: roll and lift-off as integrated to 1e-9 outside") {
  // Source: the planar equations of body P (one-sided springs and dampers, side spring at ground level) integrated by a
  // high-order method; only values up to the first landing are compared, for there P keeps its side-force anchor and a
  // bristle takes a new one.
  struct Trace {
    double slope, bump, speed, lift_off, most_roll,
        most_down;  // [deg], [m], [m/s], [s], [deg], [N]; 0: not until it has landed
  };
  for (const Trace& t : {Trace{15, 0.2, 1.0, 0.4435193715568617, 9.593538012474411, 0},
                         Trace{20, 0.2, 1.5, 0.2961435363697455, 18.144800211033285, 38481.68266046962}}) {
    INFO("slope " << t.slope << ", speed " << t.speed);
    const Scene scene = machine_p();
    const Model model = build(scene);
    const std::optional<Rest> level = solve_statics(model).rest;
    REQUIRE(level);
    World world(model, level->X_GV, 0);
    Input input;
    // Tilted slowly first, so that the bristles are bent from the undeflected place; then at rest.
    const double rate = 2 * kDegree;
    for (; input.slope < t.slope * kDegree - 1e-12;
         input.slope = std::min(t.slope * kDegree, input.slope + rate * model.time_step))
      world.step(input);
    for (int n = 0; n < 4000; ++n) world.step(input);
    const double period = 1.0 / t.speed;
    double lift_off = -1, most_roll = 0, most_down = 0, last_load = world.state().wheels[kRearLeft].load;
    for (int n = 1; n <= 3000; ++n) {
      const double time = (n - 1) * model.time_step;  // of the forces in this step
      const double phase = kPi * time / period;
      const bool on = time < period;
      for (const Wheel w : {kFrontLeft, kRearLeft}) {  // heading -90: the uphill side is left
        input.ground_lift[w] = on ? t.bump * std::sin(phase) * std::sin(phase) : 0;
        input.ground_lift_rate[w] = on ? t.bump * kPi / period * std::sin(2 * phase) : 0;
      }
      world.step(input);
      const State& s = world.state();
      const double load = s.wheels[kRearLeft].load;
      if (lift_off < 0 && load <= 0) lift_off = time;
      if (lift_off >= 0 && load > 0 && last_load <= 0) break;  // landed
      last_load = load;
      most_roll = std::max(most_roll, std::asin(s.X_GV.R[1].z) / kDegree);
      most_down = std::max(most_down, s.wheels[kFrontRight].load + s.wheels[kRearRight].load);
    }
    CHECK_NEAR(lift_off, t.lift_off, 1e-3);
    CHECK_NEAR(most_roll, t.most_roll, 0.1);
    if (t.most_down > 0) CHECK_NEAR(most_down, t.most_down, 0.02 * t.most_down);
  }
}

TEST_CASE(
    "set down at rest a machine does not stir: statics and the moving machine are one, at any heading and slope") {
  int set_down = 0;
  double furthest = 0;
  for (const char* name : kMachines)
    for (const double slope : {0.0, 12.0, 25.0})
      for (const double heading : {-90.0, -40.0, 0.0, 130.0, 180.0}) {
        Scene scene = test_machine(name, {"ballast.rear.fill_fraction=0.75", "terrain.soil.adhesion_unlimited=true"});
        scene.terrain.slope = slope * kDegree;
        scene.start.heading = heading * kDegree;
        scene.programme.drop_height = 0;
        const Model model = build(scene);
        const StaticSolution statics = solve_statics(model);
        if (statics.status != RestStatus::stands) continue;
        ++set_down;
        INFO(name << " slope " << slope << " heading " << heading);
        const double weight = total_mass(model) * model.gravity;
        Runner runner(scene, model);
        for (int i = 0; i < 50; ++i) {
          runner.advance(0.02);
          for (std::size_t w = 0; w < kWheels; ++w)
            furthest = std::max(furthest, std::abs(runner.state().wheels[w].load - statics.rest->load[w]) / weight);
        }
        CHECK(glm::length(runner.state().X_GV.p - statics.rest->X_GV.p) < 1e-5);
      }
  MESSAGE(set_down, " set down; loads off by at most ", furthest, " of the weight");
  CHECK(set_down > 40);
  CHECK(furthest < 1e-5);
}

TEST_CASE("whatever hangs, trails, is doubled or turned in the middle: set down at rest it does not stir") {
  struct Case {
    const char* machine;
    std::vector<std::string> changes;
  };
  const std::vector<Case> cases = {
      {"utility_75kw", {"ballast.hanging_mass_kg=400", "ballast.loader_pin_height_m=2.5"}},
      {"utility_75kw",
       {"vehicle.tank.capacity_l=800", "vehicle.tank.radius_m=0.5", "vehicle.tank.z_m=1.6", "vehicle.tank.x_m=-0.6",
        "ballast.tank_fraction=0.5"}},
      {"utility_75kw", {"ballast.implement.mass_kg=700"}},
      {"utility_75kw", {"ballast.trailer.mass_kg=4000", "ballast.trailer.drawbar_load_kg=500"}},
      {"row_crop_150kw", {"vehicle.rear.dual_spacing_m=0.6"}},
      {"row_crop_150kw", {"vehicle.rear.dual_spacing_m=0.6", "vehicle.front.dual_spacing_m=0.5"}},
      {"articulated_40kw", {}},
      {"articulated_40kw", {"start.articulation_deg=25"}},
      {"articulated_40kw", {"start.articulation_deg=-25", "ballast.implement.mass_kg=200"}},
  };
  for (const Case& c : cases)
    for (const double slope : {0.0, 8.0, 16.0})
      for (const double heading : {-90.0, -40.0, 0.0, 130.0}) {
        std::vector<std::string> changes = {"terrain.soil.adhesion_unlimited=true"};
        changes.insert(changes.end(), c.changes.begin(), c.changes.end());
        Scene scene = test_machine(c.machine, changes);
        scene.terrain.slope = slope * kDegree;
        scene.start.heading = heading * kDegree;
        const Model model = build(scene);
        const StaticSolution statics = solve_statics(model);
        INFO(c.machine << " " << (c.changes.empty() ? "" : c.changes[0]) << " slope " << slope << " heading "
                       << heading);
        CHECK(statics.status != RestStatus::unsolved);
        if (statics.status != RestStatus::stands) continue;
        const double weight = total_mass(model) * model.gravity;
        Runner runner(scene, model);
        double furthest = 0;
        for (int i = 0; i < 50; ++i) {
          runner.advance(0.02);
          for (std::size_t w = 0; w < kWheels; ++w)
            furthest = std::max(furthest, std::abs(runner.state().wheels[w].load - statics.rest->load[w]) / weight);
        }
        CHECK(furthest <
              4e-4);  // a joint on rams gives, dual tyres share not quite as at rest; all else stays below 1e-5
      }
}

namespace {

// Body P in its plane: y uphill, z out of the ground, turn with the uphill (left) side up. Source: its definition; a
// wheel's lowest point is fixed in the body.
struct Planar {
  double y = 0, z = 0.85, turn = 0, vy = 0, vz = 0, rate = 0;
};
Planar change(const Planar& p, double slope, double ground, double ground_rate, bool* uphill_carries = nullptr) {
  constexpr double kMass = 3000, kInertia = 1200, kG = 9.80665, kHalf = 0.8, kHeight = 0.85;
  Planar d{p.vy, p.vz, p.rate, -kG * std::sin(slope), -kG * std::cos(slope), 0};
  for (const double side : {1.0, -1.0}) {
    const double c = std::cos(p.turn), s = std::sin(p.turn), ry = side * kHalf, rz = -kHeight;
    const double out_y = c * ry - s * rz, out_z = s * ry + c * rz;
    const double wheel_vy = p.vy - p.rate * out_z, wheel_vz = p.vz + p.rate * out_y;
    const double level = side > 0 ? ground : 0, level_rate = side > 0 ? ground_rate : 0;
    const double depth = level - (p.z + out_z);
    const double load = depth > 0 ? std::max(0.0, 350e3 * depth + 6e3 * (level_rate - wheel_vz)) : 0;
    if (side > 0 && uphill_carries) *uphill_carries = load > 0;
    if (depth <= 0) continue;
    const double aside = -250e3 * (p.y + out_y - ry) - 6e3 * wheel_vy;
    d.vy += aside / kMass;
    d.vz += load / kMass;
    d.rate += (out_y * load - (level - p.z) * aside) / kInertia;
  }
  return d;
}
Planar moved_on(const Planar& p, const Planar& d, double h) {
  return {p.y + h * d.y, p.z + h * d.z, p.turn + h * d.turn, p.vy + h * d.vy, p.vz + h * d.vz, p.rate + h * d.rate};
}

}  // namespace

TEST_CASE(
    "body P's roll over a bump follows its own equations, integrated here at a fine step, until it lands or lies") {
  struct Try {
    double slope, bump, speed;
  };
  for (const Try& t :
       {Try{15, 0.2, 1.0}, Try{20, 0.2, 1.5}, Try{20, 0.2, 2.2}, Try{10, 0.25, 1.5}, Try{15, 0.25, 1.8}}) {
    INFO("slope " << t.slope << ", bump " << t.bump << ", speed " << t.speed);
    const double slope = t.slope * kDegree, period = 1.0 / t.speed, fine = 2e-5;
    const auto ground = [&](double time) {
      const double s = std::sin(kPi * time / period);
      return time > 0 && time < period ? t.bump * s * s : 0;
    };
    const auto ground_rate = [&](double time) {
      return time > 0 && time < period ? t.bump * kPi / period * std::sin(2 * kPi * time / period) : 0;
    };
    const auto fourth_order = [&](const Planar& p, double time, double h) {
      const auto rate_at = [&](const Planar& q, double at) { return change(q, slope, ground(at), ground_rate(at)); };
      const Planar a = rate_at(p, time), b = rate_at(moved_on(p, a, h / 2), time + h / 2),
                   c = rate_at(moved_on(p, b, h / 2), time + h / 2), d = rate_at(moved_on(p, c, h), time + h);
      return moved_on(moved_on(moved_on(moved_on(p, a, h / 6), b, h / 3), c, h / 3), d, h / 6);
    };
    Planar planar;
    for (int n = 0; n < 100000; ++n) planar = fourth_order(planar, -10, 2e-4);  // 20 s of rest
    Scene scene = machine_p();
    scene.terrain.slope = slope;
    const Model model = build(scene);
    const std::optional<Rest> rest = solve_statics(model).rest;
    REQUIRE(rest);
    World world(model, rest->X_GV, 0);
    world.settle(*rest);
    Input input;
    input.slope = slope;
    double squares = 0, ours = -1, theirs = -1;
    long count = 0;
    for (int n = 1; n <= 2500; ++n) {
      const double time = (n - 1) * model.time_step;
      for (const Wheel w : {kFrontLeft, kRearLeft}) {
        input.ground_lift[w] = ground(time);
        input.ground_lift_rate[w] = ground_rate(time);
      }
      world.step(input);
      bool touches = true;
      for (int k = 0; k < 50; ++k) planar = fourth_order(planar, time + k * fine, fine);
      change(planar, slope, ground(time + model.time_step), ground_rate(time + model.time_step), &touches);
      const double now = n * model.time_step;
      if (theirs < 0 && !touches) theirs = now;
      if (ours < 0 && world.state().wheels[kRearLeft].load <= 0) ours = now;
      const double roll = std::asin(world.state().X_GV.R[1].z);
      const bool landed = theirs > 0 && now > theirs + 0.02 && touches;
      if (landed || planar.turn > 30 * kDegree) break;
      squares += (roll - planar.turn) * (roll - planar.turn);
      ++count;
    }
    REQUIRE(count > 100);
    CHECK(std::sqrt(squares / static_cast<double>(count)) / kDegree < 0.1);
    CHECK((ours > 0) == (theirs > 0));
    CHECK_NEAR(ours, theirs, 1.5e-3);  // both exact to the step
  }
}

TEST_CASE("body P goes over a bump at the speeds integrated outside, and below them does not") {
  // Source: the planar equations of body P, lowest speed that rolls over (scan of 0.4 to 6 m/s): 1.6822 m/s over 0.20 m
  // across 20 deg, 1.5617 m/s over 0.25 m across 15 deg, none over 0.20 m across 15 deg.
  const auto goes_over = [](double slope, double bump, double speed) {
    Scene scene = machine_p();
    scene.terrain.slope = slope * kDegree;
    const Model model = build(scene);
    const std::optional<Rest> rest = solve_statics(model).rest;
    REQUIRE(rest);
    World world(model, rest->X_GV, 0);
    world.settle(*rest);
    Input input;
    input.slope = scene.terrain.slope;
    const double period = 1.0 / speed;
    for (int n = 1; n <= 4000; ++n) {
      const double time = (n - 1) * model.time_step, phase = kPi * time / period;
      const bool on = time < period;
      for (const Wheel w : {kFrontLeft, kRearLeft}) {
        input.ground_lift[w] = on ? bump * std::sin(phase) * std::sin(phase) : 0;
        input.ground_lift_rate[w] = on ? bump * kPi / period * std::sin(2 * phase) : 0;
      }
      world.step(input);
      if (std::asin(world.state().X_GV.R[1].z) / kDegree > 60) return true;
    }
    return false;
  };
  CHECK_FALSE(goes_over(20, 0.2, 0.99 * 1.6822));
  CHECK(goes_over(20, 0.2, 1.01 * 1.6822));
  CHECK_FALSE(goes_over(15, 0.25, 0.99 * 1.5617));
  CHECK(goes_over(15, 0.25, 1.01 * 1.5617));
  for (const double speed : {0.6, 1.0, 1.4, 1.8, 2.5, 4.0}) CHECK_FALSE(goes_over(15, 0.2, speed));
}
