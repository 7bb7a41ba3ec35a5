#ifdef SIDEHILL_SCREEN
// MachineStates between two frames of a run.
#include "render/screen/desk/between.h"

#include <doctest/doctest.h>

#include <cmath>
#include <glm/geometric.hpp>

#include "sim/motion/run.h"
#include "sim/scene/scene.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

TEST_CASE("a moment between two frames is the one that was run through, to a hair") {
  // Two runs of one machine, frames every 20 ms and every step: what lies between must be what was computed there.
  const Scene scene = test_scene("over_a_stump", {"programme.duration_s=6"});
  Runner runner(scene, build(scene));
  runner.advance(3);
  State from = runner.state();
  double worst = 0, worst_turn = 0;
  for (int frame = 0; frame < 100; ++frame) {
    std::vector<State> on_the_way;
    for (int i = 0; i < 20; ++i) runner.advance(0.001), on_the_way.push_back(runner.state());
    const State to = on_the_way.back();
    CHECK(hash(between(from, to, 0)) == hash(from));
    CHECK(hash(between(from, to, 1)) == hash(to));
    for (const State& true_state : on_the_way) {
      const State guess = between(from, to, (true_state.time - from.time) / (to.time - from.time));
      worst = std::max(worst, glm::length(guess.X_GV.p - true_state.X_GV.p));
      worst_turn = std::max(worst_turn, glm::length(guess.X_GV.R[2] - true_state.X_GV.R[2]));
      CHECK_NEAR(glm::length(guess.X_GV.R[0]), 1, 1e-9);
    }
    from = to;
  }
  CHECK(worst < 0.003);       // [m]; less than anybody sees
  CHECK(worst_turn < 0.003);  // [rad]
}

TEST_CASE("nothing between two moments is ever no number") {
  State a, b;
  b.time = 0.02;
  b.wheels[0].axle_G = -a.wheels[0].axle_G;  // as far apart as can be
  for (const double share : {-1.0, 0.3, 0.5, 2.0, std::nan("")}) {
    const State s = between(a, b, share);
    CHECK(std::isfinite(s.time));
    CHECK_NEAR(glm::length(s.wheels[0].axle_G), 1, 1e-9);
  }
}
#endif
