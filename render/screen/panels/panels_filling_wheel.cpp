// One axle of the filling page: the wheel with a surface one drags, its controls, and its rows of words.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "render/page/filling_wheel.h"
#include "render/screen/kit/caution.h"
#include "render/screen/kit/sheet_painter.h"
#include "render/screen/panels/panels_filling.h"
#include "render/text/words/words.h"
#include "vehicles/filling.h"

namespace sidehill::screen {
namespace {

constexpr double kPointsScale = 1.22;  // pixels a point of the sheet: its words are as large as the panel's small ones
constexpr double kLeastScale = 0.6;    // of the smaller axle's wheel, over its size beside the larger one
constexpr double kStep = 0.01;         // of the fill, by arrows and buttons
constexpr double kTitle = 24, kButton = 26;  // [px at scale 1]

std::string name_of(bool front) { return front ? "Front" : "Rear"; }
std::string key_of(bool front, const char* what) {
  return fmt::format("ballast.{}.{}", front ? "front" : "rear", what);
}

double fill_of(const Session& session, bool front) {
  const auto& fill = session.scene().ballast.fill;
  const std::size_t left = front ? kFrontLeft : kRearLeft;
  return std::max(fill[left].fill_fraction, fill[left + 1].fill_fraction);
}

void set_fill(Session& session, bool front, double fill) {
  session.set_number(key_of(front, "fill_fraction"), std::clamp(fill, 0.0, 1.0));
}

// A button whose item has a name of its own, for there are two of each.
bool small_button(Ui& ui, const std::string& item, const char* words, const char* help, float width, bool enabled) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const Rect rect{corner.x, corner.y, width, ui.px(kButton)};
  bool pressed = ImGui::InvisibleButton(item.c_str(), {rect.width, rect.height}) && enabled;
  const bool hovered = ImGui::IsItemHovered() && enabled;
  if (enabled) {
    tooltip(ui, help);
    remember(ui, item, rect);
    if (reach(ui, item, rect) && ui.enter) pressed = true;
  } else {
    remember_readout(ui, item, rect);
  }
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(rect.low(), rect.high(), colour(hovered ? theme::kTrough : theme::kCard), ui.px(4));
  list.AddRect(rect.low(), rect.high(), colour(theme::kRule), ui.px(4));
  text_at(list, ui.fonts.small, {rect.middle().x, rect.middle().y - ui.fonts.small->FontSize / 2},
          enabled ? theme::kInk : theme::kRule, words, 0.5);
  return pressed;
}

// The wheel as a sheet, and the mouse that takes hold of its surface.
void draw_wheel(Ui& ui, const FillingSide& side, const AxleFilling& axle, float width, float height) {
  ImVec2 corner = ImGui::GetCursorScreenPos();
  const bool front = axle.front;
  const double scale = kPointsScale * ui.scale;
  double wide = width / scale, high = height / scale;
  // Both axles on one ground and to one scale, but none too small to read.
  const Vehicle& vehicle = side.session.scene().vehicle;
  const double larger = std::max(vehicle.front.tyre.free_radius, vehicle.rear.tyre.free_radius);
  const double small = std::max(kLeastScale, axle.sheet.tyre.free_radius / larger);
  const page::WheelOnSheet largest = page::wheel_on_sheet(axle, wide, high);
  const double less = 2 * largest.radius * (1 - small) + (high - page::sheet_height(largest.radius));
  corner.y += static_cast<float>(less * scale);
  high -= less;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  paint_sheet(list, ui.fonts, page::filling_wheel(axle, ui.units, wide, high), {corner, scale});

  const page::WheelOnSheet wheel = page::wheel_on_sheet(axle, wide, high);
  const auto px = [&](double points) { return static_cast<float>(points * scale); };
  const Rect place{corner.x + px(wheel.centre.x - wheel.radius), corner.y + px(wheel.centre.y - wheel.radius),
                   px(2 * wheel.radius), px(2 * wheel.radius)};
  const std::string item = name_of(front) + " surface";
  ImGui::SetCursorScreenPos(place.low());
  ImGui::InvisibleButton(item.c_str(), {std::max(1.f, place.width), std::max(1.f, place.height)});
  const bool foam = axle.sheet.fill_fraction > 0 && !axle.sheet.valve;
  if (foam) {
    remember_readout(ui, item, place);
    return;
  }
  const bool held = ImGui::IsItemActive(), hovered = ImGui::IsItemHovered();
  tooltip(ui, "Drag the surface up or down. With the keyboard: Tab to it, then the arrow keys");
  remember(ui, item, place);
  const bool focused = reach(ui, item, place);
  const double fill = fill_of(side.session, front);
  if (held) {
    // By whole thousandths: finer than a pixel, and short in the file.
    const double level = wheel.level_at((ImGui::GetIO().MousePos.y - corner.y) / scale);
    const double wanted = std::round(fill_at_level(axle.sheet.cavity, level) * 1000) / 1000;
    if (wanted != fill) set_fill(side.session, front, wanted);
  } else if (focused && ui.nudge != 0) {
    set_fill(side.session, front, std::round((fill + ui.nudge * kStep) * 1000) / 1000);
  }
  // A grip on the surface, at the left where no ruler is: also of an empty tyre, at its lowest point.
  const double level = axle.sheet.fill_fraction > 0 ? axle.sheet.jacked.level : -axle.sheet.cavity.outer_radius;
  const double half = std::sqrt(std::max(0.0, std::pow(axle.sheet.cavity.outer_radius, 2) - level * level));
  const float y = corner.y + px(wheel.y_at(level)), x = corner.x + px(wheel.centre.x - half * wheel.scale * 0.5);
  const float r = ui.px(8);
  const Colour ink = held || hovered ? theme::kAccentHover : theme::kAccent;
  list.AddCircleFilled({x, y}, r, colour(ink), 24);
  list.AddTriangleFilled({x - r / 2, y - ui.px(1.5)}, {x + r / 2, y - ui.px(1.5)}, {x, y - ui.px(6)},
                         colour(theme::kOnAccent));
  list.AddTriangleFilled({x - r / 2, y + ui.px(1.5)}, {x + r / 2, y + ui.px(1.5)}, {x, y + ui.px(6)},
                         colour(theme::kOnAccent));
}

// What may be pumped in, by its plain name; foam fills the whole tyre.
void draw_liquid(Ui& ui, Session& session, bool front, float width) {
  const BallastPlan& plan = session.scene().ballast;
  const TyreFill& held = plan.fill[front ? kFrontLeft : kRearLeft];
  std::vector<std::string> names;
  for (const MediumInfo& medium : media_choices())  // the one that is in it at its own strength, others at the usual
    names.push_back(read_in(
        medium_name({medium.medium, medium.medium == held.medium ? held.concentration : 0, &plan.own_medium}, true),
        ui.units));
  int index = session.choice(key_of(front, "medium"));
  const auto now = static_cast<std::size_t>(index);
  soft_text(ui, "Liquid");
  ImGui::SameLine(0, ui.px(8));
  const float room = width - size_of(ui.fonts.small, "Liquid").x - ui.px(10);
  if (!choice(ui, name_of(front) + " liquid in it", names, index,
              names[now] + ". " + read_in(std::string(media_choices()[now].caution), ui.units), room))
    return;
  const auto medium = media_choices()[static_cast<std::size_t>(index)].medium;
  Scene scene = session.scene();
  for (std::size_t wheel = front ? kFrontLeft : kRearLeft, n = 0; n < 2; ++n) {
    TyreFill& fill = scene.ballast.fill[wheel + n];
    fill.medium = medium;
    fill.concentration = 0;  // a strength of another liquid is none of this one
    if (info(medium).turns_with_wheel) fill.fill_fraction = 1;
  }
  session.edit(std::move(scene));
}

void draw_strength(Ui& ui, Session& session, bool front) {
  const TyreFill& held = session.scene().ballast.fill[front ? kFrontLeft : kRearLeft];
  const StrengthRange range = strength_range(held.medium);
  if (!(range.max > 0)) return;
  SliderLook look;
  look.label = name_of(front) + " strength";
  look.unit = "% by mass";
  look.min = std::ceil(100 * range.min), look.max = std::floor(100 * range.max);
  look.mark = 100 * strength(held.medium, 0);
  look.help = "What is dissolved, over the solution by mass. The tick marks the usual strength.";
  double value = 100 * strength(held.medium, held.concentration);
  if (slider(ui, look, value))
    session.set_number(key_of(front, "concentration"), std::clamp(value / 100, range.min, range.max));
}

void draw_fill(Ui& ui, Session& session, bool front, bool foam) {
  const std::string name = name_of(front);
  const double fill = fill_of(session, front);
  SliderLook look;
  look.label = name + " fill";
  look.unit = "%";
  look.max = 100;
  look.digits = 1;
  look.mark = 100 * std::max(session.loaded_number(key_of(front, "fill_fraction")), 0.0);
  look.note = "of the room";
  look.help =
      "Liquid over the room inside each tyre of the axle. Drag, arrow keys, or click the number to type one. The tick "
      "marks the value as opened.";
  double value = 100 * fill;
  if (slider(ui, look, value) && !foam) set_fill(session, front, value / 100);
  const float gap = ui.px(4), width = (ImGui::GetContentRegionAvail().x - 4 * gap) / 5;
  struct Press {
    const char *item, *words, *help;
    double to;
  };
  const Press presses[] = {{" less", "-1 %", "One per cent less", fill - kStep},
                           {" more", "+1 %", "One per cent more", fill + kStep},
                           {" 40 %", "40 %", "As much as one maker allows in a rear radial tyre", 0.4},
                           {" 75 %", "75 %", "Called valve level: what many makers allow at most", 0.75},
                           {" empty", "Empty", "On air", 0}};
  bool first = true;
  for (const Press& press : presses) {
    if (!std::exchange(first, false)) ImGui::SameLine(0, gap);
    if (small_button(ui, name + press.item, press.words, press.help, width, !foam || press.to == 0))
      set_fill(session, front, std::round(press.to * 1000) / 1000);
  }
}

}  // namespace

// Below a wheel; a slider for the strength where either axle's liquid has one, so that both keep one line.
float controls_height(const Ui& ui, const Session& session) {
  const auto& fill = session.scene().ballast.fill;
  const bool strong = strength_range(fill[kFrontLeft].medium).max > 0 || strength_range(fill[kRearLeft].medium).max > 0;
  const float text = ui.fonts.text->FontSize;
  return ui.px(kButton + 24) + (strong ? 2.f : 1.f) * (text + ui.px(22)) + text;
}

void draw_filling_wheel(Ui& ui, const FillingSide& side, bool front, float width, float wheel_height) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const std::string child = name_of(front) + " wheel";
  const float height = ui.px(kTitle) + wheel_height + controls_height(ui, side.session);
  ImGui::BeginChild(child.c_str(), {width, height}, false,
                    ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
  const std::optional<AxleFilling>& axle = side.known.axles[front ? 0 : 1];
  const Tyre& tyre = (front ? side.session.scene().vehicle.front : side.session.scene().vehicle.rear).tyre;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const std::string title = name_of(front) + " tyres";
  text_at(list, ui.fonts.heading, ImGui::GetCursorScreenPos(), theme::kInk, title);
  const float after = size_of(ui.fonts.heading, title + "  ").x;
  const ImVec2 from = ImGui::GetCursorScreenPos();
  text_at(list, ui.fonts.small, {from.x + after, from.y + ui.px(3)}, theme::kInkSoft,
          fitted(ui.fonts.small, tyre.size + (axle && axle->dual ? ", the inner one of two" : ""), width - after));
  ImGui::SetCursorScreenPos({from.x, from.y + ui.px(kTitle)});
  if (axle) {
    draw_wheel(ui, side, *axle, width, wheel_height);
  } else {
    ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(theme::kLifted));
    wrapped_words(side.known.refused[front ? 0 : 1]);
    ImGui::PopStyleColor();
  }
  ImGui::SetCursorScreenPos({from.x, from.y + ui.px(kTitle + 4) + wheel_height});
  const bool foam = axle && axle->sheet.fill_fraction > 0 && !axle->sheet.valve;
  draw_liquid(ui, side.session, front, width);
  ImGui::Dummy({1, ui.px(2)});
  draw_strength(ui, side.session, front);
  draw_fill(ui, side.session, front, foam);
  ImGui::EndChild();
  ImGui::SetCursorScreenPos({corner.x, corner.y + height});
}

void draw_filling_rows(Ui& ui, const FillingSide& side, bool front, float width) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  ImGui::PushFont(ui.fonts.small);
  const float names = std::min(ui.px(150), width * 0.42f), line = ImGui::GetTextLineHeight();
  float y = corner.y;
  bool shaded = false;
  for (const FillingRow& row : side.known.rows[front ? 0 : 1]) {
    const std::string name = in_lines(ui.fonts.small, row.name, names - ui.px(8));
    const std::string value = in_lines(ui.fonts.small, row.value, width - names);
    const auto lines = [](const std::string& text) { return 1 + std::ranges::count(text, '\n'); };
    const float high = static_cast<float>(std::max(lines(name), lines(value))) * line + ui.px(4);
    const Rect rect{corner.x, y, width, high};
    if ((shaded = !shaded)) list.AddRectFilled(rect.low(), rect.high(), colour(with_alpha(theme::kTrough, 0.5)));
    text_at(list, ui.fonts.small, {corner.x + ui.px(3), y + ui.px(2)}, theme::kInkSoft, name);
    text_at(list, ui.fonts.small, {corner.x + names, y + ui.px(2)}, row.grave ? theme::kLifted : theme::kInk, value);
    remember_readout(ui, fmt::format("{}: {}", name_of(front), row.key), rect);
    y += high;
  }
  ImGui::PopFont();
  ImGui::SetCursorScreenPos(corner);
  ImGui::Dummy({width, std::max(1.f, y - corner.y)});
}

}  // namespace sidehill::screen
