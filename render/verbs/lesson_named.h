// A lesson as it is typed on the command line. Prints nothing.
#pragma once
#include <string>

#include "sim/insight/lesson.h"

namespace sidehill {

// By its name, its number or its file (.toml). Throws InputError that lists the names there are.
Lesson lesson_named(const std::string& name);

}  // namespace sidehill
