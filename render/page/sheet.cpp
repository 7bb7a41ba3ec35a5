#include "render/page/sheet.h"

#include <cmath>

#include "sim/base/constants.h"

namespace sidehill::page {

std::vector<double> dash_lengths(Dash dash) {
  switch (dash) {
    case Dash::solid:
      return {};
    case Dash::dashed:
      return {6, 3};
    case Dash::dotted:
      return {1.5, 3};
    case Dash::dash_dot:
      return {8, 3, 1.5, 3};
    case Dash::long_dash:
      return {14, 4};
  }
  return {};
}

void add_line(PageSheet& sheet, PagePoint from, PagePoint to, Colour ink, double width, Dash dash) {
  sheet.marks.push_back(PagePath{{from, to}, false, width, ink, dash});
}

void add_rectangle(PageSheet& sheet, double x, double y, double width, double height, Pattern fill, Colour paint,
                   Colour ink, double line) {
  sheet.marks.push_back(PagePath{
      {{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}}, true, line, ink, Dash::solid, fill, paint});
}

void add_circle(PageSheet& sheet, PagePoint centre, double radius, Colour ink, double width, Pattern fill, Colour paint,
                Dash dash) {
  constexpr int kCorners = 72;
  PagePath path{{}, true, width, ink, dash, fill, paint};
  for (int i = 0; i < kCorners; ++i) {
    const double turn = kTwoPi * i / kCorners;
    path.points.push_back({centre.x + radius * std::cos(turn), centre.y + radius * std::sin(turn)});
  }
  sheet.marks.push_back(std::move(path));
}

void add_text(PageSheet& sheet, double x, double y, std::string words, double size, Colour ink, bool strong,
              double align) {
  sheet.marks.push_back(PageText{{x, y}, std::move(words), size, strong, ink, align});
}

void place(PageSheet& sheet, const PageSheet& part, double x, double y, double scale) {
  const auto moved = [&](PagePoint p) { return PagePoint{x + scale * p.x, y + scale * p.y}; };
  for (const auto& mark : part.marks) {
    if (const auto* path = std::get_if<PagePath>(&mark)) {
      PagePath copy = *path;
      for (PagePoint& p : copy.points) p = moved(p);
      copy.width *= scale;
      copy.weave *= scale;
      sheet.marks.push_back(std::move(copy));
    } else {
      PageText copy = std::get<PageText>(mark);
      copy.at = moved(copy.at);
      copy.size *= scale;
      sheet.marks.push_back(std::move(copy));
    }
  }
}

}  // namespace sidehill::page
