// Days of the calendar.
#include "sim/base/date.h"

#include <doctest/doctest.h>

using namespace sidehill;

TEST_CASE("a date is a day that there is, in the one form") {
  for (const char* good : {"2026-11-28", "2024-02-29", "1900-01-01", "2199-12-31"}) CHECK(is_date(good));
  for (const char* bad : {"", "2026-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "26-11-28", "2026-1-28",
                          "2026/11/28", "28.11.2026", "2026-11-28T10:00", "1899-12-31", "2200-01-01", "2026-+1-01"}) {
    CAPTURE(bad);
    CHECK(!is_date(bad));
  }
}
