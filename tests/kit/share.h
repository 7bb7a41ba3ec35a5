// What share of its rounds a long test takes: all of them, or in a checked build, several times slower, one in kShare.
#pragma once
#include <cstddef>
#include <cstdlib>

namespace sidehill {

#ifdef SIDEHILL_CHECKED
inline constexpr int kShare = 6;
#else
inline constexpr int kShare = 1;
#endif

// Of the longest tests also the build that people run takes every second round, unless check.sh --long asks for all; a
// checked build takes half its share.
inline std::size_t round_step() {
  if (kShare > 1) return std::size_t{2} * kShare;
  return std::getenv("SIDEHILL_LONG") ? 1 : 2;
}

}  // namespace sidehill
