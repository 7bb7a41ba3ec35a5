// Fits of aqueous solutions (sources in solution.h).
#include "vehicles/solution.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "sim/base/closed_in.h"
#include "sim/base/constants.h"

namespace sidehill {
namespace {

constexpr double kWaterFreezes = kZeroCelsius, kWarmestMix = 313.15;  // [K]

template <std::size_t N>
double polynomial(const std::array<double, N>& coefficients, double x) {
  double value = 0;
  for (std::size_t i = N; i-- > 0;) value = value * x + coefficients[i];
  return value;
}

// density = sum over i of (T - base_kelvin)^i times a polynomial in (x - base_fraction).
struct Fit {
  SoluteInfo info;
  double base_fraction, base_kelvin;
  std::array<double, 6> freezing;
  std::array<std::array<double, 6>, 4> density;
};

// Order of enum Solute.
constexpr std::array<Fit, 6> kFits{{
    {{"sodium chloride", 0.23, kWaterFreezes - 21.1, 0.3, "sets hard at its eutectic, -21.1 C"},
     0.133897,
     285.7679,
     {263.767, -90.39, -220.4, -482.7, 224.7, 0},
     {{{1099.0, 772.3, 256.7, 110.8, -1686.0, 0},
       {-0.3758, -1.426, 3.994, 0.3522, 0, 0},
       {-2.023e-3, 1.535e-2, -7.281e-2, 0, 0, 0},
       {}}}},
    {{"calcium chloride", 0.30, kWaterFreezes - 51, 3,
      "sets hard at its eutectic; published values run from -49.8 to -55 C"},
     0.187414,
     280.6757,
     {256.94, -155.5, -549.6, -2624.0, -17260.0, -44940.0},
     {{{1171.0, 984.7, 338.9, 1062.0, 2785.0, -18110.0},
       {-0.1463, -2.488, -23.02, 62.91, 642.3, 0},
       {-1.302e-3, -5.530e-2, 0.3526, 1.806, 0, 0},
       {-1.871e-4, 1.665e-3, 2.788e-3, 0, 0, 0}}}},
    // The fit goes on to 0.30, but past the eutectic near 0.21 a hydrate falls out instead of ice.
    {{"magnesium chloride", 0.205, kWaterFreezes - 33.5, 0.5, "sets hard at its eutectic, about -33.5 C"},
     0.141327,
     282.4663,
     {258.03, -188.5, -545.5, -725.7, -32080.0, -179400.0},
     {{{1124.0, 907.1, 244.9, 3402.0, 33440.0, 72390.0},
       {-0.3072, -0.6513, 0.3574, -140.9, -683.0, 0},
       {-3.295e-3, 4.664e-3, 4.337e-2, 1.857, 0, 0},
       {1.015e-5, 2.287e-4, 6.044e-3, 0, 0, 0}}}},
    {{"ethylene glycol", 0.60, kWaterFreezes - 52, 4,
      "slush stays soft and does not burst the tyre above about -50 C; no source at hand for that temperature"},
     0.308462,
     304.8780,
     {257.9, -80.80, -133.4, -72.93, 100.6, 11.40},
     {{{1034.0, 131.1, 0.7490, -106.2, -96.23, 489.1},
       {-0.4781, -0.6876, 0.7855, 1.229, -7.211, 0},
       {-2.692e-3, 4.805e-3, -3.995e-3, -1.153e-2, 0, 0},
       {4.725e-6, 1.690e-6, 4.982e-5, 0, 0, 0}}}},
    {{"propylene glycol", 0.60, std::nullopt, 0,
      "slush stays soft; what is left sets like glass near -60 C instead of freezing (no source at hand)"},
     0.307031,
     305.8583,
     {259.9, -66.31, -109.4, -228.3, -340.9, 146.5},
     {{{1018.0, 76.04, -24.98, -155.0, -113.1, 234.2},
       {-0.5406, -0.9450, 0.2700, 2.829, -2.221, 0},
       {-2.666e-3, 5.541e-3, -4.018e-3, -7.175e-3, 0, 0},
       {1.347e-5, -1.343e-5, 3.376e-5, 0, 0, 0}}}},
    {{"methanol", 0.60, std::nullopt, 0, "some liquid is left down to below -100 C (no source at hand)"},
     0.305128,
     276.6859,
     {246.86, -118.7, -121.8, -68.23, 12.97, 236.3},
     {{{958.1, -139.1, -110.5, -120.8, 492.7, -772.7},
       {-0.4151, -1.510, 1.828, 2.992, -13.25, 0},
       {-2.261e-3, 1.113e-2, -1.641e-2, 1.455e-3, 0, 0},
       {2.998e-7, -3.264e-5, 1.510e-4, 0, 0, 0}}}},
}};

const Fit& fit_of(Solute solute) { return kFits[static_cast<std::size_t>(solute)]; }

double in_range(const Fit& fit, double mass_fraction) {
  return mass_fraction > 0 ? std::min(mass_fraction, fit.info.max_mass_fraction) : 0.0;
}

}  // namespace

const SoluteInfo& info(Solute solute) { return fit_of(solute).info; }

double solution_slush_free(Solute solute, double mass_fraction) {
  const Fit& fit = fit_of(solute);
  return std::min(polynomial(fit.freezing, in_range(fit, mass_fraction) - fit.base_fraction), kWaterFreezes);
}

double solution_density(Solute solute, double mass_fraction, double temperature) {
  const Fit& fit = fit_of(solute);
  const double coldest = solution_slush_free(solute, mass_fraction);
  const double dt = (temperature > coldest ? std::min(temperature, kWarmestMix) : coldest) - fit.base_kelvin;
  const double dx = in_range(fit, mass_fraction) - fit.base_fraction;
  double value = 0;
  for (std::size_t i = fit.density.size(); i-- > 0;) value = value * dt + polynomial(fit.density[i], dx);
  return value;
}

std::optional<double> mass_fraction_for(Solute solute, double temperature) {
  const double high = info(solute).max_mass_fraction;
  if (temperature >= kWaterFreezes) return 0.0;
  if (!(temperature >= solution_slush_free(solute, high))) return std::nullopt;
  const auto stays_liquid = [&](double fraction) { return !(solution_slush_free(solute, fraction) > temperature); };
  return closed_in(0, high, std::ldexp(high, -60), stays_liquid).second;
}

double ice_share(Solute solute, double mass_fraction, double temperature) {
  const Fit& fit = fit_of(solute);
  const double x = in_range(fit, mass_fraction);
  if (temperature >= solution_slush_free(solute, x)) return 0;
  if (x <= 0 || (fit.info.solid && temperature < *fit.info.solid)) return 1;
  const double left = mass_fraction_for(solute, temperature).value_or(fit.info.max_mass_fraction);
  return std::clamp(1 - x / left, 0.0, 1.0);
}

}  // namespace sidehill
