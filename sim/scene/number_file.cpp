#include "sim/scene/number_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "sim/scene/scene.h"
#include "sim/scene/toml_file.h"

namespace sidehill {
namespace {

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

[[noreturn]] void fail_unknown(const std::string& where, std::string_view full_key, std::string_view key,
                               std::span<const EntryKey> keys) {
  const std::string_view near = nearest_key_of(keys, key);
  refuse_at(where, full_key,
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

std::string text_of(const TomlValue& node, const std::string& where, std::string_view full_key, const EntryKey& field) {
  if (node.kind != TomlKind::text) refuse_at(where, full_key, "words belong here, " + allowed(field));
  const std::string& text = node.text;
  if (text.size() > field.max_length) refuse_at(where, full_key, "too long, " + allowed(field));
  // What is shown on one line must not hold others.
  if (std::ranges::any_of(text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; }))
    refuse_at(where, full_key, "has a line break or a control character in it, allowed plain words on one line");
  return text;
}

std::vector<EntryValue> read_table(const TomlValue& table, const TomlSource& source, const std::string& prefix,
                                   unsigned first_line, std::span<const EntryKey> keys);

EntryValue read_entry(const TomlValue& node, const TomlSource& source, const std::string& full_key,
                      const EntryKey& field) {
  const std::string where = source.at(node);
  EntryValue value;
  value.given = true;
  value.line = std::max(1U, node.line);
  const bool listed = field.kind == EntryKind::texts || field.kind == EntryKind::tables;
  if (listed && node.kind != TomlKind::list) refuse_at(where, full_key, "a list belongs here, " + allowed(field));
  if (listed && node.inner.size() > kMostInList) refuse_at(where, full_key, "too many, " + allowed(field));
  switch (field.kind) {
    case EntryKind::number:
      if (!is_number(node)) refuse_at(where, full_key, "a number belongs here, " + allowed(field));
      if (!number_of(node))
        refuse_at(where, full_key, fmt::format("{} is out of range, {}", node.whole, allowed(field)));
      value.number = *number_of(node);
      if (!std::isfinite(value.number)) refuse_at(where, full_key, "the number is not finite, " + allowed(field));
      if (value.number < field.min || value.number > field.max)
        refuse_at(where, full_key, fmt::format("{:g} is out of range, {}", value.number, allowed(field)));
      break;
    case EntryKind::flag:
      if (node.kind != TomlKind::flag) refuse_at(where, full_key, "true or false belongs here, " + allowed(field));
      value.flag = node.flag;
      break;
    case EntryKind::text:
      value.text = text_of(node, where, full_key, field);
      break;
    case EntryKind::texts:
      for (const TomlValue& one : node.inner) value.texts.push_back(text_of(one, source.at(one), full_key, field));
      break;
    case EntryKind::tables:
      for (const TomlValue& one : node.inner) {
        if (one.kind != TomlKind::table) refuse_at(source.at(one), full_key, "not a table, " + allowed(field));
        value.tables.push_back(read_table(one, source, fmt::format("{}[{}].", full_key, value.tables.size()),
                                          std::max(1U, one.line), field.table));
      }
      break;
  }
  return value;
}

std::vector<EntryValue> read_table(const TomlValue& table, const TomlSource& source, const std::string& prefix,
                                   unsigned first_line, std::span<const EntryKey> keys) {
  std::vector<EntryValue> values(keys.size());
  for (EntryValue& value : values) value.line = first_line;
  for (const TomlValue& node : table.inner) {
    const std::string& key = node.key;
    const auto known = std::ranges::find_if(
        keys, [&](const EntryKey& k) { return k.key == key || (!key.empty() && k.old_key == key); });
    if (known == keys.end()) fail_unknown(source.at(node), prefix + key, key, keys);
    EntryValue& value = values[static_cast<std::size_t>(known - keys.begin())];
    if (value.given)
      refuse_at(source.at(node), prefix + key,
                fmt::format("line {} gives the same value under its other name, allowed once, as {}", value.line,
                            known->key));
    value = read_entry(node, source, prefix + key, *known);
  }
  for (std::size_t i = 0; i < keys.size(); ++i) {
    const EntryKey& key = keys[i];
    const EntryValue& value = values[i];
    if (!key.needed) continue;
    const bool empty = (key.kind == EntryKind::text && value.text.empty()) ||
                       (key.kind == EntryKind::texts && value.texts.empty()) ||
                       (key.kind == EntryKind::tables && value.tables.empty());
    if (value.given && !empty) continue;
    refuse_at(source.at(value.line), prefix + std::string(key.key),
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
  const TomlSource source{name};
  return read_table(read_toml(text, source), source, "", 1, keys);
}

void refuse_number(const std::string& name, unsigned line, std::string_view key, const std::string& message) {
  refuse_at(TomlSource{name}.at(line), key, message);
}

}  // namespace sidehill
