// A printed sheet as plain values: paths and words at places. Charts and reports are laid out into it; render/page/svg
// and render/page/paint write it. Knows no drawing library, no physics. Units: points (1/72 in), y down.
#pragma once
#include <string>
#include <variant>
#include <vector>

#include "render/namespaces.h"
#include "render/page/palette.h"

namespace sidehill::page {

struct PagePoint {
  double x = 0, y = 0;
};

enum class Dash { solid, dashed, dotted, dash_dot, long_dash };
enum class Pattern { none, plain, hatched, dotted };  // hatched and dotted: in `ink` over `paint`

struct PagePath {
  std::vector<PagePoint> points;
  bool closed = false;
  double width = 1;  // of its line; 0 = no line
  Colour ink = palette::kInk;
  Dash dash = Dash::solid;
  Pattern fill = Pattern::none;
  Colour paint = palette::kCard;
  double weave = 1;  // size of its dashes and patterns, over the ordinary
};

struct PageText {
  PagePoint at;  // on the base line
  std::string words;
  double size = 11;
  bool strong = false;
  Colour ink = palette::kInk;
  double align = 0;  // 0 = begins there, 0.5 = centred, 1 = ends there
};

struct PageSheet {
  double width = 0, height = 0;
  Colour paper = rgb(0xFFFFFF);
  std::vector<std::variant<PagePath, PageText>> marks;  // in the order of drawing
};

// Lengths of dash and gap in turn [pt]; empty = a whole line.
std::vector<double> dash_lengths(Dash dash);

// Small builders, all adding to `sheet`.
void add_line(PageSheet& sheet, PagePoint from, PagePoint to, Colour ink, double width = 1, Dash dash = Dash::solid);
void add_rectangle(PageSheet& sheet, double x, double y, double width, double height, Pattern fill, Colour paint,
                   Colour ink = palette::kInk, double line = 0);
void add_circle(PageSheet& sheet, PagePoint centre, double radius, Colour ink, double width,
                Pattern fill = Pattern::none, Colour paint = palette::kCard, Dash dash = Dash::solid);
void add_text(PageSheet& sheet, double x, double y, std::string words, double size, Colour ink = palette::kInk,
              bool strong = false, double align = 0);

// All marks of `part` on `sheet`, its corner at (x, y), `scale` times as large.
void place(PageSheet& sheet, const PageSheet& part, double x, double y, double scale = 1);

}  // namespace sidehill::page
