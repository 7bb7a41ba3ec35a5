// Numbers as people write them. Knows no unit, no file.
#pragma once
#include <string>

namespace sidehill {

// `value` rounded to so many significant digits, written out: "2050", "0.15", "12"; never with a power of ten, no zeros
// after the last digit behind the point. "-" for what is not finite.
std::string plain_number(double value, int digits = 3);

}  // namespace sidehill
