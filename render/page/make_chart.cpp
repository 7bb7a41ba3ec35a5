#include "render/page/make_chart.h"

#include <fmt/format.h>

#include "render/page/answer_charts.h"
#include "render/page/run_charts.h"
#include "render/text/rest/verdict_report.h"
#include "sim/base/errors.h"
#include "sim/scene/scene_file.h"

namespace sidehill {

const std::vector<std::string>& chart_names() {
  static const std::vector<std::string> names = {"heading", "time", "loads", "why", "slopes", "fills"};
  return names;
}

bool is_chart_of_run(std::string_view name) { return name == "time" || name == "loads"; }

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
Chart scene_chart(std::string_view name, const Scene& scene, bool plain) {
  if (name == "fills") return warned(fills_chart(scene), scene);
  if (name == "why") {
    const auto chart = why_chart(with_reasons(answer(scene, 1)));
    if (!chart) throw InputError("with some of the causes no wheel of this machine ever lifts, so there are no shares");
    return *chart;
  }
  if (name != "heading" && name != "slopes") throw InputError(fmt::format("{}: there is no such chart", name));
  const Answer found = with_uncertainty(answer(scene));
  return name == "slopes" ? slopes_chart(found) : heading_chart(found, !plain);
}

}  // namespace

Chart make_chart(std::string_view name, const Scene& scene, bool plain) { return scene_chart(name, scene, plain); }

Chart make_chart(std::string_view name, const Recording& recording) {
  const Scene scene = parse_scene(recording.scene_text, "recording");
  if (name == "time") return warned(margin_chart(recording), scene);
  if (name == "loads") return warned(loads_chart(recording), scene);
  throw InputError(fmt::format("{}: is not drawn over time", name));
}

}  // namespace sidehill
