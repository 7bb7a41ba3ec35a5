// The files that commands write: asked about before anything is computed, and nothing is replaced unasked.
#pragma once
#include <CLI/CLI.hpp>
#include <string>

namespace sidehill {

// --force: replace a file that is there.
void add_force_flag(CLI::App& sub, bool& force);

// Returns if this file may be written: it is not there yet, or `force`, or a person at the terminal says yes. Throws
// InputError otherwise, and for what can never be written (sim/saving.h, file_to_write).
void check_output(const std::string& file, bool force);

}  // namespace sidehill
