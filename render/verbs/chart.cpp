// `sidehill chart`: one chart of a scene or a recorded run into an SVG or PNG file. What it draws comes from
// render/page/.
#include <fmt/format.h>

#include <string>
#include <vector>

#include "render/page/make_chart.h"
#include "render/verbs/outputs.h"
#include "render/verbs/recording_of.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct ChartCommand {
  SceneArguments in;
  std::string file;            // where the chart goes, .svg or .png
  std::string of = "heading";  // one of chart_keys()
  bool plain = false;          // heading along an axis in place of around the machine
  double scale = 2;            // pixels a point, for PNG
  bool force = false;          // replace the file
  Units units = Units::si;
};

Chart chart_of(const ChartCommand& options, const std::string& file, const std::vector<std::string>& changes) {
  if (is_chart_of_run(options.of)) return make_chart(options.of, recording_of("chart", file, changes), options.units);
  if (file.ends_with(".run")) {
    std::string over_time;
    for (const OfferedChart& kind : offered_charts())
      if (kind.of_run) over_time += fmt::format("{}{}", over_time.empty() ? "" : ", ", kind.key);
    throw InputError(fmt::format("chart: --of {}: {} is a recording, allowed {}", options.of, file, over_time));
  }
  return make_chart(options.of, load_scene(file, changes), options.plain, options.units);
}

void add_chart_flags(CLI::App& sub, ChartCommand& options) {
  sub.add_option("file", options.file, "where the chart goes (.svg or .png)")->required();
  std::string kinds;
  for (const OfferedChart& kind : offered_charts())
    kinds += fmt::format("{}{}: {}", kinds.empty() ? "" : " | ", kind.key, kind.help);
  sub.add_option("--of", options.of, kinds)->check(CLI::IsMember(chart_keys()));
  sub.add_flag("--plain", options.plain, "with --of heading: draw it along an axis, not around the machine");
  sub.add_option("--scale", options.scale, "pixels per point, for PNG")->check(CLI::Range(0.25, 8.0));
  add_force_flag(sub, options.force);
}

int chart_verb(const ChartCommand& options, const std::string& scene, const std::vector<std::string>& changes) {
  const bool svg = options.file.ends_with(".svg");
  if (!svg && !options.file.ends_with(".png"))
    throw InputError("chart: " + options.file + ": a chart is written as SVG or PNG, give it a name in .svg or .png");
  if (options.plain && options.of != "heading") throw InputError("chart: --plain: needs --of heading");
  check_plain_file(scene);
  check_output(options.file, options.force);
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

}  // namespace

VerbAction prepare_chart(CLI::App& sub) {
  const auto asked = std::make_shared<ChartCommand>();
  take_scene(sub, asked->in);
  add_chart_flags(sub, *asked);
  take_units(sub, asked->units);
  return [asked] { return chart_verb(*asked, asked->in.scene, asked->in.changes); };
}

}  // namespace sidehill
