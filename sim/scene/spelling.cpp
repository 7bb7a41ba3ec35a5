#include "sim/scene/spelling.h"

#include <algorithm>
#include <vector>

namespace sidehill {

std::size_t mistakes(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({replaced, row[j] + 1, row[j - 1] + 1});
    }
  }
  return row[b.size()];
}

std::size_t most_mistakes(std::size_t letters) { return std::clamp<std::size_t>((letters + 1) / 3, 1, 4); }

std::string nearest_word(std::string_view typed, std::span<const std::string> known) {
  constexpr std::size_t kLongest = 100;  // letters; nobody makes so many
  std::string best;
  if (typed.empty() || typed.size() > kLongest) return best;
  std::size_t fewest = most_mistakes(typed.size()) + 1;
  for (const std::string& word : known) {
    const std::size_t count = mistakes(typed, word);
    if (count < fewest) fewest = count, best = word;
  }
  return best;
}

}  // namespace sidehill
