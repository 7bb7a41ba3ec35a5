// What is common to the arguments of all commands: whole numbers, and words that are no command.
#pragma once
#include <CLI/CLI.hpp>
#include <cstdint>
#include <string>

namespace sidehill {

// Takes a whole number from `low` to `high` in plain digits and refuses anything else by saying so.
CLI::Validator whole_number(std::uint64_t low, std::uint64_t high);

// Throws InputError if the first word is none of the commands of `app`, with the one most likely meant. No word and
// options are left to CLI11.
void check_command_word(const CLI::App& app, int argc, const char* const* argv);

}  // namespace sidehill
