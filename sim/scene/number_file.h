// Reads a file that is a plain list of values under known keys (TOML): the numbers of a published test or a weighing,
// or numbers, words and lists of small tables, as a lesson or a machine's entry has. Knows no physics.
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

// One value per key, in the order of `keys`. Throws InputError (sim/base/errors.h) as one line: "file:line: key: what
// is wrong, what is allowed"; the first slip of the file is named first.
std::vector<NumberValue> read_numbers(std::string_view text, const std::string& name, std::span<const NumberKey> keys);

// What a file of words holds under a key.
enum class EntryKind { number, flag, text, texts, tables };

struct EntryKey {
  std::string_view key;  // as written in the file; in a table of a list the last part alone
  EntryKind kind = EntryKind::text;
  std::string_view help;                 // one line
  bool needed = true;                    // numbers: given; words and lists: also not empty
  double min = 0, max = 0;               // of a number, both allowed
  std::size_t max_length = 300;          // of a text, and of each of several [bytes]
  std::span<const EntryKey> table = {};  // of each table of a list
  std::string_view unit = {};            // of a number, for people
  std::string_view old_key = {};         // earlier name, still read; not together with `key`
};

// Only what goes with its key's kind is set.
struct EntryValue {
  double number = 0;
  bool flag = false;
  std::string text;
  std::vector<std::string> texts;
  std::vector<std::vector<EntryValue>> tables;  // each in the order of `table`
  bool given = false;
  unsigned line = 1;
};

// As read_numbers, for entries of every kind; keys of a list's tables are named as "answer[1].from".
std::vector<EntryValue> read_entries(std::string_view text, const std::string& name, std::span<const EntryKey> keys);

// The same line for data that contradict each other.
[[noreturn]] void refuse_number(const std::string& name, unsigned line, std::string_view key,
                                const std::string& message);

}  // namespace sidehill
