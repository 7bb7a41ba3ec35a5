#include "render/page/make_chart.h"

#include <fmt/format.h>

#include "render/page/answer_charts.h"
#include "render/page/run_charts.h"
#include "sim/scene_file.h"

namespace sidehill {

const std::vector<std::string>& chart_names() {
  static const std::vector<std::string> names = {"heading", "time", "loads", "why", "slopes", "fills"};
  return names;
}

bool is_chart_of_run(std::string_view name) { return name == "time" || name == "loads"; }

Chart make_chart(std::string_view name, const Scene& scene, bool plain) {
  if (name == "fills") return fills_chart(scene);
  if (name == "why") {
    const auto chart = why_chart(with_reasons(answer(scene, 1)));
    if (!chart) throw InputError("with some of the causes no wheel of this machine ever lifts, so there are no shares");
    return *chart;
  }
  if (name != "heading" && name != "slopes") throw InputError(fmt::format("{}: there is no such chart", name));
  const Answer found = with_uncertainty(answer(scene));
  return name == "slopes" ? slopes_chart(found) : heading_chart(found, !plain);
}

Chart make_chart(std::string_view name, const Recording& recording) {
  if (name == "time") return margin_chart(recording);
  if (name == "loads") return loads_chart(recording);
  throw InputError(fmt::format("{}: is not drawn over time", name));
}

}  // namespace sidehill
