#include "sim/uncertainty.h"

#include <algorithm>
#include <cmath>

#include "sim/statics.h"

namespace sidehill {

std::optional<double> stiffening_doubt(const Model& model) {
  double squares = 0;
  for (std::size_t axle = 0; axle < 2; ++axle) {
    std::optional<double> slope[2];
    if (model.wheels[2 * axle].tyre.vertical_stiffness_uncertainty == 0 &&
        model.wheels[2 * axle + 1].tyre.vertical_stiffness_uncertainty == 0)
      continue;
    for (int side = 0; side < 2; ++side) {
      Model moved = model;
      for (std::size_t i = 2 * axle; i < 2 * axle + 2; ++i) {
        TyreLaw& tyre = moved.wheels[i].tyre;
        const double by = (side == 0 ? -1 : 1) * tyre.vertical_stiffness_uncertainty;
        tyre.vertical_stiffness = std::max(tyre.vertical_stiffness + by, 0.2 * tyre.vertical_stiffness);
      }
      slope[side] = first_lift_off(moved).slope;
    }
    if (!slope[0] || !slope[1]) return std::nullopt;
    squares += (*slope[1] - *slope[0]) * (*slope[1] - *slope[0]);  // twice half the difference
  }
  return std::sqrt(squares);
}

}  // namespace sidehill
