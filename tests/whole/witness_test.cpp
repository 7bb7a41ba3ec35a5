// Other physics engines as witnesses: the same bodies under the same forces, integrated by MuJoCo (joint coordinates)
// and by the Open Dynamics Engine (free bodies and constraints), each on its own state from the first step to the last.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "sim/base/constants.h"
#include "sim/motion/watch.h"
#include "tests/kit/any_tree.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "tests/witness/mujoco_tree.h"
#include "tests/witness/ode_tree.h"
#include "tests/witness/programme.h"

using namespace sidehill;

namespace {

// A whole run, step by step.
struct Trace {
  std::vector<double> roll;                        // left side up [deg]
  std::vector<std::array<double, kWheels>> share;  // wheel loads over the weight
  double lift_off = -1;                            // first [s]
  int wheel = -1;                                  // whose
  Outcome outcome = Outcome::stands;
};

// `begin` is shown the machine where it stands, then `move` takes it through every step.
template <class Begin, class Move>
Trace trace(const Model& model, Begin&& begin, Move&& move) {
  World world = set_down(model);
  Driving driving = driving_at_start(model, world.state());
  begin(world);
  Watch watch(model);
  std::vector<Event> events;
  const double weight = total_mass(model) * model.gravity;
  Trace out;
  while (world.state().time < model.programme.duration && !watch.over()) {
    move(world, drive(model, world.state(), driving));
    const State& s = world.state();
    watch.look(s, events);
    out.roll.push_back(std::asin(s.X_GV.R[1].z) / kDegree);
    out.share.emplace_back();
    for (std::size_t i = 0; i < kWheels; ++i) out.share.back()[i] = s.wheels[i].load / weight;
  }
  for (const Event& event : events)
    if (event.kind == EventKind::lift_off && out.lift_off < 0) out.lift_off = event.time, out.wheel = event.wheel;
  out.outcome = watch.outcome();
  return out;
}

Trace ours_traced(Model model, Engine engine) {
  model.engine = engine;
  return trace(
      model, [](const World&) {}, [](World& world, const Input& input) { world.step(input); });
}

// `chassis_scale`: the witness is given the chassis that much more unwilling to turn, to see what the comparison sees.
template <class Witness>
Trace witnessed(const Model& model, double chassis_scale = 1) {
  std::optional<Witness> witness;
  return trace(
      model,
      [&](const World& world) {
        Tree tree = world.machine().tree;
        tree.bodies[kChassis].props.inertia *= chassis_scale;
        witness.emplace(tree, world.moment().motion);
      },
      [&](World& world, const Input& input) { step_by(*witness, world, input, model.time_step); });
}

struct TraceDifference {
  double lift_off = 0;         // [s]
  double roll = 0, share = 0;  // until half a second after the first lift-off [deg], of the weight
  double roll_to_end = 0;      // of the whole run [deg]
};

TraceDifference difference_between(const Model& model, const Trace& a, const Trace& b) {
  REQUIRE(a.lift_off > 0);
  REQUIRE(b.lift_off > 0);
  CHECK(a.wheel == b.wheel);
  CHECK(a.outcome == b.outcome);
  TraceDifference d;
  d.lift_off = std::abs(a.lift_off - b.lift_off);
  const double until = std::min(a.lift_off, b.lift_off) + 0.5;
  for (std::size_t n = 0; n < std::min(a.roll.size(), b.roll.size()); ++n) {
    const double roll = std::abs(a.roll[n] - b.roll[n]);
    d.roll_to_end = std::max(d.roll_to_end, roll);
    if (static_cast<double>(n + 1) * model.time_step > until) continue;
    d.roll = std::max(d.roll, roll);
    for (std::size_t i = 0; i < kWheels; ++i) d.share = std::max(d.share, std::abs(a.share[n][i] - b.share[n][i]));
  }
  return d;
}

// Wanted of any witness: 2 ms and 0.05 deg. Held are what they do, with room: MuJoCo and Bullet follow the same rule by
// other algebra and differ by rounding; ODE differs by the first order of the step.
constexpr TraceDifference kSameRule{1e-6, 1e-6, 1e-6}, kAnotherRule{5e-5, 1e-3, 5e-4};

bool alike(const TraceDifference& d, const TraceDifference& limit) {
  return d.lift_off < limit.lift_off && d.roll < limit.roll && d.share < limit.share;
}

void print_difference(const std::string& who, const TraceDifference& d) {
  MESSAGE("  ", who, ": lift-off apart by ", d.lift_off * 1e3, " ms, roll by ", d.roll, " deg (to the end ",
          d.roll_to_end, "), loads by ", d.share, " of the weight");
}

}  // namespace

TEST_CASE("one step of any tree under any forces is MuJoCo's step") {
  Dice dice{std::mt19937(17)};
  double furthest = 0;
  for (const int n : {1, 2, 5, 11, kMaxBodies})
    for (int trial = 0; trial < 20; ++trial) {
      const Tree tree = any_tree(dice, n);
      TreeMotion own = any_motion(dice, tree), theirs = own;
      const TreeForces forces = any_forces(dice, tree, own);
      TreeNow now;
      look(tree, own, now);
      MujocoTree witness(tree, own);
      witness.step(forces, 1e-3, theirs);
      step(tree, now, forces, 1e-3, own);
      furthest = std::max(furthest, apart(own, theirs));
    }
  MESSAGE("apart by at most ", furthest);
  CHECK(furthest < 1e-9);
}

TEST_CASE("ODE goes our way to the first order of the step, any tree under any forces") {
  // Not step by step: where we take the hinge's own acceleration, ODE asks the velocities after the step to fit the
  // hinges where they stood before it. What turns about a turning hinge comes one step late, so the two part at once
  // by a step's worth of that and stay so far apart; half the step, half the way.
  Dice dice{std::mt19937(19)};
  for (const int n : {1, 2, 5, 11}) {
    const Tree tree = any_tree(dice, n);
    const TreeMotion start = any_motion(dice, tree);
    TreeForces forces = any_forces(dice, tree, start);
    for (Vec3& f : forces.force) f *= 0.1;
    for (Vec3& m : forces.moment) m *= 0.1;
    double gap = 0;
    const auto parted = [&](double time_step) {
      TreeMotion own = start, theirs = start;
      OdeTree witness(tree, start);
      TreeNow now;
      for (int k = 0; k < std::lround(0.1 / time_step); ++k) {
        look(tree, own, now);
        step(tree, now, forces, time_step, own);
        witness.step(forces, time_step, theirs);
      }
      gap = witness.gap();
      return apart(own, theirs);
    };
    const double coarse = parted(1e-4), fine = parted(5e-5);
    MESSAGE(n, " bodies: apart by ", coarse, ", with half the step ", fine, ", widest gap in a hinge ", gap, " m");
    CHECK(coarse < 2e-3);
    CHECK_NEAR(fine / coarse, 0.5, 0.02);
    CHECK(gap < 1e-6);
  }
}

TEST_CASE("the programme driven from outside is Runner's, bit for bit") {
  for (const char* name : {"over_a_stump", "into_a_hole"}) {
    const Scene scene = test_scene(name, {"programme.drop_height_m=0", "programme.duration_s=6"});
    const Model model = build(scene);
    Runner runner(scene, model);
    World world = set_down(model);
    Driving driving = driving_at_start(model, world.state());
    while (!runner.done()) {
      runner.advance((static_cast<double>(world.moment().steps) + 1) * model.time_step - runner.state().time);
      world.step(drive(model, world.state(), driving));
      if (hash(runner.state()) != hash(world.state())) break;
    }
    CHECK(runner.done());
    CHECK(hash(runner.state()) == hash(world.state()));
  }
}

TEST_CASE("real machines lift off and roll alike, whoever moves their bodies") {
  struct Case {
    std::string name;
    Scene scene;
  };
  const Case cases[] = {
      {"over a stump", test_scene("over_a_stump", {"programme.drop_height_m=0"})},
      {"into a hole", test_scene("into_a_hole", {"programme.drop_height_m=0"})},
      {"slow tilt, utility",
       test_machine("utility_75kw", {"start.heading_deg=-90", "ballast.rear.fill_fraction=0.75",
                                     "programme.tilt_rate_deg_per_s=1", "programme.duration_s=60"})},
      {"slow tilt, orchard",
       test_machine("orchard_60kw", {"start.heading_deg=90", "ballast.rear.fill_fraction=0.4",
                                     "programme.tilt_rate_deg_per_s=1", "programme.duration_s=60"})},
  };
  for (const Case& c : cases) {
    INFO(c.name);
    const Model model = build(c.scene);
    const Trace own = ours_traced(model, Engine::own);
    MESSAGE(c.name, ": lift-off at ", own.lift_off, " s, ", std::string(to_string(own.outcome)));
    const TraceDifference bullet = difference_between(model, own, ours_traced(model, Engine::bullet));
    print_difference("Bullet", bullet);
    CHECK(alike(bullet, kSameRule));
    const TraceDifference mujoco = difference_between(model, own, witnessed<MujocoTree>(model));
    print_difference("MuJoCo", mujoco);
    CHECK(alike(mujoco, kSameRule));
    const TraceDifference ode = difference_between(model, own, witnessed<OdeTree>(model));
    print_difference("ODE", ode);
    CHECK(alike(ode, kAnotherRule));
  }
}

TEST_CASE("the comparison sees a chassis one part in a hundred more unwilling to turn") {
  const Model model = build(test_scene("over_a_stump", {"programme.drop_height_m=0"}));
  const Trace own = ours_traced(model, Engine::own);
  const TraceDifference mujoco = difference_between(model, own, witnessed<MujocoTree>(model, 1.01));
  print_difference("MuJoCo", mujoco);
  CHECK_FALSE(alike(mujoco, kSameRule));
  const TraceDifference ode = difference_between(model, own, witnessed<OdeTree>(model, 1.01));
  print_difference("ODE", ode);
  CHECK_FALSE(alike(ode, kAnotherRule));
}
