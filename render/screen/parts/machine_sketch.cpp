#include "render/screen/parts/machine_sketch.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace sidehill::screen {
namespace {

// Metres of the view's plane to pixels.
struct Sheet {
  ImDrawList& list;
  float x0, y0, per_metre;  // of the origin: on the ground under the rear axle, or in the middle
  float line;               // [px]
  ImVec2 at(double across, double up) const {
    return {x0 + static_cast<float>(across) * per_metre, y0 - static_cast<float>(up) * per_metre};
  }
  float px(double metres) const { return static_cast<float>(metres) * per_metre; }
};

void block(const Sheet& s, double left, double low, double right, double high, Colour fill) {
  const ImVec2 a = s.at(left, high), b = s.at(right, low);
  s.list.AddRectFilled(a, b, colour(fill), s.line * 1.5f);
  s.list.AddRect(a, b, colour(theme::kInkSoft), s.line * 1.5f, 0, s.line);
}

void wheel(const Sheet& s, double across, const Tyre& tyre) {
  const ImVec2 centre = s.at(across, tyre.free_radius);
  s.list.AddCircleFilled(centre, s.px(tyre.free_radius), colour(theme::kIron), 48);
  s.list.AddCircleFilled(centre, s.px(tyre.rim_radius), colour(theme::kPaint), 36);
  s.list.AddCircleFilled(centre, std::max(1.5f, s.px(0.05)), colour(theme::kInk), 16);
}

void draw_side(const Sheet& s, const Vehicle& v) {
  const double r = v.rear.tyre.free_radius, nose = v.chassis.length_ahead, top = v.chassis.bonnet_height;
  const ProtectiveFrame& f = v.frame;
  // Cab glass and posts behind the body.
  if (f.kind == FrameKind::cab) block(s, f.x_rear, 0.55 * top, f.x_front, f.top_height, theme::kCard);
  if (f.kind == FrameKind::two_post) {
    const double high = f.folded ? 0.6 * f.top_height : f.top_height;
    s.list.AddLine(s.at(f.x_front, 0.6 * r), s.at(f.x_front, high), colour(theme::kIron), s.line * 3);
  }
  block(s, -0.3, 0.75 * r, 0.45 * nose, 0.72 * top, theme::kPaint);
  block(s, 0.38 * nose, 0.45 * top, nose, top, theme::kPaint);
  const double seat = v.driver.place.z - 0.25;
  s.list.AddLine(s.at(v.driver.place.x - 0.25, seat), s.at(v.driver.place.x + 0.2, seat), colour(theme::kInk),
                 s.line * 2.5f);
  s.list.AddLine(s.at(v.driver.place.x - 0.25, seat), s.at(v.driver.place.x - 0.3, seat + 0.4), colour(theme::kInk),
                 s.line * 2.5f);
  s.list.AddLine(s.at(-0.3, v.hitch.z), s.at(v.hitch.x, v.hitch.z), colour(theme::kIron), s.line * 2.5f);
  wheel(s, 0, v.rear.tyre);
  wheel(s, v.wheelbase, v.front.tyre);
  s.list.AddCircleFilled(s.at(v.wheelbase, v.front_axle.pin_height), std::max(2.f, s.px(0.045)),
                         colour(theme::kPaintAccent), 16);
  if (v.loader.fitted) {
    const Loader& l = v.loader;
    const double sine = std::clamp((std::max(0.4, l.min_pin_height) - l.pivot_z) / l.boom_length, -0.99, 0.99);
    const double x = l.pivot_x + l.boom_length * std::sqrt(1 - sine * sine), z = l.pivot_z + l.boom_length * sine;
    s.list.AddLine(s.at(l.pivot_x, l.pivot_z), s.at(x, z), colour(theme::kPaintAccent), s.line * 3.5f);
    s.list.AddTriangleFilled(s.at(x, z + 0.45), s.at(x, z - 0.12), s.at(x + 0.75, z - 0.12),
                             colour(theme::kPaintAccent));
    s.list.AddCircleFilled(s.at(l.pivot_x, l.pivot_z), s.line * 2.5f, colour(theme::kInk), 12);
  }
}

void draw_behind(const Sheet& s, const Vehicle& v, bool front) {
  const Axle& axle = front ? v.front : v.rear;
  const double r = axle.tyre.free_radius, top = v.chassis.bonnet_height, half = v.frame.width / 2;
  if (v.frame.kind == FrameKind::cab) block(s, -half, 0.6 * top, half, v.frame.top_height, theme::kCard);
  if (v.frame.kind == FrameKind::two_post)
    s.list.AddRect(s.at(-half, v.frame.top_height), s.at(half, 0.5 * r), colour(theme::kIron), s.line * 3, 0,
                   s.line * 3);
  block(s, -v.chassis.bonnet_width / 2, 0.7 * r, v.chassis.bonnet_width / 2, top, theme::kPaint);
  block(s, -axle.track / 2, 0.85 * r, axle.track / 2, 1.1 * r, theme::kPaint);
  for (const double side : {-1.0, 1.0}) {
    const double middle = side * axle.track / 2, w = axle.tyre.section_width / 2;
    s.list.AddRectFilled(s.at(middle - w, 2 * r), s.at(middle + w, 0), colour(theme::kIron), s.px(0.35 * w));
  }
}

// Line with arrowheads and feet at both ends.
void draw_dimension(const Sheet& s, const SketchDimension& d, bool thin = false) {
  const ImVec2 a = s.at(d.from_across, d.from_up), b = s.at(d.to_across, d.to_up);
  const float length = std::hypot(b.x - a.x, b.y - a.y);
  if (!(length > 1)) return;
  const ImVec2 along{(b.x - a.x) / length, (b.y - a.y) / length}, aside{-along.y, along.x};
  const ImU32 ink = colour(thin ? theme::kInk : theme::kLifted);
  const float head = std::min(length / 3, s.line * (thin ? 4.f : 6.f)), wide = s.line * (thin ? 1.f : 1.8f);
  s.list.AddLine(a, b, ink, wide);
  for (const auto& [tip, way] : {std::pair{a, 1.f}, {b, -1.f}}) {
    const ImVec2 back{tip.x + way * head * along.x, tip.y + way * head * along.y};
    s.list.AddTriangleFilled(tip, {back.x + 0.45f * head * aside.x, back.y + 0.45f * head * aside.y},
                             {back.x - 0.45f * head * aside.x, back.y - 0.45f * head * aside.y}, ink);
    s.list.AddLine({tip.x + head * aside.x, tip.y + head * aside.y}, {tip.x - head * aside.x, tip.y - head * aside.y},
                   ink, wide);
  }
}

// Where a mass of this key was weighed, under the ground; none for what is no such mass.
std::optional<SketchDimension> weighed_at(std::string_view key, const Vehicle& v) {
  const auto below = [](double x) { return SketchDimension{SketchView::side, x, -0.28, x, -0.28}; };
  if (key == "front_axle_kg") return below(v.wheelbase);
  if (key == "rear_axle_kg") return below(0);
  if (key == "mass_kg") return below(v.wheelbase / 2);
  return std::nullopt;
}

// The place of a number at its line: beside the middle of an upright one, above that of a level one.
Rect words_place(const Ui& ui, const Sheet& s, const SketchDimension& d, const ImVec2& size, Rect area) {
  ImVec2 at = s.at((d.from_across + d.to_across) / 2, (d.from_up + d.to_up) / 2);
  const ImVec2 pad{ui.px(6), ui.px(2)};
  const bool upright = std::abs(d.to_up - d.from_up) > std::abs(d.to_across - d.from_across);
  const bool point = d.from_across == d.to_across && d.from_up == d.to_up;
  at.x += upright ? ui.px(9) + pad.x : -size.x / 2;
  at.y -= upright || point ? size.y / 2 : size.y + ui.px(7);
  at.x = std::clamp(at.x, area.x + pad.x, std::max(area.x + pad.x, area.x + area.width - size.x - pad.x));
  return {at.x - pad.x, at.y - pad.y, size.x + 2 * pad.x, size.y + 2 * pad.y};
}

bool meet(const Rect& a, const Rect& b) {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

// What was typed, each at its own place; where two numbers would lie on each other the later one moves, or is left out.
void draw_typed(Ui& ui, const Sheet& s, Rect area, const Vehicle& v, std::span<const SketchNote> typed,
                std::string_view looked_at, bool behind, bool over_outside, std::vector<Rect> taken) {
  for (const SketchNote& note : typed) {
    if (note.key == looked_at && dimension_of(note.key, v, over_outside)) continue;  // it has the thick arrow
    const auto mass = weighed_at(note.key, v);
    const auto d = mass ? mass : dimension_of(note.key, v, over_outside);
    if (!d || (d->view == SketchView::behind) != behind) continue;
    const ImVec2 size = size_of(ui.fonts.small, note.words);
    Rect place = words_place(ui, s, *d, size, area);
    const float steps[] = {0, -1, 1, -2, 2};
    const float first = place.y;
    const bool found = std::ranges::any_of(steps, [&](float step) {
      place.y = first + step * (place.height + ui.px(2));
      return place.y >= area.y && place.y + place.height <= area.y + area.height &&
             std::ranges::none_of(taken, [&](const Rect& other) { return meet(place, other); });
    });
    if (!found) continue;
    if (!mass) draw_dimension(s, *d, true);
    s.list.AddRectFilled(place.low(), place.high(), colour(theme::kCard), ui.px(4));
    s.list.AddRect(place.low(), place.high(), colour(theme::kInkSoft), ui.px(4), 0, ui.px(1));
    text_at(s.list, ui.fonts.small, {place.x + ui.px(6), place.y + ui.px(2)}, theme::kInk, note.words);
    remember_readout(ui, "Drawn " + note.key, place);
    taken.push_back(place);
  }
}

// The weighbridge's plate under what is weighed; an arrow up where it is raised.
void draw_plates(const Sheet& s, const Vehicle& v, std::string_view key) {
  const auto plate = [&](double x) {
    const double half = 0.8 * (x == 0 ? v.rear.tyre.free_radius : v.front.tyre.free_radius);
    s.list.AddRectFilled(s.at(x - half, 0), s.at(x + half, -0.1), colour(theme::kLifted), s.line);
  };
  if (key == "mass_kg" || key == "centre_height_m") plate(0), plate(v.wheelbase);
  if (key == "front_axle_kg" || key == "front_capacity_kg") plate(v.wheelbase);
  if (key == "rear_axle_kg" || key == "rear_capacity_kg" || key == "raised_rear_kg" || key == "raised_by_m") plate(0);
  if (key == "raised_rear_kg" || key == "raised_by_m")
    draw_dimension(s, {SketchView::side, v.wheelbase, -0.35, v.wheelbase, 0.02});
}

}  // namespace

std::optional<SketchDimension> dimension_of(std::string_view key, const Vehicle& v, bool outside) {
  const auto height = [&](double x, double z) { return SketchDimension{SketchView::side, x, 0, x, z}; };
  const auto across = [&](double half, double z) { return SketchDimension{SketchView::behind, -half, z, half, z}; };
  const double nose = v.chassis.length_ahead;
  if (key == "wheelbase_m")
    return SketchDimension{SketchView::side, 0, v.rear.tyre.free_radius, v.wheelbase, v.rear.tyre.free_radius};
  if (key == "front_track_m" || key == "front_narrowest_m")
    return across((v.front.track + (outside ? v.front.tyre.section_width : 0)) / 2, v.front.tyre.free_radius);
  if (key == "rear_track_m" || key == "rear_narrowest_m")
    return across((v.rear.track + (outside ? v.rear.tyre.section_width : 0)) / 2, v.rear.tyre.free_radius);
  if (key == "front_centre_m") return height(v.wheelbase, v.front.tyre.free_radius);
  if (key == "rear_centre_m") return height(0, v.rear.tyre.free_radius);
  if (key == "pin_height_m") return height(v.wheelbase, v.front_axle.pin_height);
  if (key == "swing_m")
    return SketchDimension{SketchView::behind, v.front.track / 2, 0, v.front.track / 2,
                           v.front.track * std::sin(v.front_axle.stop_angle)};
  if (key == "frame_height_m" && v.frame.kind != FrameKind::none)
    return height(v.frame.kind == FrameKind::cab ? (v.frame.x_front + v.frame.x_rear) / 2 : v.frame.x_front,
                  v.frame.top_height);
  if (key == "frame_width_m" && v.frame.kind != FrameKind::none) return across(v.frame.width / 2, v.frame.top_height);
  if (key == "seat_height_m") return height(v.driver.place.x, v.driver.place.z - 0.25);
  if (key == "nose_m")
    return SketchDimension{SketchView::side, 0, 0.5 * v.chassis.bonnet_height, nose, 0.5 * v.chassis.bonnet_height};
  if (key == "bonnet_height_m") return height(0.7 * nose, v.chassis.bonnet_height);
  if (key == "hitch_height_m") return height(v.hitch.x, v.hitch.z);
  if (key == "hitch_behind_m") return SketchDimension{SketchView::side, v.hitch.x, v.hitch.z, 0, v.hitch.z};
  if (!v.loader.fitted) return std::nullopt;
  if (key == "loader_pivot_height_m") return height(v.loader.pivot_x, v.loader.pivot_z);
  if (key == "loader_pivot_ahead_m")
    return SketchDimension{SketchView::side, 0, v.loader.pivot_z, v.loader.pivot_x, v.loader.pivot_z};
  const double sine =
      std::clamp((std::max(0.4, v.loader.min_pin_height) - v.loader.pivot_z) / v.loader.boom_length, -0.99, 0.99);
  const double pin_x = v.loader.pivot_x + v.loader.boom_length * std::sqrt(1 - sine * sine);
  if (key == "loader_boom_m")
    return SketchDimension{SketchView::side, v.loader.pivot_x, v.loader.pivot_z, pin_x,
                           v.loader.pivot_z + v.loader.boom_length * sine};
  if (key == "loader_lift_height_m") return height(pin_x, v.loader.max_pin_height);
  return std::nullopt;
}

void draw_machine_sketch(Ui& ui, Rect area, const Vehicle& v, std::string_view key, bool over_outside,
                         std::string_view words, std::span<const SketchNote> typed) {
  const auto dimension = dimension_of(key, v, over_outside);
  const bool behind = dimension && dimension->view == SketchView::behind;
  const bool front = key.starts_with("front_") || key == "swing_m";
  double low = std::min(-v.rear.tyre.free_radius, v.hitch.x) - 0.15,
         high = std::max(v.chassis.length_ahead, v.wheelbase + v.front.tyre.free_radius) + 0.15;
  double top = std::max({v.chassis.bonnet_height, v.frame.kind == FrameKind::none ? 0 : v.frame.top_height,
                         2 * v.rear.tyre.free_radius, v.driver.place.z});
  if (v.loader.fitted) high = std::max(high, v.loader.pivot_x + v.loader.boom_length + 0.8);
  if (key == "loader_lift_height_m") top = std::max(top, v.loader.max_pin_height);
  if (behind)
    high = std::max(
               {v.rear.track + v.rear.tyre.section_width, v.front.track + v.front.tyre.section_width, v.frame.width}) /
               2 +
           0.15,
    low = -high;
  top += 0.15;
  const double under = 0.45;  // ground and weighbridge [m]
  if (!(high - low > 0.1) || !(top > 0.1) || !std::isfinite(high - low + top)) return;
  const float fit =
      std::min(area.width / static_cast<float>(high - low), area.height / static_cast<float>(top + under));
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float x0 = area.x + area.width / 2 - fit * static_cast<float>(low + high) / 2;
  const Sheet s{list, x0, area.y + area.height - fit * static_cast<float>(under), fit, ui.px(1)};
  list.PushClipRect(area.low(), area.high(), true);
  list.AddLine({area.x, s.y0}, {area.x + area.width, s.y0}, colour(theme::kEarth), ui.px(2));
  behind ? draw_behind(s, v, front) : draw_side(s, v);
  if (!behind) draw_plates(s, v, key);
  if (dimension) draw_dimension(s, *dimension);
  std::vector<Rect> taken;
  if (dimension && !words.empty()) {  // a plate with the number, beside the middle of the line
    const Rect place = words_place(ui, s, *dimension, size_of(ui.fonts.small, words), area);
    taken.push_back(place);
    list.AddRectFilled(place.low(), place.high(), colour(theme::kPill), ui.px(4));
    text_at(list, ui.fonts.small, {place.x + ui.px(6), place.y + ui.px(2)}, theme::kOnPill, words);
    remember_readout(ui, "Drawn " + std::string(key), place);
  }
  draw_typed(ui, s, area, v, typed, key, behind, over_outside, taken);
  list.PopClipRect();
}

}  // namespace sidehill::screen
