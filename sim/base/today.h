// The day it is, for what is logged and printed.
#pragma once
#include <string>

namespace sidehill {

// "2026-11-28", by the local clock. Tests give another day in the environment as SIDEHILL_TODAY; throws InputError if
// that is no date.
std::string today();

}  // namespace sidehill
