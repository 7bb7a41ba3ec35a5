#include "render/screen/kit/sheet_painter.h"

#include <algorithm>
#include <cmath>

#include "render/screen/kit/ui.h"

namespace sidehill::screen {
namespace {

double turn_of(PagePoint a, PagePoint b, PagePoint c) { return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x); }

double area_of(std::span<const PagePoint> corners) {
  double twice = 0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const PagePoint &a = corners[i], &b = corners[(i + 1) % corners.size()];
    twice += a.x * b.y - a.y * b.x;
  }
  return twice / 2;
}

bool same(PagePoint a, PagePoint b) { return a.x == b.x && a.y == b.y; }

struct Bounds {
  double left = 0, top = 0, right = 0, bottom = 0;
};

Bounds bounds_of(std::span<const PagePoint> points) {
  Bounds b{points[0].x, points[0].y, points[0].x, points[0].y};
  for (const PagePoint& p : points) {
    b.left = std::min(b.left, p.x), b.right = std::max(b.right, p.x);
    b.top = std::min(b.top, p.y), b.bottom = std::max(b.bottom, p.y);
  }
  return b;
}

bool inside(std::span<const PagePoint> corners, PagePoint p) {
  bool in = false;
  for (std::size_t i = 0, j = corners.size() - 1; i < corners.size(); j = i++) {
    const PagePoint &a = corners[i], &b = corners[j];
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)) in = !in;
  }
  return in;
}

// On the list: points of the sheet become pixels.
struct Brush {
  ImDrawList& list;
  const Fonts& fonts;
  SheetPlace place;

  ImVec2 at(PagePoint p) const {
    return {place.corner.x + static_cast<float>(place.scale * p.x),
            place.corner.y + static_cast<float>(place.scale * p.y)};
  }
  float length(double points) const { return static_cast<float>(place.scale * points); }

  void fill(const PagePath& path) const {
    // Neighbouring pieces share edges: smoothing each would leave seams.
    const ImDrawListFlags flags = list.Flags;
    list.Flags &= ~ImDrawListFlags_AntiAliasedFill;
    for (const auto& [a, b, c] : triangles_of(path.points))
      list.AddTriangleFilled(at(path.points[a]), at(path.points[b]), at(path.points[c]), colour(path.paint));
    list.Flags = flags;
  }

  void hatch(const PagePath& path) const {
    const double apart = 8.5 * path.weave;
    const Bounds b = bounds_of(path.points);
    // On one raster over the whole sheet, so that neighbouring pieces fit.
    for (double c = std::floor((b.left - b.bottom) / apart) * apart; c < b.right - b.top + apart; c += apart)
      for (const auto& [from, to] : cuts_of(path.points, c))
        list.AddLine(at(from), at(to), colour(path.ink), length(2 * path.weave));
  }

  void dot(const PagePath& path) const {
    const double apart = 5 * path.weave;
    const Bounds b = bounds_of(path.points);
    for (double y = std::floor(b.top / apart) * apart; y < b.bottom + apart; y += apart)
      for (double x = std::floor(b.left / apart) * apart; x < b.right + apart; x += apart)
        if (inside(path.points, {x, y}))
          list.AddCircleFilled(at({x, y}), std::max(0.8f, length(0.9 * path.weave)), colour(path.ink), 6);
  }

  void stroke(std::span<const PagePoint> points, bool closed, const PagePath& path) const {
    std::vector<ImVec2> line;
    for (const PagePoint& p : points) line.push_back(at(p));
    list.AddPolyline(line.data(), static_cast<int>(line.size()), colour(path.ink), closed ? ImDrawFlags_Closed : 0,
                     length(path.width));
  }

  void operator()(const PagePath& path) const {
    if (path.points.size() < 2) return;
    for (const PagePoint& p : path.points)
      if (!std::isfinite(p.x) || !std::isfinite(p.y)) return;
    if (path.fill != Pattern::none) fill(path);
    if (path.fill == Pattern::hatched) hatch(path);
    if (path.fill == Pattern::dotted) dot(path);
    if (!(path.width > 0)) return;
    if (path.dash == Dash::solid) return stroke(path.points, path.closed, path);
    std::vector<double> lengths = dash_lengths(path.dash);
    for (double& length : lengths) length *= path.weave;
    std::vector<PagePoint> line = path.points;
    if (path.closed) line.push_back(line.front());
    for (const auto& dash : dashes_of(line, lengths)) stroke(dash, false, path);
  }

  void operator()(const PageText& text) const {
    if (text.words.empty() || !std::isfinite(text.at.x) || !std::isfinite(text.at.y) || !(text.size > 0)) return;
    // A page's size is that of the letters' em, an atlas's that of the whole line.
    const auto em = [](const ImFont* font) { return font->FontSize / kLineOfEm; };
    const float wanted = length(text.size);
    const ImFont* font = fonts.text;
    for (const ImFont* other : {fonts.small, fonts.heading, fonts.reading, fonts.question, fonts.big})
      if (std::abs(em(other) - wanted) < std::abs(em(font) - wanted)) font = other;
    const float ratio = std::abs(wanted / em(font) - 1) < 0.1f ? 1 : wanted / em(font);
    const float size = font->FontSize * ratio;
    const char *begin = text.words.data(), *end = begin + text.words.size();
    ImVec2 corner = at(text.at);
    corner.x -= static_cast<float>(text.align) * font->CalcTextSizeA(size, 1e9f, 0, begin, end).x;
    corner.y -= font->Ascent * ratio;
    // Whole pixels keep the letters sharp.
    list.AddText(font, size, {std::floor(corner.x + 0.5f), std::floor(corner.y + 0.5f)}, colour(text.ink), begin, end);
  }
};

}  // namespace

void paint_sheet(ImDrawList& list, const Fonts& fonts, const PageSheet& sheet, const SheetPlace& place) {
  const Brush brush{list, fonts, place};
  for (const auto& mark : sheet.marks) std::visit(brush, mark);
}

std::vector<std::array<std::size_t, 3>> triangles_of(std::span<const PagePoint> corners) {
  std::vector<std::array<std::size_t, 3>> triangles;
  std::vector<std::size_t> left;
  for (std::size_t i = 0; i < corners.size(); ++i) left.push_back(i);
  const double way = area_of(corners) < 0 ? -1 : 1;
  // An ear: a corner bent outwards, with no other corner in the triangle it makes with its neighbours.
  const auto is_ear = [&](std::size_t before, std::size_t here, std::size_t after) {
    const PagePoint a = corners[before], b = corners[here], c = corners[after];
    if (!(way * turn_of(a, b, c) > 0)) return false;
    return std::ranges::none_of(left, [&](std::size_t i) {
      const PagePoint p = corners[i];
      if (i == before || i == here || i == after || same(p, a) || same(p, b) || same(p, c)) return false;
      return way * turn_of(a, b, p) >= 0 && way * turn_of(b, c, p) >= 0 && way * turn_of(c, a, p) >= 0;
    });
  };
  std::size_t at = 0, tried = 0;
  while (left.size() >= 3 && tried < left.size()) {
    const std::size_t n = left.size();
    const std::size_t before = left[(at + n - 1) % n], here = left[at % n], after = left[(at + 1) % n];
    if (is_ear(before, here, after)) {
      triangles.push_back({before, here, after});
      left.erase(left.begin() + static_cast<std::ptrdiff_t>(at % n));
      tried = 0;
      at %= std::max<std::size_t>(1, left.size());
    } else {
      at = (at + 1) % n;
      ++tried;
    }
  }
  return triangles;
}

std::vector<std::vector<PagePoint>> dashes_of(std::span<const PagePoint> line, std::span<const double> lengths) {
  std::vector<std::vector<PagePoint>> dashes;
  double all = 0;
  for (const double length : lengths) all += length;
  if (line.size() < 2 || !(all > 0)) return dashes;
  std::size_t turn = 0;  // even: a dash, odd: a gap
  double room = lengths[0];
  dashes.push_back({line[0]});
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const PagePoint a = line[i], b = line[i + 1];
    const double whole = std::hypot(b.x - a.x, b.y - a.y);
    double gone = 0;
    while (whole - gone > room) {
      gone += room;
      const PagePoint p{a.x + (b.x - a.x) * gone / whole, a.y + (b.y - a.y) * gone / whole};
      if (turn % 2 == 0)
        dashes.back().push_back(p);
      else
        dashes.push_back({p});
      ++turn;
      room = lengths[turn % lengths.size()];
    }
    room -= whole - gone;
    if (turn % 2 == 0) dashes.back().push_back(b);
  }
  return dashes;
}

std::vector<std::pair<PagePoint, PagePoint>> cuts_of(std::span<const PagePoint> corners, double across) {
  std::vector<double> at;  // y of each crossing with an edge
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const PagePoint &a = corners[i], &b = corners[(i + 1) % corners.size()];
    const double before = a.x - a.y - across, after = b.x - b.y - across;
    if ((before > 0) == (after > 0)) continue;
    at.push_back(a.y + (b.y - a.y) * before / (before - after));
  }
  std::ranges::sort(at);
  std::vector<std::pair<PagePoint, PagePoint>> cuts;
  for (std::size_t i = 0; i + 1 < at.size(); i += 2)
    if (at[i] < at[i + 1]) cuts.push_back({{across + at[i], at[i]}, {across + at[i + 1], at[i + 1]}});
  return cuts;
}

}  // namespace sidehill::screen
