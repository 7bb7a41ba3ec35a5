#include "sim/scene/number_file.h"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "sim/base/errors.h"
#include "sim/scene/file_format.h"
#include "sim/scene/scene.h"

namespace sidehill {
namespace {

constexpr std::ptrdiff_t kMostDotsInLine = 64;  // a dotted key nests a table per dot; no key here has any

// A message is one line whatever the file holds.
[[noreturn]] void fail_at(const std::string& where, std::string_view key, const std::string& message) {
  std::string text = where + ": " + (key.empty() ? "" : std::string(key.substr(0, 60)) + ": ") + message;
  for (char& c : text)
    if (static_cast<unsigned char>(c) < 0x20 || static_cast<unsigned char>(c) == 0x7f) c = '?';
  throw InputError(text.substr(0, 600));
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

bool one_letter_off(std::string_view a, std::string_view b) {
  while (!a.empty() && !b.empty() && a.front() == b.front()) a.remove_prefix(1), b.remove_prefix(1);
  while (!a.empty() && !b.empty() && a.back() == b.back()) a.remove_suffix(1), b.remove_suffix(1);
  return a.size() <= 1 && b.size() <= 1;
}

// The key most likely meant: the same in another case or without its unit (h1, MC, H1_m), else one a letter away. Empty
// if none is near.
std::string_view nearest_key_of(std::span<const EntryKey> keys, std::string_view wrong) {
  const std::string whole = lower(wrong), stem = lower(wrong.substr(0, wrong.find('_')));
  for (const EntryKey& known : keys)
    if (lower(known.key) == whole || lower(known.key) == stem || lower(known.key).starts_with(whole + "_"))
      return known.key;
  if (stem.size() < 2) return {};
  for (const EntryKey& known : keys)
    if (one_letter_off(lower(known.key), whole) || one_letter_off(lower(known.key), stem)) return known.key;
  return {};
}

std::string all_keys(std::span<const EntryKey> keys) {
  std::string all;
  for (const EntryKey& field : keys) all += (all.empty() ? "" : ", ") + std::string(field.key);
  return all;
}

std::string place_in(const std::string& name, const toml::source_region& source) {
  return fmt::format("{}:{}", name, std::max<std::uint32_t>(1, source.begin.line));
}

toml::table parse_toml(std::string_view text, const std::string& name) {
  std::size_t line = 1;
  for (std::size_t from = 0; from < text.size(); ++line) {
    const std::size_t to = std::min(text.find('\n', from), text.size());
    if (std::ranges::count(text.substr(from, to - from), '.') > kMostDotsInLine)
      fail_at(fmt::format("{}:{}", name, line), "",
              fmt::format("more than {} dots in one line, this is no such file", kMostDotsInLine));
    from = to + 1;
  }
  try {
    return toml::parse(text, name);
  } catch (const toml::parse_error& error) {
    fail_at(place_in(name, error.source()), "", "not readable as TOML: " + std::string(error.description()));
  }
}

// In the order of the file, so that the first slip is named first.
std::vector<std::pair<std::string, const toml::node*>> entries_of(const toml::table& table) {
  std::vector<std::pair<std::string, const toml::node*>> entries;
  for (const auto& [key, node] : table) entries.emplace_back(std::string(key.str()), &node);
  std::ranges::stable_sort(entries, {}, [](const auto& entry) { return entry.second->source().begin.line; });
  return entries;
}

[[noreturn]] void fail_unknown(const std::string& where, std::string_view full_key, std::string_view key,
                               std::span<const EntryKey> keys) {
  const std::string_view near = nearest_key_of(keys, key);
  fail_at(where, full_key,
          "unknown key" + (near.empty() ? std::string() : ", did you mean " + std::string(near) + "?") +
              " (allowed: " + all_keys(keys) + ")");
}

constexpr std::size_t kMostInList = 50;  // entries of a list; no list here comes near

std::string allowed(const EntryKey& field) {
  switch (field.kind) {
    case EntryKind::number:
      return fmt::format("allowed {:g} to {:g}{}{}", field.min, field.max, field.unit.empty() ? "" : " ", field.unit);
    case EntryKind::flag:
      return "allowed true or false";
    case EntryKind::text:
      return fmt::format("allowed words in quotes, up to {} bytes", field.max_length);
    case EntryKind::texts:
      return fmt::format("allowed a list as [\"...\", \"...\"], up to {} of up to {} bytes", kMostInList,
                         field.max_length);
    case EntryKind::tables:
      return fmt::format("allowed entries that begin with [[{}]], up to {}", field.key, kMostInList);
  }
  return "";
}

std::string text_of(const toml::node& node, const std::string& where, std::string_view full_key,
                    const EntryKey& field) {
  if (!node.is_string()) fail_at(where, full_key, "words belong here, " + allowed(field));
  std::string text = *node.value<std::string>();
  if (text.size() > field.max_length) fail_at(where, full_key, "too long, " + allowed(field));
  // What is shown on one line must not hold others.
  if (std::ranges::any_of(text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; }))
    fail_at(where, full_key, "has a line break or a control character in it, allowed plain words on one line");
  return text;
}

std::vector<EntryValue> read_table(const toml::table& table, const std::string& name, const std::string& prefix,
                                   unsigned first_line, std::span<const EntryKey> keys);

EntryValue read_entry(const toml::node& node, const std::string& name, const std::string& full_key,
                      const EntryKey& field) {
  const std::string where = place_in(name, node.source());
  EntryValue value;
  value.given = true;
  value.line = std::max<unsigned>(1, node.source().begin.line);
  const toml::array* list = node.as_array();
  const bool listed = field.kind == EntryKind::texts || field.kind == EntryKind::tables;
  if (listed && !list) fail_at(where, full_key, "a list belongs here, " + allowed(field));
  if (listed && list->size() > kMostInList) fail_at(where, full_key, "too many, " + allowed(field));
  switch (field.kind) {
    case EntryKind::number:
      if (!node.is_integer() && !node.is_floating_point())
        fail_at(where, full_key, "a number belongs here, " + allowed(field));
      // A whole number beyond 2^53 has no exact double, and toml++ then gives none; no datum here is anywhere near.
      if (!node.value<double>())
        fail_at(where, full_key, fmt::format("{} is out of range, {}", *node.value<std::int64_t>(), allowed(field)));
      value.number = *node.value<double>();
      if (!std::isfinite(value.number)) fail_at(where, full_key, "the number is not finite, " + allowed(field));
      if (value.number < field.min || value.number > field.max)
        fail_at(where, full_key, fmt::format("{:g} is out of range, {}", value.number, allowed(field)));
      break;
    case EntryKind::flag:
      if (!node.is_boolean()) fail_at(where, full_key, "true or false belongs here, " + allowed(field));
      value.flag = *node.value<bool>();
      break;
    case EntryKind::text:
      value.text = text_of(node, where, full_key, field);
      break;
    case EntryKind::texts:
      for (const toml::node& one : *list)
        value.texts.push_back(text_of(one, place_in(name, one.source()), full_key, field));
      break;
    case EntryKind::tables:
      for (const toml::node& one : *list) {
        const toml::table* table = one.as_table();
        if (!table) fail_at(place_in(name, one.source()), full_key, "not a table, " + allowed(field));
        value.tables.push_back(read_table(*table, name, fmt::format("{}[{}].", full_key, value.tables.size()),
                                          std::max<unsigned>(1, one.source().begin.line), field.table));
      }
      break;
  }
  return value;
}

std::vector<EntryValue> read_table(const toml::table& table, const std::string& name, const std::string& prefix,
                                   unsigned first_line, std::span<const EntryKey> keys) {
  std::vector<EntryValue> values(keys.size());
  for (EntryValue& value : values) value.line = first_line;
  for (const auto& [key, node] : entries_of(table)) {
    const auto known = std::ranges::find_if(
        keys, [&](const EntryKey& k) { return k.key == key || (!key.empty() && k.old_key == key); });
    if (known == keys.end()) fail_unknown(place_in(name, node->source()), prefix + key, key, keys);
    EntryValue& value = values[static_cast<std::size_t>(known - keys.begin())];
    if (value.given)
      fail_at(place_in(name, node->source()), prefix + key,
              fmt::format("line {} gives the same value under its other name, allowed once, as {}", value.line,
                          known->key));
    value = read_entry(*node, name, prefix + key, *known);
  }
  for (std::size_t i = 0; i < keys.size(); ++i) {
    const EntryKey& key = keys[i];
    const EntryValue& value = values[i];
    if (!key.needed) continue;
    const bool empty = (key.kind == EntryKind::text && value.text.empty()) ||
                       (key.kind == EntryKind::texts && value.texts.empty()) ||
                       (key.kind == EntryKind::tables && value.tables.empty());
    if (value.given && !empty) continue;
    fail_at(fmt::format("{}:{}", name, value.line), prefix + std::string(key.key),
            fmt::format("{}: {}{}, {}", value.given ? "empty" : "missing", key.help,
                        key.unit.empty() ? "" : fmt::format(" [{}]", key.unit), allowed(key)));
  }
  return values;
}

}  // namespace

std::vector<NumberValue> read_numbers(std::string_view text, const std::string& name, std::span<const NumberKey> keys) {
  std::vector<EntryKey> entries;
  for (const NumberKey& key : keys)
    entries.push_back({.key = key.key,
                       .kind = EntryKind::number,
                       .help = key.help,
                       .needed = key.needed,
                       .min = key.min,
                       .max = key.max,
                       .unit = key.unit});
  std::vector<NumberValue> values;
  for (const EntryValue& value : read_entries(text, name, entries))
    values.push_back({value.number, value.given, value.line});
  return values;
}

std::vector<EntryValue> read_entries(std::string_view text, const std::string& name, std::span<const EntryKey> keys) {
  toml::table table = parse_toml(text, name);
  if (const toml::node* format = table.get(kFormatKey)) {
    if (const std::string refusal = format_refusal(format->value_exact<std::int64_t>()); !refusal.empty())
      fail_at(place_in(name, format->source()), kFormatKey, refusal);
    table.erase(kFormatKey);
  }
  return read_table(table, name, "", 1, keys);
}

void refuse_number(const std::string& name, unsigned line, std::string_view key, const std::string& message) {
  fail_at(fmt::format("{}:{}", name, line), key, message);
}

}  // namespace sidehill
