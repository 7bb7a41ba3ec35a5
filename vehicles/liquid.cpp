// Densities of tyre liquids (sources in liquid.h).
#include "vehicles/liquid.h"

#include <algorithm>
#include <array>
#include <cstddef>

namespace sidehill {
namespace {

constexpr double kCelsiusZero = 273.15;                 // [K]
constexpr double kColdest = 273.15, kWarmest = 313.15;  // of the fits [K]

// 3.5 lb of 77 % flake to a US gallon (8.345 lb at 4 deg C) of water: 0.77 * 3.5 / (3.5 + 8.345).
constexpr double kMix3_5 = 0.2275;

template <std::size_t N>
constexpr double polynomial(const std::array<double, N>& coefficients, double x) {
  double value = 0;
  for (std::size_t i = N; i-- > 0;) value = value * x + coefficients[i];
  return value;
}

// Melinder 2010, calcium chloride: powers of (x - kBaseFraction), coefficients of rising powers of (T - kBaseKelvin).
constexpr double kBaseFraction = 0.187414, kBaseKelvin = 280.6757;
constexpr std::array<std::array<double, 6>, 4> kDensity{{
    {1171.0, 984.7, 338.9, 1062.0, 2785.0, -18110.0},
    {-0.1463, -2.488, -23.02, 62.91, 642.3, 0},
    {-1.302e-3, -5.530e-2, 0.3526, 1.806, 0, 0},
    {-1.871e-4, 1.665e-3, 2.788e-3, 0, 0, 0},
}};
constexpr std::array<double, 6> kFreezing{256.94, -155.5, -549.6, -2624.0, -17260.0, -44940.0};

constexpr double base_distance(double mass_fraction) { return std::clamp(mass_fraction, 0.0, 0.30) - kBaseFraction; }

constexpr std::array<MediumInfo, 2> kMedia{{
    {Medium::water, "water", "water", 0.0, 273.15,
     "Water freezes at 0 deg C and can burst the tyre or split the rim; drain it or use a salt mix before frost.",
     "density: Kell 1975"},
    {Medium::calcium_chloride_3_5, "calcium_chloride_3_5", "calcium chloride, 3.5 lb/US gal", kMix3_5,
     polynomial(kFreezing, base_distance(kMix3_5)),
     "Calcium chloride rusts rims (use a tube) and burns plants and eyes where it leaks; stir flake into water, never "
     "water onto flake.",
     "density and first ice: Melinder 2010; mix: 0.77 x flake over flake and water by mass"},
}};

}  // namespace

std::span<const MediumInfo> media() { return kMedia; }

const MediumInfo& info(Medium medium) {
  const auto found =
      std::find_if(kMedia.begin(), kMedia.end(), [&](const MediumInfo& m) { return m.medium == medium; });
  return found != kMedia.end() ? *found : kMedia.front();
}

double water_density(double temperature) {
  const double t = std::clamp(temperature, kColdest, kWarmest) - kCelsiusZero;
  constexpr std::array<double, 6> kUpper{999.83952,     16.945176,    -7.9870401e-3,
                                         -46.170461e-6, 105.56302e-9, -280.54253e-12};
  return polynomial(kUpper, t) / (1 + 16.879850e-3 * t);
}

double calcium_chloride_density(double mass_fraction, double temperature) {
  const double dt = std::clamp(temperature, kColdest, kWarmest) - kBaseKelvin, dx = base_distance(mass_fraction);
  double value = 0;
  for (std::size_t i = kDensity.size(); i-- > 0;) value = value * dt + polynomial(kDensity[i], dx);
  return value;
}

double calcium_chloride_slush_free(double mass_fraction) { return polynomial(kFreezing, base_distance(mass_fraction)); }

double density(Medium medium, double temperature) {
  if (medium == Medium::calcium_chloride_3_5) return calcium_chloride_density(info(medium).mass_fraction, temperature);
  return water_density(temperature);
}

}  // namespace sidehill
