#include "sim/base/today.h"

#include <fmt/format.h>

#include <cstdlib>
#include <ctime>

#include "sim/base/date.h"
#include "sim/base/errors.h"

namespace sidehill {

std::string today() {
  if (const char* given = std::getenv("SIDEHILL_TODAY"); given && *given) {
    if (!is_date(given))
      throw InputError(std::string("SIDEHILL_TODAY: \"") + given + "\" is no date, allowed such as 2026-11-28");
    return given;
  }
  const std::time_t now = std::time(nullptr);
  std::tm day{};
  localtime_r(&now, &day);
  return fmt::format("{:04}-{:02}-{:02}", day.tm_year + 1900, day.tm_mon + 1, day.tm_mday);
}

}  // namespace sidehill
