#include "render/verbs/arguments.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <vector>

#include "sim/base/errors.h"
#include "sim/scene/scene.h"
#include "sim/scene/spelling.h"

namespace sidehill {
namespace {

// As typed, short enough for a line and without what would spoil a terminal.
std::string shown_word(const std::string& typed, std::size_t most) {
  std::string word = typed.substr(0, most);
  for (char& c : word)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '?';
  return word;
}

}  // namespace

CLI::Validator whole_number(std::uint64_t low, std::uint64_t high) {
  const std::string range = fmt::format("{} to {}", low, high);
  return CLI::Validator(
      [low, high, range](std::string& typed) {
        std::uint64_t value = 0;
        const char* end = typed.data() + typed.size();
        const auto [at, error] = std::from_chars(typed.data(), end, value);
        const bool whole = at == end && !typed.empty() && error != std::errc::invalid_argument;
        if (whole && error == std::errc{} && value >= low && value <= high) return std::string();
        return fmt::format("\"{}\" is {}, allowed {}", typed.substr(0, 40),
                           whole ? "out of range" : "no whole number in plain digits", range);
      },
      "INT in [" + range + "]");
}

void check_in_range(std::string_view verb, std::string_view option, double value, double low, double high,
                    std::string_view unit) {
  if (value >= low && value <= high) return;
  throw InputError(fmt::format("{}: {} {:g}: allowed {:g} to {:g}{}{}", verb, option, value, low, high,
                               unit.empty() ? "" : " ", unit));
}

void refuse_word(std::string_view verb, std::string_view option, const std::string& typed, std::string_view allowed) {
  throw InputError(fmt::format("{}: {} \"{}\": allowed {}", verb, option, shown_word(typed, 40), allowed));
}

void check_command_word(const CLI::App& app, int argc, const char* const* argv) {
  if (argc < 2 || argv[1][0] == '-') return;
  std::string word = argv[1];
  std::vector<std::string> names;
  for (const CLI::App* sub : app.get_subcommands({})) names.push_back(sub->get_name());
  if (std::ranges::find(names, word) != names.end()) return;
  const std::string near = nearest_word(word, names);
  word = shown_word(word, 60);
  throw InputError(fmt::format("sidehill: \"{}\" is no command{} (`sidehill --help` lists all)", word,
                               near.empty() ? "" : ", did you mean " + near + "?"));
}

}  // namespace sidehill
