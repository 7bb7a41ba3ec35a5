// A MachineState as a row of eight-byte words and back, every member named once. For storing and comparing; knows no
// file. Written out because the bytes of a struct hold gaps whose contents are nobody's.
#pragma once
#include <cstdint>
#include <vector>

#include "sim/motion/machine_state.h"

namespace sidehill {

std::vector<std::uint64_t> words_of(const MachineState& moment);  // as many for every MachineState

// From as many words as words_of gives, or std::invalid_argument.
MachineState moment_of(const std::vector<std::uint64_t>& words);

bool same_bits(const MachineState& a, const MachineState& b);

}  // namespace sidehill
