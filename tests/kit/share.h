// What share of its rounds a long test takes: all of them, or in a checked build, several times slower, one in kShare.
#pragma once

namespace sidehill {

#ifdef SIDEHILL_CHECKED
inline constexpr int kShare = 4;
#else
inline constexpr int kShare = 1;
#endif

}  // namespace sidehill
