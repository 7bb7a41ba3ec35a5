// Rows of cells as lines of text, every column as wide as it has to be. Knows nothing of what stands in them.
#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "render/namespaces.h"

namespace sidehill::text {

// A column is `least` columns of a terminal wide, or as wide as its longest cell and two spaces before (right: numbers)
// or behind (left: words) it.
struct Column {
  std::size_t least = 0;
  bool right = true;
};

// How many columns of a terminal it takes: letters of UTF-8, not bytes.
std::size_t columns_of(std::string_view text);

// One line each row, with `mark` in front; a row may be shorter than `columns`, and then ends there; one of
// a single cell is a line of words that widens nothing. What stands behind
// the last column is not filled up.
std::string lines_of_cells(std::string_view mark, const std::vector<Column>& columns,
                           const std::vector<std::vector<std::string>>& rows);

}  // namespace sidehill::text
