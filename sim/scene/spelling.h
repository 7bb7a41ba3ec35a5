// Which known word somebody meant who typed another.
#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <string_view>

namespace sidehill {

// Letters to insert, drop or replace to turn one word into the other. Source: Levenshtein 1966.
std::size_t mistakes(std::string_view a, std::string_view b);

// So many mistakes a word of that many letters may have and still be taken for the other: a third of its letters, at
// most four, at least one. More would guess.
std::size_t most_mistakes(std::size_t letters);

// The known word with the fewest mistakes; empty if none is near.
std::string nearest_word(std::string_view typed, std::span<const std::string> known);

}  // namespace sidehill
