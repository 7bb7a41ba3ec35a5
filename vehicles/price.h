// What a liquid costs, as somebody was asked for it. The program knows no price of its own. Knows no tyre, no file.
#pragma once
#include <algorithm>

namespace sidehill {

// From low to high, of a litre as pumped [EUR/L] or of a whole filling [EUR]; 0 = not given.
struct PriceRange {
  double low = 0, high = 0;
};

constexpr bool is_given(PriceRange price) { return price.low > 0 || price.high > 0; }

// Cost [EUR] of `volume` [m3] at `price` [EUR/L], low to high. One end given alone stands for both.
constexpr PriceRange cost_of(PriceRange price, double volume) {
  const double high = std::max(price.low, price.high), low = price.low > 0 ? price.low : high;
  return {1e3 * volume * low, 1e3 * volume * high};
}

}  // namespace sidehill
