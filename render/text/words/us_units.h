// What the customary units of the United States are in SI, for render/text/words alone. Source: NIST SP 811 (2008)
// appendix B.8; pound, inch, gallon (231 cubic inches) and mile exact, horsepower 550 ft lbf/s.
#pragma once
#include <string>

#include "render/text/words/units.h"
#include "sim/base/constants.h"

namespace sidehill::text {

inline constexpr double kPound = 0.45359237, kFoot = 12 * kInch, kMile = 5280 * kFoot;  // [kg], [m]
inline constexpr double kGallon = 231 * kInch * kInch * kInch;                          // US liquid [m3]
inline constexpr double kPoundForce = kPound * kStandardGravity;                        // [N]
inline constexpr double kFootPound = kFoot * kPoundForce;                               // [J]
inline constexpr double kHorsepower = 550 * kFootPound;                                 // mechanical [W]
inline constexpr double kPsi = kPoundForce / (kInch * kInch);                           // [Pa]

// A number with `digits` after the point and its thousands set apart as each side of the ocean reads them: "4 310",
// "9,502"; never "-0.0".
std::string grouped(double value, int digits, Units units);

// How many digits after the point say as much as `digits` did, where every number grows by `ratio`; below 0: tens,
// hundreds.
int us_digits(double ratio, int digits);

}  // namespace sidehill::text
