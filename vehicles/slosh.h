// How liquid swings in the plane of a standing wheel: first frequency and the pendulum that has it. Knows no file, no
// machine, no time.
#pragma once
#include "vehicles/cavity.h"

namespace sidehill {

struct Slosh {
  double lambda = 0;            // omega^2 x outer radius / gravity [-]; 0 = nothing swings (empty or brim-full)
  double pendulum_length = 0;   // of the simple pendulum as slow as that [m]
  double gyration_squared = 0;  // of a pendulum hung on the axle with the liquid's centroid: centroid depth x length
                                // [m2], so that omega^2 = gravity x depth / gyration_squared
};

// First swinging mode, small and without loss, upright wheel at rest. Nothing swings below 0.1 % or above 99.9 % of
// fill. Where the surface just meets the rim's top a film over the rim makes the true value dip; there it is an
// estimate. Source: Rayleigh-Ritz for the linear free-surface problem (Lamb, Hydrodynamics, art. 257) with the
// potential taken constant across the tyre: exact across a rectangular section, an upper bound on the frequency in a
// rounded one. Held within 0.2 % of reference values at rim-to-tread ratios 0.5 to 0.7, and of the plain cylinder.
Slosh first_slosh(const Cavity& cavity, double fill_fraction);

double slosh_frequency(const Slosh& slosh, double gravity);  // [Hz], gravity [m/s2]

}  // namespace sidehill
