#include "render/screen/scene3d/marks.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/kit/theme.h"
#include "render/screen/scene3d/mark_style.h"
#include "render/screen/scene3d/slope_wedge.h"
#include "sim/base/constants.h"

namespace sidehill::screen {
namespace {

Paint paint_of(Colour c) { return {c.r, c.g, c.b, c.a}; }

void face(Mesh& mesh, Vec3 a, Vec3 b, Vec3 c, Vec3 normal, Paint paint) {
  for (const Vec3& p : {a, b, c}) {
    mesh.indices.push_back(static_cast<std::uint32_t>(mesh.vertices.size()));
    mesh.vertices.push_back({glm::vec3(p), glm::vec3(normal), paint, 1});
  }
}

// A line as a strip that faces the eye, `width` in pixels.
struct Pen {
  Mesh& mesh;
  Vec3 eye;
  double pixel;
  void line(Vec3 a, Vec3 b, double width, Paint paint) const {
    const Vec3 along = b - a;
    const double length = glm::length(along);
    if (length < 1e-9) return;
    const auto side_at = [&](Vec3 p) {
      const Vec3 view = p - eye;
      const Vec3 side = glm::cross(along / length, view);
      const double s = glm::length(side);
      return s < 1e-9 ? Vec3(0) : side / s * (0.5 * width * pixel * glm::length(view));
    };
    const Vec3 sa = side_at(a), sb = side_at(b);
    face(mesh, a - sa, b - sb, b + sb, Vec3(0), paint);
    face(mesh, a - sa, b + sb, a + sa, Vec3(0), paint);
  }
  void path(const std::vector<Vec3>& points, bool closed, bool dashed, double width, Paint paint) const {
    constexpr double kOn = 0.22, kOff = 0.15;  // [m]
    double gone = 0;
    const std::size_t n = points.size();
    for (std::size_t i = 0; i + (closed ? 0 : 1) < n; ++i) {
      const Vec3 a = points[i], b = points[(i + 1) % n];
      const double length = glm::length(b - a);
      if (!dashed || length < 1e-9) {
        line(a, b, width, paint);
        continue;
      }
      for (double s = 0; s < length - 1e-9;) {
        const double phase = std::fmod(gone + s, kOn + kOff);
        const bool on = phase < kOn;
        const double step = std::max(std::min((on ? kOn : kOn + kOff) - phase, length - s), 1e-4);
        if (on) line(a + (b - a) * (s / length), a + (b - a) * ((s + step) / length), width, paint);
        s += step;
      }
      gone += length;
    }
  }
};

std::pair<Vec3, Vec3> across(Vec3 axis) {
  const Vec3 u = glm::normalize(glm::cross(std::abs(axis.z) < 0.8 ? Vec3(0, 0, 1) : Vec3(1, 0, 0), axis));
  return {u, glm::cross(axis, u)};
}

constexpr double kRim = 2.2;  // of the dark edge on each side of a core [px]

// Edge first, then the core on top of it: the ground's marks write no depth, so the later one is seen.
void edged(const Pen& pen, const std::vector<Vec3>& points, bool closed, const MarkStyle& style) {
  const bool dashed = style.form == Form::dashed_line || style.form == Form::thin_dashed_line;
  pen.path(points, closed, dashed, style.width + 2 * (style.quiet ? 0.8 : kRim), paint_of(style.edge));
  pen.path(points, closed, dashed, style.width, paint_of(style.core));
}

// An arrow that faces the eye, as wide in pixels at any distance. `high` [px] of the picture: it takes a third of that
// at most and is then broken, for it says less than the load.
void add_arrow(Mesh& mesh, const Arrow& arrow, Vec3 from, double pixel, double high) {
  const Vec3 whole = arrow.tip - arrow.foot;
  double length = glm::length(whole);
  if (length < 1e-3) return;
  const MarkStyle style = style_of(arrow.ink);
  const bool doubled = style.form == Form::striped_double_arrow;
  const Vec3 up = whole / length, view = glm::normalize(arrow.foot - from);
  const double px = pixel * glm::length(arrow.foot - from);  // one pixel there [m]
  const double upright = std::max(glm::length(glm::cross(up, view)), 0.05);
  const double longest = high / 3 * px / upright;
  const bool cut = arrow.cut || length > longest;
  length = std::min(length, longest);
  const Vec3 side = glm::normalize(glm::cross(up, view)), tip = arrow.foot + length * up;
  const double head = std::min(17 * px / upright, 0.6 * length);
  const int heads = doubled ? 2 : 1;
  const Paint core = paint_of(style.core), edge = paint_of(style.edge);
  const Pen pen{mesh, from, pixel};
  const auto triangle = [&](Vec3 top, double tall, double half, Paint paint) {
    face(mesh, top, top - tall * up - half * side, top - tall * up + half * side, Vec3(0), paint);
  };
  const Vec3 neck = tip - 0.8 * static_cast<double>(heads) * head * up;
  pen.line(arrow.foot, neck, style.width + 2 * kRim, edge);
  for (int k = 0; k < heads; ++k)
    triangle(tip - (0.85 * k * head - 4.5 * px / upright) * up, head + 7 * px / upright, 14.5 * px, edge);
  pen.line(arrow.foot + kRim * px * up, neck, style.width, core);
  if (doubled) {  // striped, so that it reads without colour
    const double step = 9 * px / upright;
    for (double s = step; s + 0.4 * step < glm::length(neck - arrow.foot); s += step)
      pen.line(arrow.foot + s * up, arrow.foot + (s + 0.4 * step) * up, style.width, edge);
  }
  for (int k = 0; k < heads; ++k) triangle(tip - 0.85 * k * head * up, head, 9.5 * px, core);
  if (!cut) return;
  const Vec3 middle = arrow.foot + 0.5 * length * up;  // two slanted strokes with a gap between
  const double gap = 4 * px / upright;
  for (const double s : {-1.0, 1.0}) {
    const Vec3 at = middle + s * gap * up, lean = 8 * px * side + 4 * px / upright * up;
    pen.line(at - lean, at + lean, 5, edge);
  }
  for (const double s : {-1.0, 1.0}) {
    const Vec3 at = middle + s * gap * up, lean = 7 * px * side + 3.5 * px / upright * up;
    pen.line(at - lean, at + lean, 2.2, paint_of(theme::kOnPill));
  }
}

// Striped, so that it reads without colour.
void add_ring(Mesh& mesh, const Ring& ring, Vec3 from, double pixel) {
  const auto around = across(ring.axis);
  const Vec3 u = around.first, v = around.second;
  const MarkStyle style = style_of(ring.ink);
  const Pen pen{mesh, from, pixel};
  constexpr int kAround = 48;
  const auto at = [&](int i) {
    const double a = kTwoPi * i / kAround;
    return ring.centre + ring.radius * (std::cos(a) * u + std::sin(a) * v);
  };
  for (int i = 0; i < kAround; ++i) pen.line(at(i), at(i + 1), style.width + 2 * kRim, paint_of(style.edge));
  for (int i = 0; i < kAround; ++i)
    pen.line(at(i), at(i + 1), style.width, paint_of(i / 2 % 2 == 0 ? style.core : theme::kOnPill));
}

void add_gravity(Mesh& mesh, const GravityMark& mark, bool ghost, const Camera& camera, double pixel) {
  const Vec3 from = eye(camera);
  const Pen pen{mesh, from, pixel};
  // A ghost's disc is halved instead of quartered, so that the two differ without colour.
  const Paint dark = paint_of(ghost ? theme::kGhost : theme::kGravityDark), light = paint_of(theme::kGravityLight);
  const MarkStyle plumb = style_of(!mark.inside ? Ink::plumb_outside : Ink::plumb);
  pen.line(mark.centre, mark.foot, plumb.width + 2 * kRim, paint_of(plumb.edge));
  pen.path({mark.centre, mark.foot}, false, true, plumb.width, paint_of(plumb.core));
  // Foot: a cross in a ring, on the ground.
  std::vector<Vec3> ring;
  for (int i = 0; i < 24; ++i)
    ring.push_back(mark.foot + 0.13 * Vec3(std::cos(kTwoPi * i / 24), std::sin(kTwoPi * i / 24), 0));
  const std::vector<Vec3> bars[] = {{mark.foot - Vec3(0.2, 0, 0), mark.foot + Vec3(0.2, 0, 0)},
                                    {mark.foot - Vec3(0, 0.2, 0), mark.foot + Vec3(0, 0.2, 0)}};
  pen.path(ring, true, false, plumb.width + 2 * kRim, paint_of(plumb.edge));
  for (const auto& bar : bars) pen.path(bar, false, false, 2 + 2 * kRim, paint_of(plumb.edge));
  pen.path(ring, true, false, plumb.width, paint_of(plumb.core));
  for (const auto& bar : bars) pen.path(bar, false, false, 2, paint_of(plumb.core));
  // Disc, facing the eye.
  const Vec3 view = glm::normalize(from - mark.centre);
  const Vec3 right = glm::normalize(glm::cross(Vec3(0, 0, 1), view)), up = glm::cross(view, right);
  const double radius = std::max(0.12, 9 * pixel * glm::length(from - mark.centre));
  constexpr int kSides = 32;
  const auto disc = [&](double r, double lift, auto&& paint_at) {
    const Vec3 c = mark.centre + lift * view;
    for (int i = 0; i < kSides; ++i) {
      const double a = kTwoPi * i / kSides, b = kTwoPi * (i + 1) / kSides;
      face(mesh, c, c + r * (std::cos(a) * right + std::sin(a) * up), c + r * (std::cos(b) * right + std::sin(b) * up),
           Vec3(0), paint_at(i));
    }
  };
  disc(1.16 * radius, 0.0, [&](int) { return light; });
  disc(1.06 * radius, 0.0, [&](int) { return dark; });
  disc(0.96 * radius, 0.0, [&](int i) { return i / (kSides / (ghost ? 2 : 4)) % 2 == 0 ? dark : light; });
}

}  // namespace

Marks make_marks(const Drawing& drawing, const Camera& camera, double pixel, double high, double aspect) {
  Marks marks;
  add_marks(marks, drawing, camera, pixel, high, aspect);
  return marks;
}

void add_marks(Marks& marks, const Drawing& drawing, const Camera& camera, double pixel, double high, double aspect) {
  const Vec3 from = eye(camera);
  std::vector<Outline> outlines = drawing.outlines;
  if (drawing.wedge)
    for (Outline& line : wedge_outlines(*drawing.wedge, wedge_place(drawing, camera, aspect)))
      outlines.push_back(std::move(line));
  for (const Outline& outline : outlines) {
    if (outline.points.size() < 2) continue;
    const MarkStyle style = style_of(outline.ink);
    if (outline.filled) {
      const bool wedge = outline.ink == Ink::slope;
      const Paint fill = paint_of(wedge ? with_alpha(style.core, 0.25) : with_alpha(theme::kSupport, 0.30));
      Vec3 middle{0};
      for (const Vec3& p : outline.points) middle += p / static_cast<double>(outline.points.size());
      for (std::size_t i = 0; i < outline.points.size(); ++i)
        face(marks.ground, middle, outline.points[i], outline.points[(i + 1) % outline.points.size()], Vec3(0), fill);
      if (wedge) continue;  // its edges come as lines of their own
    }
    // The way to the nearest edge is what the picture is about: nothing hides it.
    const bool way = outline.ink == Ink::to_edge || outline.ink == Ink::nearest_edge;
    edged({way ? marks.front : marks.ground, from, pixel}, outline.points, outline.closed, style);
  }
  for (const Arrow& arrow : drawing.arrows) add_arrow(marks.ground, arrow, from, pixel, high);
  for (const Ring& ring : drawing.rings) add_ring(marks.ground, ring, from, pixel);
  if (drawing.gravity) add_gravity(marks.front, *drawing.gravity, drawing.ghost, camera, pixel);
}

}  // namespace sidehill::screen
