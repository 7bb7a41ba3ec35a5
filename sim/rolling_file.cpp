#include "sim/rolling_file.h"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <string>

#include "sim/scene_file.h"

namespace sidehill {
namespace {

using R = RollingTractor;

// Ranges are wide: they hold off slips of unit (mm, degrees, tonnes), not odd tractors.
constexpr std::array<RollingField, 17> kFields{{
    {"H1", "m", "height of the centre of gravity", &R::H1, 0.1, 3},
    {"L3", "m", "horizontal distance, centre of gravity to rear axle", &R::L3, 0.1, 5},
    {"L2", "m", "horizontal distance, centre of gravity to front axle", &R::L2, 0.1, 5},
    {"D3", "m", "height of the rear tyres under full axle load", &R::D3, 0.2, 3},
    {"D2", "m", "height of the front tyres under full axle load", &R::D2, 0.2, 3},
    {"H6", "m", "height of the frame's point of impact", &R::H6, 0.3, 5},
    {"L6", "m", "centre of gravity to leading point of intersection of the frame, minus = ahead", &R::L6, -5, 5},
    {"B6", "m", "width of the frame between its points of impact", &R::B6, 0.05, 4},
    {"H7", "m", "height of the bonnet", &R::H7, 0.1, 4},
    {"B7", "m", "width of the bonnet", &R::B7, 0.05, 4},
    {"L7", "m", "centre of gravity to front corner of the bonnet", &R::L7, 0.05, 6},
    {"H0", "m", "height of the front axle's pivot", &R::H0, 0.05, 2},
    {"S", "m", "rear track", &R::S, 0.2, 4},
    {"B0", "m", "rear tyre width", &R::B0, 0.05, 2},
    {"D0", "rad", "front axle swing from the middle to its stop", &R::D0, 0, 1},
    {"Mc", "kg", "mass", &R::Mc, 50, 20000},
    {"Q", "kg m2", "moment of inertia about the lengthwise axis through the centre of gravity", &R::Q, 1, 50000},
}};

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

// The symbol most likely meant: the same in another case or with a unit behind it (h1, MC, H1_m), else one a letter
// away. Empty if none is near.
std::string_view nearest_symbol(std::string_view wrong) {
  const std::string given = lower(wrong.substr(0, wrong.find('_')));
  for (const RollingField& field : kFields)
    if (lower(field.key) == given) return field.key;
  if (given.size() < 2) return {};
  for (const RollingField& field : kFields)
    if (one_letter_off(lower(field.key), given)) return field.key;
  return {};
}

std::string all_symbols() {
  std::string all;
  for (const RollingField& field : kFields) all += (all.empty() ? "" : ", ") + std::string(field.key);
  return all;
}

std::string allowed(const RollingField& field) {
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
           fmt::format("more than {} dots in one line, this is no file of rolling data", kMaxDotsInLine));
    from = to + 1;
  }
  try {
    return toml::parse(text, name);
  } catch (const toml::parse_error& error) {
    fail(at(name, error.source()), "", "not readable as TOML: " + std::string(error.description()));
  }
}

}  // namespace

std::span<const RollingField> rolling_fields() { return kFields; }

RollingTractor parse_rolling_tractor(std::string_view text, const std::filesystem::path& path) {
  const std::string name = path.string();
  const toml::table table = parse_toml(text, name);
  RollingTractor tractor;

  // In the order of the file, so that the first slip is named first.
  std::vector<std::pair<std::string, const toml::node*>> entries;
  for (const auto& [key, node] : table) entries.emplace_back(std::string(key.str()), &node);
  std::ranges::stable_sort(entries, {}, [](const auto& entry) { return entry.second->source().begin.line; });

  for (const auto& [key, node] : entries) {
    const std::string where = at(name, node->source());
    const auto field = std::ranges::find(kFields, std::string_view(key), &RollingField::key);
    if (field == kFields.end()) {
      const std::string_view near = nearest_symbol(key);
      fail(where, key,
           "unknown key" + (near.empty() ? std::string() : ", did you mean " + std::string(near) + "?") +
               " (allowed: " + all_symbols() + ")");
    }
    const bool is_number = node->is_integer() || node->is_floating_point();
    if (!is_number) fail(where, key, "a number belongs here, " + allowed(*field));
    const double value = *node->value<double>();
    if (!std::isfinite(value)) fail(where, key, "the number is not finite, " + allowed(*field));
    if (value < field->min || value > field->max)
      fail(where, key, fmt::format("{:g} is out of range, {}", value, allowed(*field)));
    tractor.*(field->member) = value;
  }
  for (const RollingField& field : kFields)
    if (!table.contains(field.key))
      fail(name + ":1", field.key, fmt::format("missing: {} [{}], {}", field.help, field.unit, allowed(field)));

  if (const auto conflict = find_rolling_conflict(tractor))
    fail(at(name, table.get(conflict->key)->source()), conflict->key, conflict->message);
  return tractor;
}

RollingTractor load_rolling_tractor(const std::filesystem::path& path) {
  return parse_rolling_tractor(read_text(path), path);
}

}  // namespace sidehill
