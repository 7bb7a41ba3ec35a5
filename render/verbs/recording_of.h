// A run, whether it is on file already or has to be run first.
#pragma once
#include <string>
#include <vector>

#include "sim/motion/recording.h"

namespace sidehill {

// Loads a recording (.run), or runs a scene with these changes of `--set`. Throws InputError for a file that cannot be
// read, an impossible machine, and changes asked of a recording; `verb` says who asks.
Recording recording_of(const std::string& verb, const std::string& file, const std::vector<std::string>& changes);

}  // namespace sidehill
