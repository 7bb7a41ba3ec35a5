#include "render/page/svg.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace sidehill::page {
namespace {

std::string number(double value) {
  std::string text = fmt::format("{:.2f}", value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string hex(Colour c) { return fmt::format("#{:02x}{:02x}{:02x}", c.r, c.g, c.b); }

std::string opacity(const char* of, Colour c) {
  return c.a == 255 ? "" : fmt::format(" {}-opacity=\"{}\"", of, number(c.a / 255.0));
}

// Signs that XML keeps for itself, and those it does not allow at all.
std::string escaped(const std::string& words) {
  std::string out;
  for (const char c : words) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '"')
      out += "&quot;";
    else if (static_cast<unsigned char>(c) < 0x20)
      out += ' ';
    else
      out += c;
  }
  return out;
}

std::string dashes(const PagePath& path) {
  std::string lengths;
  for (const double length : dash_lengths(path.dash))
    lengths += (lengths.empty() ? "" : " ") + number(length * path.weave);
  return lengths.empty() ? "" : fmt::format(" stroke-dasharray=\"{}\"", lengths);
}

std::string pattern_name(const PagePath& path) {
  return fmt::format("{}{:02x}{:02x}{:02x}{:02x}", path.fill == Pattern::hatched ? "hatch" : "dots", path.ink.r,
                     path.ink.g, path.ink.b, path.ink.a);
}

bool finite(const PagePath& path) {
  return std::isfinite(path.width) && std::all_of(path.points.begin(), path.points.end(),
                                                  [](PagePoint p) { return std::isfinite(p.x) && std::isfinite(p.y); });
}

std::string outline(const PagePath& path) {
  std::string d;
  for (const PagePoint& p : path.points) d += (d.empty() ? "M" : " L") + number(p.x) + " " + number(p.y);
  return path.closed ? d + " Z" : d;
}

std::string element(const PagePath& path) {
  if (!finite(path) || path.points.size() < 2) return {};
  const std::string d = outline(path);
  std::string text;
  if (path.fill != Pattern::none)
    text += fmt::format("<path d=\"{}\" fill=\"{}\"{}/>\n", d, hex(path.paint), opacity("fill", path.paint));
  if (path.fill == Pattern::hatched || path.fill == Pattern::dotted)
    text += fmt::format("<path d=\"{}\" fill=\"url(#{})\"/>\n", d, pattern_name(path));
  if (path.width > 0)
    text += fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"{}{}/>\n", d, hex(path.ink),
                        number(path.width), opacity("stroke", path.ink), dashes(path));
  return text;
}

std::string element(const PageText& text) {
  if (!std::isfinite(text.at.x) || !std::isfinite(text.at.y) || text.words.empty()) return {};
  const char* anchor = text.align > 0.75 ? " text-anchor=\"end\"" : text.align > 0.25 ? " text-anchor=\"middle\"" : "";
  return fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"{}\"{}{}{}>{}</text>\n", number(text.at.x),
                     number(text.at.y), number(text.size), hex(text.ink), opacity("fill", text.ink),
                     text.strong ? " font-weight=\"600\"" : "", anchor, escaped(text.words));
}

}  // namespace

std::string svg_of(const PageSheet& sheet, const std::string& title, const std::string& summary) {
  std::string text = fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" "
      "height=\"{1}\" viewBox=\"0 0 {0} {1}\" role=\"img\" font-family=\"Inter, 'DejaVu Sans', Arial, sans-serif\" "
      "font-weight=\"500\" stroke-linejoin=\"round\">\n<title>{2}</title>\n<desc>{3}</desc>\n<defs>\n",
      number(sheet.width), number(sheet.height), escaped(title), escaped(summary));
  std::set<std::string> named;
  for (const auto& mark : sheet.marks) {
    const auto* path = std::get_if<PagePath>(&mark);
    if (!path || (path->fill != Pattern::hatched && path->fill != Pattern::dotted)) continue;
    const std::string name = pattern_name(*path);
    if (!named.insert(name).second) continue;
    const std::string ink = hex(path->ink);
    text += path->fill == Pattern::hatched
                ? fmt::format(
                      "<pattern id=\"{}\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\" "
                      "patternTransform=\"rotate(45)\"><path d=\"M0 0 L0 6\" stroke=\"{}\"{} "
                      "stroke-width=\"2\"/></pattern>\n",
                      name, ink, opacity("stroke", path->ink))
                : fmt::format(
                      "<pattern id=\"{}\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\"><circle cx=\"2.5\" "
                      "cy=\"2.5\" r=\"0.9\" fill=\"{}\"{}/></pattern>\n",
                      name, ink, opacity("fill", path->ink));
  }
  text += fmt::format("</defs>\n<rect width=\"{}\" height=\"{}\" fill=\"{}\"/>\n", number(sheet.width),
                      number(sheet.height), hex(sheet.paper));
  for (const auto& mark : sheet.marks) text += std::visit([](const auto& m) { return element(m); }, mark);
  return text + "</svg>\n";
}

}  // namespace sidehill::page
