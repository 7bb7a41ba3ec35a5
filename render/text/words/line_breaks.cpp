#include "render/text/words/line_breaks.h"

#include <algorithm>
#include <iterator>

namespace sidehill::text {

std::size_t piece_end(std::string_view words) {
  constexpr std::string_view kUnitNames[] = {
      "%",  "kg", "g",  "t",  "N",   "kN",  "m",    "cm",    "mm",    "km/h",  "m/s",    "m/s2",   "kPa",   "bar",
      "s",  "L",  "kW", "kJ", "°C",  "lb",  "lbf",  "in",    "ft",    "mph",   "ft/s",   "ft/s2",  "psi",   "gal",
      "hp", "°F", "ms", "h",  "min", "rpm", "kN/m", "kg/m3", "kg/kW", "lb/hp", "lb/gal", "lb/ft3", "lbf/in"};
  const auto digit = [&](std::size_t i) { return i < words.size() && words[i] >= '0' && words[i] <= '9'; };
  std::size_t end = words.find(' ');
  std::string_view unit;  // before `end`
  while (end != words.npos && end > 0) {
    const bool thousands = digit(end - 1) && digit(end + 1) && digit(end + 2) && digit(end + 3) && !digit(end + 4);
    std::string_view next = words.substr(end + 1, words.find_first_of(" \n", end + 1) - end - 1);
    while (!next.empty() && std::string_view(".,;:)?!").find(next.back()) != next.npos) next.remove_suffix(1);
    const bool named = digit(end - 1) && std::ranges::find(kUnitNames, next) != std::end(kUnitNames);
    const bool product = (unit == "kN" && next.starts_with('m')) || (unit == "ft" && next.starts_with("lbf"));
    if (!thousands && !named && !product) break;
    unit = named ? next : std::string_view();
    end = words.find(' ', end + 1);
  }
  return std::min(end, words.size());
}

std::vector<std::string> lines_of(std::string_view words, double room,
                                  const std::function<double(const std::string& line)>& width_of) {
  std::vector<std::string> lines(1);
  while (!words.empty()) {
    const std::size_t end = std::min(words.find('\n'), piece_end(words));
    const bool ends_line = end < words.size() && words[end] == '\n';
    const std::string piece(words.substr(0, end));
    words.remove_prefix(std::min(end + 1, words.size()));
    const std::string longer = lines.back().empty() ? piece : lines.back() + " " + piece;
    if (lines.back().empty() || width_of(longer) <= room)
      lines.back() = longer;
    else
      lines.push_back(piece);
    if (ends_line) lines.emplace_back();
  }
  return lines;
}

std::string paragraph(std::string_view mark, std::string_view words) {
  constexpr double kWidth = 110;
  const double room = kWidth - static_cast<double>(mark.size());
  std::string text, before(mark);
  for (const std::string& line :
       lines_of(words, room, [](const std::string& l) { return static_cast<double>(l.size()); })) {
    text += before + line + "\n";
    before.assign(mark.size(), ' ');
  }
  return text;
}

}  // namespace sidehill::text
