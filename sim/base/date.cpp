#include "sim/base/date.h"

#include <chrono>

namespace sidehill {

bool is_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
  const auto number = [&](std::size_t from, std::size_t digits) {
    int value = 0;
    for (const char c : text.substr(from, digits)) {
      if (c < '0' || c > '9') return -1;
      value = 10 * value + (c - '0');
    }
    return value;
  };
  const int year = number(0, 4), month = number(5, 2), day = number(8, 2);
  if (year < 1900 || year > 2199 || month < 1 || day < 1) return false;
  return std::chrono::year_month_day{std::chrono::year{year}, std::chrono::month{static_cast<unsigned>(month)},
                                     std::chrono::day{static_cast<unsigned>(day)}}
      .ok();
}

}  // namespace sidehill
