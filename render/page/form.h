// Parts of pages that somebody works with: facts in a frame, big numbers in boxes, fields to write in. Knows no
// physics.
#pragma once
#include <span>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/page/sheet.h"

namespace sidehill::page {

// In a heavy frame, `left` and `y` its corner, each with a mark of its own; returns where it ends [pt].
double draw_facts(PageSheet& sheet, const std::vector<std::string>& facts, double left, double y, double width);

struct BigNumber {
  std::string name, number, below;
};
inline constexpr double kBigNumbers = 50;  // height of the boxes [pt]
// Side by side in boxes; what is too wide for its box is set smaller.
void draw_big_numbers(PageSheet& sheet, std::span<const BigNumber> numbers, double left, double y, double width);

inline constexpr double kFieldRow = 22;  // from one row of fields to the next [pt]
// Names on the base line `y`, each with a line to write on behind it; all as wide as they can be.
void draw_fields(PageSheet& sheet, const std::vector<std::string>& names, double left, double y, double width,
                 double size = 9.5);

// At `size` or, where it is wider than `room`, so much smaller that it fits.
void add_fitted(PageSheet& sheet, double x, double y, const std::string& words, double size, double room,
                bool strong = false, double align = 0);

}  // namespace sidehill::page
