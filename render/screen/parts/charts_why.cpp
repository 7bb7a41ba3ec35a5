#include "render/screen/parts/charts_why.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/page/answer_charts.h"
#include "render/screen/parts/charts.h"

namespace sidehill::screen {
namespace {

constexpr double kRow = 27;  // [px]

void hover(Ui& ui, const std::string& item, Rect rect, const std::string& help) {
  ImGui::SetCursorScreenPos(rect.low());
  ImGui::PushID(item.c_str());
  ImGui::InvisibleButton("##row", {std::max(1.f, rect.width), std::max(1.f, rect.height)});
  ImGui::PopID();
  remember_readout(ui, item, rect);
  tooltip(ui, help);
}

}  // namespace

float breakdown_height(const Ui& ui, const Breakdown& breakdown, bool on_even_slope) {
  return ui.px(kRow) * static_cast<float>(why_rows(breakdown, 0, on_even_slope).bars.size());
}

void breakdown_chart(Ui& ui, Rect rect, const Breakdown& breakdown, double slope, bool on_even_slope) {
  page::Chart chart = why_rows(breakdown, slope, on_even_slope);
  for (page::ChartBar& bar : chart.bars) bar.name = capital(bar.name);
  paint_rows(ui, rect, std::move(chart), {.row = kRow});
  float y = rect.y + ui.px(kRow);  // the first row is the bare machine
  for (const Cause& cause : breakdown.causes) {
    hover(ui, "Cause: " + cause.name, {rect.x, y, rect.width, ui.px(kRow)},
          fmt::format("{}: {} {} the slope at which the first wheel lifts, averaged over every order of adding the "
                      "causes.",
                      capital(cause.name), cause.share >= 0 ? "adds" : "takes",
                      shown(Quantity::angle, std::abs(cause.share), ui.units) + (cause.share >= 0 ? " to" : " from")));
    y += ui.px(kRow);
  }
}

float carrying_height(const Ui& ui, const LoadCheck& check) {
  int rows = kWheels;
  for (const LoadMargin& axle : check.axles) rows += axle.capacity > 0 ? 1 : 0;
  return ui.px(kRow) * static_cast<float>(rows);
}

void carrying_chart(Ui& ui, Rect rect, const LoadCheck& check) {
  page::Chart chart;
  chart.kind = ChartKind::bars;
  chart.y.high = 1.25;
  chart.rules.push_back({1, {}});  // the limit
  std::vector<std::string> items, helps;
  const auto row = [&](const std::string& name, const LoadMargin& margin, const char* instead,
                       const std::string& help) {
    const bool known = !*instead && margin.capacity > 0 && std::isfinite(margin.used);
    page::ChartBar bar;
    bar.name = capital(name);
    bar.words = shown(Quantity::mass, margin.load, ui.units);
    if (known) {
      const bool over = margin.used > 1;
      bar.words += " of " + shown(Quantity::mass, margin.capacity, ui.units) + ", " + used_words(margin.used);
      bar.from = 0;
      bar.to = margin.used;
      bar.paint = over ? theme::kLifted : theme::kLoad;
      bar.fill = over ? Pattern::hatched : Pattern::plain;
      chart.y.high = std::max(chart.y.high, std::min(margin.used, 3.0) * 1.05);
    } else {
      bar.words += std::string(", ") + instead;
    }
    chart.bars.push_back(std::move(bar));
    items.push_back("Carries: " + name);
    helps.push_back(help);
  };
  for (int i = 0; i < kWheels; ++i) {
    const TyreCheck& tyre = check.tyres[static_cast<std::size_t>(i)];
    const char* instead = !tyre.service ? "limit not known" : tyre.margin.capacity > 0 ? "" : "too fast for it";
    row(wheel_name(i), tyre.margin, instead,
        fmt::format("Load on the {} tyre and what it may carry at this speed and pressure{}, by the press's rule of "
                    "thumb. The line is the limit; the maker's table decides.",
                    wheel_name(i),
                    tyre.rating == Rating::typical ? " (typical of its size: the sidewall was not given)" : ""));
  }
  for (std::size_t axle = 0; axle < 2; ++axle)
    if (check.axles[axle].capacity > 0)
      row(axle == 0 ? "front axle" : "rear axle", check.axles[axle], "",
          "Load of both wheels and what the maker lets the axle carry, as the scene gives it. The line is the limit.");
  paint_rows(ui, rect, std::move(chart), {.row = kRow});
  for (std::size_t i = 0; i < items.size(); ++i)
    hover(ui, items[i], {rect.x, rect.y + ui.px(kRow) * static_cast<float>(i), rect.width, ui.px(kRow)}, helps[i]);
}

}  // namespace sidehill::screen
