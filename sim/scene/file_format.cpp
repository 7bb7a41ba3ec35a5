#include "sim/scene/file_format.h"

#include <fmt/format.h>

namespace sidehill {

std::string format_line() { return fmt::format("{} = {}\n", kFormatKey, kFileFormat); }

std::string format_refusal(std::optional<std::int64_t> said) {
  if (said == kFileFormat) return {};
  const std::string allowed = kFileFormat == 1 ? "1" : fmt::format("1 to {}", kFileFormat);
  if (!said) return "a whole number belongs here, allowed " + allowed;
  if (*said > kFileFormat)
    return fmt::format("this file was written by a later version of Sidehill (format {}); allowed {}", *said, allowed);
  return *said >= 1 ? std::string() : fmt::format("{} is no format, allowed {}", *said, allowed);
}

}  // namespace sidehill
