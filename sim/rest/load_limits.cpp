#include "sim/rest/load_limits.h"

#include <algorithm>
#include <cmath>

#include "sim/base/closed_in.h"
#include "sim/base/constants.h"
#include "sim/rest/ice.h"
#include "sim/rest/load_check.h"

namespace sidehill {
namespace {

constexpr double kSteepestLimit = 60 * kDegree;

// First slope in 0..end at which `beyond` holds: every degree, then halved. `beyond` gets the loads there and the
// slope.
template <class Beyond>
std::optional<double> first_slope(const Model& model, double end, const std::stop_token& stop, Beyond beyond) {
  const auto at = [&](double slope) {
    const auto load = loads_at(model, slope, stop);
    return load && beyond(*load, slope);
  };
  double low = 0, high = 0;
  if (at(0)) return 0.0;
  while (!at(high)) {
    if (high >= end || stop.stop_requested()) return std::nullopt;
    low = high;
    high = std::min(high + kDegree, end);
  }
  return closed_in(low, high, 1e-5 * kDegree, at).second;
}

}  // namespace

LoadLimits load_limits(const Scene& scene, const Model& given, std::optional<double> first_lift_off,
                       const std::stop_token& stop) {
  Model model = given;
  model.terrain.features.clear();
  if (auto iced = with_ice_at_its_worst(model, stop)) model = std::move(*iced);
  const double end = std::min(first_lift_off.value_or(kSteepestLimit), kSteepestLimit);
  double unladen = 0;
  for (const LedgerLine& line : model.ledger)
    if (line.item == LedgerItem::machine || line.item == LedgerItem::tank) unladen += line.props.mass;
  LoadLimits out;
  const bool steers = !model.wheels[kFrontLeft].tyre.swivels;
  if (steers)
    out.steering_gone = first_slope(model, end, stop, [&](const std::array<double, kWheels>& load, double) {
      return load[0] + load[1] < 0.2 * unladen * model.gravity;
    });
  const bool duals = any_duals(model);
  // How a pair shares is asked only where one tyre could be full: it takes a whole rest.
  const auto shares = [&](const std::array<double, kWheels>& load, double slope) {
    const LoadCheck alone = check_loads(scene, model, load, slope, {1, 1, 1, 1});
    const bool could =
        std::ranges::any_of(alone.tyres, [](const TyreCheck& t) { return t.tyres > 1 && t.margin.margin < 0; });
    if (!duals || !could) return kSharedAlike;
    const auto rest = rest_at(model, slope);
    return rest ? fuller_shares(model, *rest) : kSharedAlike;
  };
  const auto over = [&](const std::array<double, kWheels>& load, double slope) {
    const LoadCheck check = check_loads(scene, model, load, slope, shares(load, slope));
    int worst = -1;
    for (int i = 0; i < kWheels; ++i) {
      const TyreCheck& tyre = check.tyres[static_cast<std::size_t>(i)];
      if (!tyre.service || tyre.margin.margin >= 0) continue;
      if (worst < 0 || tyre.margin.margin < check.tyres[static_cast<std::size_t>(worst)].margin.margin) worst = i;
    }
    return worst;
  };
  out.tyre_overload = first_slope(
      model, end, stop, [&](const std::array<double, kWheels>& load, double slope) { return over(load, slope) >= 0; });
  if (out.tyre_overload)
    if (const auto load = loads_at(model, *out.tyre_overload, stop)) {
      out.overloaded_wheel = over(*load, *out.tyre_overload);
      if (out.overloaded_wheel >= 0)
        out.overload_stated =
            check_loads(scene, model, *load).tyres[static_cast<std::size_t>(out.overloaded_wheel)].rating ==
            Rating::stated;
    }
  return out;
}

}  // namespace sidehill
