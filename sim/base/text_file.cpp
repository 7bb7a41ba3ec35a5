#include "sim/base/text_file.h"

#include <fmt/format.h>

#include <cstdint>
#include <fstream>
#include <iterator>
#include <system_error>

#include "sim/base/errors.h"
#include "sim/base/saving.h"

namespace sidehill {
namespace fs = std::filesystem;
namespace {

constexpr std::uintmax_t kMaxFileSize = 4u << 20;  // [bytes]; what people write is a few kilobytes

}  // namespace

void check_plain_file(const fs::path& path) {
  if (path.empty()) throw InputError("\"\": the name of a file belongs here");
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (status.type() == fs::file_type::not_found) throw InputError(path.string() + ": there is no such file");
  if (error) throw InputError(path.string() + ": cannot be read: " + error.message());
  if (fs::is_directory(status)) throw InputError(path.string() + ": is a folder, not a file");
  if (!fs::is_regular_file(status)) throw InputError(path.string() + ": is not a plain file");
}

std::string read_text(const fs::path& path) {
  check_plain_file(path);
  std::error_code error;
  if (fs::file_size(path, error) > kMaxFileSize) throw InputError(path.string() + ": is larger than 4 MB");
  std::ifstream file(path, std::ios::binary);
  std::string text{std::istreambuf_iterator<char>(file), {}};
  if (!file) throw InputError(path.string() + ": cannot be read");
  return text;
}

void save_text(const fs::path& path, std::string_view text) {
  NewFile file(path);
  file.write(text);
  file.keep();
}

std::string in_quotes(std::string_view text) {
  std::string result = "\"";
  for (char c : text) {
    if (c == '"' || c == '\\')
      result += std::string("\\") + c;
    else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
      result += fmt::format("\\u{:04X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
    else
      result += c;
  }
  return result + "\"";
}

}  // namespace sidehill
