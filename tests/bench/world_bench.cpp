// The moving tractor: simulated seconds per second of one core, as the counter "x_real_time".
#include <benchmark/benchmark.h>
#include <tbb/global_control.h>

#include "sim/insight/slope_limit.h"
#include "sim/motion/run.h"
#include "tests/kit/machines.h"

using namespace sidehill;

namespace {

void whole_run(benchmark::State& state) {
  const char* const scenes[] = {"first_slope", "over_a_stump", "into_a_hole", "orchard_row"};
  const Scene scene = test_scene(
      scenes[state.range(0)],
      {"programme.duration_s=5", state.range(1) == 0 ? "settings.engine=\"bullet\"" : "settings.engine=\"own\""});
  const Model model = build(scene);
  double simulated = 0;
  for (auto _ : state) {
    Runner runner(scene, model);
    runner.advance(10);
    simulated += runner.state().time;
  }
  state.SetLabel(std::string(scenes[state.range(0)]) + (state.range(1) == 0 ? ", Bullet" : ", own"));
  state.counters["x_real_time"] = benchmark::Counter(simulated, benchmark::Counter::kIsRate);
}
BENCHMARK(whole_run)->ArgsProduct({{0, 1, 2, 3}, {0, 1}})->Unit(benchmark::kMillisecond);

// Five speeds by five heights of the stump, ten seconds in every run; the argument is the number of cores.
void slope_limit_table(benchmark::State& state) {
  const Scene scene = test_scene("over_a_stump");
  const std::vector<SweptKey> keys = {{"programme.speed_kmh", 3, 9, 5}, {"terrain.feature[0].height_m", 0.1, 0.3, 5}};
  const tbb::global_control cores(tbb::global_control::max_allowed_parallelism,
                                  static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(sweep(scene, keys, {}));
}
BENCHMARK(slope_limit_table)->Arg(1)->Arg(2)->Iterations(1)->UseRealTime()->Unit(benchmark::kSecond);

}  // namespace
