// Frames of a recording as few bytes, and check sums (zlib lives in the .cpp and nowhere else). A frame is a block of
// bytes of one size that changes smoothly; knows no machine, no file.
#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace sidehill {

// Any number of frames one after the other, each `frame_bytes` long (a multiple of 8). Nothing is lost: the eight-byte
// words of a frame are read as whole numbers, and kept is what is left of the third differences from frame to frame
// (the first frame itself, then the change, then the change of the change), lowest bytes together, deflated.
std::string pack_frames(std::string frames, std::size_t frame_bytes);

// Back again, bit for bit. Empty if `packed` is not what pack_frames made of `count` such frames.
std::optional<std::string> unpack_frames(std::string_view packed, std::size_t frame_bytes, std::size_t count);

std::uint32_t check_sum(std::string_view bytes, std::uint32_t so_far = 0);  // CRC-32

}  // namespace sidehill
