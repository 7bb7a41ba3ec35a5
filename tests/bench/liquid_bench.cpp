// The liquid's figures: a table for one tyre (wanted: 20 ms at most), a centroid from it (50 ns), a whole answer of
// `fill` (50 ms, the process included) in words and as JSON. build_model stands in statics_bench.cpp.
#include <benchmark/benchmark.h>

#include "render/text/fill/fill_json.h"
#include "render/text/fill/fill_table.h"
#include "vehicles/tyre_library.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

const char* const kSizes[] = {"23x8.50-12", "18.4R38", "710/70R42"};

Cavity cavity_of_size(const char* size) {
  const Tyre tyre = tyre_of_size(size);
  return cavity_of(tyre.free_radius, tyre.rim_radius, tyre.section_width, tyre.cavity_volume);
}

FillRequest request_for(const char* size) {
  FillRequest request;
  request.tyre = size;
  request.medium = "calcium_chloride_3_5";
  request.coldest_c = -20;
  return request;
}

void liquid_table(benchmark::State& state) {
  const Cavity cavity = cavity_of_size(kSizes[state.range(0)]);
  for (auto _ : state) benchmark::DoNotOptimize(tabulate(cavity, 0.75));
  state.SetLabel(kSizes[state.range(0)]);
}
BENCHMARK(liquid_table)->DenseRange(0, 2)->Unit(benchmark::kMillisecond);

void liquid_centroid(benchmark::State& state) {
  const LiquidTable table = tabulate(cavity_of_size("18.4R38"), 0.75);
  double lean = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(lookup(table, lean));
    lean = lean > 1.5 ? 0 : lean + 0.0137;
  }
}
BENCHMARK(liquid_centroid);

void fill_whole_answer(benchmark::State& state) {
  const FillRequest request = request_for(kSizes[state.range(0)]);
  for (auto _ : state) benchmark::DoNotOptimize(fill_sheet(request));
  state.SetLabel(kSizes[state.range(0)]);
}
BENCHMARK(fill_whole_answer)->DenseRange(0, 2)->Unit(benchmark::kMillisecond);

void fill_in_words(benchmark::State& state) {
  const FillSheet sheet = fill_sheet(request_for("18.4R38"));
  for (auto _ : state) benchmark::DoNotOptimize(fill_table(sheet));
}
BENCHMARK(fill_in_words)->Unit(benchmark::kMillisecond);

void fill_as_json(benchmark::State& state) {
  const FillSheet sheet = fill_sheet(request_for("18.4R38"));
  for (auto _ : state) benchmark::DoNotOptimize(to_json(sheet).dump(2));
}
BENCHMARK(fill_as_json)->Unit(benchmark::kMillisecond);

}  // namespace
