#include "render/screen/placing/placing_preview.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/kit/ui.h"
#include "render/screen/placing/picking.h"
#include "render/screen/placing/placing_parts.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"

namespace sidehill::screen {
namespace {

constexpr double kPreviewOverGround = 0.02;  // [m]
constexpr double kStalk = 1.0;               // of the knob for the height [m]

struct Lay {
  const Terrain& terrain;
  Mat3 R;  // R_WG
  Vec3 on(glm::dvec2 p_G) const { return R * Vec3(p_G, ground_at(terrain, p_G).height + kPreviewOverGround); }
  // A line between two places, laid over the ground without its end.
  void drape(std::vector<Vec3>& line, glm::dvec2 from, glm::dvec2 to, double step) const {
    const int steps = std::clamp(static_cast<int>(glm::length(to - from) / step), 1, 60);
    for (int i = 0; i < steps; ++i) line.push_back(on(from + (to - from) * (static_cast<double>(i) / steps)));
  }
  std::vector<Vec3> polygon(const std::vector<glm::dvec2>& corners) const {
    std::vector<Vec3> line;
    for (std::size_t i = 0; i < corners.size(); ++i) drape(line, corners[i], corners[(i + 1) % corners.size()], 0.2);
    return line;
  }
};

struct Axes {
  glm::dvec2 middle, u, v;
};
Axes axes_of(const Feature& f) {
  const glm::dvec2 u(std::cos(f.angle), std::sin(f.angle));
  return {{f.x, f.y}, u, {-u.y, u.x}};
}

std::vector<Vec3> rim_of(const Lay& lay, const Feature& f) {
  const Axes a = axes_of(f);
  if (is_round(f)) {
    std::vector<Vec3> line;
    constexpr int kCorners = 40;
    for (int i = 0; i < kCorners; ++i) {
      const double t = kTwoPi * i / kCorners;
      line.push_back(lay.on(a.middle + f.length / 2 * glm::dvec2(std::cos(t), std::sin(t))));
    }
    return line;
  }
  const glm::dvec2 u = f.length / 2 * a.u, v = f.width / 2 * a.v;
  return lay.polygon({a.middle - u - v, a.middle + u - v, a.middle + u + v, a.middle - u + v});
}

// Its cross section along a direction through the middle: shows how high it is.
std::vector<Vec3> section_of(const Lay& lay, const Feature& f, glm::dvec2 half) {
  std::vector<Vec3> line;
  constexpr int kParts = 24;
  for (int i = 0; i <= kParts; ++i) {
    line.push_back(lay.on(glm::dvec2(f.x, f.y) + half * (2.0 * i / kParts - 1)));
  }
  return line;
}

void add_feature(PlacingPreview& out, const Lay& lay, const Feature& f, bool dashed) {
  const Axes a = axes_of(f);
  out.outlines.push_back({rim_of(lay, f), true, dashed, true, Ink::support});
  out.outlines.push_back({section_of(lay, f, f.length / 2 * a.u), false, false, false, Ink::support_contacts});
  if (!is_round(f))
    out.outlines.push_back({section_of(lay, f, f.width / 2 * a.v), false, false, false, Ink::support_contacts});
}

glm::dvec2 footprint_half(const Scene& scene) {
  const auto boxes = machine_boxes(scene);
  return {(boxes[0].high.x - boxes[0].low.x) / 2, boxes[0].high.y};
}

std::string machine_words(const Scene& scene) {
  return fmt::format("Heading {}, {}", signed_degrees(scene.start.heading), heading_words(scene.start.heading));
}

std::string label_of(const Scene& scene, const Feature& f) {
  return feature_words(f) + ";  " + place_words(scene, {f.x, f.y});
}

}  // namespace

double ring_radius(const Scene& scene) {
  return std::max(glm::length(footprint_half(scene)), scene.vehicle.wheelbase / 2 + 1) + 0.35;
}

std::vector<Vec3> ring_of(const Scene& scene, double slope) {
  const Lay lay{scene.terrain, R_WG(slope)};
  const glm::dvec2 middle = machine_middle_G(scene);
  const double radius = ring_radius(scene);
  std::vector<Vec3> line;
  constexpr int kCorners = 72;
  for (int i = 0; i < kCorners; ++i) {
    const double t = kTwoPi * i / kCorners;
    line.push_back(lay.on(middle + radius * glm::dvec2(std::cos(t), std::sin(t))));
  }
  return line;
}

std::vector<Knob> knobs_of(const Scene& scene, double slope, int item) {
  const Lay lay{scene.terrain, R_WG(slope)};
  if (item == kMachine)
    return {{Grip::heading, lay.on(machine_middle_G(scene) + ring_radius(scene) * forward_G(scene.start.heading))}};
  const Feature* chosen = feature_at_index(scene, item);
  if (!chosen) return {};
  const Feature& f = *chosen;
  const Axes a = axes_of(f);
  std::vector<Knob> knobs;
  const glm::dvec2 u = f.length / 2 * a.u, v = f.width / 2 * a.v;
  if (is_round(f)) {
    for (const glm::dvec2 out : {a.u, -a.u, a.v, -a.v})
      knobs.push_back({Grip::length, lay.on(a.middle + f.length / 2 * out)});
  } else {
    knobs = {{Grip::length, lay.on(a.middle + u)},
             {Grip::length, lay.on(a.middle - u)},
             {Grip::width, lay.on(a.middle + v)},
             {Grip::width, lay.on(a.middle - v)},
             {Grip::turn, lay.on(a.middle + u + 0.6 * a.u)}};
  }
  // On a stalk, so that the middle itself is free to move the thing by.
  knobs.push_back({Grip::height, lay.on(a.middle) + lay.R * Vec3(0, 0, kStalk)});
  return knobs;
}

PlacingPreview preview(const Placing& placing, const Scene& scene, const State& shown) {
  PlacingPreview out;
  out.hot = placing.grip != Grip::none ? placing.grip : placing.hot;
  const Mat3 R = R_WG(shown.slope);
  const Lay lay{scene.terrain, R};
  if (placing.next && placing.over_G) {
    Feature f = *placing.next;
    const glm::dvec2 p = snapped(*placing.over_G, false);
    f.x = p.x, f.y = p.y;
    Terrain with = scene.terrain;
    with.features.push_back(f);
    const Lay over{with, R};
    add_feature(out, over, f, true);
    out.labels.push_back({over.on(p), label_of(scene, f), LabelKind::feature});
    return out;
  }
  const auto show_hot = [&](int item) {  // what a press would choose, without its knobs
    if (const Feature* f = feature_at_index(scene, item))
      out.outlines.push_back({rim_of(lay, *f), true, true, false, Ink::support});
  };
  if (placing.hot_item != placing.selected) show_hot(placing.hot_item);
  if (placing.selected == kMachine) {
    const glm::dvec2 half = footprint_half(scene), forward = forward_G(scene.start.heading),
                     left = left_G(scene.start.heading);
    const auto boxes = machine_boxes(scene);
    const glm::dvec2 middle =
        glm::dvec2(scene.start.x, scene.start.y) + (boxes[0].high.x + boxes[0].low.x) / 2 * forward;
    const glm::dvec2 f = half.x * forward, l = half.y * left;
    out.outlines.push_back({lay.polygon({middle - f - l, middle + f - l, middle + f + l, middle - f + l}), true, true,
                            false, Ink::support});
    out.outlines.push_back({ring_of(scene, shown.slope), true, false, false, Ink::support});
    out.knobs = knobs_of(scene, shown.slope, kMachine);
    out.labels.push_back({out.knobs.front().place, machine_words(scene), LabelKind::feature});
  } else if (const Feature* f = feature_at_index(scene, placing.selected)) {
    add_feature(out, lay, *f, false);
    out.knobs = knobs_of(scene, shown.slope, placing.selected);
    out.outlines.push_back({{lay.on({f->x, f->y}), out.knobs.back().place}, false, false, false, Ink::support});
    out.labels.push_back({lay.on({f->x, f->y}), label_of(scene, *f), LabelKind::feature});
  }
  return out;
}

namespace {

ImVec2 point(glm::dvec2 p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

// A path broken where it passes behind the eye. Dashes are measured in pixels.
void draw_path(ImDrawList& list, const std::vector<std::optional<glm::dvec2>>& spots, bool closed, bool dashed,
               float width, ImU32 ink, float px) {
  double gone = 0;
  const std::size_t n = spots.size();
  for (std::size_t i = 0; i + (closed ? 0 : 1) < n; ++i) {
    const auto &a = spots[i], &b = spots[(i + 1) % n];
    if (!a || !b) continue;
    const double length = glm::length(*b - *a);
    if (!(length < 4000)) continue;  // close to the eye's plane
    if (!dashed) {
      list.AddLine(point(*a), point(*b), ink, width);
      continue;
    }
    const double on = 9 * px, period = 15 * px;
    for (double s = 0; s < length;) {
      const double phase = std::fmod(gone + s, period), step = std::min((phase < on ? on : period) - phase, length - s);
      if (phase < on)
        list.AddLine(point(*a + (*b - *a) * (s / length)), point(*a + (*b - *a) * ((s + step) / length)), ink, width);
      s += std::max(step, 0.25);
    }
    gone += length;
  }
}

// What a drag of it does, as a shape: arrows up and down, to both sides, or round.
void draw_knob(ImDrawList& list, ImVec2 at, Grip grip, glm::dvec2 way, bool hot, float px) {
  const float r = (hot ? 10.5f : 9) * px;
  const ImU32 ink = colour(hot ? theme::kOnAccent : theme::kAccent);
  list.AddCircleFilled(at, r + 1.5f * px, colour(theme::kOnPill), 24);
  list.AddCircleFilled(at, r, colour(hot ? theme::kAccent : theme::kCard), 24);
  list.AddCircle(at, r, colour(theme::kAccent), 24, 1.5f * px);
  const auto head = [&](ImVec2 tip, float dx, float dy) {
    const float s = 2.6f * px;
    list.AddTriangleFilled({tip.x + dx * s, tip.y + dy * s}, {tip.x - dx * s - dy * s, tip.y - dy * s + dx * s},
                           {tip.x - dx * s + dy * s, tip.y - dy * s - dx * s}, ink);
  };
  if (grip == Grip::turn || grip == Grip::heading) {
    list.PathArcTo(at, 4.5f * px, -2.6f, 1.6f, 14);
    list.PathStroke(ink, 0, 1.6f * px);
    head({at.x, at.y + 4.5f * px}, -1, 0);
    return;
  }
  const double length = glm::length(way);
  const ImVec2 d = length > 1e-9 ? point(way / length) : ImVec2(0, 1);
  const float far = 4.2f * px;
  list.AddLine({at.x - d.x * far, at.y - d.y * far}, {at.x + d.x * far, at.y + d.y * far}, ink, 1.6f * px);
  head({at.x + d.x * far, at.y + d.y * far}, d.x, d.y);
  head({at.x - d.x * far, at.y - d.y * far}, -d.x, -d.y);
}

}  // namespace

void draw_preview(ImDrawList& list, const PlacingPreview& preview, const Camera& camera, const ViewRect& view,
                  double scale) {
  const float px = static_cast<float>(scale);
  const auto spot = [&](const Vec3& p_W) -> std::optional<glm::dvec2> {
    const auto at = project(camera, p_W, view.width, view.height);
    if (!at || !std::isfinite(at->x) || !std::isfinite(at->y)) return {};
    return *at + glm::dvec2(view.x, view.y);
  };
  list.PushClipRect(point({view.x, view.y}), point({view.x + view.width, view.y + view.height}), true);
  double lowest = -1e9;  // of the outlines, on the screen: words stand below, where no knob is
  for (const Outline& outline : preview.outlines) {
    std::vector<std::optional<glm::dvec2>> spots;
    bool whole = true;
    for (const Vec3& p : outline.points) {
      spots.push_back(spot(p));
      if (spots.back()) lowest = std::max(lowest, spots.back()->y);
      whole = whole && spots.back() && glm::length(*spots.back()) < 20000;
    }
    if (outline.filled && whole) {
      glm::dvec2 middle(0.0);
      for (const auto& s : spots) middle += *s / static_cast<double>(spots.size());
      const ImDrawListFlags flags = list.Flags;
      list.Flags &= ~ImDrawListFlags_AntiAliasedFill;  // neighbours would show their seams
      for (std::size_t i = 0; i < spots.size(); ++i)
        list.AddTriangleFilled(point(middle), point(*spots[i]), point(*spots[(i + 1) % spots.size()]),
                               colour(with_alpha(theme::kAccent, 0.22)));
      list.Flags = flags;
    }
    const bool main = outline.ink == Ink::support;
    draw_path(list, spots, outline.closed, outline.dashed, (main ? 4.5f : 3.5f) * px,
              colour(with_alpha(main ? theme::kOnPill : theme::kInk, main ? 0.9 : 0.5)), px);
    draw_path(list, spots, outline.closed, outline.dashed, (main ? 2.4f : 1.6f) * px,
              colour(main ? theme::kAccent : theme::kOnPill), px);
  }
  // The middle of its knobs is where a thing is: which way a knob goes shows on the screen as it will be dragged.
  glm::dvec2 middle(0.0);
  std::vector<std::pair<Grip, glm::dvec2>> knobs;
  for (const Knob& knob : preview.knobs)
    if (const auto at = spot(knob.place)) knobs.emplace_back(knob.grip, *at);
  for (const auto& [grip, at] : knobs)
    if (grip == Grip::height) middle = at;
  for (const auto& [grip, at] : knobs)
    draw_knob(list, point(at), grip, grip == Grip::height ? glm::dvec2(0, 1) : at - middle, grip == preview.hot, px);
  for (const Label& label : preview.labels) {
    const auto at = spot(label.anchor);
    if (!at) continue;
    ImFont* font = ImGui::GetFont();
    const float size = static_cast<float>(theme::kTextSize) * px;
    const ImVec2 text = font->CalcTextSizeA(size, 1e9f, 0, label.text.c_str());
    const double pad = 8 * scale, wide = text.x + 2 * pad, high = text.y + pad;
    // Kept inside the view.
    const double x = std::clamp(at->x - wide / 2, view.x + 4, std::max(view.x + 4, view.x + view.width - wide - 4));
    const double y = std::clamp(std::max(lowest, at->y) + 16 * scale, view.y + 44 * scale,
                                std::max(view.y + 44 * scale, view.y + view.height - high - 4));
    list.AddRectFilled(point({x, y}), point({x + wide, y + high}), colour(theme::kAccent), 5 * px);
    list.AddText(font, size, point({x + pad, y + pad / 2}), colour(theme::kOnAccent), label.text.c_str());
  }
  list.PopClipRect();
}

}  // namespace sidehill::screen
