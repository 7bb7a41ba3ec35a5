// Words broken into lines of whole pieces. Table, page and window all break here; each says how wide its letters are.
// Knows no font.
#pragma once
#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "render/namespaces.h"

namespace sidehill::text {

// Where the first piece of `words` ends that no line may break: a word, or a number with its thousands and its unit.
std::size_t piece_end(std::string_view words);

// Lines no wider than `room` unless a single piece is, `width_of` a line in the same unit. A line end in `words` stays
// one. Always at least one line; joined by spaces and those line ends they are the words again.
std::vector<std::string> lines_of(std::string_view words, double room,
                                  const std::function<double(const std::string& line)>& width_of);

// `mark` in front of the first line, the rest under its first letter; lines of up to 110 letters, each ended.
std::string paragraph(std::string_view mark, std::string_view words);

}  // namespace sidehill::text
