#include "sim/model/fill_frost.h"

#include "vehicles/winter.h"

namespace sidehill {

bool frost_not_known(const Scene& scene, std::size_t wheel) {
  return scene.ballast.fill[wheel].fill_fraction > 0 &&
         scene.settings.temperature < scene.settings.filling_temperature &&
         winter(mix_of(scene.ballast, wheel), scene.settings.temperature).frost == Frost::not_known;
}

bool frost_not_known(const Scene& scene) {
  for (std::size_t i = 0; i < kWheels; ++i)
    if (frost_not_known(scene, i)) return true;
  return false;
}

}  // namespace sidehill
