// How far the fits of solution.h may be off: as far as second sources lie from them. Knows no tyre, no file, no time.
//
// Read: the VDI Heat Atlas (brines, methanol) and the ASHRAE handbook (glycols), as fitted by the open property library
// CoolProp, and Lange's Handbook, table 5.13 (sodium and magnesium chloride); their values stand in
// tests/data/solution_second_sources.csv. Recalled, so our estimate: brine tables of refrigeration handbooks between 15
// and 21 % calcium chloride, where the fit of the VDI values has no point of its own; first ice of methanol. Which
// source is right is not known; the largest distance is taken as one standard deviation, which is the cautious side.
#include <array>
#include <cmath>
#include <cstddef>

#include "vehicles/solution.h"

namespace sidehill {
namespace {

struct Doubt {
  double mass_fraction, value;
};
using Doubts = std::array<Doubt, 6>;  // linear between, held beyond the ends; unused places repeat the last

// Density over the value [-], order of enum Solute.
constexpr std::array<Doubts, 6> kDensity{{
    // VDI: 0.15 % at 0 C, Lange 0.11 %.
    {{{0, 0.001}, {0.07, 0.0016}, {0.23, 0.0016}, {0.23, 0.0016}, {0.23, 0.0016}, {0.23, 0.0016}}},
    // VDI: 0.25 % in the median; 0.27 % (0.147) to 0.66 % (0.298, -47 C), always denser in the cold.
    {{{0, 0.001}, {0.15, 0.004}, {0.25, 0.0055}, {0.285, 0.0067}, {0.30, 0.0067}, {0.30, 0.0067}}},
    // VDI: 0.21 % (0.09) to 0.38 % (0.184); Lange 0.21 %.
    {{{0, 0.001}, {0.08, 0.0022}, {0.15, 0.0025}, {0.184, 0.004}, {0.205, 0.004}, {0.205, 0.004}}},
    // ASHRAE: 0.35 % (0.15) to 0.82 % (0.60, 40 C).
    {{{0, 0.001}, {0.10, 0.0035}, {0.60, 0.0085}, {0.60, 0.0085}, {0.60, 0.0085}, {0.60, 0.0085}}},
    // ASHRAE: 0.40 % (0.10), 0.50 % (0.20), 0.68 % (0.60, 40 C).
    {{{0, 0.001}, {0.10, 0.0042}, {0.15, 0.005}, {0.60, 0.007}, {0.60, 0.007}, {0.60, 0.007}}},
    // VDI: 0.27 % (0.30, -20 C), less at either side.
    {{{0, 0.001}, {0.10, 0.001}, {0.30, 0.003}, {0.60, 0.003}, {0.60, 0.003}, {0.60, 0.003}}},
}};

// First ice [K], order of enum Solute.
constexpr std::array<Doubts, 6> kSlushFree{{
    // VDI: 0.2 K, 0.53 K at the end of the fit; Lange 0.2 K.
    {{{0, 0.5}, {0.20, 0.5}, {0.23, 0.6}, {0.23, 0.6}, {0.23, 0.6}, {0.23, 0.6}}},
    // VDI: 0.5 K (0.147), recalled tables 0.8 K (0.19, warmer); VDI 3 K (0.284) and 7.5 K (0.299), both colder.
    {{{0, 0.5}, {0.10, 0.5}, {0.147, 1.0}, {0.25, 1.0}, {0.284, 3.3}, {0.299, 7.5}}},
    // Lange: 1.2 K to 1.3 K warmer (0.15 to 0.20); VDI 3.1 K colder (0.20). 1.0 K below: our estimate.
    {{{0, 1.0}, {0.12, 1.0}, {0.15, 1.35}, {0.17, 2.0}, {0.184, 2.7}, {0.195, 3.1}}},
    // ASHRAE: 1.6 K (0.40) to 2.6 K (0.60), warmer.
    {{{0, 0.5}, {0.25, 0.5}, {0.45, 2.0}, {0.60, 2.7}, {0.60, 2.7}, {0.60, 2.7}}},
    // ASHRAE: 0.5 K (0.40) to 1.4 K (0.55), colder.
    {{{0, 0.5}, {0.35, 0.5}, {0.50, 1.4}, {0.60, 1.5}, {0.60, 1.5}, {0.60, 1.5}}},
    // No second source read; our estimate.
    {{{0, 0.5}, {0.20, 0.5}, {0.60, 1.5}, {0.60, 1.5}, {0.60, 1.5}, {0.60, 1.5}}},
}};

double at(const Doubts& doubts, double mass_fraction) {
  if (!(mass_fraction > 0)) return doubts.front().value;
  for (std::size_t i = 1; i < doubts.size(); ++i) {
    const Doubt &a = doubts[i - 1], &b = doubts[i];
    if (mass_fraction < b.mass_fraction)
      return std::lerp(a.value, b.value, (mass_fraction - a.mass_fraction) / (b.mass_fraction - a.mass_fraction));
  }
  return doubts.back().value;
}

}  // namespace

double solution_density_uncertainty(Solute solute, double mass_fraction) {
  return at(kDensity[static_cast<std::size_t>(solute)], mass_fraction);
}

double slush_free_uncertainty(Solute solute, double mass_fraction) {
  return at(kSlushFree[static_cast<std::size_t>(solute)], mass_fraction);
}

}  // namespace sidehill
