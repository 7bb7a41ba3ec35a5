// What is common to the arguments of all commands: whole numbers, and words that are no command.
#pragma once
#include <CLI/CLI.hpp>
#include <cstdint>
#include <string>
#include <string_view>

namespace sidehill {

// Takes a whole number from `low` to `high` in plain digits and refuses anything else by saying so.
CLI::Validator whole_number(std::uint64_t low, std::uint64_t high);

// Throws InputError in one line, "grip: --slip 1.2: allowed 0 to 0.999", unless `low` <= value <= `high`.
void check_in_range(std::string_view verb, std::string_view option, double value, double low, double high,
                    std::string_view unit);

// Throws InputError: the word typed is none of those `allowed`, named in words.
[[noreturn]] void refuse_word(std::string_view verb, std::string_view option, const std::string& typed,
                              std::string_view allowed);

// Throws InputError if the first word is none of the commands of `app`, with the one most likely meant. No word and
// options are left to CLI11.
void check_command_word(const CLI::App& app, int argc, const char* const* argv);

}  // namespace sidehill
