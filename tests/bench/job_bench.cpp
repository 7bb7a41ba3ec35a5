// The job: rules and grip of one set-up, soil below it, several set-ups side by side, the plan, and the card for the
// cab.
#include <benchmark/benchmark.h>

#include "render/text/job/set_ups_report.h"
#include "sim/insight/cab_card.h"
#include "sim/insight/set_ups.h"
#include "sim/plan/plan.h"
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

// One plan on one core: built, measured, and placed on the slope at its deciding headings.
void one_plan(benchmark::State& state) {
  const PlanGround ground = plan_ground(ploughing());
  std::size_t i = 0;
  for (auto _ : state) {
    i = (i + 7) % ground.space.size();
    const PlanChoice choice = plan_at(ground.space, i);
    benchmark::DoNotOptimize(measure(ground, choice));
    benchmark::DoNotOptimize(stand_of(ground, choice, false));
  }
  state.SetItemsProcessed(state.iterations());
}
BENCHMARK(one_plan)->Unit(benchmark::kMicrosecond);

// All plans of a job, the few chosen, and their intervals, on all cores.
void whole_plan(benchmark::State& state) {
  const Scene scene = ploughing();
  std::size_t plans = 0;
  for (auto _ : state) plans += make_plan(scene, {}).looked_at;
  state.SetItemsProcessed(static_cast<std::int64_t>(plans));
}
BENCHMARK(whole_plan)->Unit(benchmark::kMillisecond)->UseRealTime();

// The card of a machine with a loader: 12 set-ups standing, 24 runs' limits.
void cab_card(benchmark::State& state) {
  const Scene scene = test_scene("bucket_up");
  for (auto _ : state) benchmark::DoNotOptimize(sidehill::cab_card(scene));
}
BENCHMARK(cab_card)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(1);

// What the answering thread of the window adds to each answer, so that it can be compared.
void job_of_an_answer(benchmark::State& state) {
  SetUpAnswer set_up{"A", unanswered(ploughing()), {}, {}, {}, {}, {}};
  for (auto _ : state) {
    add_job(set_up);
    benchmark::DoNotOptimize(set_up);
  }
}
BENCHMARK(job_of_an_answer)->Unit(benchmark::kMillisecond);

// What the window words in each picture while both set-ups stand side by side.
void words_of_two_set_ups(benchmark::State& state) {
  const Scene scene = ploughing();
  const SetUpComparison all = compare_set_ups({{"A", scene}, {"B", without_ballast(scene)}});
  const SetUpAnswer &a = all.set_ups[0], &b = all.set_ups[1];
  const std::vector<text::ShownSetUp> shown{{"A", &a}, {"B", &b}};
  for (auto _ : state) {
    const SetUpDifference pair =
        difference(a.answer.scene, *a.answer.uncertainty, b.answer.scene, *b.answer.uncertainty);
    for (const text::SetUpRow& row : text::set_up_rows()) {
      benchmark::DoNotOptimize(text::cell_words(row, a, text::Units::si));
      benchmark::DoNotOptimize(text::cell_words(row, b, text::Units::si));
      benchmark::DoNotOptimize(text::difference_words(row, a, b, &pair, text::Units::si));
    }
    benchmark::DoNotOptimize(text::first_lines(shown, text::Units::si));
    benchmark::DoNotOptimize(text::lines_of_limits(shown, text::Units::si));
  }
}
BENCHMARK(words_of_two_set_ups)->Unit(benchmark::kMicrosecond);

}  // namespace
