// How each mark in the picture is drawn: a light core with a dark edge, so that it stands out from whatever it meets,
// and a form of its own, so that no two meanings differ by hue alone. Plain numbers; held by
// tests/render/screen/scene3d/mark_style_test.cpp.
#pragma once
#include "render/namespaces.h"
#include "render/screen/kit/theme.h"
#include "render/screen/scene3d/drawing.h"

namespace sidehill::screen {

enum class Form {
  line,
  dashed_line,
  thin_line,
  thin_dashed_line,
  wide_line,
  arrow,
  striped_double_arrow,
  striped_ring
};

struct MarkStyle {
  Colour core, edge;
  Form form = Form::line;
  double width = 2.4;  // of the core [px]
  bool quiet = false;  // belongs to the ground: seen, but not in front of what is meant to be looked at
};

constexpr MarkStyle style_of(Ink ink) {
  using namespace theme;
  switch (ink) {
    case Ink::load:
      return {kMarkLoad, kMarkEdge, Form::arrow, 6};
    case Ink::nearest_to_lifting:
      return {kMarkNear, kMarkEdge, Form::striped_double_arrow, 6};
    case Ink::lifted:
      return {kMarkLifted, kMarkEdge, Form::striped_ring, 6};
    case Ink::support:
      return {kMarkSupport, kMarkEdge, Form::line, 2.6};
    case Ink::nearest_edge:
      return {kMarkEdgeLit, kMarkEdge, Form::wide_line, 5.5};
    case Ink::to_edge:
      return {kMarkEdgeLit, kMarkEdge, Form::line, 4};
    case Ink::support_contacts:
      return {kOnPill, kMarkEdge, Form::thin_dashed_line, 1.6};
    case Ink::plumb:
      return {kPlumb, kMarkEdge, Form::dashed_line, 3};
    case Ink::plumb_outside:
      return {kMarkLifted, kMarkEdge, Form::dashed_line, 3};
    case Ink::slope:
      return {kOnPill, kMarkEdge, Form::line, 2.2};
    case Ink::level:
      return {kOnPill, kMarkEdge, Form::dashed_line, 2.2};
    case Ink::feature:
      return {kMarkFeature, kMarkEdge, Form::thin_line, 1.4, true};
    case Ink::ghost:
    case Ink::ghost_fill:
      return {kMarkGhost, kMarkGhostEdge, Form::dashed_line, 2.4};
    case Ink::ghost_hatch:
      return {kMarkGhost, kMarkGhostEdge, Form::thin_line, 1.4};
  }
  return {kOnPill, kMarkEdge, Form::line, 2.2};
}

}  // namespace sidehill::screen
