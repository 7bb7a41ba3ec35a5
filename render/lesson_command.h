// `sidehill lesson`: lists the lessons, asks one, says what is right. Reads options and prints; knows no window.
#pragma once
#include <CLI/CLI.hpp>
#include <optional>
#include <string>

namespace sidehill {

struct LessonCommand {
  std::string name;  // a lesson's name, number or file; empty = list them
  std::optional<int> guess;
  bool tell = false;
};

void add_lesson_flags(CLI::App& sub, LessonCommand& options);
// Exit code. Throws InputError for bad input.
int lesson_command(const LessonCommand& options, bool json);

}  // namespace sidehill
