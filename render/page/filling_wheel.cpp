#include "render/page/filling_wheel.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/page/paint.h"
#include "render/text/fill/axle_filling_words.h"
#include "render/text/fill/fill_words.h"
#include "sim/base/constants.h"

namespace sidehill::page {
namespace {

constexpr double kAbove = 4, kGround = 14, kGap = 5;  // the gap: the wheel is raised just clear [pt]

// Upright line with a head at both ends, and a letter beside it.
void ruler(PageSheet& sheet, double x, double from, double to, const char* letter) {
  constexpr double kHead = 3.5;
  add_line(sheet, {x, from}, {x, to}, palette::kInk, 1.2);
  for (const auto& [end, way] : {std::pair{std::min(from, to), 1.0}, std::pair{std::max(from, to), -1.0}}) {
    add_line(sheet, {x - kHead, end + way * 2 * kHead}, {x, end}, palette::kInk, 1.2);
    add_line(sheet, {x + kHead, end + way * 2 * kHead}, {x, end}, palette::kInk, 1.2);
  }
  add_circle(sheet, {x, (from + to) / 2}, 6.5, palette::kInk, 0.8, Pattern::plain, rgb(0xFFFFFF));
  add_text(sheet, x, (from + to) / 2 + 3.2, letter, 9, palette::kInk, true, 0.5);
}

// What lies below `level` of a circle [pt].
PagePath below(PagePoint centre, double radius, double level) {
  PagePath path{{}, true, 0, palette::kLiquid, Dash::solid, Pattern::plain, with_alpha(palette::kLiquid, 0.45)};
  const double sine = std::clamp((level - centre.y) / radius, -1.0, 1.0), from = std::asin(sine);
  constexpr int kSteps = 90;
  for (int i = 0; i <= kSteps; ++i) {
    const double turn = from + (kPi - 2 * from) * i / kSteps;
    path.points.push_back({centre.x + radius * std::cos(turn), centre.y + radius * std::sin(turn)});
  }
  return path;
}

}  // namespace

double sheet_height(double radius) { return 2 * radius + kAbove + kGround + kGap; }

WheelOnSheet wheel_on_sheet(const AxleFilling& filling, double width, double height) {
  // No larger than leaves room for the words beside the rulers.
  const double radius = std::min((height - kAbove - kGround - kGap) / 2, width * 0.25);
  return {{radius + 2, kAbove + radius}, radius, radius / filling.sheet.tyre.free_radius};
}

PageSheet filling_wheel(const AxleFilling& filling, Units units, double width, double height) {
  const FillSheet& s = filling.sheet;
  PageSheet sheet;
  sheet.width = width, sheet.height = height;
  const WheelOnSheet place = wheel_on_sheet(filling, width, height);
  const double radius = place.radius, rim = s.tyre.rim_radius * place.scale;
  const PagePoint centre = place.centre;
  const double level = place.y_at(s.jacked.level), ground = centre.y + radius + kGap;
  const bool air = !(s.fill_fraction > 0), foam = !air && !s.valve;

  add_circle(sheet, centre, radius, palette::kInk, 1.5, Pattern::plain, palette::kTrough);
  add_circle(sheet, centre, s.cavity.outer_radius * place.scale, palette::kInkSoft, 0.5,
             foam ? Pattern::hatched : Pattern::plain, rgb(0xFFFFFF));
  if (!air && !foam) sheet.marks.push_back(below(centre, s.cavity.outer_radius * place.scale, level));
  add_circle(sheet, centre, rim, palette::kInk, 1.5, Pattern::plain, rgb(0xFFFFFF));
  add_line(sheet, {0, ground}, {width, ground}, palette::kInk, 1.2);
  add_text(sheet, 0, ground + 11, "Seen from the side, wheel raised just clear of the ground.", 8.5, palette::kInkSoft);
  const double first = centre.x + radius + 14, second = first + 20;
  const double left = second + 14, room = width - left;
  const auto words_below = [&](double y, const char* words) {
    for (const std::string& line : wrapped(words, room, 9.5)) add_text(sheet, left, y += 11.5, line, 9.5);
  };
  const double letters = rim < 30 ? 8.5 : 10.5;
  if (air || foam) {
    add_text(sheet, left, centre.y, air ? "On air" : "Foam", 12.5, palette::kInk, true);
    words_below(centre.y, air ? "no liquid in it" : "fills the whole tyre");
    return sheet;
  }
  const double half = std::sqrt(std::max(radius * radius - (level - centre.y) * (level - centre.y), 0.0));
  add_line(sheet, {centre.x - half, level}, {second + 8, level}, palette::kLiquid, 1.2);
  add_line(sheet, {centre.x, centre.y + rim}, {first + 8, centre.y + rim}, palette::kInk, 0.6, Dash::dashed);
  ruler(sheet, first, centre.y + rim, level, "A");
  ruler(sheet, second, ground, level, "B");

  if (s.valve->reached) {
    const double turn = s.valve->hour / 12 * kTwoPi;
    const PagePoint valve{centre.x + rim * std::sin(turn), centre.y - rim * std::cos(turn)};
    const PagePoint inner{centre.x + 0.42 * rim * std::sin(turn), centre.y - 0.42 * rim * std::cos(turn)};
    add_line(sheet, inner, valve, palette::kInk, 1.5);
    add_circle(sheet, valve, 3.5, palette::kInk, 1, Pattern::plain, palette::kInk);
  }
  add_text(sheet, centre.x, centre.y, "valve", letters, palette::kInk, false, 0.5);
  add_text(sheet, centre.x, centre.y + 1.15 * letters, s.valve->reached ? clock_words(s.valve->hour) : "no help",
           letters, palette::kInk, true, 0.5);

  const auto block = [&](double y, const char* letter, const std::string& number, const char* words) {
    add_text(sheet, left, y, fmt::format("{} {}", letter, number), 12.5, palette::kInk, true);
    words_below(y, words);
  };
  const double over_rim = s.jacked.level_over_rim;
  block(std::clamp(level + 12, kAbove + 12, ground - 60), "A", measured(Quantity::length, std::abs(over_rim), 2, units),
        over_rim < 0 ? "BELOW the rim's lowest edge" : "over the rim's lowest edge");
  block(ground - 17, "B", measured(Quantity::length, s.jacked.level_over_ground, 2, units), "over the ground");
  return sheet;
}

}  // namespace sidehill::page
