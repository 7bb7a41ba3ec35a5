#include "render/screen/scene3d/labels.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/kit/theme.h"
#include "render/screen/kit/ui.h"
#include "render/screen/scene3d/slope_wedge.h"
#include "sim/base/constants.h"

namespace sidehill::screen {
namespace {

int rank(LabelKind kind) {  // what comes first finds its place first
  switch (kind) {
    case LabelKind::lifted:
      return 0;
    case LabelKind::slope:
      return 1;
    case LabelKind::margin:
      return 2;
    case LabelKind::centre_of_gravity:
      return 3;
    case LabelKind::edge:
      return 4;
    case LabelKind::wheel_load:
      return 5;
    case LabelKind::feature:
      return 6;
  }
  return 7;
}

bool overlap(const ViewRect& a, const ViewRect& b, double gap) {
  return a.x < b.x + b.width + gap && b.x < a.x + a.width + gap && a.y < b.y + b.height + gap &&
         b.y < a.y + a.height + gap;
}

// Where a label of this kind would rather stand, as a direction from its anchor (y down).
glm::dvec2 liking(LabelKind kind) {
  switch (kind) {
    case LabelKind::lifted:
      return {0.25, -1};
    case LabelKind::centre_of_gravity:
      return {1, -1};
    case LabelKind::margin:
      return {0.8, 1};
    case LabelKind::edge:
      return {-0.6, 1};
    case LabelKind::wheel_load:
      return {0, 1};
    case LabelKind::slope:
      return {1, 0.2};
    case LabelKind::feature:
      return {0.3, -1};
  }
  return {0, 1};
}

constexpr double kPadX = 8, kPadY = 4, kEdge = 6;  // [px] at scale 1

}  // namespace

std::vector<ViewRect> kept_free(const Drawing& drawing, const Camera& camera, const ViewRect& view, double scale) {
  std::vector<ViewRect> rects;
  const auto spot_of = [&](const Vec3& p) { return project(camera, p, view.width, view.height); };
  if (drawing.gravity) {
    const auto disc = spot_of(drawing.gravity->centre), foot = spot_of(drawing.gravity->foot);
    const double room = 16 * scale, slim = 6 * scale;
    for (const auto& spot : {disc, foot})
      if (spot) rects.push_back({view.x + spot->x - room, view.y + spot->y - room, 2 * room, 2 * room});
    if (disc && foot)  // upright in the world, and nearly so on the view: in pieces
      for (int i = 0; i < 8; ++i) {
        const glm::dvec2 a = glm::mix(*disc, *foot, i / 8.0), b = glm::mix(*disc, *foot, (i + 1) / 8.0);
        rects.push_back({view.x + std::min(a.x, b.x) - slim, view.y + std::min(a.y, b.y),
                         std::abs(a.x - b.x) + 2 * slim, std::abs(a.y - b.y)});
      }
  }
  for (const Outline& line : drawing.outlines) {  // the way from the foot to the nearest edge
    if (line.ink != Ink::to_edge) continue;
    for (std::size_t i = 0; i + 1 < line.points.size(); ++i) {
      const auto a = spot_of(line.points[i]), b = spot_of(line.points[i + 1]);
      if (!a || !b) continue;
      const glm::dvec2 low = glm::min(*a, *b) - 4.0 * scale, size = glm::abs(*a - *b) + 8.0 * scale;
      rects.push_back({view.x + low.x, view.y + low.y, size.x, size.y});
    }
  }
  for (const Ring& ring : drawing.rings) {
    const Vec3 u = glm::normalize(glm::cross(ring.axis, Vec3(0.1, 0.2, 1))), v = glm::cross(ring.axis, u);
    glm::dvec2 low(1e9), high(-1e9);
    for (int i = 0; i < 16; ++i) {
      const double a = kTwoPi * i / 16;
      if (const auto spot = spot_of(ring.centre + ring.radius * (std::cos(a) * u + std::sin(a) * v)))
        low = glm::min(low, *spot), high = glm::max(high, *spot);
    }
    if (high.x > low.x) rects.push_back({view.x + low.x, view.y + low.y, high.x - low.x, high.y - low.y});
  }
  return rects;
}

std::vector<PlacedLabel> place_labels(const Drawing& drawing, const Camera& camera, const ViewRect& view,
                                      const std::function<glm::dvec2(const Label&)>& size_of, double scale,
                                      const Drawing* ghost, std::span<const ViewRect> taken) {
  std::vector<const Label*> order;
  for (const Label& label : drawing.labels) order.push_back(&label);
  if (ghost)
    for (const Label& label : ghost->labels) order.push_back(&label);
  std::stable_sort(order.begin(), order.end(),
                   [](const Label* a, const Label* b) { return rank(a->kind) < rank(b->kind); });
  std::vector<PlacedLabel> placed;
  std::vector<ViewRect> free(taken.begin(), taken.end());
  for (const Drawing* one : {&drawing, ghost})
    if (one)
      for (const ViewRect& rect : kept_free(*one, camera, view, scale)) free.push_back(rect);
  const double aspect = view.width / std::max(view.height, 1.0);
  for (const Label* label : order) {
    const bool of_wedge = label->kind == LabelKind::slope && drawing.wedge;
    const Vec3 anchor = of_wedge ? wedge_label(*drawing.wedge, wedge_place(drawing, camera, aspect)) : label->anchor;
    const auto spot = project(camera, anchor, view.width, view.height);
    if (!spot) continue;
    const bool outside = spot->x < 0 || spot->y < 0 || spot->x > view.width || spot->y > view.height;
    if (outside && label->kind != LabelKind::lifted && label->kind != LabelKind::slope) continue;
    PlacedLabel best;
    best.label = label;
    best.anchor = {view.x + std::clamp(spot->x, 0.0, view.width), view.y + std::clamp(spot->y, 0.0, view.height)};
    const glm::dvec2 size = size_of(*label) + 2.0 * scale * glm::dvec2(kPadX, kPadY);
    const double edge = kEdge * scale;
    if (size.x + 2 * edge > view.width || size.y + 2 * edge > view.height) continue;
    const glm::dvec2 wish = glm::normalize(liking(label->kind));
    double least = 1e30;
    // Rings of places round the anchor; near and in the wished direction costs least.
    const int rings = label->kind == LabelKind::lifted ? 24 : 9;
    for (int ring = 0; ring < rings; ++ring) {
      for (int k = 0; k < 16; ++k) {
        const double angle = kTwoPi * k / 16;
        const glm::dvec2 way(std::cos(angle), std::sin(angle));
        const double away = scale * (12 + 22.0 * ring);
        const glm::dvec2 centre =
            best.anchor + way * (away + 0.5 * glm::dvec2(std::abs(way.x) * size.x, std::abs(way.y) * size.y));
        ViewRect pill{std::clamp(centre.x - size.x / 2, view.x + edge, view.x + view.width - edge - size.x),
                      std::clamp(centre.y - size.y / 2, view.y + edge, view.y + view.height - edge - size.y), size.x,
                      size.y};
        pill.x = std::round(pill.x);
        pill.y = std::round(pill.y);
        if (std::ranges::any_of(placed, [&](const PlacedLabel& p) { return overlap(p.pill, pill, 4 * scale); }) ||
            std::ranges::any_of(free, [&](const ViewRect& r) { return overlap(r, pill, 0); }))
          continue;
        const double cost = away + 26 * scale * (1 - glm::dot(way, wish)) +
                            glm::length(glm::dvec2(pill.x, pill.y) + size / 2.0 - centre);
        if (cost < least) {
          least = cost;
          best.pill = pill;
        }
      }
    }
    if (least > 1e29) continue;  // no free place
    const glm::dvec2 nearest(std::clamp(best.anchor.x, best.pill.x, best.pill.x + best.pill.width),
                             std::clamp(best.anchor.y, best.pill.y, best.pill.y + best.pill.height));
    best.leader = glm::length(nearest - best.anchor) > 3 * scale;
    placed.push_back(best);
  }
  return placed;
}

const Label* draw_labels(ImDrawList& list, const Drawing& drawing, const Camera& camera, const ViewRect& view,
                         double scale, const Drawing* ghost, std::span<const ViewRect> taken,
                         std::optional<glm::dvec2> mouse) {
  const Label* under = nullptr;
  ImFont* font = ImGui::GetFont();
  const float size = static_cast<float>(theme::kSmallTextSize * scale);
  const auto width_of = [&](const std::string& text) { return font->CalcTextSizeA(size, 1e9f, 0, text.c_str()).x; };
  const auto tag_width = [&](const Label& label) {
    return label.tag.empty() ? 0.0 : width_of(label.tag) + 2 * kPadX * scale;
  };
  const auto size_of = [&](const Label& label) {
    const ImVec2 s = font->CalcTextSizeA(size, 1e9f, 0, label.text.c_str());
    return glm::dvec2(s.x + tag_width(label), s.y);
  };
  const auto placed = place_labels(drawing, camera, view, size_of, scale, ghost, taken);
  list.PushClipRect(vec(view.x, view.y), vec(view.x + view.width, view.y + view.height), true);
  const float thin = static_cast<float>(scale);
  for (const PlacedLabel& p : placed) {
    if (!p.leader) continue;
    const double x = std::clamp(p.anchor.x, p.pill.x + 4, p.pill.x + p.pill.width - 4),
                 y = std::clamp(p.anchor.y, p.pill.y, p.pill.y + p.pill.height);
    list.AddLine(vec(p.anchor.x, p.anchor.y), vec(x, y), colour(theme::kPill), 3 * thin);
    list.AddLine(vec(p.anchor.x, p.anchor.y), vec(x, y), colour(theme::kOnPill), 1.3f * thin);
    list.AddCircleFilled(vec(p.anchor.x, p.anchor.y), 2.6f * thin, colour(theme::kOnPill), 10);
  }
  for (const PlacedLabel& p : placed) {
    const bool lifted = p.label->kind == LabelKind::lifted, second = p.label->ghost;
    if (mouse && mouse->x >= p.pill.x && mouse->x < p.pill.x + p.pill.width && mouse->y >= p.pill.y &&
        mouse->y < p.pill.y + p.pill.height)
      under = p.label;
    const ImVec2 a = vec(p.pill.x, p.pill.y), b = vec(p.pill.x + p.pill.width, p.pill.y + p.pill.height);
    const float round = static_cast<float>(5 * scale);
    // The second machine's pills are light with a frame; a lifted wheel keeps its colour as frame and letters.
    const Colour base = second ? theme::kPaper : lifted ? theme::kLifted : theme::kPill;
    const Colour ink = !second ? theme::kOnPill : lifted ? theme::kLifted : theme::kGhost;
    list.AddRectFilled(a, b, colour(base), round);
    const double tag = tag_width(*p.label);
    if (tag > 0) {
      list.AddRectFilled(a, vec(p.pill.x + tag, p.pill.y + p.pill.height), colour(ink), round,
                         ImDrawFlags_RoundCornersLeft);
      list.AddText(font, size, vec(p.pill.x + kPadX * scale, p.pill.y + kPadY * scale),
                   colour(second   ? theme::kPaper
                          : lifted ? theme::kLifted
                                   : theme::kInk),
                   p.label->tag.c_str());
    }
    if (lifted || second) list.AddRect(a, b, colour(second ? ink : theme::kOnAccent), round, 0, 1.8f * thin);
    list.AddText(font, size, vec(p.pill.x + tag + kPadX * scale, p.pill.y + kPadY * scale), colour(ink),
                 p.label->text.c_str());
  }
  list.PopClipRect();
  return under;
}

}  // namespace sidehill::screen
