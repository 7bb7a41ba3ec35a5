// The machine of the scene on the scales, from its left: level, or with one axle raised; what is read stands where it
// is read. Knows Dear ImGui's draw list and the vehicle; works nothing out.
#pragma once
#include <string>

#include "render/screen/kit/ui.h"
#include "vehicles/vehicle.h"

namespace sidehill::screen {

struct WeighingSketch {
  double raised = 0;                                    // of the axle that is raised [m]; 0 = level
  bool front_raised = true;                             // which
  std::string front, rear;                              // under each axle's scale: "1 640 kg", "?"
  std::string height;                                   // beside the raised axle; empty = none
  bool has_centre = false;                              // the centre of gravity is known
  double centre_x = 0, centre_z = 0, centre_doubt = 0;  // ahead of the rear axle, up, +- of the height [m]
};

void draw_weighing_sketch(Ui& ui, Rect area, const Vehicle& vehicle, const WeighingSketch& sketch);

}  // namespace sidehill::screen
