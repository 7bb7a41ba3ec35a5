// Reads a file that is a plain list of numbers, and perhaps a few words, under known keys (TOML, all at the top level):
// the data of a published test, a weighing, a machine. Knows no physics. toml++ lives in the .cpp.
#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace sidehill {

struct NumberKey {
  std::string_view key;     // as written in the file
  std::string_view unit;    // for people
  std::string_view help;    // one line
  double min = 0, max = 0;  // both allowed
  bool needed = true;
};

struct NumberValue {
  double value = 0;
  bool given = false;
  unsigned line = 1;
};

// One value per key, in the order of `keys`. Throws InputError (sim/scene_file.h) as one line: "file:line: key: what is
// wrong, what is allowed"; the first slip of the file is named first.
std::vector<NumberValue> read_numbers(std::string_view text, const std::string& name, std::span<const NumberKey> keys);

// Texts of such a file, where it has any.
struct WordKey {
  std::string_view key;
  std::string_view help;  // one line
};
struct WordValue {
  std::string value;
  bool given = false;
  unsigned line = 1;
};
struct NumbersAndWords {
  std::vector<NumberValue> numbers;  // in the order of their keys
  std::vector<WordValue> words;      // likewise; none is ever needed
};
// Throws as read_numbers. A key stands for a number or for a text, not for both.
NumbersAndWords read_numbers_and_words(std::string_view text, const std::string& name, std::span<const NumberKey> keys,
                                       std::span<const WordKey> words);

// The same line for data that contradict each other.
[[noreturn]] void refuse_number(const std::string& name, unsigned line, std::string_view key,
                                const std::string& message);

}  // namespace sidehill
