// What is not known of the density of the fillings, as a machine on whose tyres it can be tried. Knows no time, no
// file.
#pragma once
#include <cstddef>

#include "sim/model/model.h"

namespace sidehill {

// How far the density of what lies in an axle's tyres (0 front, 1 rear) may be off, +- at two standard deviations
// [kg/m3], at the filling temperature; of two unlike tyres the wider. 0 without a filling. Source: density_uncertainty;
// of an own medium what the scene says by [[tolerance]].
double fill_density_tolerance(const Scene& scene, std::size_t axle);

// The same machine with each of that axle's fillings heavier by `deviations` of its density's standard deviations,
// liquid, frozen or cured. What the changed load does to the tyres' stiffness is left out: it is a thousandth of it.
Model with_denser_fill(const Model& model, const Scene& scene, std::size_t axle, double deviations);

}  // namespace sidehill
