#include "render/text/motion/slope_advice.h"

#include <fmt/format.h>

#include <cmath>

#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "vehicles/load_multiple.h"

namespace sidehill::text {
namespace {

std::string share_and_angle(double share) {
  return fmt::format("{:.0f} % = {:.1f}°", 100 * share, std::atan(share) / kDegree);
}

}  // namespace

std::vector<SlopeAdvice> slope_advice() {
  const double law = std::tan(kSteepestForMultiples);
  return {
      {"Not a fixed safe angle",
       "No number here is safe. Steepness, kind and state of the ground, weather and obstacles "
       "change it."},
      {"What can happen",
       "Loss of grip, running away, jack-knifing, going over: also on flat ground, at banks, ditches "
       "and ramps."},
      {"Frame and belt", "Roll-over frame up and locked, lap belt on."},
      {"Load low", "Carry bucket and load as low as you can. A raised loader makes going over more likely."},
      {"Holes and bumps", "No holes on the downhill side, no stumps or bumps on the uphill side."},
      {"Turning", "Avoid turning uphill. Turn slowly and wide."},
      {"Heavy end uphill", "Going up or down, keep the heavy end uphill. Reverse up a steep slope."},
      {"Implement at the side", "On the uphill side, and low."},
      {"Banks", "Keep at least as far from the edge as the bank is deep."},
      {"Gear", "Low range before the slope. Never coast, never press the clutch."},
      {"Trailer or tank", "A heavy load can push the tractor. Fill tanks only in part. Start on the flat or uphill."},
      {"Wheels", "Set as wide as possible."},
      {"Tyre law", fmt::format("No extra tyre load for low-torque work on slopes over {:.0f} % ({:.1f}°).", 100 * law,
                               kSteepestForMultiples / kDegree)},
      {"Training", "Only a driver trained for slopes."},
      {"Degrees and per cent",
       fmt::format("{}; {}; {}.", share_and_angle(0.1), share_and_angle(law), share_and_angle(1))},
      {"Other machines' numbers",
       fmt::format("{} of ride-on mowers, {} of light trucks, {} of towing: not for tractors.",
                   degrees_and_percent(15 * kDegree, 0), degrees_and_percent(17.5 * kDegree),
                   degrees_and_percent(5 * kDegree, 0))},
      {"What the numbers hold for", "This set-up and this date only. All are rounded down, to the safe side."},
  };
}

}  // namespace sidehill::text
