#include "sim/motion/frame_codec.h"

#include <zlib.h>

#include <cstring>
#include <new>
#include <vector>

namespace sidehill {
namespace {

constexpr int kDifferences = 3;  // measured: 8 % less than one difference, and more do not pay
constexpr std::size_t kWord = 8;

using Words = std::vector<std::uint64_t>;

// Small numbers of either sign as small numbers without one, and back.
std::uint64_t fold(std::uint64_t x) { return (x << 1) ^ (x >> 63 ? ~std::uint64_t{0} : 0); }
std::uint64_t unfold(std::uint64_t x) { return (x >> 1) ^ (x & 1 ? ~std::uint64_t{0} : 0); }

}  // namespace

std::string pack_frames(std::string frames, std::size_t frame_bytes) {
  const std::size_t size = frames.size() / kWord, row = frame_bytes / kWord, count = row > 0 ? size / row : 0;
  Words words(size);
  if (size > 0) std::memcpy(words.data(), frames.data(), size * kWord);
  for (std::size_t pass = 1; pass <= kDifferences; ++pass)
    for (std::size_t i = size; i-- > pass * row;) words[i] -= words[i - row];
  // Lowest byte of every word, then the next; of one word, all frames side by side.
  std::size_t out = 0;
  for (std::size_t byte = 0; byte < kWord; ++byte)
    for (std::size_t column = 0; column < row; ++column)
      for (std::size_t frame = 0; frame < count; ++frame)
        frames[out++] = static_cast<char>(fold(words[frame * row + column]) >> (8 * byte));
  uLongf packed_size = compressBound(static_cast<uLong>(out));
  std::string packed(packed_size, '\0');
  if (compress2(reinterpret_cast<Bytef*>(packed.data()), &packed_size, reinterpret_cast<const Bytef*>(frames.data()),
                static_cast<uLong>(out), Z_BEST_COMPRESSION) != Z_OK)
    throw std::bad_alloc();  // the only way it fails with room enough
  packed.resize(packed_size);
  return packed;
}

std::optional<std::string> unpack_frames(std::string_view packed, std::size_t frame_bytes, std::size_t count) {
  const std::size_t row = frame_bytes / kWord, size = row * count;
  std::string frames(size * kWord, '\0');
  uLongf unpacked = static_cast<uLongf>(frames.size());
  if (uncompress(reinterpret_cast<Bytef*>(frames.data()), &unpacked, reinterpret_cast<const Bytef*>(packed.data()),
                 static_cast<uLong>(packed.size())) != Z_OK ||
      unpacked != frames.size())
    return {};
  Words words(size);
  std::size_t in = 0;
  for (std::size_t byte = 0; byte < kWord; ++byte)
    for (std::size_t column = 0; column < row; ++column)
      for (std::size_t frame = 0; frame < count; ++frame)
        words[frame * row + column] |= std::uint64_t{static_cast<unsigned char>(frames[in++])} << (8 * byte);
  for (std::uint64_t& word : words) word = unfold(word);
  for (std::size_t pass = kDifferences; pass >= 1; --pass)
    for (std::size_t i = pass * row; i < size; ++i) words[i] += words[i - row];
  if (size > 0) std::memcpy(frames.data(), words.data(), frames.size());
  return frames;
}

std::uint32_t check_sum(std::string_view bytes, std::uint32_t so_far) {
  return static_cast<std::uint32_t>(
      crc32_z(so_far, reinterpret_cast<const Bytef*>(bytes.data()), static_cast<z_size_t>(bytes.size())));
}

}  // namespace sidehill
