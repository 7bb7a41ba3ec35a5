// Litres of diesel by published equations: of a tractor at part load, over a year, and of carrying a mass along. Knows
// no scene and no model.
// Source: Grisso, Kocher and Vaughan 2004 and Grisso, "Predicting Tractor Diesel Fuel Consumption" (the form of both
// equations was read, their coefficients are from memory: check against the print); ASAE EP496.3 6.3.2.1 as quoted
// there.
#pragma once
#include <span>

#include "sim/job/published.h"

namespace sidehill {

// Stands with every answer of the two equations.
inline constexpr const char* kFuelCaution =
    "The coefficients of the fuel equations are from memory: check against the print (Grisso, Kocher and Vaughan "
    "2004).";

// Litres for each kilowatt-hour at the PTO [L/kWh], engine at full throttle. `share`: PTO-equivalent power over rated
// PTO power, more than 0 to 1 [-]; not a number outside. Source: ASAE D497.4, the older curve.
double fuel_per_energy_full_throttle(double share);

// Litres an hour for each kilowatt of rated PTO power [L/(h kW)]. `share` as above, 0 to 1; `speed_cut_percent`: how
// far the engine speed is below full throttle [%], 0 to 100; not a number outside. Source: Grisso et al. 2004.
double fuel_rate_per_rated_power(double share, double speed_cut_percent);
// The same for each kilowatt-hour at the PTO [L/kWh]; `share` more than 0.
double fuel_per_energy(double share, double speed_cut_percent);

// Mean use over a year of all work, for each kilowatt-hour of rated PTO power [L/kWh]. Source: ASAE EP496.3 6.3.2.1.
inline constexpr double kYearlyMeanFuel = 0.223;

// What carrying a mass along the level costs.
struct RollingCost {
  double power = 0;            // to roll it [W]
  double litres_per_hour = 0;  // [L/h]
};
// Of our assumptions, published by nobody.
inline constexpr double kDriveEfficiency = 0.85;  // from engine to wheel [-]
inline constexpr double kMarginalFuel = 0.30;     // for one kilowatt-hour more [L/kWh]
inline constexpr const char* kRollingCostCaution =
    "Litres of a mass: rolling resistance times speed, with 85 % from engine to wheel and 0.30 L for each kWh more. "
    "The "
    "two numbers are our assumptions. Published litres for each tonne are 2 to 3 times as much.";
// `mass` [kg], `rolling` resistance over load [-], `speed` [m/s].
RollingCost rolling_cost(double mass, double rolling, double speed);

// What is published of fuel and mass, to stand beside the above.
std::span<const PublishedFigure> published_fuel();

}  // namespace sidehill
