// Lines over an axis: each named at its end, events as numbered flags, bad stretches hatched.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/page/chart_plots.h"
#include "render/page/paint.h"

namespace sidehill::page {
namespace {

struct Frame {  // where the plot stands on the sheet, and the axes' ranges
  double x = 0, y = 0, width = 0, height = 0;
  const Chart& chart;
  double across(double value) const {
    const double span = chart.x.high - chart.x.low;
    return x + (span > 0 ? std::clamp((value - chart.x.low) / span, 0.0, 1.0) : 0.0) * width;
  }
  double up(double value) const {
    const double span = chart.y.high - chart.y.low;
    return y + height - (span > 0 ? std::clamp((value - chart.y.low) / span, 0.0, 1.0) : 0.0) * height;
  }
};

void draw_axes(PageSheet& sheet, const Frame& frame) {
  const Chart& chart = frame.chart;
  const double right = frame.x + frame.width, foot = frame.y + frame.height;
  const auto step_of = [](const ChartAxis& axis, int most) {
    return axis.step > 0 ? axis.step : tick_step(axis.high - axis.low, most);
  };
  const double step_y = step_of(chart.y, 9), step_x = step_of(chart.x, 12);
  for (double v = std::ceil(chart.y.low / step_y - 1e-9) * step_y; v <= chart.y.high + 1e-9 * step_y; v += step_y) {
    const double y = frame.up(v);
    add_line(sheet, {frame.x, y}, {right, y}, palette::kRule, std::abs(v) < 1e-9 * step_y ? 1.5 : 0.75);
    add_text(sheet, frame.x - 7, y + 4, tick_words(v, step_y), kChartSmall, palette::kInkSoft, false, 1);
  }
  for (double v = std::ceil(chart.x.low / step_x - 1e-9) * step_x; v <= chart.x.high + 1e-9 * step_x; v += step_x) {
    const double x = frame.across(v);
    add_line(sheet, {x, foot}, {x, foot + 5}, palette::kInkSoft, 1);
    add_text(sheet, x, foot + 19, tick_words(v, step_x), kChartSmall, palette::kInkSoft, false, 0.5);
  }
  add_line(sheet, {frame.x, foot}, {right, foot}, palette::kInk, 1);
  const auto titled = [](const ChartAxis& axis) {
    return axis.unit.empty() ? axis.name : fmt::format("{} [{}]", axis.name, axis.unit);
  };
  add_text(sheet, 0, 13, titled(chart.y), kChartText, palette::kInk, true);
  add_text(sheet, right, foot + 37, titled(chart.x), kChartText, palette::kInk, true, 1);
}

// Flags at the top; those that would overlap share one. Their words stand below the plot.
void draw_flags(PageSheet& sheet, const Frame& frame) {
  const auto& events = frame.chart.events;
  const auto words_of = [](std::size_t first, std::size_t last) {
    return last > first ? fmt::format("{}–{}", first + 1, last + 1) : fmt::format("{}", first + 1);
  };
  for (std::size_t i = 0; i < events.size();) {
    std::size_t last = i;
    const double x = frame.across(events[i].x);
    bool grave = events[i].grave;
    while (last + 1 < events.size() &&
           frame.across(events[last + 1].x) - x < text_width(words_of(i, last + 1), 11, true) + 12)
      grave |= events[++last].grave;
    for (std::size_t k = i; k <= last; ++k) {
      const double at = frame.across(events[k].x);
      add_line(sheet, {at, frame.y}, {at, frame.y + frame.height},
               with_alpha(events[k].grave ? palette::kLifted : palette::kInkSoft, events[k].grave ? 1 : 0.6),
               events[k].grave ? 1.5 : 0.75, events[k].grave ? Dash::solid : Dash::dashed);
    }
    const std::string words = words_of(i, last);
    const double width = text_width(words, 11, true) + 8;
    const double left = std::min(x - 4, frame.x + frame.width - width);
    add_rectangle(sheet, left, frame.y - 17, width, 15, Pattern::plain, grave ? palette::kLifted : palette::kCard,
                  grave ? palette::kLifted : palette::kInkSoft, 1);
    add_text(sheet, left + width / 2, frame.y - 5.5, words, 11, grave ? rgb(0xFFFFFF) : palette::kInk, true, 0.5);
    i = last + 1;
  }
}

double list_events(PageSheet& sheet, const Frame& frame, double y) {
  const auto& events = frame.chart.events;
  if (events.empty()) return y;
  constexpr std::size_t kMost = 36;
  const std::size_t listed = std::min(events.size(), kMost);
  const auto words_of = [&](const ChartEvent& event) {
    return fmt::format("{:.{}f} {}  {}", event.x, frame.chart.x.digits, frame.chart.x.unit, event.words);
  };
  double widest = 1;
  for (const ChartEvent& event : events)
    widest = std::max(widest, text_width(words_of(event), kChartSmall, event.grave) + 44);
  const auto columns = static_cast<std::size_t>(std::clamp(std::floor(sheet.width / widest), 1.0, 3.0));
  const std::size_t rows = (listed + columns - 1) / columns;
  for (std::size_t i = 0; i < listed; ++i) {
    const std::size_t column = i / rows;
    const double x = static_cast<double>(column) * sheet.width / static_cast<double>(columns);
    const double line = y + 14 + 17 * static_cast<double>(i % rows);
    add_text(sheet, x + 18, line, fmt::format("{}", i + 1), kChartSmall,
             events[i].grave ? palette::kLifted : palette::kInkSoft, true, 1);
    add_text(sheet, x + 26, line, words_of(events[i]), kChartSmall, palette::kInk, events[i].grave);
  }
  y += 17 * static_cast<double>(rows) + 6;
  if (events.size() > listed) {
    add_text(sheet, 26, y + 12, fmt::format("and {} more", events.size() - listed), kChartSmall, palette::kInkSoft);
    y += 17;
  }
  return y;
}

void draw_series(PageSheet& sheet, const Frame& frame, const ChartSeries& series) {
  PagePath path{{}, false, series.width, series.ink, series.dash};
  const auto flush = [&] {
    if (path.points.size() > 1) sheet.marks.push_back(path);
    path.points.clear();
  };
  for (const ChartPoint& point : series.points) {
    if (point.y && std::isfinite(*point.y) && std::isfinite(point.x))
      path.points.push_back({frame.across(point.x), frame.up(*point.y)});
    else
      flush();
  }
  flush();
}

// Names at the ends of the lines, moved apart where they would stand on each other.
struct EndName {
  const ChartSeries* series;
  PagePoint end;
  double y = 0;
};

void name_lines(PageSheet& sheet, const Frame& frame) {
  constexpr double kApart = 15.5;
  std::vector<EndName> names;
  for (const ChartSeries& series : frame.chart.series) {
    if (series.name.empty()) continue;
    for (auto point = series.points.rbegin(); point != series.points.rend(); ++point)
      if (point->y && std::isfinite(*point->y)) {
        const PagePoint end{frame.across(point->x), frame.up(*point->y)};
        names.push_back({&series, end, end.y});
        break;
      }
  }
  std::stable_sort(names.begin(), names.end(), [](const EndName& a, const EndName& b) { return a.y < b.y; });
  for (std::size_t i = 1; i < names.size(); ++i) names[i].y = std::max(names[i].y, names[i - 1].y + kApart);
  // Back up from the foot where they ran out of the plot.
  double limit = frame.y + frame.height;
  for (auto name = names.rbegin(); name != names.rend(); ++name) {
    name->y = std::min(name->y, limit);
    limit = name->y - kApart;
  }
  const double at = frame.x + frame.width + 54;
  for (const EndName& name : names) {
    add_line(sheet, name.end, {frame.x + frame.width + 22, name.y}, with_alpha(name.series->ink, 0.5), 0.75);
    add_line(sheet, {frame.x + frame.width + 22, name.y}, {at - 6, name.y}, name.series->ink, name.series->width,
             name.series->dash);
    add_text(sheet, at, name.y + 4, name.series->name, kChartSmall, name.series->ink, true);
  }
}

// Each name once: in the widest of its stretches, or below the plot where that is narrower than the name. Returns where
// what stands below ends.
double name_stretches(PageSheet& sheet, const Frame& frame, double below) {
  const auto& stretches = frame.chart.stretches;
  double y = frame.y + 16;
  for (std::size_t i = 0; i < stretches.size(); ++i) {
    const auto same = [&](const ChartStretch& s) { return s.name == stretches[i].name; };
    if (std::any_of(stretches.begin(), stretches.begin() + static_cast<std::ptrdiff_t>(i), same)) continue;
    const ChartStretch* widest = &stretches[i];
    for (const ChartStretch& s : stretches)
      if (same(s) && s.to - s.from > widest->to - widest->from) widest = &s;
    const double from = frame.across(widest->from), to = frame.across(widest->to);
    const double width = text_width(stretches[i].name, kChartSmall, true) + 10;
    if (width + 4 <= to - from) {
      const double x = (from + to - width) / 2;
      add_rectangle(sheet, x, y - 9, width, 18, Pattern::plain, rgb(0xFFFFFF), palette::kInkSoft, 1);
      add_text(sheet, x + 5, y + 4.5, stretches[i].name, kChartSmall, palette::kInkSoft, true);
      y += 22;
      continue;
    }
    add_rectangle(sheet, 0, below + 3, 26, 14, Pattern::hatched, palette::kCard, with_alpha(palette::kInkSoft, 0.4),
                  0.75);
    add_text(sheet, 34, below + 14.5, stretches[i].name, kChartSmall, palette::kInkSoft, true);
    below += 22;
  }
  return below;
}

}  // namespace

void plot_lines(PageSheet& sheet, const Chart& chart) {
  double widest = 0;
  for (const ChartSeries& series : chart.series) widest = std::max(widest, text_width(series.name, kChartSmall, true));
  for (const ChartRule& rule : chart.rules) widest = std::max(widest, text_width(rule.name, kChartSmall, true) - 48);
  const double names = widest > 0 ? widest + 58 : 8;
  const double top = chart.events.empty() ? 26 : 42;
  const Frame frame{44, top, sheet.width - 44 - names, 320, chart};

  add_rectangle(sheet, frame.x, frame.y, frame.width, frame.height, Pattern::plain, rgb(0xFFFFFF));
  for (const ChartBand& band : chart.bands) {
    const double high = frame.up(band.high), low = frame.up(band.low);
    if (low - high < 0.5) continue;
    add_rectangle(sheet, frame.x, high, frame.width, low - high, Pattern::hatched, rgb(0xFBEFEA),
                  with_alpha(palette::kLifted, 0.4));
  }
  for (const ChartStretch& stretch : chart.stretches) {
    const double from = frame.across(stretch.from), to = frame.across(stretch.to);
    add_rectangle(sheet, from, frame.y, std::max(1.0, to - from), frame.height, Pattern::hatched, palette::kCard,
                  with_alpha(palette::kInkSoft, 0.4), 0.5);
  }
  draw_axes(sheet, frame);
  draw_flags(sheet, frame);
  for (const ChartSeries& series : chart.series) draw_series(sheet, frame, series);
  for (const ChartBand& band : chart.bands) {
    const double high = frame.up(band.high), low = frame.up(band.low);
    if (low - high < 18 || band.name.empty()) continue;
    const double width = text_width(band.name, kChartSmall, true) + 10;
    add_rectangle(sheet, frame.x + 6, (high + low) / 2 - 9, width, 18, Pattern::plain, rgb(0xFFFFFF), palette::kLifted,
                  1);
    add_text(sheet, frame.x + 11, (high + low) / 2 + 4.5, band.name, kChartSmall, palette::kLifted, true);
  }
  for (const ChartRule& rule : chart.rules) {
    const double y = frame.up(rule.at);
    add_line(sheet, {frame.x, y}, {frame.x + frame.width, y}, palette::kInk, 1.75, Dash::long_dash);
    add_text(sheet, frame.x + frame.width + 6, y + 4, rule.name, kChartSmall, palette::kInk, true);
  }
  name_lines(sheet, frame);
  sheet.height = list_events(sheet, frame, name_stretches(sheet, frame, frame.y + frame.height + 46));
}

}  // namespace sidehill::page
