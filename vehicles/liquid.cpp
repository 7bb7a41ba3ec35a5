// Densities and freezing of tyre liquids (sources in liquid.h and solution.h). The table of words is in media.cpp.
#include "vehicles/liquid.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>

#include "sim/base/constants.h"

namespace sidehill {
namespace {

constexpr double kColdest = kZeroCelsius, kWarmest = 313.15;  // of the fit for water [K]
constexpr double kBeetDensity = 1300;                         // middle of 1282 to 1318 as sold [kg/m3]
constexpr double kBeetSlushFree = kZeroCelsius - 39;          // as sold; typical, our estimate
constexpr double kPolyurethaneDensity = 1000;                 // middle of 950 to 1050 [kg/m3]

FreezingPoints own_freezing(const OwnMedium* own) {
  FreezingPoints points;
  points.slush_free = own ? first_ice_of(*own) : std::nullopt;
  points.solid = own ? solid_of(*own) : std::nullopt;
  points.slush_free_uncertainty = points.slush_free ? kOwnFrostUncertainty : 0;
  points.solid_uncertainty = points.solid ? kOwnFrostUncertainty : 0;
  points.known = points.slush_free.has_value();
  points.note = !points.slush_free ? "first ice is not given, so frost is not known"
                : !points.solid    ? "as on the data sheet; where it sets hard is not given, so it is not known"
                                   : "as on the data sheet";
  return points;
}

}  // namespace

const MediumInfo& info(Medium medium) {
  const auto all = media_choices();
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

std::string medium_name(const Mix& mix, bool unlike_others) {
  const MediumInfo& what = info(mix.medium);
  if (mix.medium == Medium::own) return mix.own && !mix.own->name.empty() ? mix.own->name : std::string(what.name);
  if (!what.solute) return std::string(what.name);
  // Towards the warm side: a name must not promise more than the first ice holds. 1e-6 K is rounding.
  const double first_ice = slush_free(mix.medium, mix.concentration) - kZeroCelsius;
  const long whole = std::lround(std::ceil(first_ice - 1e-6));
  std::string name(what.named_mix ? info(*what.solute).name : what.name);
  name += ", to " + std::to_string(whole) + " °C";
  if (unlike_others && what.named_mix) name += " (" + std::string(what.trade) + ")";
  return name;
}

Rust rust_of(const Mix& mix) { return info(mix.medium).rust; }
std::string_view corrosion_of(const Mix& mix) {
  const bool typed = mix.medium == Medium::own && mix.own && !mix.own->rust.empty();
  return typed ? std::string_view(mix.own->rust) : info(mix.medium).corrosion;
}
std::string_view toxicity_of(const Mix& mix) {
  const bool typed = mix.medium == Medium::own && mix.own && !mix.own->poison.empty();
  return typed ? std::string_view(mix.own->poison) : info(mix.medium).toxicity;
}

double density(const Mix& mix, double temperature) {
  if (mix.medium != Medium::own) return density(mix.medium, mix.concentration, temperature);
  return mix.own && mix.own->density > 0 ? mix.own->density : std::numeric_limits<double>::quiet_NaN();
}
double density(Medium medium, double concentration, double temperature) {
  if (medium == Medium::own) return density(Mix{medium, 0, nullptr}, temperature);
  const MediumInfo& what = info(medium);
  if (what.solute) return solution_density(*what.solute, strength(medium, concentration), temperature);
  if (medium == Medium::beet_by_product) return kBeetDensity;
  if (medium == Medium::polyurethane) return kPolyurethaneDensity;
  return water_density(temperature);
}

double density(Medium medium, double temperature) { return density(medium, 0, temperature); }

double density_uncertainty(const Mix& mix) { return density_uncertainty(mix.medium, mix.concentration); }
double density_uncertainty(Medium medium, double concentration) {
  if (medium == Medium::own) return kOwnDensityUncertainty;
  const MediumInfo& what = info(medium);
  if (what.solute) return solution_density_uncertainty(*what.solute, strength(medium, concentration));
  if (medium == Medium::beet_by_product) return 18 / kBeetDensity / 2;  // the range is taken as two deviations
  if (medium == Medium::polyurethane) return 50 / kPolyurethaneDensity / 2;
  return 0.001;
}

double expansion(const Mix& mix, double from, double to) {
  return mix.medium == Medium::own ? 0 : expansion(mix.medium, mix.concentration, from, to);
}
double expansion(Medium medium, double concentration, double from, double to) {
  return density(medium, concentration, from) / density(medium, concentration, to) - 1;
}

bool expansion_known(Medium medium) { return info(medium).solute || medium == Medium::water; }

FreezingPoints freezing_points(const Mix& mix) {
  return mix.medium == Medium::own ? own_freezing(mix.own) : freezing_points(mix.medium, mix.concentration);
}
FreezingPoints freezing_points(Medium medium, double concentration) {
  if (medium == Medium::own) return own_freezing(nullptr);
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

std::optional<double> ice_share(const Mix& mix, double temperature) {
  if (mix.medium != Medium::own) return ice_share(mix.medium, mix.concentration, temperature);
  const FreezingPoints points = own_freezing(mix.own);
  if (points.solid && temperature < *points.solid) return 1;
  return points.slush_free && temperature >= *points.slush_free ? std::optional(0.0) : std::nullopt;
}
double ice_share(Medium medium, double concentration, double temperature) {
  const MediumInfo& what = info(medium);
  if (what.solute) return ice_share(*what.solute, strength(medium, concentration), temperature);
  if (temperature >= slush_free(medium, concentration)) return 0;
  return medium == Medium::beet_by_product ? 0.5 : 1.0;
}

}  // namespace sidehill
