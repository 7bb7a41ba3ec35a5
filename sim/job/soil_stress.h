// What a wheel does to the soil below it: where it touches, how hard it presses, and the vertical stress at depth.
// Knows no scene and no model. Source: contact: Keller 2005, Biosystems Engineering 92:85-96, as carried by the package
// soilphysics 5.1 for R (the formulas were read as code). Depth: Froehlich 1934, with the concentration factors of
// Soehne 1953 and 1958.
#pragma once
#include <optional>
#include <string>
#include <vector>

namespace sidehill {

// One wheel as the regressions ask for it.
struct SoilWheel {
  double width = 0;        // of the tyre [m]
  double diameter = 0;     // of the tyre [m]
  double pressure = 0;     // of the air, gauge [Pa]
  double recommended = 0;  // what the tyre maker recommends for this load and speed, gauge [Pa]
  double load = 0;         // of this wheel [N]
};

// Where the tyre touches: a super ellipse |2x/length|^n + |2y/width|^n = 1, x along the way of travel.
struct ContactPatch {
  double length = 0, width = 0;  // [m]
  double exponent = 0;           // n [-]; 2 is an ellipse, endless a rectangle
  double area = 0;               // [m2]
  double mean = 0;               // load over area [Pa]
  double peak = 0;               // greatest vertical stress, by the regression [Pa]
};
// Nothing where the regression has no patch: a length or a peak of 0 or less, by an air pressure far from the
// recommended one. All values of `wheel` must be more than 0.
std::optional<ContactPatch> contact_patch(const SoilWheel& wheel);

// Whether the stress below the patch can be stated.
enum class StressRange {
  within,         // the field fits the load
  peak_too_high,  // alpha below 1: the peak is too high for the load, a light wheel on a hard tyre
  peak_too_low,   // alpha above 16, or none: the patch cannot carry the load under this peak
  no_patch,       // the regression has no patch
  too_wide        // the shape across the tyre has no maximum (width of 1.27 m and more)
};

// The vertical stress over the patch. Along the travel peak * across(y) * (1 - |x / l(y)|^alpha), l(y) half the patch's
// length there. Across u exp(-delta u) with u = width/2 - |y| and delta = 9.3 - 7.3 width [m], its greatest value made
// 1. alpha is such that the whole is the load: with k = load / (the whole at endless alpha), alpha = k / (1 - k).
// The carried code looks for alpha from 1 to 16 only; outside the field is not given.
struct StressField {
  ContactPatch patch;
  double alpha = 0;           // [-]; has no meaning without a patch
  double delta = 0, top = 1;  // of the shape across [1/m]; what makes its greatest value 1 [1/m]
  StressRange range = StressRange::no_patch;
};
StressField stress_field(const SoilWheel& wheel);
// Vertical stress at the surface, x along the travel, y across, from the middle of the patch [m] [Pa]; 0 outside.
double surface_stress(const StressField& field, double x, double y);

// Vertical stress below the middle of the patch at that depth [m, 0 or more] [Pa]: point loads of Froehlich summed,
// nu Q / (2 pi R^2) cos^nu. `concentration` nu 3 (elastic) to 6 (soft, wet). Nothing where the field is out of range.
// Error of the sum below 1e-4.
std::optional<double> stress_below(const StressField& field, double concentration, double depth);

// Below the centre of an evenly loaded plate [Pa]. Source: Froehlich 1934; circle: p (1 - (z / sqrt(z2 + a2))^nu);
// square of the same area: the same in polar coordinates, one integral. A real plate is stiff; these are not.
double stress_below_circle(double pressure, double load, double concentration, double depth);
double stress_below_square(double pressure, double load, double concentration, double depth);

// What to say of an answer, the worst first: outside the range of the regressions, and why. Empty: within.
std::vector<std::string> stress_cautions(const SoilWheel& wheel, const StressField& field);

// How far a Soehne model was seen to be off, below stiff plates of 43 kN (low) and 85 kN (high), at 0.3 to 0.9 m [Pa].
// Source: Lamande, Schjonning and Togersen 2007, Soil and Tillage Research 97:91-106, abstract.
inline constexpr double kStressOffLow = 7e3, kStressOffHigh = 27e3;
inline constexpr double kStressOffLoad = 43e3;  // the load of the low one; above it the high one is meant [N]

// "elastic", "hard, dry soil", "normal soil", "soft, wet soil" of 3 to 6, the nearest. Source: Soehne, from memory; one
// public manual has it the other way round.
const char* concentration_words(double concentration);

}  // namespace sidehill
