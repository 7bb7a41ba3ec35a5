// An enumeration and its words in one table, one row per value in the enumeration's order. The compiler counts the
// values, so that a value without a row does not compile. Knows nothing else.
#pragma once
#include <array>
#include <cstddef>
#include <span>
#include <string_view>

namespace sidehill {

// GCC and Clang spell a value of an enumeration by its name, and a number that is none of them as a cast:
// "(ActionKind)10".
template <auto value>
consteval bool has_name() {
  constexpr std::string_view kSpelled = __PRETTY_FUNCTION__;
  constexpr std::string_view kBefore = "value = ";
  return kSpelled[kSpelled.find(kBefore) + kBefore.size()] != '(';
}

// How many values an enumeration has that counts from 0 without gaps.
template <class E, int from = 0>
consteval int count_of() {
  if constexpr (has_name<static_cast<E>(from)>())
    return count_of<E, from + 1>();
  else
    return from;
}

// True if the table has a row for each value, each in its place. For a static_assert beside the table.
template <class E, class Row, std::size_t n>
consteval bool is_whole(const std::array<Row, n>& table, E Row::*value) {
  for (std::size_t i = 0; i < n; ++i)
    if (static_cast<std::size_t>(table[i].*value) != i) return false;
  return n == static_cast<std::size_t>(count_of<E>());
}

// A row that needs no more than the word in files.
template <class E>
struct KeyOf {
  E value;
  std::string_view key;
};

// The words in files of a table, in its order.
template <const auto& table>
std::span<const std::string_view> keys_of() {
  static constexpr auto kKeys = [] {
    std::array<std::string_view, table.size()> keys{};
    for (std::size_t i = 0; i < keys.size(); ++i) keys[i] = table[i].key;
    return keys;
  }();
  return kKeys;
}

}  // namespace sidehill
