#include "render/screen/parts/weighing_sketch.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace sidehill::screen {
namespace {

// The machine's own places, pitched about the axle that stays on the ground, on the screen.
struct ScalesSheet {
  ImDrawList& list;
  ImVec2 origin;  // on the ground under the rear axle, level [px]
  float per_metre;
  double pitch = 0;                        // nose up positive [rad]
  double about_x = 0, about_z = 0;         // of the turn [m]
  ImVec2 flat(double x, double z) const {  // a place that is not pitched
    return {origin.x + static_cast<float>(x) * per_metre, origin.y - static_cast<float>(z) * per_metre};
  }
  ImVec2 at(double x, double z) const {
    const double dx = x - about_x, dz = z - about_z, c = std::cos(pitch), s = std::sin(pitch);
    return flat(about_x + c * dx - s * dz, about_z + s * dx + c * dz);
  }
  float px(double metres) const { return static_cast<float>(metres) * per_metre; }
};

void slab(const ScalesSheet& s, Ui& ui, double left, double low, double right, double high, Colour fill) {
  const std::array<ImVec2, 4> corners{s.at(left, low), s.at(left, high), s.at(right, high), s.at(right, low)};
  s.list.AddConvexPolyFilled(corners.data(), 4, colour(fill));
  s.list.AddPolyline(corners.data(), 4, colour(theme::kInkSoft), ImDrawFlags_Closed, ui.px(1));
}

void wheel(const ScalesSheet& s, ImVec2 centre, const Tyre& tyre) {
  s.list.AddCircleFilled(centre, s.px(tyre.free_radius), colour(theme::kIron), 48);
  s.list.AddCircleFilled(centre, s.px(tyre.rim_radius), colour(theme::kPaint), 36);
  s.list.AddCircleFilled(centre, std::max(2.f, s.px(0.05)), colour(theme::kInk), 16);
}

void label(Ui& ui, ImVec2 middle, const std::string& words) {
  const ImVec2 size = size_of(ui.fonts.text, words), pad{ui.px(7), ui.px(3)};
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled({middle.x - size.x / 2 - pad.x, middle.y - size.y / 2 - pad.y},
                     {middle.x + size.x / 2 + pad.x, middle.y + size.y / 2 + pad.y}, colour(theme::kPill), ui.px(4));
  text_at(list, ui.fonts.text, {middle.x, middle.y - size.y / 2}, theme::kOnPill, words, 0.5f);
}

void scale_under(const ScalesSheet& s, Ui& ui, double x, double half, const std::string& words) {
  const ImVec2 left = s.flat(x - half, 0), right = s.flat(x + half, 0);
  s.list.AddRectFilled(left, {right.x, right.y + ui.px(9)}, colour(theme::kLoad), ui.px(2));
  label(ui, {(left.x + right.x) / 2, left.y + ui.px(26)}, words);
}

}  // namespace

void draw_weighing_sketch(Ui& ui, Rect area, const Vehicle& v, const WeighingSketch& sketch) {
  const double low = std::min(-v.rear.tyre.free_radius, v.hitch.x) - 0.2;
  const double high = std::max(v.chassis.length_ahead, v.wheelbase + v.front.tyre.free_radius) + 0.5;
  const double top = std::max({v.chassis.bonnet_height, v.frame.kind == FrameKind::none ? 0 : v.frame.top_height,
                               2 * v.rear.tyre.free_radius}) +
                     std::max(0.9, 1.3 * sketch.raised);
  if (!(high - low > 0.1) || !std::isfinite(top + high - low)) return;
  const float foot = ui.px(44);
  const float fit = std::min(area.width / static_cast<float>(high - low),
                             std::max(1.f, area.height - foot) / static_cast<float>(top));
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.PushClipRect(area.low(), area.high(), true);
  ScalesSheet s{
      list, {area.x + area.width / 2 - fit * static_cast<float>(low + high) / 2, area.y + area.height - foot}, fit};
  const double front = v.front.tyre.free_radius, rear = v.rear.tyre.free_radius;
  const double part = v.wheelbase > 0 ? std::clamp(sketch.raised / v.wheelbase, 0.0, 0.6) : 0;
  s.pitch = sketch.front_raised ? std::asin(part) : -std::asin(part);
  s.about_x = sketch.front_raised ? 0 : v.wheelbase;
  s.about_z = sketch.front_raised ? rear : front;
  const float ground = s.flat(0, 0).y;
  list.AddLine({area.x, ground}, {area.x + area.width, ground}, colour(theme::kEarth), ui.px(2));

  const double r = rear, nose = v.chassis.length_ahead, bonnet = v.chassis.bonnet_height;
  const ProtectiveFrame& f = v.frame;
  if (f.kind == FrameKind::cab) slab(s, ui, f.x_rear, 0.55 * bonnet, f.x_front, f.top_height, theme::kCard);
  if (f.kind == FrameKind::two_post)
    list.AddLine(s.at(f.x_front, 0.6 * r), s.at(f.x_front, f.top_height), colour(theme::kIron), ui.px(3));
  slab(s, ui, -0.3, 0.75 * r, 0.45 * nose, 0.72 * bonnet, theme::kPaint);
  slab(s, ui, 0.38 * nose, 0.45 * bonnet, nose, bonnet, theme::kPaint);
  const ImVec2 front_centre = s.at(v.wheelbase, front), rear_centre = s.at(0, rear);
  wheel(s, rear_centre, v.rear.tyre);
  wheel(s, front_centre, v.front.tyre);
  if (v.loader.fitted) {
    const Loader& l = v.loader;
    const double sine = std::clamp((0.5 - l.pivot_z) / l.boom_length, -0.99, 0.99);
    const double x = l.pivot_x + l.boom_length * std::sqrt(1 - sine * sine), z = l.pivot_z + l.boom_length * sine;
    list.AddLine(s.at(l.pivot_x, l.pivot_z), s.at(x, z), colour(theme::kPaintAccent), ui.px(3.5));
    list.AddTriangleFilled(s.at(x, z + 0.4), s.at(x, z - 0.1), s.at(x + 0.6, z - 0.1), colour(theme::kPaintAccent));
  }

  // What stands under the wheels: a scale, or a stand on a scale.
  const auto metres = [&](float x) { return (x - s.origin.x) / s.per_metre; };
  const double half = 0.7 * std::min(front, rear);
  const double front_x = metres(front_centre.x), rear_x = metres(rear_centre.x);
  if (sketch.raised > 0) {
    const ImVec2 centre = sketch.front_raised ? front_centre : rear_centre;
    const float w = s.px(0.16);
    const std::array<ImVec2, 3> stand{centre, ImVec2{centre.x + w, ground}, ImVec2{centre.x - w, ground}};
    list.AddConvexPolyFilled(stand.data(), 3, colour(theme::kIron));
    // Chocks before and behind the wheels that stay.
    const double x = sketch.front_raised ? 0 : v.wheelbase, radius = sketch.front_raised ? rear : front;
    for (const double side : {-1.0, 1.0}) {
      const std::array<ImVec2, 3> chock{s.flat(x + side * 0.55 * radius, 0), s.flat(x + side * 0.95 * radius, 0),
                                        s.flat(x + side * 0.75 * radius, 0.22)};
      list.AddTriangleFilled(chock[0], chock[1], chock[2], colour(theme::kPaintAccent));
    }
  }
  scale_under(s, ui, rear_x, half, sketch.rear);
  scale_under(s, ui, front_x, half, sketch.front);
  if (sketch.raised > 0 && !sketch.height.empty()) {
    const ImVec2 centre = sketch.front_raised ? front_centre : rear_centre;
    const double was = sketch.front_raised ? front : rear;
    const float x = centre.x + (sketch.front_raised ? 1.f : -1.f) * s.px(1.15 * was), y = s.flat(0, was).y;
    list.AddLine({centre.x, centre.y}, {x, centre.y}, colour(theme::kLifted), ui.px(1));
    list.AddLine({centre.x, y}, {x, y}, colour(theme::kLifted), ui.px(1));
    list.AddLine({x, y}, {x, centre.y}, colour(theme::kLifted), ui.px(2));
    list.AddTriangleFilled({x - ui.px(4), centre.y + ui.px(8)}, {x + ui.px(4), centre.y + ui.px(8)}, {x, centre.y},
                           colour(theme::kLifted));
    label(ui, {std::clamp(x, area.x + ui.px(40), area.x + area.width - ui.px(40)), (y + centre.y) / 2}, sketch.height);
  }
  if (sketch.has_centre) {
    const ImVec2 c = s.at(sketch.centre_x, sketch.centre_z);
    const ImVec2 up = s.at(sketch.centre_x, sketch.centre_z + sketch.centre_doubt),
                 down = s.at(sketch.centre_x, sketch.centre_z - sketch.centre_doubt);
    list.AddLine(up, down, colour(theme::kLifted), ui.px(3));
    for (const ImVec2 end : {up, down})
      list.AddLine({end.x - ui.px(6), end.y}, {end.x + ui.px(6), end.y}, colour(theme::kLifted), ui.px(3));
    list.AddCircleFilled(c, ui.px(7), colour(theme::kGravityLight), 24);
    list.AddCircle(c, ui.px(7), colour(theme::kGravityDark), 24, ui.px(2));
    list.PathArcTo(c, ui.px(7), -1.5708f, 0.f, 8);
    list.PathLineTo(c);
    list.PathFillConvex(colour(theme::kGravityDark));
    list.PathArcTo(c, ui.px(7), 1.5708f, 3.1416f, 8);
    list.PathLineTo(c);
    list.PathFillConvex(colour(theme::kGravityDark));
  }
  list.PopClipRect();
}

}  // namespace sidehill::screen
