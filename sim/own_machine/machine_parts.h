// The steps of make_machine (sim/own_machine/made_machine.h), in their order. Not for others.
#pragma once
#include "sim/own_machine/made_machine.h"

namespace sidehill {

constexpr double kKneeHigh = 0.4;    // bucket pin while it was weighed and when it is asked [m]
constexpr double kFuelUnsaid = 0.5;  // of the tank, if nobody looked [-]

// The machine over its class, each 1 for a machine like it [-].
struct Scales {
  double mass = 1;    // unladen
  double size = 1;    // cube root of the mass
  double length = 1;  // wheelbase
  double height = 1;  // rear tyres' radius
  double front = 1;   // front tyres' radius
  // The loader's own, over that of `loader`: of the class, or of a utility machine where the class has none.
  Loader loader;
  double loader_mass = 1, loader_length = 1, loader_height = 1;
  double class_mass = 0;                        // unladen [kg]
  double class_centre_height = 0;               // [m]
  double class_front_share = 0;                 // [-]
  bool mass_known = false;                      // weighed
  std::optional<double> front_load, rear_load;  // weighed, level [kg]
  std::optional<double> weighed;                // their sum, or the total [kg]
};

// Sizes and masses of the whole; tyres too (made.vehicle.front.tyre and rear.tyre). Reports what does not add up.
Scales scales_of(const MachineEntry& entry, const Vehicle& like, MadeMachine& made);
// Every number of the vehicle with its origin, but for masses and place of the chassis.
void scale_parts(const MachineEntry& entry, const Vehicle& like, const Scales& scales, MadeMachine& made);
// The chassis, so that the whole weighs what was weighed, where it was weighed.
void place_masses(const MachineEntry& entry, const Vehicle& like, const Scales& scales, MadeMachine& made);
// What a person at the machine would shake the head at.
void check_sense(const MachineEntry& entry, const Vehicle& like, MadeMachine& made);

}  // namespace sidehill
