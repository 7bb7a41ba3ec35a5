// TOML as plain values: kinds, keys, lines, and one line for what is wrong.
#include "sim/scene/toml_file.h"

#include <doctest/doctest.h>

#include "sim/base/errors.h"

using namespace sidehill;

namespace {

TomlValue toml_of(std::string_view text) { return read_toml(text, {"a.toml"}); }

std::string refusal_of_toml(std::string_view text, const TomlSource& source = {"a.toml"}) {
  try {
    read_toml(text, source);
  } catch (const InputError& error) {
    return error.what();
  }
  return {};
}

}  // namespace

TEST_CASE("every kind of value is read with its key and its line, in the order of the file") {
  const TomlValue table = toml_of(
      "z = \"words\"\n"
      "y = true\n"
      "x = 7\n"
      "w = 0.5\n"
      "v = [1, 2]\n"
      "u = 2026-01-31\n"
      "[t]\n"
      "s.r = 1\n");
  const std::pair<const char*, TomlKind> expected[] = {
      {"z", TomlKind::text}, {"y", TomlKind::flag}, {"x", TomlKind::whole}, {"w", TomlKind::real},
      {"v", TomlKind::list}, {"u", TomlKind::date}, {"t", TomlKind::table}};
  REQUIRE(table.inner.size() == std::size(expected));
  for (std::size_t i = 0; i < std::size(expected); ++i) {
    CHECK(table.inner[i].key == expected[i].first);
    CHECK(table.inner[i].kind == expected[i].second);
    CHECK(table.inner[i].line == i + 1);
  }
  CHECK(entry_of(table, "z")->text == "words");
  CHECK(entry_of(table, "y")->flag);
  CHECK(entry_of(table, "x")->whole == 7);
  CHECK(entry_of(table, "w")->real == 0.5);
  CHECK(entry_of(table, "v")->inner[1].whole == 2);
  CHECK(entry_of(*entry_of(*entry_of(table, "t"), "s"), "r")->line == 8);
  CHECK(entry_of(table, "nowhere") == nullptr);
  CHECK(TomlSource{"a.toml"}.at(*entry_of(table, "w")) == "a.toml:4");
  CHECK(TomlSource{"--set", false}.at(*entry_of(table, "w")) == "--set");
}

TEST_CASE("a number is what a double keeps exactly") {
  CHECK(number_of(*read_toml_value("3")) == 3.0);
  CHECK(number_of(*read_toml_value("-0.25")) == -0.25);
  CHECK(number_of(*read_toml_value("9007199254740992")) == 9007199254740992.0);
  CHECK_FALSE(number_of(*read_toml_value("9007199254740993")));
  CHECK_FALSE(number_of(*read_toml_value("-9007199254740993")));
  CHECK_FALSE(is_number(*read_toml_value("\"3\"")));
}

TEST_CASE("a single value is one value") {
  CHECK(read_toml_value("{a = 1, b = [2]}")->inner.size() == 2);
  for (const char* text : {"", "[", "1\nother = 2", "tractor"}) {
    CAPTURE(text);
    CHECK_FALSE(read_toml_value(text));
  }
}

TEST_CASE("what cannot be read is one line with file and line") {
  CHECK(refusal_of_toml("a = 1\nb = = 2\n").starts_with("a.toml:2: not readable as TOML: "));
  CHECK(refusal_of_toml("a = = 2\n", {"--over", false}).starts_with("--over: not readable as TOML: "));
  CHECK(refusal_of_toml("a = 1\na" + std::string(65, '.') + " = 1\n").starts_with("a.toml:2: more than 64 dots"));
  CHECK(refusal_of_toml("a = 1\na = 2\n").starts_with("a.toml:2: not readable as TOML: "));
  CHECK(refusal_of_toml("a = 1\n").empty());
}

TEST_CASE("a complaint is one short line whatever the file holds") {
  std::string line;
  try {
    refuse_at("a.toml:1", std::string(200, 'k') + "\n", std::string(900, 'm') + "\n\x1b");
  } catch (const InputError& error) {
    line = error.what();
  }
  CHECK(line.starts_with("a.toml:1: " + std::string(120, 'k') + "...: m"));
  CHECK(line.size() == 603);
  for (const char c : line) CHECK(static_cast<unsigned char>(c) >= 0x20);
}
