#include "render/page/form.h"

#include <algorithm>

#include "render/page/paint.h"

namespace sidehill::page {

void add_fitted(PageSheet& sheet, double x, double y, const std::string& words, double size, double room, bool strong,
                double align) {
  const double width = text_width(words, size, strong);
  add_text(sheet, x, y, words, width > room ? size * room / width : size, palette::kInk, strong, align);
}

double draw_facts(PageSheet& sheet, const std::vector<std::string>& facts, double left, double y, double width) {
  constexpr double kFirst = 12, kInset = 8;
  const double others = facts.size() > 6   ? 9
                        : facts.size() > 4 ? 9.5
                                           : 10;  // many of them leave less room for what comes after
  const double top = y;
  y += 4;
  for (const std::string& fact : facts) {
    const double size = &fact == &facts.front() ? kFirst : others;
    bool first = true;
    for (const std::string& line : wrapped(fact, width - 2 * kInset - 12, size, true)) {
      y += size * 1.24;
      if (first) add_text(sheet, left + kInset, y, "!", size, palette::kInk, true);
      add_text(sheet, left + kInset + 12, y, line, size, palette::kInk, true);
      first = false;
    }
    if (&fact == &facts.front()) y += 2;  // it stands out
  }
  y += 6;
  add_rectangle(sheet, left, top, width, y - top, Pattern::none, palette::kCard, palette::kInk, 2.2);
  return y;
}

void draw_big_numbers(PageSheet& sheet, std::span<const BigNumber> numbers, double left, double y, double width) {
  constexpr double kGap = 6, kInset = 6;
  const double count = static_cast<double>(numbers.size()), box = (width - kGap * (count - 1)) / count;
  for (const BigNumber& one : numbers) {
    add_rectangle(sheet, left, y, box, kBigNumbers, Pattern::none, palette::kCard, palette::kInk, 1);
    add_fitted(sheet, left + kInset, y + 12, one.name, 9, box - 2 * kInset);
    add_fitted(sheet, left + kInset, y + 31, one.number, 18, box - 2 * kInset, true);
    add_fitted(sheet, left + kInset, y + 44, one.below, 8.5, box - 2 * kInset);
    left += box + kGap;
  }
}

void draw_fields(PageSheet& sheet, const std::vector<std::string>& names, double left, double y, double width,
                 double size) {
  constexpr double kGap = 10, kSpace = 4;
  double words = 0;
  for (const std::string& name : names) words += text_width(name, size) + kSpace;
  const double count = static_cast<double>(names.size());
  const double line = std::max((width - words - kGap * (count - 1)) / count, 20.0);
  for (const std::string& name : names) {
    add_text(sheet, left, y, name, size);
    left += text_width(name, size) + kSpace;
    add_line(sheet, {left, y + 2}, {left + line, y + 2}, palette::kInk, 0.75);
    left += line + kGap;
  }
}

}  // namespace sidehill::page
