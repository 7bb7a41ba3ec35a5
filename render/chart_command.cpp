#include "render/chart_command.h"

#include <fmt/format.h>

#include "render/page/answer_charts.h"
#include "render/page/run_charts.h"
#include "sim/recording_file.h"
#include "sim/run.h"
#include "sim/scene_file.h"

namespace sidehill {
namespace {

Recording recording_of(const std::string& file, const std::vector<std::string>& changes) {
  if (!file.ends_with(".run")) return run(load_scene(file, changes));
  if (!changes.empty())
    throw InputError(
        fmt::format("chart: --set {}: {} is a recording, what is in it cannot be changed", changes.front(), file));
  return load_recording(file);
}

Chart chart_of(const ChartCommand& options, const std::string& file, const std::vector<std::string>& changes) {
  if (options.of == "time") return margin_chart(recording_of(file, changes));
  if (options.of == "loads") return loads_chart(recording_of(file, changes));
  if (file.ends_with(".run"))
    throw InputError(fmt::format("chart: --of {}: {} is a recording, allowed time, loads", options.of, file));
  const Scene scene = load_scene(file, changes);
  if (options.of == "fills") return fills_chart(scene);
  if (options.of == "why") {
    const auto chart = why_chart(with_reasons(answer(scene, 1)));
    if (!chart)
      throw InputError(
          "chart: --of why: with some of the causes no wheel of this machine ever lifts, so there are no shares");
    return *chart;
  }
  const Answer found = with_uncertainty(answer(scene));
  return options.of == "slopes" ? slopes_chart(found) : heading_chart(found, !options.plain);
}

}  // namespace

void add_chart_flags(CLI::App& sub, ChartCommand& options) {
  sub.add_option("file", options.file, "where the chart goes (.svg or .png)")->required();
  sub.add_option("--of", options.of,
                 "heading: margin by heading | slopes: what gives way first | why: breakdown by cause | fills: each "
                 "liquid | time, loads: over a run")
      ->check(CLI::IsMember({"heading", "time", "loads", "why", "slopes", "fills"}));
  sub.add_flag("--plain", options.plain, "with --of heading: along an axis, not around the machine");
  sub.add_option("--scale", options.scale, "pixels a point, for PNG")->check(CLI::Range(0.25, 8.0));
}

int chart_command(const ChartCommand& options, const std::string& scene, const std::vector<std::string>& changes) {
  const bool svg = options.file.ends_with(".svg");
  if (!svg && !options.file.ends_with(".png"))
    throw InputError("chart: " + options.file + ": a chart is written as SVG or PNG, give it a name in .svg or .png");
  if (options.plain && options.of != "heading") throw InputError("chart: --plain: needs --of heading");
  Chart chart;
  try {
    chart = chart_of(options, scene, changes);
  } catch (const InputError& error) {
    const std::string words = error.what();  // an impossible machine is refused by its key alone
    throw InputError(words.starts_with(scene) || words.starts_with("chart: ") ? words : scene + ": " + words);
  }
  svg ? write_svg(options.file, chart) : write_png(options.file, chart, options.scale);
  fmt::print("{}\n", options.file);
  return 0;
}

}  // namespace sidehill
