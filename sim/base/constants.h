// Factors between the trade's units and SI, and the constants that every layer above uses. Knows nothing else.
#pragma once
#include <numbers>

namespace sidehill {

inline constexpr double kPi = std::numbers::pi;
inline constexpr double kTwoPi = 2 * std::numbers::pi;
inline constexpr double kDegree = std::numbers::pi / 180;  // [rad]
inline constexpr double kInch = 0.0254;                    // [m], exact by the 1959 agreement
inline constexpr double kZeroCelsius = 273.15;             // [K]
inline constexpr double kStandardGravity = 9.80665;        // [m/s2], ISO 80000-3

}  // namespace sidehill
