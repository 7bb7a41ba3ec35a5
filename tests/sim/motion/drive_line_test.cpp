// Engine, clutch, shafts and brakes: torques and decelerations against closed forms, a rear overturn against the
// quadrature of its one equation.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/motion/world.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

// Reference body R (3000 kg, 2.2 m, centre of gravity 0.9 m ahead of the rear axle and 0.85 m high) as it can move: on
// tyres that give well under a millimetre, wheels of a few kilograms, front axle fixed, for nothing here turns about
// its pin.
Scene stiff_r(double front_wheel, double rear_wheel) {
  Scene scene = machine_r();
  Vehicle& v = scene.vehicle;
  v.front_axle.kind = AxleKind::fixed;
  v.tank.capacity = 0;
  v.front.wheel_mass = front_wheel, v.rear.wheel_mass = rear_wheel;
  v.front.spin_inertia = front_wheel > 0 ? 2 : 0;
  v.rear.spin_inertia = 20;
  for (Axle* axle : {&v.front, &v.rear}) {
    Tyre& tyre = axle->tyre;
    tyre.rigid = tyre.laterally_rigid = false;
    tyre.vertical_stiffness = tyre.longitudinal_stiffness = 2e7, tyre.lateral_stiffness = 5e6;
    tyre.vertical_damping = 6e4, tyre.lateral_damping = 3e4;
  }
  scene.start.heading = 0;
  scene.settings.time_step = 2e-4;
  scene.settings.engine = Engine::own;
  return scene;
}

World standing_still(const Model& model) {
  const std::optional<Rest> rest = solve_statics(model).rest;
  REQUIRE(rest);
  World world(model, rest->X_GV, rest->axle_angle);
  world.settle(*rest);
  return world;
}

// Already rolling straight ahead at that speed, as if it had always done so.
World rolling(const Model& model, double speed) {
  World world = standing_still(model);
  MachineState moment = world.moment();
  moment.motion.v = speed * world.state().X_GV.R[0];
  for (std::size_t i = 0; i < kWheels; ++i)
    if (const int wheel = world.machine().wheel[i]; wheel >= 0)
      moment.motion.rate[static_cast<std::size_t>(wheel)] = speed / model.wheels[i].tyre.radius;
  moment.brake_anchor = {};
  world.restore(moment);
  return world;
}

double speed_of(const World& world) { return glm::dot(world.state().v_G, world.state().X_GV.R[0]); }

double wheels_turn(const World& world) {
  const State& s = world.state();
  return 0.5 * (s.wheels[kRearLeft].spin_rate + s.wheels[kRearRight].spin_rate);
}

// Torque of the step to come on the hinge of each rear wheel, left then right; the world stays where it is.
std::array<double, 2> rear_torque(World& world, const Input& input) {
  const MachineState before = world.moment();
  const TreeForces& forces = world.forces(input);
  const auto on = [&](std::size_t wheel) {
    return forces.torque[static_cast<std::size_t>(world.machine().wheel[wheel])];
  };
  const std::array<double, 2> torque{on(kRearLeft), on(kRearRight)};
  world.restore(before);
  return torque;
}

// Deceleration over the second half of the time from one speed to half of it [m/s2].
double deceleration(const Model& model, Input input, double speed) {
  World world = rolling(model, speed);
  double from = 0, began = 0;
  while (speed_of(world) > 0.5 * speed && world.state().time < 60) {
    world.step(input);
    if (began == 0 && speed_of(world) < 0.75 * speed) from = speed_of(world), began = world.state().time;
  }
  return (from - speed_of(world)) / (world.state().time - began);
}

double nose_up(const State& s) {  // beyond upright as well
  return std::atan2(s.X_GV.R[0].z, s.X_GV.R[2].z);
}

}  // namespace

TEST_CASE(
    "rear wheels stuck, a clutch that slips at a steady torque turns the tractor over backwards in the time of its "
    "one equation") {
  // I q'' = T - m g (a cos q - e sin q), about the axle 0.75 m high: a = 0.9 m ahead of it, e = 0.1 m above it, T =
  // 1.5 m g a, I = Iyy + m (a^2 + e^2). Source of the times: quadrature of it outside (reference machine R, torque 1.5
  // times what lifts the front wheels), its axle held rigidly. What differs here is what tyres, stuck wheels and clutch
  // give, so 1 % is allowed.
  Scene scene = stiff_r(0, 10);
  Vehicle& v = scene.vehicle;
  scene.terrain.soil.rolling_resistance = 0.06;  // of wheels that stand: it must not show
  const double g = scene.settings.gravity, torque = 1.5 * 3000 * g * 0.9;
  // Full clutch carries just the rated torque, and that is T: power over wheel speed at rated engine speed, which is
  // twice what the wheels ever reach against the chassis.
  constexpr double kGear = 6.0;  // [m/s]
  const double sinks = 0.5 * (3000 * (2.2 - 0.9) / 2.2 + 20) * g / v.rear.tyre.vertical_stiffness;
  v.engine_power = torque * kGear / (0.75 - sinks);
  v.drive.clutch_capacity = 1;
  v.front.tyre.vertical_damping = 1e6;  // does not fling the nose up when its load leaves it
  v.rear.spin_inertia = 60;             // shafts to match: the clutch slips from the first step on
  const Model model = build(scene);
  World world = standing_still(model);
  Input input;
  input.hold = false;
  input.stuck = true;
  input.gear_speed = input.target_speed = kGear;
  input.clutch = 0;
  world.step(input);
  input.clutch = 1;
  CHECK_NEAR(rear_torque(world, input)[0] + rear_torque(world, input)[1], torque, 1e-6 * torque);
  const double began = world.state().time;
  const Vec3 axle_at = world.state().X_GV.p;
  const double balance = kPi / 2 - std::atan2(0.1, 0.9);
  double to_20 = 0, to_45 = 0, to_balance = 0, crept = 0, least = 1e9, most = 0;
  std::vector<MachineState> every;  // millisecond
  while (to_balance == 0 && world.state().time < 3) {
    if (every.empty() || world.state().time - began > 0.001 * static_cast<double>(every.size()) - 1e-9)
      every.push_back(world.moment());
    world.step(input);
    const double turned = nose_up(world.state()), time = world.state().time - began;
    if (to_20 == 0 && turned > 20 * kDegree) to_20 = time;
    if (to_45 == 0 && turned > 45 * kDegree) to_45 = time, crept = glm::length(world.state().X_GV.p - axle_at);
    if (turned > balance) to_balance = time;
    const std::array<double, 2> now = rear_torque(world, input);
    least = std::min(least, now[0] + now[1]), most = std::max(most, now[0] + now[1]);
  }
  CHECK_NEAR(least, torque, 1e-6 * torque);  // it was the same all the way
  CHECK_NEAR(most, torque, 1e-6 * torque);
  // The axle stays where it is, nothing rolls: stuck wheels of 9.6e6 N m/rad give 1.6 mm at their tread. (Near balance
  // the turning all but lifts the wheels off.)
  CHECK_NEAR(crept, 0.0016, 0.001);
  CHECK_NEAR(to_20, 0.5407768631257437, 0.01 * 0.5407768631257437);
  CHECK_NEAR(to_45, 0.794125847865322, 0.01 * 0.794125847865322);
  CHECK_NEAR(to_balance, 1.0380524260264312, 0.01 * 1.0380524260264312);

  // Latest moment at which letting the clutch out still brings it back. Source: the same quadrature, point of no
  // return.
  const auto falls_back = [&](std::size_t k) {
    World branch(model, Pose{}, 0);
    branch.restore(every[k]);
    Input out = input;
    out.clutch = 0;
    for (int n = 0; n < 20000; ++n) {
      branch.step(out);
      const State& s = branch.state();
      if (nose_up(s) > balance + 0.02) return false;
      if (s.wheels[kFrontLeft].load > 0 && n > 0) return true;
    }
    return false;
  };
  std::size_t back = 2, over = every.size() - 1;
  REQUIRE(falls_back(back));
  REQUIRE_FALSE(falls_back(over));
  while (over - back > 1) {
    const std::size_t middle = (back + over) / 2;
    (falls_back(middle) ? back : over) = middle;
  }
  const double no_return = 0.001 * (0.5 * static_cast<double>(back + over));
  MESSAGE("20 deg ", to_20, " s, 45 deg ", to_45, " s, balance ", to_balance, " s, point of no return ", no_return,
          " s, axle crept ", crept, " m, torque off by ", (least - torque) / torque, " to ", (most - torque) / torque);
  CHECK_NEAR(no_return, 0.6992065340258612, 0.01 * 0.6992065340258612);
}

TEST_CASE("both rear wheels get the same torque, however differently they turn and carry") {
  Scene scene = test_machine("utility_75kw", {"terrain.slope_deg=8", "terrain.soil.rolling_resistance=0"});
  scene.settings.engine = Engine::own;
  const Model model = build(scene);
  World world = standing_still(model);
  Input input;
  input.hold = false;
  input.slope = model.terrain.slope;
  input.boom_angle = model.loader.angle;
  input.gear_speed = input.target_speed = 2;
  input.steers = true;
  input.steer = 0.4;
  double turns_apart = 0, loads_apart = 0, torque_apart = 0, most = 0;
  for (int n = 0; n < 4000; ++n) {
    world.step(input);
    const std::array<double, 2> torque = rear_torque(world, input);
    const State& s = world.state();
    torque_apart = std::max(torque_apart, std::abs(torque[0] - torque[1]));
    most = std::max(most, std::abs(torque[0]));
    turns_apart = std::max(turns_apart, std::abs(s.wheels[kRearLeft].spin_rate - s.wheels[kRearRight].spin_rate));
    loads_apart = std::max(loads_apart, std::abs(s.wheels[kRearLeft].load - s.wheels[kRearRight].load));
  }
  CHECK(turns_apart > 0.3);
  CHECK(loads_apart > 3000);
  CHECK(most > 100);
  CHECK(torque_apart < 1e-9 * most);
}

TEST_CASE("the governor holds the wanted speed within a hundredth on level ground, and within its droop uphill") {
  // Droop: 5 % from no load to rated torque (sim/motion/drive_line.cpp), in proportion to torque; and the tyres creep
  // by F / (stiffness x relaxation length), from the bristle at rest in the rolling frame.
  for (const double slope : {0.0, 5.0, 10.0}) {
    Scene scene = test_machine("utility_75kw", {"start.heading_deg=0"});
    scene.terrain.slope = slope * kDegree;
    scene.settings.engine = Engine::own;
    const Model model = build(scene);
    World world = rolling(model, 2);
    Input input;
    input.hold = false;
    input.slope = model.terrain.slope;
    input.boom_angle = model.loader.angle;
    input.gear_speed = input.target_speed = 2;
    for (int n = 0; n < 8000; ++n) world.step(input);
    double speed = 0, tread = 0, through = 0;
    const TyreLaw& tyre = model.wheels[kRearLeft].tyre;
    const double radius = tyre.radius - tyre.reference_load / tyre.vertical_stiffness;
    for (int n = 0; n < 2000; ++n) {
      world.step(input);
      speed += speed_of(world) / 2000, tread += wheels_turn(world) * radius / 2000;
    }
    for (const WheelState& wheel : world.state().wheels) through += wheel.force_G.y;  // facing uphill
    const double weight = total_mass(model) * model.gravity;
    const double climbs = weight * std::sin(model.terrain.slope);
    const double resists = model.terrain.soil.rolling_resistance * weight * std::cos(model.terrain.slope);
    const double rated_force = model.engine_power / 2;
    MESSAGE("slope ", slope, ": body ", speed, " m/s, wheels ", tread, " m/s, ground pushes ", through, " of ", climbs);
    CHECK_NEAR(tread, 2 * (1 - 0.05 * (climbs + resists) / rated_force), 0.003 * 2);
    CHECK(tread < 2.0);
    CHECK(tread > 0.95 * 2);
    if (slope == 0) CHECK_NEAR(speed, 2, 0.01 * 2);
    CHECK_NEAR(through, climbs, 0.01 * weight);
  }
}

TEST_CASE(
    "pulled down to a crawl by a trailer it cannot draw up the hill, the wheels get no more than the engine gives") {
  // Most torque 1.25 of rated, below rated speed: less than 1.25 of the rated power; what comes on top is the flywheel
  // slowing, 430 J per kilowatt at rated speed, once.
  Scene scene = test_machine("utility_75kw", {"start.heading_deg=0", "terrain.soil.rolling_resistance=0"});
  scene.ballast.trailer.mass = 30000;
  scene.ballast.trailer.drawbar_load = 500;
  scene.ballast.trailer.braked = 0;
  scene.settings.engine = Engine::own;
  scene.terrain.slope = 8 * kDegree;
  const Model model = build(scene);
  World world = rolling(model, 4);
  MachineState moment = world.moment();
  moment.trailer_speed = 4;
  world.restore(moment);
  Input input;
  input.hold = false;
  input.slope = model.terrain.slope;
  input.boom_angle = model.loader.angle;
  input.gear_speed = input.target_speed = 4;
  double work = 0, steadily = 0, highest = 0, torque_most = 0;
  const TyreLaw& tyre = model.wheels[kRearLeft].tyre;
  const double rated = 4 / (tyre.radius - tyre.reference_load / tyre.vertical_stiffness);
  const double rated_torque = model.engine_power / rated;
  const double stored = 430 * model.engine_power / 1000;
  bool within = true;
  for (int n = 0; n < 3000; ++n) {
    const std::array<double, 2> torque = rear_torque(world, input);
    const double power = (torque[0] + torque[1]) * wheels_turn(world);
    work += power * model.time_step;
    torque_most = std::max(torque_most, torque[0] + torque[1]);
    highest = std::max(highest, power);
    within = within && work < 1.25 * model.engine_power * world.state().time + 1.3 * stored + 1;
    if (n >= 1000) steadily = std::max(steadily, power);
    world.step(input);
  }
  MESSAGE("power at the wheels, of the engine's: ", highest / model.engine_power, " at most, ",
          steadily / model.engine_power, " after a second; torque ", torque_most / rated_torque, " of rated; ends at ",
          speed_of(world), " m/s");
  CHECK(within);
  CHECK(steadily < 1.26 * model.engine_power);
  CHECK(torque_most < model.drive.clutch_capacity * rated_torque * 1.001);
  CHECK(speed_of(world) < 3.9);
}

TEST_CASE("a clutch carries no more than it can hold, and so much exactly while it slips") {
  Scene scene = test_machine("utility_75kw", {"start.heading_deg=0", "terrain.soil.rolling_resistance=0"});
  scene.settings.engine = Engine::own;
  scene.vehicle.drive.clutch_capacity = 1.3;
  const Model model = build(scene);
  for (const double pedal : {0.3, 1.0}) {
    World world = standing_still(model);
    Input input;
    input.hold = false;
    input.boom_angle = model.loader.angle;
    input.gear_speed = input.target_speed = 3;
    input.clutch = 0;
    world.step(input);
    input.clutch = pedal;
    const TyreLaw& tyre = model.wheels[kRearLeft].tyre;
    const double rated = 3 / (tyre.radius - tyre.reference_load / tyre.vertical_stiffness);
    const double capacity = pedal * 1.3 * model.engine_power / rated;
    double most = 0, worst = 0;
    int slipping = 0;
    for (int n = 0; n < 6000; ++n) {
      const std::array<double, 2> torque = rear_torque(world, input);
      const double all = torque[0] + torque[1];
      // The engine turns faster than the wheels by more than a shaft's twisting: it slips.
      if (world.state().engine_speed / tyre.radius - wheels_turn(world) > 0.3) {
        ++slipping;
        worst = std::max(worst, std::abs(all - capacity) / capacity);
      }
      most = std::max(most, all);
      world.step(input);
    }
    MESSAGE("pedal ", pedal, ": torque ", most / capacity, " of capacity at most, slips for ", slipping,
            " ms, then off by ", worst);
    CHECK(slipping > 30);
    CHECK(most < capacity * (1 + 1e-9));
    CHECK(worst < 1e-6);
    CHECK_NEAR(world.state().engine_speed / tyre.radius, wheels_turn(world), 0.01);  // caught up
  }
}

TEST_CASE(
    "brakes on the rear wheels slow the machine as much as their load allows, with the front axle in as much as all "
    "of it does") {
  // Rear wheels locked, m a = mu N_r; moments about the front contact: N_r L = m g (L - x) - m a h. So a = mu g (L - x)
  // / (L + mu h). With the front axle geared to the rear all four lock: a = mu g. Masses of the wheels in x and h,
  // front wheels' spin (13 kg of 3000) left out.
  Scene scene = stiff_r(20, 20);
  scene.terrain.soil.adhesion_unlimited = false;
  scene.terrain.soil.adhesion = 0.4;
  scene.terrain.soil.rolling_resistance = 0;
  const Model model = build(scene);
  const Vec3 centre = centre_of_gravity(model);
  const double mu = 0.4, L = model.wheelbase, g = model.gravity;
  Input input;
  input.hold = false;
  input.clutch = 0;
  input.brake = 1;
  const double rear = deceleration(model, input, 6), closed = mu * g * (L - centre.x) / (L + mu * centre.z);
  CHECK_NEAR(rear, closed, 0.01 * closed);
  input.front_drive = true;
  const double all = deceleration(model, input, 6);
  CHECK_NEAR(all, mu * g, 0.01 * mu * g);
  // A pedal half as far down, grip to spare: the brakes' own half of 5 m/s2.
  Scene grips = scene;
  grips.terrain.soil.adhesion_unlimited = true;
  input.front_drive = false;
  input.brake = 0.3;
  const double gently = deceleration(build(grips), input, 6), asked = 0.3 * model.drive.braking;
  MESSAGE("rear ", rear, " of ", closed, "; all ", all, " of ", mu * g, "; pedal 0.3 ", gently, " of ", asked, " m/s2");
  CHECK_NEAR(gently, asked, 0.03 * asked);
}

TEST_CASE("out of gear a machine loses to rolling resistance and to nothing else") {
  // m a = c m g, the wheels' spin (13 + 71 kg of 3080) taken in: a = c g m / (m + sum I / r^2).
  Scene scene = stiff_r(20, 20);
  scene.terrain.soil.rolling_resistance = 0.06;
  const Model model = build(scene);
  Input input;
  input.hold = false;
  input.clutch = 0;
  double inertia = total_mass(model);
  for (std::size_t i = 0; i < kWheels; ++i)
    inertia += spin_inertia(model.wheels[i]) / (model.wheels[i].tyre.radius * model.wheels[i].tyre.radius);
  const double closed = 0.06 * model.gravity * total_mass(model) / inertia, a = deceleration(model, input, 4);
  MESSAGE("rolls out at ", a, " of ", closed, " m/s2");
  CHECK_NEAR(a, closed, 0.01 * closed);
  CHECK_NEAR(a, 0.06 * model.gravity, 0.05 * 0.06 * model.gravity);
  Scene smooth = scene;
  smooth.terrain.soil.rolling_resistance = 0;
  const Model without = build(smooth);
  World world = rolling(without, 4);
  for (int n = 0; n < 25000; ++n) world.step(input);
  CHECK_NEAR(speed_of(world), 4, 0.01);
}

TEST_CASE("rolling steadily the ground carries each wheel ahead of its hub: the front axle is lighter by that") {
  // MachineStates about the rear contacts' mid-plane, nothing slowing down: N_f L = m g x - sum c N r. The torque that
  // drives the rear wheels is the ground's own moment on them and the front wheels', passed on by the ground.
  Scene scene = stiff_r(20, 20);
  scene.terrain.soil.rolling_resistance = 0.1;
  scene.vehicle.engine_power = 75e3;
  const Model model = build(scene);
  World world = rolling(model, 2);
  Input input;
  input.hold = false;
  input.gear_speed = input.target_speed = 2;
  for (int n = 0; n < 15000; ++n) world.step(input);
  double front = 0, moment = 0;
  for (int n = 0; n < 5000; ++n) {
    world.step(input);
    for (std::size_t i = 0; i < kWheels; ++i) {
      const double load = world.state().wheels[i].load;
      if (i < 2) front += load / 5000;
      moment += 0.1 * load * model.wheels[i].tyre.radius / 5000;
    }
  }
  const double weight = total_mass(model) * model.gravity;
  const double closed = (weight * centre_of_gravity(model).x - moment) / model.wheelbase;
  MESSAGE("front axle ", front, " of ", closed, " N, at rest ", weight * centre_of_gravity(model).x / model.wheelbase);
  CHECK_NEAR(front, closed, 0.001 * weight);
}
