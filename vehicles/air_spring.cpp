#include "vehicles/air_spring.h"

#include <algorithm>

namespace sidehill {

double stiffening_by_liquid(double cavity, double fill_fraction, double pressure, double stiffness, double load) {
  constexpr double kAtmosphere = 101325;
  if (!(cavity > 0) || !(stiffness > 0) || !(load > 0)) return 1;
  const double p = std::max(pressure, 2e4);  // a flat tyre stands on its carcass; the estimate does not reach there
  const double displaced = 0.5 * (load / p) * (load / stiffness);
  const auto loaded_pressure = [&](double fill) {
    const double air = (1 - std::min(fill, 0.97)) * cavity;
    return (p + kAtmosphere) * air / std::max(air - displaced, 0.2 * air) - kAtmosphere;
  };
  return std::max(1.0, loaded_pressure(fill_fraction) / loaded_pressure(0));
}

}  // namespace sidehill
