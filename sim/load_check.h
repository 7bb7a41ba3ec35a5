// What stands on each tyre and axle against what it may carry. Knows no file, no time.
#pragma once
#include <array>

#include "sim/model.h"
#include "vehicles/load_index.h"

namespace sidehill {

struct TyreCheck {
  std::optional<Service> service;  // none: nothing known about this size
  bool typical = true;             // true: typical of the size, the sidewall was not given
  double at_index = 0;             // what the load index allows at this speed [kg]; 0 = faster than the symbol allows
  LoadMargin margin;               // at this pressure, by the rule of thumb [kg]
};

struct LoadCheck {
  double speed = 0;  // [m/s]
  std::array<TyreCheck, kWheels> tyres;
  std::array<LoadMargin, 2> axles;  // front, rear; capacity 0 = not known, margin then without meaning
};

// `load` per wheel [N], in the order of enum Wheel, at the scene's programme speed and the model's pressures. Below its
// reference pressure a tyre carries less, by the press's rule of thumb: never for a signed answer.
LoadCheck check_loads(const Scene& scene, const Model& model, const std::array<double, kWheels>& load);

}  // namespace sidehill
