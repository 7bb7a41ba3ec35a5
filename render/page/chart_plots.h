// The three kinds of plot, each laid out below the last mark of a sheet. Part of render/page/chart.
#pragma once
#include "render/namespaces.h"
#include "render/page/chart.h"

namespace sidehill::page {

constexpr double kChartSmall = 12, kChartText = 13;  // [pt]

void plot_lines(PageSheet& sheet, const Chart& chart);
void plot_polar(PageSheet& sheet, const Chart& chart);
void plot_bars(PageSheet& sheet, const Chart& chart);

// "12.5", "-3", never "-0".
std::string tick_words(double value, double step);

}  // namespace sidehill::page
