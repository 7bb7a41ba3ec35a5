// Filling a tyre by hand: valve clock, level a person can measure, litres, time, what the gauge shows, what changes
// when the wheel is let down. Knows no file, no machine, no ground. Angles of the valve are the clock's: 12 = rim top,
// 6 = down.
#pragma once
#include "vehicles/cavity.h"
#include "vehicles/vehicle.h"

namespace sidehill {

// The valve sits in the rim, so liquid runs out of it until the level has sunk to the valve: the height of the rim's
// radius at that hour. `hour` any number, 10 and 2 are the same. Fill fraction [-] of the upright wheel.
double fill_at_valve(const Cavity& cavity, double hour);

// The fill [-] whose surface stands at `level` over the wheel centre [m], wheel upright: the inverse of
// LiquidPlace::level. 0 and 1 beyond the cavity's lowest and highest point. Source: closed form, as liquid_place.
double fill_at_level(const Cavity& cavity, double level);

// The hour between 6 and 12 (left side) at which the valve must stand for a fill; clamped to 6 and 12 where the level
// lies below the rim's lowest or above its highest point: then `reached` is false and a gauge, scale or meter must say.
struct ValveClock {
  double hour = 12;
  bool reached = true;
};
ValveClock valve_for_fill(const Cavity& cavity, double fill_fraction);

// A tyre upright on flat ground, liquid in it.
struct FillAnswer {
  double volume = 0;             // of liquid [m3]
  double level = 0;              // of the surface over the wheel centre [m]
  double level_over_ground = 0;  // wheel jacked just clear, tyre round [m]
  double level_over_rim = 0;     // over the rim's lowest point, along the rim face [m]; negative = below the rim
  double wetted_height = 0;      // of liquid over the cavity's lowest point [m]
  double centroid_height = 0;    // over the ground, jacked [m]
  double air_volume = 0;         // [m3]
};
FillAnswer fill_answer(const Cavity& cavity, double free_radius, double fill_fraction);

// The same tyre let down on the ground. The flattened part pushes liquid up: displaced volume = contact area x
// deflection / 2 with contact area = load / gauge pressure. Source: our estimate, +-50 % of the rise.
struct LoadedFill {
  double deflection = 0;         // the axle sinks by it [m]
  double displaced = 0;          // room lost in the cavity [m3]
  double rise = 0;               // of the level against the wheel centre [m]
  double level_over_ground = 0;  // [m]
  double fill_fraction = 0;      // liquid over the room that is left [-]
};
// `load` [N], `stiffness` [N/m] > 0, `pressure` gauge [Pa] (20 kPa at least is assumed).
LoadedFill loaded_fill(const Cavity& cavity, double free_radius, double fill_fraction, double load, double stiffness,
                       double pressure);

// Time to pump [s] at `flow` [m3/s]; 0 where there is nothing to pump or no flow.
double pump_time(double volume, double flow);

// What a gauge shows [Pa] with the valve at `hour`: the air's `air_pressure` if the valve stands above the level, else
// density x gravity x depth more.
double gauge_reading(const Cavity& cavity, double fill_fraction, double hour, double air_pressure, double density,
                     double gravity);

}  // namespace sidehill
