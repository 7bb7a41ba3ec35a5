#include "render/page/make_chart.h"

#include <fmt/format.h>

#include "render/page/answer_charts.h"
#include "render/page/run_charts.h"
#include "render/text/rest/verdict_report.h"
#include "sim/base/errors.h"
#include "sim/scene/scene_file.h"

namespace sidehill::page {

namespace {

// A chart about something else must not hide that the set-up is frozen or over its limits.
Chart warned(Chart chart, const Scene& scene) {
  const std::vector<std::string> warnings = set_up_warnings(scene);
  // After a chart's own word on ice, which is as grave.
  const bool ice = !chart.remarks.empty() && chart.remarks.front().starts_with("FROZEN");
  chart.remarks.insert(chart.remarks.begin() + (ice ? 1 : 0), warnings.begin(), warnings.end());
  return chart;
}

// Those of an answer say the worst of it themselves.
Chart why_chart_of(const Scene& scene) {
  const auto chart = why_chart(with_reasons(answer(scene, 1)));
  if (!chart) throw InputError("with some of the causes no wheel of this machine ever lifts, so there are no shares");
  return *chart;
}

template <class Draws>
Chart of_recording(const Recording& recording, Draws draws) {
  return warned(draws(recording), parse_scene(recording.scene_text, "recording"));
}

const OfferedChart* kind_of(std::string_view key) {
  for (const OfferedChart& kind : offered_charts())
    if (kind.key == key) return &kind;
  return nullptr;
}

}  // namespace

const std::vector<OfferedChart>& offered_charts() {
  static const std::vector<OfferedChart> kinds = {
      {"heading", "Margin by heading", "margin by heading",
       [](const Scene& scene, bool plain) { return heading_chart(with_uncertainty(answer(scene)), !plain); }},
      {"slopes", "What gives way first", "what gives way first",
       [](const Scene& scene, bool) { return slopes_chart(with_uncertainty(answer(scene))); }},
      {"why", "Why: by cause", "breakdown by cause", [](const Scene& scene, bool) { return why_chart_of(scene); }},
      {"fills", "Each liquid and fill", "each liquid",
       [](const Scene& scene, bool) { return warned(fills_chart(scene), scene); }},
      {"time",
       "Force angle over time",
       "the margin over a run",
       {},
       [](const Recording& run, Units) { return of_recording(run, margin_chart); }},
      {"loads",
       "Wheel loads over time",
       "wheel loads over a run",
       {},
       [](const Recording& run, Units units) {
         return of_recording(run, [units](const Recording& r) { return loads_chart(r, units); });
       }},
  };
  return kinds;
}

std::vector<std::string> chart_keys() {
  std::vector<std::string> keys;
  for (const OfferedChart& kind : offered_charts()) keys.emplace_back(kind.key);
  return keys;
}

bool is_chart_of_run(std::string_view key) {
  const OfferedChart* kind = kind_of(key);
  return kind && kind->of_run;
}

Chart make_chart(std::string_view key, const Scene& scene, bool plain, Units units) {
  const OfferedChart* kind = kind_of(key);
  if (!kind || !kind->of_scene) throw InputError(fmt::format("{}: there is no such chart", key));
  return read_in(kind->of_scene(scene, plain), units);
}

Chart make_chart(std::string_view key, const Recording& recording, Units units) {
  if (!is_chart_of_run(key)) throw InputError(fmt::format("{}: is not drawn over time", key));
  return read_in(kind_of(key)->of_run(recording, units), units);
}

}  // namespace sidehill::page
