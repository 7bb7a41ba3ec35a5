#include "render/verbs/outputs.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>
#include <filesystem>

#include "sim/base/errors.h"
#include "sim/base/saving.h"
#include "sim/scene/scene.h"

namespace sidehill {
namespace {

// What a person types, up to the end of the line.
std::string typed_line() {
  std::string line;
  for (int c = std::getchar(); c != EOF && c != '\n'; c = std::getchar()) line += static_cast<char>(c);
  return line;
}

}  // namespace

void add_force_flag(CLI::App& sub, bool& force) { sub.add_flag("--force", force, "replace an existing file"); }

void check_output(const std::string& file, bool force) {
  const std::filesystem::path target = file_to_write(file);
  std::error_code error;
  if (force || !std::filesystem::exists(target, error)) return;
  if (isatty(STDIN_FILENO) == 0 || isatty(STDERR_FILENO) == 0)
    throw InputError(file + ": is there already; --force replaces it");
  fmt::print(stderr, "{} is there already. Replace it? [y/N] ", file);
  const std::string answer = typed_line();
  if (answer != "y" && answer != "Y" && answer != "yes") throw InputError(file + ": left as it was");
}

}  // namespace sidehill
