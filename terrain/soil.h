// What the ground is made of, as far as grip and rolling are concerned. Knows no machine, no file, no time.
#pragma once
#include <string>

namespace sidehill {

struct Soil {
  std::string name = "firm grassland";
  bool adhesion_unlimited = false;   // true: wheels never slide (for comparison with rigid calculations)
  double adhesion = 0.6;             // peak tangential force over normal load, along the way a wheel rolls [-], > 0
  double adhesion_across_ratio = 1;  // peak across the way it rolls, over that along it [-], > 0: an ellipse
  double rolling_resistance = 0.06;  // rolling resistance force over normal load [-], >= 0
};

}  // namespace sidehill
