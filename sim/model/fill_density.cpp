#include "sim/model/fill_density.h"

#include <algorithm>

#include "vehicles/liquid.h"

namespace sidehill {
namespace {

// One standard deviation over the density [-]. Of an own medium a [[tolerance]] counts before the usual one.
double deviation(const Scene& scene, std::size_t wheel) {
  const Mix mix = mix_of(scene.ballast, wheel);
  if (mix.medium == Medium::own)
    for (const Tolerance& said : scene.tolerances)
      if (said.key == "ballast.own_medium.density_kg_per_m3" && mix.own->density > 0)
        return said.value / 2 / mix.own->density;
  return density_uncertainty(mix);
}

}  // namespace

double fill_density_tolerance(const Scene& scene, std::size_t axle) {
  double widest = 0;
  for (std::size_t i = 2 * axle; i < 2 * axle + 2; ++i) {
    const TyreFill& fill = scene.ballast.fill[i];
    if (fill.fill_fraction > 0)
      widest = std::max(
          widest, 2 * deviation(scene, i) * density(mix_of(scene.ballast, i), scene.settings.filling_temperature));
  }
  return widest;
}

Model with_denser_fill(const Model& model, const Scene& scene, std::size_t axle, double deviations) {
  std::vector<LedgerLine> ledger = model.ledger;
  for (LedgerLine& line : ledger)
    for (std::size_t i = 2 * axle; i < 2 * axle + 2; ++i) {
      if (line.item != LedgerItem::fill || line.body != kWheelBodies[i]) continue;
      const double heavier = 1 + deviations * deviation(scene, i);
      line.props.mass *= heavier;
      line.props.inertia *= heavier;
    }
  return with_ledger(model, std::move(ledger));
}

}  // namespace sidehill
