#include "sim/model/fill_density.h"

#include <algorithm>

#include "vehicles/liquid.h"

namespace sidehill {
double fill_density_tolerance(const Scene& scene, std::size_t axle) {
  double widest = 0;
  for (std::size_t i = 2 * axle; i < 2 * axle + 2; ++i) {
    const TyreFill& fill = scene.ballast.fill[i];
    if (fill.fill_fraction > 0)
      widest = std::max(widest, 2 * density_uncertainty(fill.medium, fill.concentration) *
                                    density(fill.medium, fill.concentration, scene.settings.filling_temperature));
  }
  return widest;
}

Model with_denser_fill(const Model& model, const Scene& scene, std::size_t axle, double deviations) {
  std::vector<LedgerLine> ledger = model.ledger;
  for (LedgerLine& line : ledger)
    for (std::size_t i = 2 * axle; i < 2 * axle + 2; ++i) {
      if (line.item != LedgerItem::fill || line.body != kWheelBodies[i]) continue;
      const TyreFill& fill = scene.ballast.fill[i];
      const double heavier = 1 + deviations * density_uncertainty(fill.medium, fill.concentration);
      line.props.mass *= heavier;
      line.props.inertia *= heavier;
    }
  return with_ledger(model, std::move(ledger));
}

}  // namespace sidehill
