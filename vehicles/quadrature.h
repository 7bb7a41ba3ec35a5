// Gauss-Legendre quadrature with twelve nodes, by Boost.Math. Knows nothing else.
#pragma once
#include <boost/math/quadrature/gauss.hpp>
#include <cstddef>

namespace sidehill {

// visit(place, weight) for each node over from..to, running through both ends with zero speed: what is added up may
// begin and end there like a square root. From the middle outwards, to either side in turn.
template <class Visit>
void for_nodes(double from, double to, Visit visit) {
  using Gauss = boost::math::quadrature::gauss<double, 12>;
  const auto& nodes = Gauss::abscissa();  // of -1..1, the half above 0
  const auto& weights = Gauss::weights();
  const double span = to - from;
  for (std::size_t k = 0; k < 2 * nodes.size(); ++k) {
    const double u = 0.5 * (1 + (k % 2 ? nodes[k / 2] : -nodes[k / 2]));
    visit(from + span * u * u * (3 - 2 * u), weights[k / 2] / 2 * span * 6 * u * (1 - u));
  }
}

}  // namespace sidehill
