// Answers without time: one equilibrium, one lift-off, the whole solution, every heading; and the pieces under them.
#include <benchmark/benchmark.h>

#include "sim/insight/breakdown.h"
#include "sim/insight/uncertainty.h"
#include "sim/rest/equilibrium.h"
#include "sim/rest/landing.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "vehicles/cavity.h"

using namespace sidehill;

namespace {

void equilibrium(benchmark::State& state) {
  const Model model = build(test_scene("first_slope"));
  const EquilibriumSystem system = make_system(model);
  TrialPose start = start_trial(system);
  balance(system, pose_at_slope(), start);
  for (auto _ : state) {
    TrialPose trial = start;
    trial.slope = 0.1;  // six degrees away from where it starts
    benchmark::DoNotOptimize(balance(system, pose_at_slope(), trial));
  }
}
BENCHMARK(equilibrium);

void lift_off(benchmark::State& state) {
  const Model model = build(test_scene("first_slope"));
  for (auto _ : state) benchmark::DoNotOptimize(first_lift_off(model));
}
BENCHMARK(lift_off);

// A bump under the front wheels, so that footprints are sampled.
Model on_a_bump() {
  return build(test_scene("first_slope",
                          {"terrain.feature+={kind=\"bump\", x_m=2.2, y_m=0, length_m=1.2, width_m=4, height_m=0.1}"}));
}

void equilibrium_on_a_bump(benchmark::State& state) {
  const Model model = on_a_bump();
  EquilibriumSystem system = make_system(model);
  TrialPose start;
  if (land(system, 0, start) != Landing::rests) return state.SkipWithError("it does not rest there");
  for (auto _ : state) {
    TrialPose trial = start;
    trial.slope = 0.1;
    benchmark::DoNotOptimize(balance(system, pose_at_slope(), trial));
  }
}
BENCHMARK(equilibrium_on_a_bump);

void lift_off_on_a_bump(benchmark::State& state) {
  const Model model = on_a_bump();
  for (auto _ : state) benchmark::DoNotOptimize(first_lift_off(model));
}
BENCHMARK(lift_off_on_a_bump);

void set_down_on_a_bump(benchmark::State& state) {
  const Model model = on_a_bump();
  for (auto _ : state) {
    EquilibriumSystem system = make_system(model);
    TrialPose trial;
    benchmark::DoNotOptimize(land(system, 0, trial));
  }
}
BENCHMARK(set_down_on_a_bump);

void whole_answer(benchmark::State& state) {
  const Model model = build(test_scene("first_slope"));
  for (auto _ : state) benchmark::DoNotOptimize(solve_statics(model));
}
BENCHMARK(whole_answer)->Unit(benchmark::kMillisecond);

void envelope_of_72_headings(benchmark::State& state) {
  const Model model = build(test_scene("first_slope"));
  for (auto _ : state) benchmark::DoNotOptimize(envelope(model, 72));
}
BENCHMARK(envelope_of_72_headings)->Unit(benchmark::kMillisecond);

void envelope_with_tip_over(benchmark::State& state) {
  const Model model = build(test_scene("first_slope"));
  for (auto _ : state) benchmark::DoNotOptimize(envelope(model, 72, true));
}
BENCHMARK(envelope_with_tip_over)->Unit(benchmark::kMillisecond);

void breakdown_by_cause(benchmark::State& state) {
  const Model model = build(test_scene("first_slope"));
  for (auto _ : state) benchmark::DoNotOptimize(breakdown(model));
}
BENCHMARK(breakdown_by_cause)->Unit(benchmark::kMillisecond);

void intervals(benchmark::State& state) {
  const Scene scene = test_scene("first_slope");
  const Model model = build(scene);
  const StaticSolution statics = solve_statics(model);
  for (auto _ : state) benchmark::DoNotOptimize(uncertainty(scene, model, statics));
}
BENCHMARK(intervals)->Unit(benchmark::kMillisecond);

void build_model(benchmark::State& state) {
  const Scene scene = test_scene("first_slope");
  for (auto _ : state) benchmark::DoNotOptimize(build(scene));
}
BENCHMARK(build_model)->Unit(benchmark::kMillisecond);

// The same again, with a model that lends its liquid tables.
void build_model_like(benchmark::State& state) {
  Scene scene = test_scene("first_slope");
  const Model like = build(scene);
  scene.ballast.rear_wheel_weights += 1;
  for (auto _ : state) benchmark::DoNotOptimize(build(scene, &like));
}
BENCHMARK(build_model_like)->Unit(benchmark::kMillisecond);

void copy_model(benchmark::State& state) {
  const Model model = build(test_scene("first_slope"));
  for (auto _ : state) benchmark::DoNotOptimize(Model(model));
}
BENCHMARK(copy_model)->Unit(benchmark::kMillisecond);

void liquid_lookup(benchmark::State& state) {
  const LiquidTable table = tabulate(cavity_of(0.82, 0.48, 0.46, 0), 0.75);
  double lean = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(lookup(table, lean));
    lean = lean > 1.5 ? 0 : lean + 0.01;
  }
}
BENCHMARK(liquid_lookup);

void ground_query(benchmark::State& state) {
  const char* const scenes[] = {"first_slope", "over_a_stump", "orchard_row"};
  const Scene scene = test_scene(scenes[state.range(0)]);
  double x = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(ground_at(scene.terrain, {x, 0.3}));
    x = x > 12 ? 0 : x + 0.013;
  }
  state.SetLabel(scenes[state.range(0)]);
}
BENCHMARK(ground_query)->DenseRange(0, 2);

}  // namespace
