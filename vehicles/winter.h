// What frost does to each filling. Knows no tyre, no file, no time.
#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "vehicles/liquid.h"

namespace sidehill {

enum class Frost { liquid, slushy, solid, not_known };

struct WinterAnswer {
  Medium medium = Medium::water;
  double mass_fraction = 0;         // [-]
  Frost frost = Frost::liquid;      // at the temperature asked for
  bool doubtful = false;            // within the uncertainty of first ice or of the last liquid
  bool may_be_solid = false;        // within that of the last liquid
  std::optional<double> ice = 0.0;  // over the whole by mass [-]; nothing = not known
  double reserve = 0;               // temperature asked for minus first ice, negative = frozen by so much [K]; 0 where
                                    // nothing freezes
  std::string_view meaning;         // what that does to tyre and machine
};

// At `coldest` [K]. `concentration` as in `strength`.
// Slush with 70 % ice or more no longer flows and counts as solid (our estimate).
// Of an own medium without a first ice the frost is not known, unless it is below what is given as solid.
WinterAnswer winter(const Mix& mix, double coldest);
WinterAnswer winter(Medium medium, double concentration, double coldest);
std::vector<WinterAnswer> winter_of_all(double coldest);  // the library at its usual strengths

}  // namespace sidehill
