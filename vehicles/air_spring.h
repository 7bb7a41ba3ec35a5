// How a tyre stiffens when liquid takes the air's room. Knows no file, no time, no ground.
#pragma once
#include "vehicles/ballast.h"
#include "vehicles/liquid.h"

namespace sidehill {

// Secant stiffness at `load` with a fill over that without, >= 1 [-]. `cavity` inside volume [m3], `fill_fraction` 0 to
// 1, `pressure` cold gauge [Pa], `stiffness` of the tyre on air alone [N/m]. Air isothermal. A full tyre (no air) is
// held at the value of 97 % fill. Source: our estimate from p' = (p + pa) (1-f)V / ((1-f)V - dV) - pa with dV = contact
// area x deflection / 2 and contact area = load / pressure; no published measurement was found.
double stiffening_by_liquid(double cavity, double fill_fraction, double pressure, double stiffness, double load);

// One standard deviation of that stiffening [-]: half of what it adds, since nothing was measured, and never less than
// what air quicker than isothermal (exponent 1.4) would add on top. Source: our estimate.
double stiffening_uncertainty(double cavity, double fill_fraction, double pressure, double stiffness, double load);

// Cold gauge pressure [Pa] at `temperature` of a tyre set to `pressure` at `set_temperature` [K]: the air by the ideal
// gas, its room shrinking as the liquid grows. `cavity` [m3]; `concentration` as in vehicles/liquid. Casing taken
// stiff. A cured filling holds no air to speak of: `pressure` comes back.
double pressure_with_liquid(double cavity, const Mix& mix, double fill_fraction, double pressure,
                            double set_temperature, double temperature);
double pressure_with_liquid(double cavity, Medium medium, double concentration, double fill_fraction, double pressure,
                            double set_temperature, double temperature);

// Vertical stiffness [N/m] at gauge `pressure` of a tyre that has `stiffness` at `reference_pressure` [Pa]: four fifths
// of it is the air's and goes with pressure, the rest is the casing's. Source: our estimate, +-10 % of the stiffness
// for a change of pressure by half.
double stiffness_at_pressure(double stiffness, double reference_pressure, double pressure);

// The same tyre pumped to another cold gauge pressure [Pa]: its stiffness upright as above, sideways and lengthwise in
// proportion, as a tyre of its size has them. Back at the first pressure it is what it was. `given` as on its machine,
// `now` as it stands there after some pumping: a stiffness that was changed by hand since is kept in proportion.
Tyre pumped(const Tyre& given, const Tyre& now, double pressure);

struct TyreStiffness {
  double value = 0;        // vertical, secant at the load [N/m]
  double uncertainty = 0;  // one standard deviation of what pressure and filling did to it [N/m]; the tyre's own on air
                           // is not in it
};
// A machine's tyre as it stands: its stiffness on air brought to gauge `pressure` [Pa], then stiffened by `fill_now`
// [-] (the fill at today's temperature) under `load` [N]. A cured filling leaves no air spring: half as stiff again as
// on air, give or take as much. Source: our estimates, as above.
TyreStiffness stiffness_now(const Tyre& tyre, const TyreFill& fill, double fill_now, double pressure, double load);

}  // namespace sidehill
