#include "render/screen/panels/charts_why.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "render/screen/panels/charts.h"

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

float breakdown_height(const Ui& ui, const Breakdown& breakdown) {
  return ui.px(kRow) * static_cast<float>(breakdown.causes.size()) + ui.px(3 * 21);
}

void breakdown_chart(Ui& ui, Rect rect, const Breakdown& breakdown, double slope) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const auto plain = [&](float y, const char* name, const std::string& value, const ImFont* font) {
    text_at(list, ui.fonts.small, {rect.x, y + ui.px(1)}, theme::kInk, name);
    text_at(list, font, {rect.x + rect.width, y}, theme::kInk, value, 1);
  };
  double most = 0;
  for (const Cause& cause : breakdown.causes)
    if (std::isfinite(cause.share)) most = std::max(most, std::abs(cause.share));
  float y = rect.y;
  plain(y, "The bare machine on rigid tyres", degrees(breakdown.bare), ui.fonts.text);
  y += ui.px(21);
  const float middle = rect.x + rect.width / 2;
  for (const Cause& cause : breakdown.causes) {
    const bool adds = cause.share >= 0;
    const std::string value = shown_change(Quantity::angle, cause.share, ui.units);
    text_at(list, ui.fonts.small, {rect.x, y}, theme::kInk,
            fitted(ui.fonts.small, capital(cause.name), rect.width - ui.px(60)));
    text_at(list, ui.fonts.text, {rect.x + rect.width, y - ui.px(2)}, theme::kInk, value, 1);
    const Rect trough{rect.x, y + ui.px(17), rect.width, ui.px(6)};
    list.AddRectFilled(trough.low(), trough.high(), colour(theme::kTrough), ui.px(2));
    const float length =
        most > 0 && std::isfinite(cause.share) ? static_cast<float>(std::abs(cause.share) / most) * rect.width / 2 : 0;
    const Rect bar{adds ? middle : middle - length, trough.y, length, trough.height};
    if (length >= 1) {
      list.AddRectFilled(bar.low(), bar.high(), colour(adds ? theme::kSteady : theme::kLifted));
      if (!adds) draw_pattern(list, Tone::lifted, bar, theme::kCard, ui.px(6));
    }
    // The line of nothing added: beside the bars alone, never through a name.
    list.AddLine({middle, trough.y - ui.px(2)}, {middle, trough.y + trough.height + ui.px(2)}, colour(theme::kInk),
                 ui.px(1.5));
    hover(ui, "Cause: " + cause.name, {rect.x, y, rect.width, ui.px(kRow)},
          fmt::format("{}: {} {} to the slope at which the first wheel lifts, averaged over every order of adding the "
                      "causes.",
                      capital(cause.name), adds ? "adds" : "takes", value));
    y += ui.px(kRow);
  }
  plain(y, "Together: a wheel lifts at", degrees(breakdown.whole), ui.fonts.text);
  y += ui.px(21);
  const double left = breakdown.whole - slope;
  plain(y, "Less the slope of the ground",
        fmt::format("{}, {} {}", degrees(slope), degrees(std::abs(left)), left >= 0 ? "left" : "too much"),
        ui.fonts.text);
}

float carrying_height(const Ui& ui, const LoadCheck& check) {
  int rows = kWheels;
  for (const LoadMargin& axle : check.axles) rows += axle.capacity > 0 ? 1 : 0;
  return ui.px(kRow) * static_cast<float>(rows);
}

void carrying_chart(Ui& ui, Rect rect, const LoadCheck& check) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  double most = 1.25;
  const auto reach = [&](const LoadMargin& margin) {
    if (margin.capacity > 0 && std::isfinite(margin.used)) most = std::max(most, std::min(margin.used, 3.0) * 1.05);
  };
  for (const TyreCheck& tyre : check.tyres)
    if (tyre.service) reach(tyre.margin);
  for (const LoadMargin& axle : check.axles) reach(axle);
  float y = rect.y;
  const auto row = [&](const std::string& name, const LoadMargin& margin, const char* instead,
                       const std::string& help) {
    const bool known = !*instead && margin.capacity > 0 && std::isfinite(margin.used);
    const bool over = known && margin.used > 1;
    text_at(list, ui.fonts.small, {rect.x, y}, over ? theme::kLifted : theme::kInk, capital(name));
    const std::string loads =
        known ? shown(Quantity::mass, margin.load, ui.units) + " of " + shown(Quantity::mass, margin.capacity, ui.units)
              : shown(Quantity::mass, margin.load, ui.units) + ", " + instead;
    const std::string part = known ? used_words(margin.used) : std::string();
    text_at(list, ui.fonts.small, {rect.x + rect.width, y}, over ? theme::kLifted : theme::kInk, part, 1);
    const float end = rect.x + rect.width - size_of(ui.fonts.small, "888 % too much").x - ui.px(8);
    text_at(list, ui.fonts.small, {end, y}, theme::kInkSoft, loads, 1);
    const Rect trough{rect.x, y + ui.px(17), rect.width, ui.px(6)};
    list.AddRectFilled(trough.low(), trough.high(), colour(theme::kTrough), ui.px(2));
    const auto across = [&](double used) {
      return rect.x + static_cast<float>(std::clamp(used / most, 0.0, 1.0)) * rect.width;
    };
    if (known) {
      const Rect bar{rect.x, trough.y, across(margin.used) - rect.x, trough.height};
      list.AddRectFilled(bar.low(), bar.high(), colour(over ? theme::kLifted : theme::kLoad), ui.px(2));
      if (over) draw_pattern(list, Tone::lifted, bar, theme::kCard, ui.px(6));
      list.AddRectFilled({across(1) - ui.px(2), trough.y - ui.px(3)},
                         {across(1) + ui.px(2), trough.y + trough.height + ui.px(2)}, colour(theme::kPaper));
      list.AddLine({across(1), trough.y - ui.px(3)}, {across(1), trough.y + trough.height + ui.px(2)},
                   colour(theme::kInk), ui.px(2));
    }
    hover(ui, "Carries: " + name, {rect.x, y, rect.width, ui.px(kRow)}, help);
    y += ui.px(kRow);
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
}

}  // namespace sidehill::screen
