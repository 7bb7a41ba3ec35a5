#include "sim/plan/plan_filling.h"

#include "sim/plan/plan_log.h"

namespace sidehill {

std::vector<AxleFilling> fillings_to_do(const Scene& scene, const std::string& name, const std::string& day) {
  std::vector<AxleFilling> out = axle_fillings(scene);
  if (scene.plan.made.empty()) return out;
  const LoggedState now = read_log(scene, name, day).now;
  for (AxleFilling& filling : out) {
    const std::size_t left = filling.front ? kFrontLeft : kRearLeft;
    std::array<TyreHolds, 2> today;
    for (std::size_t i = 0; i < 2; ++i) {
      const TyreState& in = now.tyres[left + i];
      // Other wheels take the place of those that are on: theirs are empty.
      const bool comes_off = !now.planned_wheels[filling.front ? 0 : 1] && !keeps_its_tyres(scene, name, filling.front);
      today[i].volume = comes_off ? 0 : in.volume;
      today[i].fill.medium = in.medium;
      today[i].fill.concentration = in.concentration;
    }
    filling.today = today;
  }
  return out;
}

}  // namespace sidehill
