#include "sim/base/plain_number.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace sidehill {

std::string plain_number(double value, int digits) {
  if (!std::isfinite(value)) return "-";
  if (value == 0) return "0";
  const auto before_point = [](double x) { return static_cast<int>(std::floor(std::log10(std::abs(x)))) + 1; };
  const double scale = std::pow(10, digits - before_point(value));
  const double rounded = std::round(value * scale) / scale;
  const int behind = std::clamp(digits - before_point(rounded), 0, 17);  // 9.996 has become 10.0
  std::string text = fmt::format("{:.{}f}", rounded, behind);
  if (text.find('.') == text.npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

}  // namespace sidehill
