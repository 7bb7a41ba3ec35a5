// Days of the calendar as texts: "2026-11-28". Their order as texts is that of the calendar. Knows no clock.
#pragma once
#include <string_view>

namespace sidehill {

// Four digits, two, two, and a day that there is, in the years 1900 to 2199.
bool is_date(std::string_view text);

}  // namespace sidehill
