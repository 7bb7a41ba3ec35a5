#include "sim/rescue.h"

#include <tbb/parallel_for.h>

#include <algorithm>

#include "sim/run.h"

namespace sidehill {
namespace {

constexpr double kBefore = 4;  // first moment tried, before first lift-off [s]
constexpr double kOnward = 6;  // a branch is watched so long after the run without it has gone over [s]
constexpr double kStill = 1e-4, kStillFor = 0.5;  // at rest: energy over weight and metre, for so long [s]
constexpr double kLevel = 0.035;                  // no downhill to steer to [rad]

// A run that can be branched: all its future depends on.
struct Branch {
  Moment moment;
  Driving driving;
  Watch watch;
  double time = 0;
};

bool overturns(Outcome outcome) {
  return outcome == Outcome::on_frame || outcome == Outcome::rolls_on || outcome == Outcome::overturned_rear ||
         outcome == Outcome::diverged;
}

void do_act(RescueAct act, const Model& model, const State& state, Driving& driving) {
  if (act == RescueAct::stop) {
    driving.next = model.programme.actions.size();  // nothing else is done from now on
    driving.moves = driving.coasting = true;
    driving.brake = 1;
    driving.boom_angle = state.boom_angle;  // and the lever let go
  } else if (act == RescueAct::steer_downhill) {
    driving.deaf_to_steering = driving.keeps_line = true;
    driving.line_from = state.X_GV.p;
    driving.line_along = {0, -1, 0};
  } else {
    driving.deaf_to_loader = true;
    driving.boom_angle = model.loader.min_angle;
  }
}

bool all_down(const State& state) {
  return std::all_of(state.wheels.begin(), state.wheels.end(), [](const WheelState& w) { return w.load > 0; });
}

bool saved(const Model& model, const Branch& from, RescueAct act, double until) {
  World world(model, Pose{}, 0);
  world.restore(from.moment);
  Driving driving = from.driving;
  do_act(act, model, world.state(), driving);
  Watch watch = from.watch;
  std::vector<Event> events;
  const double weight = total_mass(model) * model.gravity;
  double still_since = -1;
  try {
    while (world.state().time < until && !watch.over() && !overturns(watch.outcome())) {
      world.step(drive(model, world.state(), driving));
      watch.look(world.state(), events);
      const State& s = world.state();
      const bool still = s.kinetic_energy < kStill * weight && all_down(s);
      if (!still || still_since < 0) still_since = still ? s.time : -1;
      if (act == RescueAct::stop && still && s.time - still_since > kStillFor) break;
    }
  } catch (const Diverged&) {
    return false;
  }
  return !overturns(watch.outcome()) && all_down(world.state());
}

}  // namespace

Rescues rescues(const Scene& scene) {
  Scene fast = scene;
  fast.settings.engine = Engine::own;
  const Model model = build(fast);
  Runner runner(fast, model);
  std::vector<Branch> branches;
  while (!runner.done() && !overturns(runner.recording().outcome)) {
    branches.push_back({runner.moment(), runner.driving(), runner.watch(), runner.state().time});
    runner.advance(kRescueStep);
  }
  Rescues out;
  out.needed = overturns(runner.recording().outcome) && runner.recording().outcome != Outcome::diverged;
  for (const Event& event : runner.recording().events) {
    if (event.kind == EventKind::lift_off && !out.lift_off) out.lift_off = event.time;
    if (event.kind == EventKind::point_of_no_return && !out.point_of_no_return) out.point_of_no_return = event.time;
  }
  if (!out.needed || branches.empty()) return out;
  const double until = runner.state().time + kOnward;
  const double from = out.lift_off.value_or(branches.back().time) - kBefore;
  const double to = out.point_of_no_return.value_or(branches.back().time);
  std::erase_if(branches, [&](const Branch& b) { return b.time < from || b.time > to; });
  if (branches.empty()) return out;
  out.tried_from = branches.front().time;
  for (RescueAct act : kRescueActs) {
    if (act == RescueAct::lower_loader && !model.loader.fitted) continue;
    if (act == RescueAct::steer_downhill && model.terrain.slope < kLevel) continue;
    std::vector<char> works(branches.size());
    tbb::parallel_for(std::size_t{0}, branches.size(),
                      [&](std::size_t i) { works[i] = saved(model, branches[i], act, until); });
    const auto first_failing = std::find(works.begin(), works.end(), 0);
    Rescue rescue{act, {}, std::find(first_failing, works.end(), 1) != works.end()};
    if (first_failing != works.begin())
      rescue.latest = branches[static_cast<std::size_t>(first_failing - works.begin()) - 1].time;
    out.acts.push_back(rescue);
  }
  return out;
}

}  // namespace sidehill
