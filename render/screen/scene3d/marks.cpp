#include "render/screen/scene3d/marks.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/kit/theme.h"
#include "sim/base/constants.h"

namespace sidehill::screen {
namespace {

Paint paint_of(Colour c) { return {c.r, c.g, c.b, c.a}; }

// Lighter, so that it stands out from dark tyres in the shade.
Colour mixed(Colour a, Colour b, double share) {
  const auto part = [&](int x, int y) { return static_cast<std::uint8_t>(x + share * (y - x)); };
  return {part(a.r, b.r), part(a.g, b.g), part(a.b, b.b), a.a};
}

Colour colour_of(Ink ink) {
  switch (ink) {
    case Ink::load:
      return mixed(theme::kLoad, theme::kOnPill, 0.28);
    case Ink::lifted:
      return theme::kLifted;
    case Ink::support:
      return theme::kSupport;
    case Ink::support_contacts:
      return theme::kOnPill;
    case Ink::plumb:
      return theme::kPlumb;
    case Ink::plumb_outside:
      return theme::kLifted;
    case Ink::slope:
    case Ink::level:
      return theme::kOnPill;
    case Ink::feature:
      return theme::kInk;
    case Ink::ghost:
      return theme::kGhost;
    case Ink::ghost_fill:  // to be seen on a tyre
      return mixed(theme::kGhost, theme::kOnPill, 0.75);
  }
  return theme::kInk;
}

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

void frustum(Mesh& mesh, Vec3 a, Vec3 b, double ra, double rb, Paint paint) {
  if (glm::length(b - a) < 1e-6) return;
  const Vec3 axis = glm::normalize(b - a);
  const auto [u, v] = across(axis);
  constexpr int kSides = 14;
  for (int i = 0; i < kSides; ++i) {
    const double t0 = kTwoPi * i / kSides, t1 = kTwoPi * (i + 1) / kSides;
    const Vec3 d0 = std::cos(t0) * u + std::sin(t0) * v, d1 = std::cos(t1) * u + std::sin(t1) * v,
               n = glm::normalize(d0 + d1);
    face(mesh, a + ra * d0, a + ra * d1, b + rb * d1, n, paint);
    face(mesh, a + ra * d0, b + rb * d1, b + rb * d0, n, paint);
    face(mesh, a, a + ra * d1, a + ra * d0, -axis, paint);
  }
}

void add_arrow(Mesh& mesh, const Arrow& arrow) {
  const Vec3 whole = arrow.tip - arrow.foot;
  const double length = glm::length(whole);
  if (length < 1e-3) return;
  const Vec3 up = whole / length;
  const Paint paint = paint_of(colour_of(arrow.ink)), base = paint_of(theme::kOnPill);
  const double head = std::min(0.24, 0.6 * length);
  frustum(mesh, arrow.foot, arrow.foot + 0.02 * up, 0.15, 0.13, base);
  frustum(mesh, arrow.foot + 0.02 * up, arrow.tip - head * up, 0.045, 0.045, paint);
  frustum(mesh, arrow.tip - head * up, arrow.tip, 0.115, 0.0, paint);
}

// Striped, so that it reads without colour.
void add_ring(Mesh& mesh, const Ring& ring) {
  const auto across_axis = across(ring.axis);
  const Vec3 u = across_axis.first, v = across_axis.second;
  constexpr int kAround = 48, kSides = 8;
  const double thick = 0.045;
  const auto at = [&](int i, int k) {
    const double a = kTwoPi * i / kAround, b = kTwoPi * k / kSides;
    const Vec3 out = std::cos(a) * u + std::sin(a) * v;
    return std::pair{ring.centre + ring.radius * out + thick * (std::cos(b) * out + std::sin(b) * ring.axis),
                     std::cos(b) * out + std::sin(b) * ring.axis};
  };
  for (int i = 0; i < kAround; ++i) {
    const Paint paint = paint_of(i / 2 % 2 == 0 ? colour_of(ring.ink) : theme::kOnPill);
    for (int k = 0; k < kSides; ++k) {
      const auto [a, na] = at(i, k);
      const auto [b, nb] = at(i + 1, k);
      const auto [c, nc] = at(i + 1, k + 1);
      const auto [d, nd] = at(i, k + 1);
      face(mesh, a, b, c, na + nb + nc + nd, paint);
      face(mesh, a, c, d, na + nb + nc + nd, paint);
    }
  }
}

void add_gravity(Mesh& mesh, const GravityMark& mark, bool ghost, const Camera& camera, double pixel) {
  const Vec3 from = eye(camera);
  const Pen pen{mesh, from, pixel};
  // A ghost's disc is halved instead of quartered, so that the two differ without colour.
  const Paint dark = paint_of(ghost ? theme::kGhost : theme::kGravityDark), light = paint_of(theme::kGravityLight);
  const Paint plumb = paint_of(!mark.inside ? theme::kLifted : theme::kPlumb);
  pen.path({mark.centre, mark.foot}, false, false, 5.5, paint_of(with_alpha(theme::kGravityDark, 0.55)));
  pen.path({mark.centre, mark.foot}, false, true, 3.0, plumb);
  // Foot: a cross in a ring, on the ground.
  std::vector<Vec3> ring;
  for (int i = 0; i < 24; ++i)
    ring.push_back(mark.foot + 0.13 * Vec3(std::cos(kTwoPi * i / 24), std::sin(kTwoPi * i / 24), 0));
  pen.path(ring, true, false, 5.5, paint_of(with_alpha(theme::kGravityDark, 0.55)));
  pen.path(ring, true, false, 3.0, plumb);
  pen.line(mark.foot - Vec3(0.2, 0, 0), mark.foot + Vec3(0.2, 0, 0), 2.0, plumb);
  pen.line(mark.foot - Vec3(0, 0.2, 0), mark.foot + Vec3(0, 0.2, 0), 2.0, plumb);
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

Marks make_marks(const Drawing& drawing, const Camera& camera, double pixel) {
  Marks marks;
  add_marks(marks, drawing, camera, pixel);
  return marks;
}

void add_marks(Marks& marks, const Drawing& drawing, const Camera& camera, double pixel) {
  const Vec3 from = eye(camera);
  for (const Outline& outline : drawing.outlines) {
    if (outline.points.size() < 2) continue;
    const Colour colour = colour_of(outline.ink);
    if (outline.filled) {
      const Paint fill = paint_of(with_alpha(colour, outline.ink == Ink::slope ? 0.22 : 0.30));
      Vec3 middle{0};
      for (const Vec3& p : outline.points) middle += p / static_cast<double>(outline.points.size());
      for (std::size_t i = 0; i < outline.points.size(); ++i)
        face(marks.ground, middle, outline.points[i], outline.points[(i + 1) % outline.points.size()], Vec3(0), fill);
    }
    if (outline.ink == Ink::slope && outline.filled) continue;  // its edges come as lines of their own
    const Pen pen{marks.ground, from, pixel};
    if (outline.ink == Ink::feature) {  // quiet: it belongs to the ground
      pen.path(outline.points, outline.closed, outline.dashed, 1.8, paint_of(with_alpha(colour, 0.5)));
      continue;
    }
    const bool main = outline.ink == Ink::support, bold = main || outline.ink == Ink::ghost_fill;
    pen.path(outline.points, outline.closed, outline.dashed, bold ? 6.5 : 4.4,
             paint_of(with_alpha(main ? theme::kOnPill : theme::kInk, main ? 0.9 : 0.45)));
    pen.path(outline.points, outline.closed, outline.dashed, bold ? 3.6 : 2.2, paint_of(colour));
  }
  for (const Arrow& arrow : drawing.arrows) add_arrow(marks.solid, arrow);
  for (const Ring& ring : drawing.rings) add_ring(marks.solid, ring);
  if (drawing.gravity) add_gravity(marks.front, *drawing.gravity, drawing.ghost, camera, pixel);
}

}  // namespace sidehill::screen
