// Values of a moment: every one of them counts in the hash, and a copy is a copy.
#include "sim/motion/state.h"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <set>
#include <vector>

#include "sim/motion/recording.h"

using namespace sidehill;

TEST_CASE("the hash feels the last bit of every value") {
  const auto nudge = [](double& x) { x = std::nextafter(x, 1e9); };
  std::vector<std::function<void(State&)>> changes{
      [&](State& s) { nudge(s.time); },          [&](State& s) { nudge(s.slope); },
      [&](State& s) { nudge(s.X_GV.R[1].z); },   [&](State& s) { nudge(s.X_GV.p.x); },
      [&](State& s) { nudge(s.v_G.y); },         [&](State& s) { nudge(s.w_G.z); },
      [&](State& s) { nudge(s.axle_angle); },    [&](State& s) { nudge(s.axle_rate); },
      [&](State& s) { nudge(s.boom_angle); },    [&](State& s) { nudge(s.centre_of_gravity_G.x); },
      [&](State& s) { s.on_stop = true; },       [&](State& s) { s.hull_touches = true; },
      [&](State& s) { s.frame_touches = true; }, [&](State& s) { nudge(s.kinetic_energy); },
  };
  for (std::size_t i = 0; i < kWheels; ++i) {
    changes.push_back([&nudge, i](State& s) { nudge(s.wheels[i].centre_G.z); });
    changes.push_back([&nudge, i](State& s) { nudge(s.wheels[i].axle_G.x); });
    changes.push_back([&nudge, i](State& s) { nudge(s.wheels[i].spin_angle); });
    changes.push_back([&nudge, i](State& s) { nudge(s.wheels[i].spin_rate); });
    changes.push_back([&nudge, i](State& s) { nudge(s.wheels[i].load); });
    changes.push_back([&nudge, i](State& s) { nudge(s.wheels[i].contact_G.y); });
    changes.push_back([&nudge, i](State& s) { nudge(s.wheels[i].force_G.x); });
    changes.push_back([i](State& s) { s.wheels[i].sliding = true; });
    changes.push_back([&nudge, i](State& s) { nudge(s.wheels[i].liquid_swing); });
    changes.push_back([&nudge, i](State& s) { nudge(s.wheels[i].liquid_G.z); });
  }
  const State state;
  std::set<std::uint64_t> seen{hash(state)};
  for (const auto& change : changes) {
    State copy = state;
    CHECK(hash(copy) == hash(state));
    change(copy);
    CHECK(seen.insert(hash(copy)).second);
  }
}

TEST_CASE("events and outcomes have names of their own") {
  std::set<std::string> names;
  for (int k = 0; k <= static_cast<int>(EventKind::at_rest); ++k) names.insert(to_string(static_cast<EventKind>(k)));
  CHECK(names.size() == 10);
  for (int k = 0; k <= static_cast<int>(Outcome::diverged); ++k) names.insert(to_string(static_cast<Outcome>(k)));
  CHECK(names.size() == 10 + static_cast<std::size_t>(Outcome::diverged) + 1);
  CHECK(names.count("") == 0);
}
