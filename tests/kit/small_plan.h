// A job with little on hand: a plan of a few dozen ways, found in a fraction of a second.
#pragma once
#include "tests/kit/machines.h"

namespace sidehill {

inline Scene small_plan_scene() {
  Scene scene = test_machine(
      "utility_75kw",
      {"job.work=heavy_pull", "job.hitch=drawbar", "job.pull_kn=8", "job.headings=across", "job.steepest_deg=6",
       "job.working_speed_kmh=6", "job.working_time_h=100", "job.coldest_c=-8", "terrain.soil.adhesion_unlimited=false",
       "terrain.soil.adhesion=0.6", "terrain.slope_deg=6", "ballast.rear.fill_fraction=0"});
  scene.job.media = {{Medium::calcium_chloride_3_5, 0.4, {0.3, 0.5}}};
  scene.job.weights = {{"front plate", WeightPlace::front, 40, 2, 90}};
  return scene;
}

}  // namespace sidehill
