// No member of a MachineState may be forgotten when it is stored.
#include "sim/motion/machine_state_words.h"

#include <doctest/doctest.h>

#include <stdexcept>

using namespace sidehill;

TEST_CASE("every byte of a moment that is not a gap comes back") {
  // Each word is changed alone: the MachineState made from it gives it back, and differs from all others.
  const std::vector<std::uint64_t> plain = words_of(MachineState{});
  for (std::size_t i = 0; i < plain.size(); ++i) {
    std::vector<std::uint64_t> changed = plain;
    changed[i] ^= 1;
    CHECK(words_of(moment_of(changed)) == changed);
  }
  CHECK_THROWS_AS(moment_of({}), std::invalid_argument);
  std::vector<std::uint64_t> more = plain;
  more.push_back(0);
  CHECK_THROWS_AS(moment_of(more), std::invalid_argument);
}

TEST_CASE("all of a moment is in its words, however it is filled") {
  // Left out of every contact: its lowest point, and the way across, which follows. Bools take a word each in the row
  // and a byte, with a gap behind, in memory: no less room is named than there is.
  std::size_t bools = 3 + 1 + kMaxHull + kWheels;  // touches, frame, stop; tied; hull; sliding
  const std::size_t left_out = std::size_t{kWheels} * 2 * sizeof(Vec3);
  CHECK(8 * words_of(MachineState{}).size() + left_out >= sizeof(MachineState));
  CHECK(8 * words_of(MachineState{}).size() + left_out <= sizeof(MachineState) + 8 * bools);
}
