#include "render/text/words/columns.h"

#include <algorithm>

namespace sidehill::text {

std::size_t columns_of(std::string_view text) {
  return static_cast<std::size_t>(
      std::ranges::count_if(text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string lines_of_cells(std::string_view mark, const std::vector<Column>& columns,
                           const std::vector<std::vector<std::string>>& rows) {
  std::vector<std::size_t> width;
  for (const Column& column : columns) width.push_back(column.least);
  for (const auto& row : rows)
    for (std::size_t i = 0; row.size() > 1 && i < std::min(row.size(), width.size()); ++i)
      if (width[i] > 0) width[i] = std::max(width[i], columns_of(row[i]) + 2);
  std::string text;
  for (const auto& row : rows) {
    text += mark;
    if (row.size() == 1) {
      text += row.front() + "\n";
      continue;
    }
    for (std::size_t i = 0; i < row.size(); ++i) {
      const std::size_t taken = columns_of(row[i]);
      const std::string filling(i < width.size() && width[i] > taken ? width[i] - taken : 0, ' ');
      text += i < width.size() && columns[i].right ? filling + row[i] : row[i] + filling;
    }
    text += "\n";
  }
  return text;
}

}  // namespace sidehill::text
