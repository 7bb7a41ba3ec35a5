#ifdef SIDEHILL_SCREEN
// A sheet of the page drawn in the window: what is filled, hatched, dashed and said, and where.
#include "render/screen/kit/sheet_painter.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/kit/hands.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

struct Bench : Hands<Bench> {
  void draw() {}
};

struct Drawn {
  int corners = 0, triangles = 0;
  double left = 1e9, top = 1e9, right = -1e9, bottom = -1e9;
};

Drawn drawn(Bench& bench, const PageSheet& sheet, const SheetPlace& place) {
  Drawn d;
  bench.frame([&] {
    ImDrawList& list = *ImGui::GetBackgroundDrawList();
    const int before = list.VtxBuffer.Size, indices = list.IdxBuffer.Size;
    paint_sheet(list, bench.ui.fonts, sheet, place);
    d.corners = list.VtxBuffer.Size - before;
    d.triangles = (list.IdxBuffer.Size - indices) / 3;
    for (int i = before; i < list.VtxBuffer.Size; ++i) {
      const ImVec2 p = list.VtxBuffer[i].pos;
      d.left = std::min<double>(d.left, p.x), d.right = std::max<double>(d.right, p.x);
      d.top = std::min<double>(d.top, p.y), d.bottom = std::max<double>(d.bottom, p.y);
    }
  });
  return d;
}

// A ring's sector, 10 to 40 pt from (50, 50), as the dial has it.
std::vector<PagePoint> sector(double from, double to, int pieces) {
  std::vector<PagePoint> points;
  const auto at = [&](int i, double r) {
    const double turn = (from + (to - from) * i / pieces) * std::numbers::pi / 180;
    return PagePoint{50 + r * std::cos(turn), 50 + r * std::sin(turn)};
  };
  for (int i = 0; i <= pieces; ++i) points.push_back(at(i, 40));
  for (int i = pieces; i >= 0; --i) points.push_back(at(i, 10));
  return points;
}

double area(PagePoint a, PagePoint b, PagePoint c) {
  return std::abs((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)) / 2;
}

}  // namespace

TEST_CASE("a polygon that is bent inwards is cut into triangles that fill it and nothing else") {
  for (const double to : {30.0, 180.0, 350.0, 360.0}) {
    const int pieces = 24;
    const std::vector<PagePoint> points = sector(0, to, pieces);
    double sum = 0;
    const auto triangles = triangles_of(points);
    for (const auto& [a, b, c] : triangles) sum += area(points[a], points[b], points[c]);
    INFO(to);
    CHECK(triangles.size() == points.size() - 2);
    // Each piece is a quadrilateral between two rings: (R^2 - r^2) sin(step) / 2.
    const double step = to / pieces * std::numbers::pi / 180;
    CHECK_NEAR(sum, pieces * (40.0 * 40 - 10 * 10) * std::sin(step) / 2, 1e-6);
    for (const auto& [a, b, c] : triangles)  // the hole in the middle stays open
      CHECK(std::hypot((points[a].x + points[b].x + points[c].x) / 3 - 50,
                       (points[a].y + points[b].y + points[c].y) / 3 - 50) > 9);
  }
  CHECK(triangles_of(std::vector<PagePoint>{{0, 0}, {1, 0}}).empty());
  CHECK(triangles_of(std::vector<PagePoint>{{0, 0}, {1, 0}, {2, 0}}).empty());  // flat
  const std::vector<PagePoint> bow{{0, 0}, {2, 2}, {2, 0}, {0, 2}};             // crosses itself: comes to an end
  CHECK(triangles_of(bow).size() <= 2);
}

TEST_CASE("hatching is cut at the edges, also where a line leaves a polygon and enters it again") {
  const std::vector<PagePoint> square{{0, 0}, {10, 0}, {10, 10}, {0, 10}};
  REQUIRE(cuts_of(square, 4).size() == 1);
  CHECK_NEAR(cuts_of(square, 4)[0].first.x, 4, 1e-12);
  CHECK_NEAR(cuts_of(square, 4)[0].second.y, 6, 1e-12);
  CHECK(cuts_of(square, 11).empty());
  const std::vector<PagePoint> ring = sector(0, 360, 72);
  const auto through = cuts_of(ring, 0);  // through the middle: twice the ring's breadth
  double length = 0;
  for (const auto& [a, b] : through) length += std::hypot(b.x - a.x, b.y - a.y);
  CHECK_NEAR(length, 60, 0.2);
}

TEST_CASE("dashes are as long as they should be, and go on round a bend") {
  const std::vector<PagePoint> line{{0, 0}, {10, 0}, {10, 10}};
  const auto dashes = dashes_of(line, std::vector<double>{6, 3});
  REQUIRE(dashes.size() == 3);  // 0 to 6, 9 to 15 round the bend, 18 to the end
  CHECK(dashes[0].size() == 2);
  CHECK(dashes[1].size() == 3);
  CHECK_NEAR(dashes[1].back().y, 5, 1e-12);
  CHECK_NEAR(dashes[2].front().y, 8, 1e-12);
  CHECK_NEAR(dashes[2].back().y, 10, 1e-12);
  CHECK(dashes_of(line, {}).empty());
}

TEST_CASE("a hatched sector stays inside its rectangle, at every scale") {
  Bench bench;
  for (const double scale : {0.5, 1.0, 2.5}) {
    PageSheet sheet;
    PagePath path{sector(200, 290, 20), true, 0, theme::kInk, Dash::solid, Pattern::hatched, theme::kCard};
    sheet.marks.push_back(path);
    const Drawn hatched = drawn(bench, sheet, {{100, 200}, scale});
    const double edge = 1 * scale + 1;  // half a hatch line, and a pixel that smooths it
    double left = 1e9, bottom = -1e9;
    for (const PagePoint& p : path.points) left = std::min(left, p.x), bottom = std::max(bottom, p.y);
    CHECK(hatched.left >= 100 + scale * left - edge);
    CHECK(hatched.bottom <= 200 + scale * bottom + edge);
    CHECK(hatched.left <= 100 + scale * left + edge);  // and fills it
    path.fill = Pattern::plain;
    sheet.marks = {path};
    const Drawn plain = drawn(bench, sheet, {{100, 200}, scale});
    CHECK(plain.triangles == static_cast<int>(path.points.size()) - 2);
    CHECK(hatched.triangles > plain.triangles);
  }
}

TEST_CASE("words stand on their line, and begin or end at their place") {
  Bench bench;
  PageSheet sheet;
  add_text(sheet, 100, 50, "12.5", 11, theme::kInk);
  const Drawn from = drawn(bench, sheet, {{0, 0}, 1});
  sheet.marks.clear();
  add_text(sheet, 100, 50, "12.5", 11, theme::kInk, false, 1);
  const Drawn to = drawn(bench, sheet, {{0, 0}, 1});
  CHECK(from.left >= 99);
  CHECK(to.right <= 101.5);
  CHECK_NEAR(from.bottom, 50, 2.5);  // digits have nothing below the line
  CHECK_NEAR(from.right - from.left, to.right - to.left, 1.01);
}

TEST_CASE("nothing is drawn of a path or of words whose place is not a number") {
  Bench bench;
  PageSheet sheet;
  add_line(sheet, {0, 0}, {std::nan(""), 3}, theme::kInk);
  add_text(sheet, std::nan(""), 0, "x", 11);
  add_text(sheet, 0, 0, "", 11);
  CHECK(drawn(bench, sheet, {{0, 0}, 1}).corners == 0);
}
#endif  // SIDEHILL_SCREEN
