#include "sim/job/implement_here.h"

namespace sidehill {

ImplementHere implement_here(const Scene& scene) {
  constexpr double kNearlyAll = 0.95;
  const Job& job = scene.job;
  if (job.hitch == JobHitch::none) return ImplementHere::all;
  if (job.hitch == JobHitch::drawbar) return scene.ballast.trailer.mass > 0 ? ImplementHere::all : ImplementHere::none;
  const double hangs = scene.ballast.implement.mass;
  if (!(job.implement_mass > 0) || hangs >= kNearlyAll * job.implement_mass) return ImplementHere::all;
  return hangs > 0 ? ImplementHere::part : ImplementHere::none;
}

}  // namespace sidehill
