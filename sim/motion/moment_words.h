// A Moment as a row of eight-byte words and back, every member named once. For storing and comparing; knows no file.
// Written out because the bytes of a struct hold gaps whose contents are nobody's.
#pragma once
#include <cstdint>
#include <vector>

#include "sim/motion/moment.h"

namespace sidehill {

std::vector<std::uint64_t> words_of(const Moment& moment);  // as many for every Moment

// From as many words as words_of gives, or std::invalid_argument.
Moment moment_of(const std::vector<std::uint64_t>& words);

bool same_bits(const Moment& a, const Moment& b);

}  // namespace sidehill
