// Who moves the bodies, side by side in one run: the full tractor (loader, all four tyres filled, eleven bodies)
// rolling at 6 km/h across an even slope and over a bump, moved by Bullet, by our own step, by MuJoCo and by ODE under
// the same forces. `steps` is steps per second; compare within one run. The first row of a ground moves nothing: what
// forces and looking at the bodies cost, the same for all.
#include <benchmark/benchmark.h>

#include <string>

#include "tests/kit/machines.h"
#include "tests/witness/mujoco_tree.h"
#include "tests/witness/ode_tree.h"
#include "tests/witness/programme.h"

using namespace sidehill;

namespace {

enum Mover { nobody, bullet, own, mujoco, ode };
constexpr const char* kMovers[] = {"nobody", "Bullet", "own", "MuJoCo", "ODE"};

Model tractor(bool uneven, Mover mover) {
  Scene scene =
      test_machine("utility_75kw", {"terrain.slope_deg=10", "start.heading_deg=-90", "ballast.front.medium=\"water\"",
                                    "ballast.front.fill_fraction=0.75", "ballast.rear.fill_fraction=0.75",
                                    "ballast.loader_payload_kg=400", "ballast.loader_pin_height_m=0.5",
                                    "programme.speed_kmh=6", "programme.drive_from_s=0"});
  // Under the uphill wheels for all of the second that is timed.
  if (uneven) scene.terrain.features.push_back({"bump", FeatureKind::bump, 5.6, 0.9, 0, 5.0, 1.2, 0.15, 1});
  scene.settings.engine = mover == own ? Engine::own : Engine::bullet;
  return build(scene);
}

void engine(benchmark::State& state) {
  const auto mover = static_cast<Mover>(state.range(0));
  const bool uneven = state.range(1) != 0;
  const Model model = tractor(uneven, mover);
  World world = set_down(model);
  Driving driving = driving_at_start(model, world.state());
  while (world.state().time < 2) world.step(drive(model, world.state(), driving));
  const MachineState start = world.moment();
  const Input input = drive(model, world.state(), driving);
  MujocoTree by_mujoco(world.machine().tree, start.motion);
  OdeTree by_ode(world.machine().tree, start.motion);
  double steps = 0;
  for (auto _ : state) {
    world.restore(start);
    by_mujoco.set(start.motion);
    by_ode.set(start.motion);
    for (int n = 0; n < 1000; ++n) {
      if (mover == mujoco)
        step_by(by_mujoco, world, input, model.time_step);
      else if (mover == ode)
        step_by(by_ode, world, input, model.time_step);
      else if (mover == nobody)
        world.forces(input), world.finish(start.motion);
      else
        world.step(input);
    }
    steps += 1000;
  }
  state.SetLabel(std::string(kMovers[mover]) + (uneven ? ", on a bump" : ", even slope"));
  state.counters["steps"] = benchmark::Counter(steps, benchmark::Counter::kIsRate);
  state.counters["bodies"] = static_cast<double>(world.machine().tree.bodies.size());
}
BENCHMARK(engine)->ArgsProduct({{nobody, bullet, own, mujoco, ode}, {0, 1}})->Unit(benchmark::kMillisecond);

}  // namespace
