// Where an answer turns from no to yes, closed in by halving. Knows nothing; the halving is Boost.Math's.
#pragma once
#include <boost/math/tools/roots.hpp>
#include <cstdint>
#include <limits>
#include <utility>

namespace sidehill {

// `holds(x)` says no at `without` and yes at `with` (`without` < `with`); neither is asked again. What is left once it
// is no wider than `enough`, or no number lies between: its two ends, the first without, the second with. Asks at the
// middle each time, so that each place asked stands nearer to the answer than the one before.
template <class Holds>
std::pair<double, double> closed_in(double without, double with, double enough, Holds holds) {
  if (!(with > without)) return {without, with};
  const auto sign = [&](double x) { return x == without ? -1.0 : x == with ? 1.0 : holds(x) ? 1.0 : -1.0; };
  const auto narrow = [enough](double low, double high) { return !(high - low > enough); };
  std::uintmax_t most = std::numeric_limits<std::uintmax_t>::max();
  return boost::math::tools::bisect(sign, without, with, narrow, most);
}

}  // namespace sidehill
