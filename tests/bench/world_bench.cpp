// The moving tractor: simulated seconds per second of one core, as the counter "x_real_time".
#include <benchmark/benchmark.h>

#include "sim/run.h"
#include "tests/machines.h"

using namespace sidehill;

namespace {

void whole_run(benchmark::State& state) {
  const char* const scenes[] = {"first_slope", "over_a_stump", "into_a_hole", "orchard_row"};
  const Scene scene = test_scene(scenes[state.range(0)], {"programme.duration_s=5"});
  const Model model = build(scene);
  double simulated = 0;
  for (auto _ : state) {
    Runner runner(scene, model);
    runner.advance(10);
    simulated += runner.state().time;
  }
  state.SetLabel(scenes[state.range(0)]);
  state.counters["x_real_time"] = benchmark::Counter(simulated, benchmark::Counter::kIsRate);
}
BENCHMARK(whole_run)->DenseRange(0, 3)->Unit(benchmark::kMillisecond);

}  // namespace
