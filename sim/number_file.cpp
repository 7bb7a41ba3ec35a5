#include "sim/number_file.h"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "sim/scene_file.h"

namespace sidehill {
namespace {

constexpr std::ptrdiff_t kMaxDotsInLine = 64;  // a dotted key nests a table per dot; no key here has any

// A message is one line whatever the file holds.
[[noreturn]] void fail(const std::string& where, std::string_view key, const std::string& message) {
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
std::string_view nearest_key_of(std::span<const NumberKey> keys, std::string_view wrong) {
  const std::string whole = lower(wrong), stem = lower(wrong.substr(0, wrong.find('_')));
  for (const NumberKey& known : keys)
    if (lower(known.key) == whole || lower(known.key) == stem || lower(known.key).starts_with(whole + "_"))
      return known.key;
  if (stem.size() < 2) return {};
  for (const NumberKey& known : keys)
    if (one_letter_off(lower(known.key), whole) || one_letter_off(lower(known.key), stem)) return known.key;
  return {};
}

std::string all_keys(std::span<const NumberKey> keys, std::span<const WordKey> words) {
  std::string all;
  for (const WordKey& word : words) all += (all.empty() ? "" : ", ") + std::string(word.key);
  for (const NumberKey& field : keys) all += (all.empty() ? "" : ", ") + std::string(field.key);
  return all;
}

std::string allowed(const NumberKey& field) {
  return fmt::format("allowed {:g} to {:g} {}", field.min, field.max, field.unit);
}

std::string at(const std::string& name, const toml::source_region& source) {
  return fmt::format("{}:{}", name, std::max<std::uint32_t>(1, source.begin.line));
}

toml::table parse_toml(std::string_view text, const std::string& name) {
  std::size_t line = 1;
  for (std::size_t from = 0; from < text.size(); ++line) {
    const std::size_t to = std::min(text.find('\n', from), text.size());
    if (std::ranges::count(text.substr(from, to - from), '.') > kMaxDotsInLine)
      fail(fmt::format("{}:{}", name, line), "",
           fmt::format("more than {} dots in one line, this is no such file", kMaxDotsInLine));
    from = to + 1;
  }
  try {
    return toml::parse(text, name);
  } catch (const toml::parse_error& error) {
    fail(at(name, error.source()), "", "not readable as TOML: " + std::string(error.description()));
  }
}

}  // namespace

std::vector<NumberValue> read_numbers(std::string_view text, const std::string& name, std::span<const NumberKey> keys) {
  return read_numbers_and_words(text, name, keys, {}).numbers;
}

NumbersAndWords read_numbers_and_words(std::string_view text, const std::string& name, std::span<const NumberKey> keys,
                                       std::span<const WordKey> words) {
  const toml::table table = parse_toml(text, name);
  NumbersAndWords out{std::vector<NumberValue>(keys.size()), std::vector<WordValue>(words.size())};
  std::vector<NumberValue>& values = out.numbers;

  // In the order of the file, so that the first slip is named first.
  std::vector<std::pair<std::string, const toml::node*>> entries;
  for (const auto& [key, node] : table) entries.emplace_back(std::string(key.str()), &node);
  std::ranges::stable_sort(entries, {}, [](const auto& entry) { return entry.second->source().begin.line; });

  for (const auto& [key, node] : entries) {
    const std::string where = at(name, node->source());
    if (const auto word = std::ranges::find(words, std::string_view(key), &WordKey::key); word != words.end()) {
      if (!node->is_string()) fail(where, key, "a text in quotes belongs here: " + std::string(word->help));
      out.words[static_cast<std::size_t>(word - words.begin())] = {*node->value<std::string>(), true,
                                                                   std::max<unsigned>(1, node->source().begin.line)};
      continue;
    }
    const auto known = std::ranges::find(keys, std::string_view(key), &NumberKey::key);
    if (known == keys.end()) {
      const std::string_view near = nearest_key_of(keys, key);
      fail(where, key,
           "unknown key" + (near.empty() ? std::string() : ", did you mean " + std::string(near) + "?") +
               " (allowed: " + all_keys(keys, words) + ")");
    }
    const bool is_number = node->is_integer() || node->is_floating_point();
    if (!is_number) fail(where, key, "a number belongs here, " + allowed(*known));
    const double value = *node->value<double>();
    if (!std::isfinite(value)) fail(where, key, "the number is not finite, " + allowed(*known));
    if (value < known->min || value > known->max)
      fail(where, key, fmt::format("{:g} is out of range, {}", value, allowed(*known)));
    values[static_cast<std::size_t>(known - keys.begin())] = {value, true,
                                                              std::max<unsigned>(1, node->source().begin.line)};
  }
  for (std::size_t i = 0; i < keys.size(); ++i)
    if (keys[i].needed && !values[i].given)
      fail(name + ":1", keys[i].key, fmt::format("missing: {} [{}], {}", keys[i].help, keys[i].unit, allowed(keys[i])));
  return out;
}

void refuse_number(const std::string& name, unsigned line, std::string_view key, const std::string& message) {
  fail(fmt::format("{}:{}", name, line), key, message);
}

}  // namespace sidehill
