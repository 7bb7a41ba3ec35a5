// The job: rules and grip of one set-up, soil below it, and several set-ups side by side.
#include <benchmark/benchmark.h>

#include "sim/insight/set_ups.h"
#include "tests/kit/machines.h"

namespace {

using namespace sidehill;

Scene ploughing() { return test_scene("first_slope", {"job_file=plough_heavy"}); }

void rules_and_grip(benchmark::State& state) {
  const Scene scene = ploughing();
  const Model model = build(scene);
  for (auto _ : state) {
    const RuleReport rules = rules_on(scene, model);
    benchmark::DoNotOptimize(at_work(scene, model, rules));
  }
}
BENCHMARK(rules_and_grip)->Unit(benchmark::kMicrosecond);

void soil_below(benchmark::State& state) {
  const Scene scene = ploughing();
  const Model model = build(scene);
  const RuleReport rules = rules_on(scene, model);
  for (auto _ : state) benchmark::DoNotOptimize(soil_under(scene, model, rules));
}
BENCHMARK(soil_below)->Unit(benchmark::kMillisecond);

void four_set_ups(benchmark::State& state) {
  const Scene scene = ploughing();
  Scene half = scene, front = scene;
  for (TyreFill& fill : half.ballast.fill) fill.fill_fraction *= 0.5;
  front.ballast.front_weights += 300;
  const std::vector<NamedScene> set_ups{
      {"as it is", scene}, {"nothing", without_ballast(scene)}, {"half", half}, {"front", front}};
  for (auto _ : state) benchmark::DoNotOptimize(compare_set_ups(set_ups));
}
BENCHMARK(four_set_ups)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
