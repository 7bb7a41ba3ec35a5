// How a tyre stiffens when liquid takes the air's room. Knows no file, no time, no ground.
#pragma once

namespace sidehill {

// Secant stiffness at `load` with a fill over that without, >= 1 [-]. `cavity` inside volume [m3], `fill_fraction` 0 to
// 1, `pressure` cold gauge [Pa], `stiffness` of the tyre on air alone [N/m]. Air isothermal. A full tyre (no air) is held at
// the value of 97 % fill.
// Source: our estimate from p' = (p + pa) (1-f)V / ((1-f)V - dV) - pa with dV = contact area x deflection / 2 and
// contact area = load / pressure; no published measurement was found.
double stiffening_by_liquid(double cavity, double fill_fraction, double pressure, double stiffness, double load);

}  // namespace sidehill
