#include "sim/scene/toml_file.h"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>

#include "sim/base/errors.h"
#include "sim/scene/file_format.h"

namespace sidehill {
namespace {

constexpr std::ptrdiff_t kMostDotsInLine = 64;  // a dotted key nests a table per dot; real ones have four

// A whole number beyond this is not kept exactly by a double; no datum here is anywhere near. 2^53.
constexpr std::int64_t kLargestWhole = std::int64_t{1} << 53;

TomlValue plain(std::string key, const toml::node& node) {
  TomlValue value;
  value.key = std::move(key);
  value.line = node.source().begin.line;
  switch (node.type()) {
    case toml::node_type::string:
      value.kind = TomlKind::text;
      value.text = node.as_string()->get();
      break;
    case toml::node_type::boolean:
      value.kind = TomlKind::flag;
      value.flag = node.as_boolean()->get();
      break;
    case toml::node_type::integer:
      value.kind = TomlKind::whole;
      value.whole = node.as_integer()->get();
      break;
    case toml::node_type::floating_point:
      value.kind = TomlKind::real;
      value.real = node.as_floating_point()->get();
      break;
    case toml::node_type::table:
      for (const auto& [name, entry] : *node.as_table()) value.inner.push_back(plain(std::string(name.str()), entry));
      std::ranges::stable_sort(value.inner, {}, &TomlValue::line);
      break;
    case toml::node_type::array:
      value.kind = TomlKind::list;
      for (const toml::node& entry : *node.as_array()) value.inner.push_back(plain({}, entry));
      break;
    default:
      value.kind = TomlKind::date;
      if (const auto* day = node.as_date())
        value.text = fmt::format("{:04}-{:02}-{:02}", day->get().year, day->get().month, day->get().day);
  }
  return value;
}

// A file of a later format is refused before anything else is looked at: it may hold keys that are unknown here.
void check_format(TomlValue& table, const TomlSource& source) {
  const auto format = std::ranges::find(table.inner, kFormatKey, &TomlValue::key);
  if (format == table.inner.end()) return;
  const std::string refusal =
      format_refusal(format->kind == TomlKind::whole ? std::optional(format->whole) : std::nullopt);
  if (!refusal.empty()) refuse_at(source.at(*format), kFormatKey, refusal);
  table.inner.erase(format);
}

}  // namespace

std::string TomlSource::at(unsigned line) const {
  return lines ? fmt::format("{}:{}", name, std::max(1U, line)) : name;
}

void refuse_at(const std::string& where, std::string_view key, const std::string& message) {
  constexpr std::size_t kMostOfKey = 120, kMostOfLine = 600;
  std::string text = where + ": ";
  if (!key.empty()) text += std::string(key.substr(0, kMostOfKey)) + (key.size() > kMostOfKey ? "...: " : ": ");
  text += message;
  for (char& c : text)
    if (static_cast<unsigned char>(c) < 0x20 || static_cast<unsigned char>(c) == 0x7f) c = '?';
  throw InputError(text.size() > kMostOfLine ? text.substr(0, kMostOfLine) + "..." : text);
}

TomlValue read_toml(std::string_view text, const TomlSource& source) {
  unsigned line = 1;
  for (std::size_t from = 0; from < text.size(); ++line) {
    const std::size_t to = std::min(text.find('\n', from), text.size());
    if (std::ranges::count(text.substr(from, to - from), '.') > kMostDotsInLine)
      refuse_at(source.at(line), "", fmt::format("more than {} dots in one line, no key has so many", kMostDotsInLine));
    from = to + 1;
  }
  try {
    TomlValue table = plain({}, toml::parse(text, source.name));
    check_format(table, source);
    return table;
  } catch (const toml::parse_error& error) {
    refuse_at(source.at(error.source().begin.line), "", "not readable as TOML: " + std::string(error.description()));
  }
}

std::optional<TomlValue> read_toml_value(std::string_view text) {
  try {
    TomlValue table = plain({}, toml::parse("value = " + std::string(text)));
    if (table.inner.size() != 1 || table.inner.front().key != "value") return std::nullopt;
    return std::move(table.inner.front());
  } catch (const toml::parse_error&) {
    return std::nullopt;
  }
}

const TomlValue* entry_of(const TomlValue& table, std::string_view key) {
  const auto at = std::ranges::find(table.inner, key, &TomlValue::key);
  return at == table.inner.end() ? nullptr : &*at;
}

bool is_number(const TomlValue& value) { return value.kind == TomlKind::whole || value.kind == TomlKind::real; }

std::optional<double> number_of(const TomlValue& value) {
  if (value.kind != TomlKind::whole) return value.real;
  if (value.whole > kLargestWhole || value.whole < -kLargestWhole) return std::nullopt;
  return static_cast<double>(value.whole);
}

std::string_view kind_words(const TomlValue& value) {
  switch (value.kind) {
    case TomlKind::text:
      return "text";
    case TomlKind::flag:
      return "true or false";
    case TomlKind::whole:
    case TomlKind::real:
      return "a number";
    case TomlKind::table:
      return "a table";
    case TomlKind::list:
      return "a list";
    case TomlKind::date:
      return "a date or time";
  }
  return "";
}

}  // namespace sidehill
