#include "sim/job/traction.h"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <limits>

namespace sidehill {
namespace {

constexpr TractionCoefficients kBias = {0.88, 0.1, 7.5, 0.04, 1.0, 0.5};
constexpr TractionCoefficients kRadial = {0.88, 0.1, 9.5, 0.0325, 0.9, 0.5};
constexpr int kSlipSteps = 200;        // Newton's steps to a slip; ten are usual, more near the greatest pull
constexpr double kSlipClosed = 1e-13;  // of a slip [-]
constexpr int kSlipBits = 40;          // asked of the minimum; what can be had is about half of the 53 of a double

}  // namespace

const TractionCoefficients& coefficients(TyreSet set) { return set == TyreSet::bias ? kBias : kRadial; }

double mobility_number(const TyreShape& t, double load, double cone_index) {
  if (!(t.width > 0 && t.diameter > 0 && t.section_height > 0 && t.deflection >= 0 && load > 0 && cone_index > 0))
    return std::numeric_limits<double>::quiet_NaN();
  return cone_index * t.width * t.diameter / load * (1 + 5 * t.deflection / t.section_height) /
         (1 + 3 * t.width / t.diameter);
}

WheelTraction wheel_traction(TyreSet set, double mobility) {
  const TractionCoefficients& c = coefficients(set);
  return {.most = -c.gross_most * std::expm1(-c.by_mobility * mobility),
          .rate = c.by_slip,
          .offset = c.offset,
          .at_zero = c.by_inverse / mobility,
          .by_slip = c.by_root / std::sqrt(mobility)};
}

WheelTraction road_traction(TyreSet set, double mobility, double rolling) {
  WheelTraction wheel = wheel_traction(set, mobility);
  wheel.offset = 0;
  wheel.at_zero = rolling;
  wheel.by_slip = 0;
  return wheel;
}

double gross_ratio(const WheelTraction& w, double slip) { return w.offset - w.most * std::expm1(-w.rate * slip); }
double net_ratio(const WheelTraction& w, double slip) {
  return -w.most * std::expm1(-w.rate * slip) - w.at_zero - w.by_slip * slip;
}

Traction traction_at(const WheelTraction& w, double slip) {
  Traction t;
  t.gross = gross_ratio(w, slip);
  t.resistance = w.at_zero + w.offset + w.by_slip * slip;
  t.net = net_ratio(w, slip);
  t.efficiency = (1 - slip) * t.net / t.gross;
  return t;
}

double slip_of_most_net(const WheelTraction& w) {
  if (w.by_slip <= 0) return 1;
  return std::clamp(std::log(w.most * w.rate / w.by_slip) / w.rate, 0.0, 1.0);
}

std::optional<double> slip_of_best_efficiency(const WheelTraction& w) {
  const double most = slip_of_most_net(w);
  if (!(net_ratio(w, most) > 0)) return std::nullopt;
  const auto lost = [&](double slip) { return -traction_at(w, slip).efficiency; };
  // Beyond the greatest pull there is less of it for more slip. At no slip at all a road has no gross traction.
  return boost::math::tools::brent_find_minima(lost, 1e-9, most, kSlipBits).first;
}

SlipAnswer slip_for_net(const WheelTraction& w, double net) {
  if (net <= net_ratio(w, 0)) return {SlipFor::holds_already, 0};
  const double most = slip_of_most_net(w);
  if (!(net <= net_ratio(w, most))) return {};
  // A tangent of a concave function lies above it, so that Newton's steps come from the left and never pass the first
  // crossing.
  double slip = 0;
  for (int step = 0; step < kSlipSteps; ++step) {
    const double short_of = net - net_ratio(w, slip);
    const double slope = w.most * w.rate * std::exp(-w.rate * slip) - w.by_slip;
    if (!(short_of > 0) || !(slope > 0)) break;
    const double further = short_of / slope;
    slip = std::min(slip + further, most);
    if (further < kSlipClosed) break;
  }
  return {SlipFor::needs_slip, slip};
}

std::vector<RangeLeft> ranges_left(const TyreShape& t, double load) {
  const RangeLeft all[] = {
      {"width over diameter", t.width / t.diameter, 0.1, 0.7, "", "b/d"},
      {"deflection over section height", t.deflection / t.section_height, 0.10, 0.30, "", "delta/h"},
      {"load over width times diameter", load * 1e-3 / (t.width * t.diameter), 15, 55, "kN/m2", "W/(b d)"},
  };
  std::vector<RangeLeft> left;
  // A border itself is within, whatever the division has made of its last digit.
  for (const RangeLeft& r : all)
    if (!(r.value >= r.low * (1 - 1e-9) && r.value <= r.high * (1 + 1e-9))) left.push_back(r);
  return left;
}

std::optional<double> cone_index_of(SoilClass soil) {
  switch (soil) {
    case SoilClass::hard:
      return 1800e3;
    case SoilClass::firm:
      return 1200e3;
    case SoilClass::tilled:
      return 900e3;
    case SoilClass::soft:
      return 450e3;
    case SoilClass::mud:
      break;
  }
  return std::nullopt;
}

const char* soil_class_name(SoilClass soil) {
  constexpr const char* kNames[kSoilClasses] = {"hard", "firm", "tilled", "soft", "mud"};
  return kNames[static_cast<int>(soil)];
}

}  // namespace sidehill
