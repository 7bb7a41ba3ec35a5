#include "render/page/chart.h"

#include <fmt/format.h>

#include <cmath>

#include "render/page/chart_plots.h"
#include "render/page/paint.h"
#include "render/page/svg.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene.h"

namespace sidehill::page {

Chart read_in(Chart chart, Units units) {
  if (units == Units::si) return chart;
  const auto read = [units](std::string& words) { words = text::read_in(words, units); };
  for (std::string* words : {&chart.title, &chart.subtitle, &chart.caution, &chart.x.name, &chart.y.name}) read(*words);
  for (ChartSeries& series : chart.series) read(series.name);
  for (ChartRule& rule : chart.rules) read(rule.name);
  for (ChartBand& band : chart.bands) read(band.name);
  for (ChartStretch& stretch : chart.stretches) read(stretch.name);
  for (ChartEvent& event : chart.events) read(event.words);
  for (ChartRay& ray : chart.rays) read(ray.name);
  for (ChartBar& bar : chart.bars) read(bar.name), read(bar.words);
  for (auto* list : {&chart.remarks, &chart.limits})
    for (std::string& words : *list) read(words);
  return chart;
}
namespace {

constexpr double kWidth = 900, kMargin = 36;  // [pt]

double add_paragraph(PageSheet& sheet, double y, const std::string& words, double size, Colour ink, bool strong,
                     double indent = 0) {
  for (const std::string& line : wrapped(words, sheet.width - 2 * kMargin - indent, size, strong)) {
    add_text(sheet, kMargin + indent, y + size, line, size, ink, strong);
    y += size * 1.4;
  }
  return y;
}

}  // namespace

double tick_step(double span, int most) {
  if (!(span > 0) || !std::isfinite(span) || most < 1) return 1;
  const double least = span / most;
  const double power = std::pow(10, std::floor(std::log10(least)));
  for (const double step : {1.0, 2.0, 5.0})
    if (step * power >= least * (1 - 1e-9)) return step * power;
  return 10 * power;
}

std::string tick_words(double value, double step) {
  const int digits = std::max(0, static_cast<int>(-std::floor(std::log10(step) + 1e-9)));
  std::string text = fmt::format("{:.{}f}", value, digits);
  if (text.find_first_not_of("-0.") == std::string::npos && text.front() == '-') text.erase(0, 1);
  return text;
}

PageSheet plot_of(const Chart& chart, double width) {
  PageSheet sheet;
  sheet.width = width;
  switch (chart.kind) {
    case ChartKind::lines:
      plot_lines(sheet, chart);
      break;
    case ChartKind::polar:
      plot_polar(sheet, chart);
      break;
    case ChartKind::bars:
      plot_bars(sheet, chart);
      break;
  }
  return sheet;
}

PageSheet sheet_of(const Chart& chart) {
  PageSheet sheet;
  sheet.width = kWidth;
  double y = add_paragraph(sheet, 26, chart.title, 22, palette::kInk, true);
  y = add_paragraph(sheet, y + 2, chart.subtitle, 13, palette::kInkSoft, false) + 12;
  const PageSheet plot = plot_of(chart, kWidth - 2 * kMargin);
  place(sheet, plot, kMargin, y);
  y += plot.height + 10;
  for (const std::string& remark : chart.remarks) y = add_paragraph(sheet, y, remark, 13, palette::kInk, false) + 3;
  y += 8;
  add_line(sheet, {kMargin, y}, {kWidth - kMargin, y}, palette::kInkSoft, 0.75);
  y += 6;
  for (const std::string& limit : chart.limits) y = add_paragraph(sheet, y, limit, 11, palette::kInkSoft, false) + 1;
  if (!chart.caution.empty()) {
    y += 6;
    // A sign with an exclamation mark: a caution, whatever the colours.
    const double x = kMargin + 11;
    sheet.marks.push_back(PagePath{{{x, y}, {x + 11, y + 19}, {x - 11, y + 19}},
                                   true,
                                   1.6,
                                   palette::kInk,
                                   Dash::solid,
                                   Pattern::plain,
                                   palette::kNear});
    add_text(sheet, x, y + 16.5, "!", 14, palette::kInk, true, 0.5);
    y = add_paragraph(sheet, y, chart.caution, 13, palette::kInk, true, 32);
  }
  sheet.height = std::ceil(y + 22);
  return sheet;
}

void write_svg(const std::filesystem::path& path, const Chart& chart) {
  std::string summary = chart.subtitle;
  for (const std::string& remark : chart.remarks) summary += " " + remark;
  save_text(path, svg_of(sheet_of(chart), chart.title, summary + " " + chart.caution));
}

void write_png(const std::filesystem::path& path, const Chart& chart, double scale) {
  write_png(path, sheet_of(chart), scale);
}

}  // namespace sidehill::page
