#include "render/screen/scene3d/ghost.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

namespace sidehill::screen {
namespace {

bool of_the_machine(LabelKind kind) { return kind != LabelKind::slope && kind != LabelKind::feature; }

bool solid(const Part& part) {
  return !std::holds_alternative<SidewallShape>(part.shape) && !std::holds_alternative<CabGlassShape>(part.shape);
}

bool same_fill(const LiquidPart& a, const LiquidPart& b) {
  return glm::length(a.squash.centre - b.squash.centre) < 0.01 && std::abs(a.level - b.level) < 0.005 &&
         glm::dot(a.up, b.up) > 0.9999 && a.frozen == b.frozen;
}

// What its liquid fills, as it is seen from outside: the surface and the arc below it, a little outside the sidewall so
// that the first machine's tyre does not hide it.
std::vector<Outline> fill_outline(const LiquidPart& liquid, const Vec3& middle) {
  const Vec3 axle = liquid.squash.axle;
  const double out = glm::dot(liquid.squash.centre - middle, axle) < 0 ? -1 : 1;
  const Vec3 centre = liquid.squash.centre + out * (liquid.shape.width / 2 + 0.06) * axle;
  const Vec3 up = glm::normalize(liquid.up - glm::dot(liquid.up, axle) * axle), side = glm::cross(axle, up);
  const double radius = liquid.shape.outer_radius, level = std::clamp(liquid.level, -radius, radius);
  const double reach = std::acos(-level / radius);  // from straight down to where the surface meets the carcass
  Outline line;
  constexpr int kSteps = 24;
  for (int i = 0; i <= kSteps; ++i) {
    const double a = reach * (2.0 * i / kSteps - 1);
    line.points.push_back(centre + radius * (std::sin(a) * side - std::cos(a) * up));
  }
  line.closed = true;  // by the surface
  line.dashed = true;
  line.ink = Ink::ghost_fill;
  std::vector<Outline> lines{std::move(line)};
  // Hatched at 45 degrees between arc and surface.
  constexpr double kApart = 0.11;  // [m]
  const double c = std::sqrt(0.5);
  for (double off = -radius + kApart / 2; off < radius; off += kApart) {
    // Points off * (c, c) + t * (c, -c) in (side, up), within the circle and below the surface.
    double t1 = -std::sqrt(radius * radius - off * off), t2 = -t1;
    t1 = std::max(t1, off - level / c);  // up = c (off - t) <= level
    if (t2 - t1 < 0.02) continue;
    const auto at = [&](double t) { return centre + c * (off + t) * side + c * (off - t) * up; };
    lines.push_back({{at(t1), at(t2)}, false, false, false, Ink::ghost_hatch});
  }
  return lines;
}

}  // namespace

Drawing as_ghost(const Drawing& drawing, const std::string& tag, const Drawing* first) {
  Drawing ghost = drawing;
  ghost.ghost = true;
  std::erase_if(ghost.parts, [](const Part& part) { return !solid(part); });
  ghost.ground = {};
  std::vector<Outline> fills;
  for (const LiquidPart& liquid : drawing.liquids)
    if (!first || std::ranges::none_of(first->liquids, [&](const LiquidPart& l) { return same_fill(l, liquid); }))
      for (Outline& line : fill_outline(liquid, drawing.focus)) fills.push_back(std::move(line));
  ghost.liquids.clear();
  ghost.arrows.clear();
  ghost.contacts.clear();
  ghost.wedge.reset();
  std::erase_if(ghost.outlines, [](const Outline& line) { return line.ink != Ink::support; });
  for (Outline& line : ghost.outlines) {
    line.ink = Ink::ghost;
    line.dashed = true;
    line.filled = false;
  }
  std::erase_if(ghost.labels, [](const Label& label) {
    return !of_the_machine(label.kind) || label.kind == LabelKind::wheel_load || label.kind == LabelKind::edge;
  });
  ghost.outlines.insert(ghost.outlines.end(), fills.begin(), fills.end());
  tag_labels(ghost, tag);
  for (Label& label : ghost.labels) label.ghost = true;
  return ghost;
}

void tag_labels(Drawing& drawing, const std::string& tag) {
  for (Label& label : drawing.labels)
    if (of_the_machine(label.kind)) label.tag = tag;
}

void widen_to(Drawing& drawing, const Drawing& ghost) {
  drawing.extent.insert(drawing.extent.end(), ghost.extent.begin(), ghost.extent.end());
  drawing.held.insert(drawing.held.end(), ghost.held.begin(), ghost.held.end());
  const Vec3 way = ghost.focus - drawing.focus;
  const double apart = glm::length(way);
  if (apart + ghost.size <= drawing.size) return;  // inside already
  if (apart + drawing.size <= ghost.size) {
    drawing.focus = ghost.focus;
    drawing.size = ghost.size;
    return;
  }
  // The smallest sphere round both spheres.
  const double size = (apart + drawing.size + ghost.size) / 2;
  drawing.focus += way / apart * (size - drawing.size);
  drawing.size = size;
}

}  // namespace sidehill::screen
