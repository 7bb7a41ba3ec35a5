// A row per bar, each named on its left and said in words on its right, with where the value may lie.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/page/chart_plots.h"
#include "render/page/paint.h"

namespace sidehill::page {

void plot_bars(PageSheet& sheet, const Chart& chart) {
  constexpr double kRow = 34;
  double names = 60, words = 40;
  for (const ChartBar& bar : chart.bars) {
    names = std::max(names, text_width(bar.name, kChartText, bar.sum));
    words = std::max(words, text_width(bar.words, kChartText, true));
  }
  names = std::min(names, 0.36 * sheet.width);
  const double left = names + 12, right = sheet.width - words - 14, top = 40;
  const double span = chart.y.high - chart.y.low;
  const auto across = [&](double value) {
    return left + (span > 0 ? std::clamp((value - chart.y.low) / span, 0.0, 1.0) : 0.0) * (right - left);
  };
  const double foot = top + kRow * static_cast<double>(chart.bars.size());
  const double step = tick_step(span, 10);
  for (double v = std::ceil(chart.y.low / step - 1e-9) * step; v <= chart.y.high + 1e-9 * step; v += step) {
    const bool zero = std::abs(v) < 1e-9 * step;
    add_line(sheet, {across(v), top - 4}, {across(v), foot}, zero ? palette::kInk : palette::kRule, zero ? 1 : 0.75);
    add_text(sheet, across(v), top - 9, tick_words(v, step), kChartSmall, palette::kInkSoft, false, 0.5);
  }
  add_text(sheet, left, 13, fmt::format("{} [{}]", chart.y.name, chart.y.unit), kChartText, palette::kInk, true);
  for (const ChartRule& rule : chart.rules)
    add_line(sheet, {across(rule.at), top - 4}, {across(rule.at), foot + 4}, palette::kInk, 1.75, Dash::long_dash);

  for (std::size_t i = 0; i < chart.bars.size(); ++i) {
    const ChartBar& bar = chart.bars[i];
    const double y = top + kRow * static_cast<double>(i), middle = y + kRow / 2;
    if (bar.sum && i > 0) add_line(sheet, {0, y}, {sheet.width, y}, palette::kInkSoft, 0.75);
    const auto lines = wrapped(bar.name, names, kChartText, bar.sum);
    for (std::size_t k = 0; k < std::min<std::size_t>(lines.size(), 2); ++k)
      add_text(sheet, names, middle + 4.5 + (lines.size() > 1 ? 14 * static_cast<double>(k) - 7 : 0), lines[k],
               lines.size() > 1 ? kChartSmall : kChartText, palette::kInk, bar.sum, 1);
    add_text(sheet, sheet.width, middle + 4.5, bar.words, kChartText, palette::kInk, true, 1);
    if (!bar.from || !bar.to || !std::isfinite(*bar.from) || !std::isfinite(*bar.to)) continue;
    const double a = across(std::min(*bar.from, *bar.to)), b = across(std::max(*bar.from, *bar.to));
    const bool patterned = bar.fill != Pattern::plain;
    add_rectangle(sheet, a, y + 8, std::max(b - a, 1.0), kRow - 16, bar.fill, patterned ? rgb(0xFFFFFF) : bar.paint,
                  bar.paint, 1.25);
    if (bar.doubt_low) {
      const double low = across(*bar.doubt_low), high = bar.doubt_high ? across(*bar.doubt_high) : right;
      for (const double width : {4.5, 1.75}) {  // a light edge, so that it shows on the bar too
        const Colour ink = width > 2 ? rgb(0xFFFFFF) : palette::kInk;
        add_line(sheet, {low, middle}, {high, middle}, ink, width);
        add_line(sheet, {low, middle - 7}, {low, middle + 7}, ink, width);
        if (bar.doubt_high)
          add_line(sheet, {high, middle - 7}, {high, middle + 7}, ink, width);
        else  // or more
          sheet.marks.push_back(
              PagePath{{{high - 6, middle - 5}, {high, middle}, {high - 6, middle + 5}}, false, width, ink});
      }
    }
  }
  double y = foot;
  for (const ChartRule& rule : chart.rules) {
    y += 18;
    const double width = text_width(rule.name, kChartSmall, true);
    add_text(sheet, std::clamp(across(rule.at), width / 2, sheet.width - width / 2), y, rule.name, kChartSmall,
             palette::kInk, true, 0.5);
  }
  sheet.height = y + 12;
}

PageSheet bar_rows(const Chart& chart, const BarRowsLook& look) {
  PageSheet sheet;
  sheet.width = look.width;
  sheet.height = look.row * static_cast<double>(chart.bars.size());
  const double span = chart.y.high - chart.y.low;
  const auto across = [&](double value) {
    return (span > 0 ? std::clamp((value - chart.y.low) / span, 0.0, 1.0) : 0.0) * look.width;
  };
  for (std::size_t i = 0; i < chart.bars.size(); ++i) {
    const ChartBar& bar = chart.bars[i];
    const double y = look.row * static_cast<double>(i), top = y + look.bar_top, foot = top + look.bar;
    add_text(sheet, look.indent, y + look.base, bar.name, bar.sum ? look.strong_size : look.size, palette::kInk,
             bar.sum);
    add_text(sheet, look.width, y + look.base, bar.words, bar.to ? look.strong_size : look.size,
             bar.to ? palette::kInk : palette::kInkSoft, bar.sum, 1);
    add_rectangle(sheet, 0, top, look.width, look.bar, Pattern::plain, look.trough);
    if (bar.from && bar.to && std::isfinite(*bar.from) && std::isfinite(*bar.to)) {
      const double a = across(std::min(*bar.from, *bar.to)), b = across(std::max(*bar.from, *bar.to));
      add_rectangle(sheet, a, top, std::max(b - a, 1.0), look.bar, bar.fill, bar.paint, look.stripes);
      std::get<PagePath>(sheet.marks.back()).weave = look.weave;
      if (bar.doubt_low)
        add_rectangle(sheet, across(*bar.doubt_low), top - 1,
                      (bar.doubt_high ? across(*bar.doubt_high) : look.width) - across(*bar.doubt_low), look.bar + 2,
                      Pattern::plain, with_alpha(palette::kInk, 0.35));
    }
    // Beside the bars alone, never through a name.
    const auto mark = [&](double at, double width) {
      add_rectangle(sheet, at - width, top - 2, 2 * width, look.bar + 4, Pattern::plain, palette::kPaper);
      add_line(sheet, {at, top - 2}, {at, foot + 2}, palette::kInk, width);
    };
    if (chart.y.low < 0) mark(across(0), 1.5);
    for (const ChartRule& rule : chart.rules) mark(across(rule.at), 2);
  }
  return sheet;
}

}  // namespace sidehill::page
