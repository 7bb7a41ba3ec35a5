#include "sim/insight/rescue.h"

#include <tbb/parallel_for.h>

#include <algorithm>

#include "sim/motion/run.h"

namespace sidehill {
namespace {

constexpr double kBefore = 4;  // first moment tried, before first lift-off [s]
constexpr double kOnward = 6;  // a branch is watched so long after the run without it has gone over [s]
constexpr double kAtRest = 1e-4, kStillFor = 0.5;  // at rest: energy over weight and metre, for so long [s]
constexpr double kStopped = 2e-3;  // with a wheel up it rocks on for long: no more energy than that [the same]
constexpr double kLevel = 0.035;   // no downhill to steer to [rad]
constexpr double kHalf = 0.5;      // of the pedal

// A run that can be branched: all its future depends on.
struct Branch {
  MachineState moment;
  Driving driving;
  Watch watch;
  double time = 0;
};

// A run that has diverged saves nobody either.
bool lost(Outcome outcome) { return overturns(outcome) || outcome == Outcome::diverged; }

void do_act(RescueAct act, const Model& model, const State& state, Driving& driving) {
  if (act == RescueAct::stop || act == RescueAct::stop_gently) {
    driving.next = model.programme.actions.size();  // nothing else is done from now on
    driving.moves = driving.coasting = true;
    driving.brake = act == RescueAct::stop ? 1 : kHalf;
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

struct Tried {
  RescueEnd end = RescueEnd::goes_over;
  bool stopped = false;
};

Tried tried(const Model& model, const Branch& from, RescueAct act, double until) {
  World world(model, Pose{}, 0);
  world.restore(from.moment);
  Driving driving = from.driving;
  do_act(act, model, world.state(), driving);
  Watch watch = from.watch;
  std::vector<Event> events;
  const double weight = total_mass(model) * model.gravity;
  const bool stops = act == RescueAct::stop || act == RescueAct::stop_gently;
  double still_since = -1;
  try {
    while (world.state().time < until && !watch.over() && !lost(watch.outcome())) {
      world.step(drive(model, world.state(), driving));
      watch.look(world.state(), events);
      const State& s = world.state();
      const bool still = s.kinetic_energy < kAtRest * weight;
      if (!still || still_since < 0) still_since = still ? s.time : -1;
      // With a wheel up it may still be going, slowly, over its balance.
      if (stops && still && all_down(s) && s.time - still_since > kStillFor) break;
    }
  } catch (const Diverged&) {
    return {};
  }
  if (lost(watch.outcome())) return {};
  return {all_down(world.state()) ? RescueEnd::on_its_wheels : RescueEnd::wheel_up,
          world.state().kinetic_energy < kStopped * weight};
}

}  // namespace

Rescues rescues(const Scene& scene) {
  Scene by_own_engine = scene;
  by_own_engine.settings.engine = Engine::own;
  const Model model = build(by_own_engine);
  Runner runner(by_own_engine, model);
  std::vector<Branch> branches;
  while (!runner.done() && !lost(runner.recording().outcome)) {
    branches.push_back({runner.moment(), runner.driving(), runner.watch(), runner.state().time});
    runner.advance(kRescueStep);
  }
  Rescues out;
  out.needed = overturns(runner.recording().outcome);
  if (const Event* lift = first_lift_off(runner.recording().events)) out.lift_off = lift->time;
  for (const Event& event : runner.recording().events)
    if (event.kind == EventKind::point_of_no_return && !out.point_of_no_return) out.point_of_no_return = event.time;
  if (!out.needed || branches.empty()) return out;
  const double until = runner.state().time + kOnward;
  const double from = out.lift_off.value_or(branches.back().time) - kBefore;
  const double to = out.point_of_no_return.value_or(branches.back().time);
  std::erase_if(branches, [&](const Branch& b) { return b.time < from || b.time > to; });
  if (branches.empty()) return out;
  out.tried_from = branches.front().time;
  out.tried_to = branches.back().time;
  for (RescueAct act : kRescueActs) {
    if (act == RescueAct::lower_loader && !model.loader.fitted) continue;
    if (act == RescueAct::steer_downhill && model.terrain.slope < kLevel) continue;
    std::vector<Tried> ends(branches.size());
    tbb::parallel_for(std::size_t{0}, branches.size(),
                      [&](std::size_t i) { ends[i] = tried(model, branches[i], act, until); });
    Rescue rescue;
    rescue.act = act;
    rescue.first = ends.front().end;
    bool on_wheels = true, upright = true;
    for (std::size_t i = 0; i < ends.size(); ++i) {
      const bool down = ends[i].end == RescueEnd::on_its_wheels;
      rescue.scattered = rescue.scattered || (!on_wheels && down);
      on_wheels = on_wheels && down;
      upright = upright && ends[i].end != RescueEnd::goes_over;
      if (on_wheels) rescue.latest = branches[i].time;
      if (upright) rescue.latest_upright = branches[i].time;
      if (upright && !down) rescue.stops = rescue.stops && ends[i].stopped;
    }
    out.acts.push_back(rescue);
  }
  return out;
}

}  // namespace sidehill
