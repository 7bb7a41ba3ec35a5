#include "render/screen/ghost.h"

#include <glm/geometric.hpp>

namespace sidehill {
namespace {

bool of_the_machine(LabelKind kind) { return kind != LabelKind::slope && kind != LabelKind::feature; }

bool solid(const Part& part) {
  return !std::holds_alternative<SidewallShape>(part.shape) && !std::holds_alternative<CabGlassShape>(part.shape);
}

}  // namespace

Drawing as_ghost(const Drawing& drawing, const std::string& tag) {
  Drawing ghost = drawing;
  ghost.ghost = true;
  std::erase_if(ghost.parts, [](const Part& part) { return !solid(part); });
  ghost.ground = {};
  ghost.liquids.clear();
  ghost.arrows.clear();
  ghost.contacts.clear();
  std::erase_if(ghost.outlines, [](const Outline& line) { return line.ink != Ink::support; });
  for (Outline& line : ghost.outlines) {
    line.ink = Ink::ghost;
    line.dashed = true;
    line.filled = false;
  }
  std::erase_if(ghost.labels,
                [](const Label& label) { return !of_the_machine(label.kind) || label.kind == LabelKind::wheel_load; });
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

}  // namespace sidehill
