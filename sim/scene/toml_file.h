// Reads TOML into plain values that know their key and their line, and says what is wrong in one line: "file:line: key:
// what is wrong, what is allowed". Knows no key but `format` (sim/scene/file_format.h), no scene, no range. toml++
// lives in the .cpp and nowhere else.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace sidehill {

enum class TomlKind { text, flag, whole, real, table, list, date };

// Only what goes with its kind is set.
struct TomlValue {
  std::string key;  // its own part of the key; empty in a list
  TomlKind kind = TomlKind::table;
  std::string text;  // of a date without a time, "2026-11-28"
  bool flag = false;
  std::int64_t whole = 0;
  double real = 0;
  std::vector<TomlValue> inner;  // of a table in the order of the file, by key on one line; of a list in its order
  unsigned line = 0;             // where it begins, counted from 1; 0 = it stands in no file
};

// Where a text comes from, as messages name it.
struct TomlSource {
  std::string name;
  bool lines = true;  // false: an option of the command line, which has none
  std::string at(unsigned line) const;
  std::string at(const TomlValue& value) const { return at(value.line); }
};

// Throws InputError (sim/base/errors.h) as one line, whatever `where`, `key` and `message` hold. An empty key is left
// out.
[[noreturn]] void refuse_at(const std::string& where, std::string_view key, const std::string& message);

// The whole text as a table, without `format`. Throws InputError: not readable, or written by a later version.
TomlValue read_toml(std::string_view text, const TomlSource& source);

// A single value as it stands behind the equals sign; nothing if it is not readable, or not one.
std::optional<TomlValue> read_toml_value(std::string_view text);

// An entry of a table; none, if it has none of that key.
const TomlValue* entry_of(const TomlValue& table, std::string_view key);

bool is_number(const TomlValue& value);
// The number it holds; nothing for a whole number too large for a double to keep. Numbers only.
std::optional<double> number_of(const TomlValue& value);

std::string_view kind_words(const TomlValue& value);  // "text", "a number"

}  // namespace sidehill
