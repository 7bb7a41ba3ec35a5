// Densities and freezing of tyre liquids (sources in liquid.h and solution.h). The table of words is in media.cpp.
#include "vehicles/liquid.h"

#include <algorithm>
#include <array>
#include <cstddef>

#include "sim/base/constants.h"

namespace sidehill {
namespace {

constexpr double kColdest = kZeroCelsius, kWarmest = 313.15;  // of the fit for water [K]
constexpr double kBeetDensity = 1300;                         // middle of 1282 to 1318 as sold [kg/m3]
constexpr double kBeetSlushFree = kZeroCelsius - 39;          // as sold; typical, our estimate
constexpr double kPolyurethaneDensity = 1000;                 // middle of 950 to 1050 [kg/m3]

}  // namespace

const MediumInfo& info(Medium medium) {
  const auto all = media();
  const auto found = std::ranges::find(all, medium, &MediumInfo::medium);
  return found != all.end() ? *found : all.front();
}

StrengthRange strength_range(Medium medium) {
  const MediumInfo& what = info(medium);
  if (!what.solute || what.named_mix) return {};
  return {0.01, info(*what.solute).max_mass_fraction};
}

double strength(Medium medium, double concentration) {
  const StrengthRange range = strength_range(medium);
  if (!(concentration > 0) || range.max == 0) return info(medium).mass_fraction;
  return std::clamp(concentration, range.min, range.max);
}

double water_density(double temperature) {
  const double t = (temperature > kColdest ? std::min(temperature, kWarmest) : kColdest) - kZeroCelsius;
  constexpr std::array<double, 6> kUpper{999.83952,     16.945176,    -7.9870401e-3,
                                         -46.170461e-6, 105.56302e-9, -280.54253e-12};
  double upper = 0;
  for (std::size_t i = kUpper.size(); i-- > 0;) upper = upper * t + kUpper[i];
  return upper / (1 + 16.879850e-3 * t);
}

double density(Medium medium, double concentration, double temperature) {
  const MediumInfo& what = info(medium);
  if (what.solute) return solution_density(*what.solute, strength(medium, concentration), temperature);
  if (medium == Medium::beet_by_product) return kBeetDensity;
  if (medium == Medium::polyurethane) return kPolyurethaneDensity;
  return water_density(temperature);
}

double density(Medium medium, double temperature) { return density(medium, 0, temperature); }

double density_uncertainty(Medium medium, double concentration) {
  const MediumInfo& what = info(medium);
  if (what.solute) return solution_density_uncertainty(*what.solute, strength(medium, concentration));
  if (medium == Medium::beet_by_product) return 18 / kBeetDensity / 2;  // the range is taken as two deviations
  if (medium == Medium::polyurethane) return 50 / kPolyurethaneDensity / 2;
  return 0.001;
}

double expansion(Medium medium, double concentration, double from, double to) {
  return density(medium, concentration, from) / density(medium, concentration, to) - 1;
}

FreezingPoints freezing_points(Medium medium, double concentration) {
  const MediumInfo& what = info(medium);
  if (what.solute) {
    const SoluteInfo& solute = info(*what.solute);
    const double x = strength(medium, concentration);
    return {solution_slush_free(*what.solute, x), slush_free_uncertainty(*what.solute, x), solute.solid,
            solute.solid_uncertainty, solute.solid_note};
  }
  if (medium == Medium::beet_by_product)
    return {kBeetSlushFree, 3, std::nullopt, 0,
            "as sold; where it sets hard was not found (our estimate: below -45 C)"};
  if (medium == Medium::polyurethane) return {std::nullopt, 0, std::nullopt, 0, "a cured solid; nothing in it freezes"};
  return {kZeroCelsius, 0, kZeroCelsius, 0, "freezes hard at 0 C and grows by a tenth"};
}

double slush_free(Medium medium, double concentration) {
  return freezing_points(medium, concentration).slush_free.value_or(0.0);
}

double ice_share(Medium medium, double concentration, double temperature) {
  const MediumInfo& what = info(medium);
  if (what.solute) return ice_share(*what.solute, strength(medium, concentration), temperature);
  if (temperature >= slush_free(medium, concentration)) return 0;
  return medium == Medium::beet_by_product ? 0.5 : 1.0;
}

}  // namespace sidehill
