#include "render/screen/ghost.h"

#include <algorithm>
#include <glm/common.hpp>
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
  for (Part& part : ghost.parts)  // what was open to show the liquid is closed: no liquid is drawn
    if (auto* wheel = std::get_if<WheelShape>(&part.shape)) wheel->open_sidewall = false;
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
  std::erase_if(ghost.labels, [](const Label& label) {
    return !of_the_machine(label.kind) || label.kind == LabelKind::wheel_load;
  });
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
  if (drawing.extent.empty()) return;
  Vec3 low = drawing.extent.front(), high = low;
  for (const Vec3& p : drawing.extent) low = glm::min(low, p), high = glm::max(high, p);
  drawing.focus = (low + high) / 2.0;
  drawing.size = 0;
  for (const Vec3& p : drawing.extent) drawing.size = std::max(drawing.size, glm::length(p - drawing.focus));
}

}  // namespace sidehill
