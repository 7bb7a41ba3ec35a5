// A value for every heading, around the machine seen from above: top = facing uphill, left = turned to the left. The
// dial, which the window shows as well, and beside it on the page what is to be read.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/page/chart_plots.h"
#include "render/page/paint.h"
#include "sim/base/constants.h"

namespace sidehill::page {
namespace {

constexpr double kUnknownFrom = 0.16;  // of the rim: outside the machine in the middle

struct Dial {
  PagePoint centre;
  double radius = 0, rim = 60;
  PagePoint at(double heading, double value) const {
    const double r = radius * std::clamp(value / rim, 0.0, 1.0);
    return {centre.x - r * std::sin(heading * kDegree), centre.y - r * std::cos(heading * kDegree)};
  }
};

// The machine from above at its heading, small in the middle.
void draw_machine(PageSheet& sheet, const Dial& dial, const DialLook& look, double heading) {
  const double s = std::sin(heading * kDegree), c = std::cos(heading * kDegree);
  const auto at = [&](double ahead, double left) {
    return PagePoint{dial.centre.x - ahead * s - left * c, dial.centre.y - ahead * c + left * s};
  };
  const auto box = [&](double back, double front, double right, double left, Colour paint) {
    sheet.marks.push_back(PagePath{{at(back, left), at(front, left), at(front, right), at(back, right)},
                                   true,
                                   1,
                                   palette::kInk,
                                   Dash::solid,
                                   Pattern::plain,
                                   paint});
  };
  for (const double side : {-1.0, 1.0}) {
    box(-12, -1, 6.5 * side, 10.5 * side, palette::kInk);
    box(8, 14, 5 * side, 8 * side, palette::kInk);
  }
  box(-8, 16, -4.5, 4.5, look.body);
  sheet.marks.push_back(
      PagePath{{at(22, 0), at(17, 4), at(17, -4)}, true, 1, palette::kInk, Dash::solid, Pattern::plain, palette::kInk});
}

double ground_of(const Chart& chart) { return chart.rules.empty() ? 0 : chart.rules.front().at; }

// All but the spots on the rays, which stand on top of everything.
void draw_dial(PageSheet& sheet, const Chart& chart, const Dial& dial, const DialLook& look) {
  const double ground = ground_of(chart);
  add_circle(sheet, dial.centre, dial.radius, palette::kInkSoft, 1, Pattern::plain, rgb(0xFFFFFF));
  if (!chart.series.empty()) {
    // Of the first curve alone. Room left: light, from the ground's ring out to it. Lost: hatched, from it to the ring.
    const auto& points = chart.series.front().points;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
      const ChartPoint &a = points[i], &b = points[i + 1];
      if (!a.y || !b.y) continue;
      const auto piece = [&](double a0, double a1, double b1, double b0, Pattern fill, Colour paint, Colour ink) {
        sheet.marks.push_back(PagePath{{dial.at(a.x, a0), dial.at(a.x, a1), dial.at(b.x, b1), dial.at(b.x, b0)},
                                       true,
                                       fill == Pattern::plain ? 0.7 : 0,
                                       ink,
                                       Dash::solid,
                                       fill,
                                       paint,
                                       look.weave});
      };
      if (*a.y > ground || *b.y > ground)
        piece(std::min(ground, *a.y), *a.y, *b.y, std::min(ground, *b.y), Pattern::plain, look.room,
              look.room);  // its edge hides the seam to the next

      if (*a.y < ground || *b.y < ground)
        piece(std::min(*a.y, ground), ground, ground, std::min(*b.y, ground), Pattern::hatched, look.lost,
              look.stripes);
    }
  }
  // Headings without an answer: nothing is known there, from the machine's own circle to the rim. Neither zero nor
  // room.
  for (const ChartStretch& stretch : chart.stretches) {
    PagePath sector{
        {}, true, 1, with_alpha(palette::kInkSoft, 0.5), Dash::solid, Pattern::hatched, palette::kCard, look.weave};
    const int pieces = std::max(1, static_cast<int>(std::ceil((stretch.to - stretch.from) / 2.5)));
    const auto heading = [&](int i) { return stretch.from + (stretch.to - stretch.from) * i / pieces; };
    for (int i = 0; i <= pieces; ++i) sector.points.push_back(dial.at(heading(i), dial.rim));
    for (int i = pieces; i >= 0; --i) sector.points.push_back(dial.at(heading(i), kUnknownFrom * dial.rim));
    sheet.marks.push_back(sector);
  }
  const double step = tick_step(dial.rim, 4);
  for (int i = 0; i < 4; ++i)
    add_line(sheet, dial.at(45 * i, dial.rim), dial.at(45 * i + 180, dial.rim), palette::kRule, 0.75);
  for (double ring = step; ring < dial.rim - 1e-9; ring += step)
    add_circle(sheet, dial.centre, dial.radius * ring / dial.rim, palette::kRule, 1);
  for (const ChartSeries& series : chart.series) {
    PagePath path{{}, false, series.width + 0.5, series.ink, series.dash};
    for (const ChartPoint& point : series.points) {
      if (point.y) {
        path.points.push_back(dial.at(point.x, *point.y));
      } else {
        if (path.points.size() > 1) sheet.marks.push_back(path);
        path.points.clear();
      }
    }
    if (path.points.size() > 1) sheet.marks.push_back(path);
  }
  if (ground > 0)
    add_circle(sheet, dial.centre, dial.radius * std::min(1.0, ground / dial.rim), palette::kInk, 2, Pattern::none,
               palette::kCard, look.ring);
  const double last = look.rim_words ? dial.rim + 1e-9 : dial.rim - 1e-9;
  for (double ring = step; ring <= last; ring += step) {
    const PagePoint p = dial.at(look.words_at, ring);
    const std::string words = tick_words(ring, step) + chart.y.unit;
    const double width = text_width(words, 11);
    add_rectangle(sheet, p.x - width / 2 - 2, p.y - 7, width + 4, 14, Pattern::plain, rgb(0xFFFFFF, 0.85));
    add_text(sheet, p.x, p.y + 4, words, 11, palette::kInkSoft, false, 0.5);
  }
  for (std::size_t i = 0; i < chart.rays.size(); ++i) {
    const ChartRay& ray = chart.rays[i];
    add_line(sheet, dial.centre, dial.at(ray.heading, dial.rim), palette::kInk, i == 0 ? 1.5 : 1,
             i == 0 ? Dash::solid : Dash::dotted);
  }
  if (!chart.rays.empty()) draw_machine(sheet, dial, look, chart.rays.front().heading);
}

}  // namespace

PageSheet dial_of(const Chart& chart, const DialLook& look) {
  PageSheet sheet;
  sheet.width = sheet.height = look.side;
  draw_dial(sheet, chart, {{look.side / 2, look.side / 2}, look.side / 2, chart.y.high}, look);
  return sheet;
}

void plot_polar(PageSheet& sheet, const Chart& chart) {
  const double side = std::min(0.56 * sheet.width, 430.0), ground = ground_of(chart);
  const Dial dial{{side / 2 + 20, side / 2 + 24}, side / 2, chart.y.high};
  draw_dial(sheet, chart, dial, {.side = side});
  for (std::size_t i = 0; i < chart.rays.size(); ++i)
    if (const ChartRay& ray = chart.rays[i]; ray.at) {
      const PagePoint p = dial.at(ray.heading, *ray.at);
      add_circle(sheet, p, 8, palette::kInk, 1.75, Pattern::plain, rgb(0xFFFFFF));
      add_text(sheet, p.x, p.y + 4, std::string(1, static_cast<char>('A' + i)), 11, palette::kInk, true, 0.5);
    }
  add_text(sheet, dial.centre.x, 13, "facing uphill", kChartSmall, palette::kInk, true, 0.5);
  add_text(sheet, dial.centre.x, side + 42, "facing downhill", kChartSmall, palette::kInk, true, 0.5);

  // What is to be read, beside it.
  const double x = side + 60, room = sheet.width - x;
  double y = 40;
  const auto add_words = [&](const std::string& words, bool strong, Colour ink) {
    for (const std::string& line : wrapped(words, room - 34, kChartText, strong)) {
      add_text(sheet, x + 34, y + 4, line, kChartText, ink, strong);
      y += 18;
    }
  };
  for (const ChartSeries& series : chart.series) {
    add_line(sheet, {x, y}, {x + 26, y}, series.ink, 2.5, series.dash);
    add_words(fmt::format("{} [{}]", series.name, chart.y.unit), true, palette::kInk);
    y += 6;
  }
  if (ground > 0) {
    add_line(sheet, {x, y}, {x + 26, y}, palette::kInk, 2, Dash::long_dash);
    add_words(chart.rules.front().name, true, palette::kInk);
    y += 6;
    add_rectangle(sheet, x, y - 8, 26, 14, Pattern::plain, rgb(0xD3E3F3), palette::kInkSoft, 0.75);
    add_words("room left", false, palette::kInk);
    y += 6;
    add_rectangle(sheet, x, y - 8, 26, 14, Pattern::hatched, rgb(0xFBEFEA), palette::kLifted, 0.75);
    add_words(chart.series.size() > 1 ? "it slides or a wheel is up at this heading" : "a wheel is up at this heading",
              false, palette::kInk);
    y += 10;
  }
  if (!chart.stretches.empty()) {
    add_rectangle(sheet, x, y - 8, 26, 14, Pattern::hatched, palette::kCard, with_alpha(palette::kInkSoft, 0.5), 0.75);
    add_words(chart.stretches.front().name, true, palette::kInk);
    y += 10;
  }
  for (std::size_t i = 0; i < chart.rays.size(); ++i) {
    add_circle(sheet, {x + 13, y}, 8, palette::kInk, 1.75, Pattern::plain, rgb(0xFFFFFF));
    add_text(sheet, x + 13, y + 4, std::string(1, static_cast<char>('A' + i)), 11, palette::kInk, true, 0.5);
    add_words(chart.rays[i].name, false, palette::kInk);
    y += 8;
  }
  add_words("Headings: 0° faces uphill, positive turns to the left.", false, palette::kInkSoft);
  sheet.height = std::max(side + 50, y + 10);
}

}  // namespace sidehill::page
