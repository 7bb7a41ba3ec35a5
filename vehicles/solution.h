// What is dissolved in tyre water: density and first ice by strength and temperature. Knows no tyre, no file, no time.
// Source of every fit: Melinder 2010, Properties of Secondary Working Fluids for Indirect Systems (IIR), polynomials in
// mass fraction and temperature, coefficients as carried by the open property library CoolProp.
#pragma once
#include <optional>
#include <string_view>

namespace sidehill {

enum class Solute {
  sodium_chloride,
  calcium_chloride,
  magnesium_chloride,
  ethylene_glycol,
  propylene_glycol,
  methanol
};

struct SoluteInfo {
  std::string_view name;
  double max_mass_fraction;      // of the fit, or of the branch that is of use [-]
  std::optional<double> solid;   // eutectic: nothing liquid is left below it, whatever the strength [K]; none = never
                                 // in reason
  double solid_uncertainty = 0;  // half the spread of published eutectics [K]
  std::string_view solid_note;   // what is known about it
};
const SoluteInfo& info(Solute solute);

// Density [kg/m3] of `mass_fraction` (of water-free solute over solution, clamped to 0..max) at `temperature` [K],
// clamped to first ice..313.15 K: what is below has ice in it, a matter for `ice_share`, not for the third digit.
double solution_density(Solute solute, double mass_fraction, double temperature);

// Temperature of the first ice [K]. `mass_fraction` clamped to 0..max.
double solution_slush_free(Solute solute, double mass_fraction);

// How far the fits may be off, one standard deviation: density over the value [-] and first ice [K], by strength. As
// wide as second sources lie off, never below 0.1 % and 0.5 K (how well such fits hold their own data, our estimate);
// grows with strength. Sources and status stand beside the numbers in solution_doubt.cpp.
double solution_density_uncertainty(Solute solute, double mass_fraction);
double slush_free_uncertainty(Solute solute, double mass_fraction);

// Weakest solution free of ice down to `temperature` [K]; 0 at 273.15 K and above, nothing if none is.
std::optional<double> mass_fraction_for(Solute solute, double temperature);

// Ice over the whole by mass, 0 to 1, at `temperature` [K]: what froze is water, what is left is as strong as first ice
// at that temperature demands. 1 below the eutectic. Below the fit's coldest point but above the eutectic the strongest
// solution of the fit is taken. Source: lever rule on the fit.
double ice_share(Solute solute, double mass_fraction, double temperature);

}  // namespace sidehill
