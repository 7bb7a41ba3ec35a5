#include "sim/insight/loader_grid.h"

#include <algorithm>

#include "sim/rest/mass_sums.h"
#include "sim/rest/statics.h"

namespace sidehill {

std::vector<LoaderCell> loader_grid(const Scene& given, int steps, int headings) {
  std::vector<LoaderCell> cells;
  const Loader& loader = given.vehicle.loader;
  if (!loader.fitted) return cells;
  steps = std::clamp(steps, 2, 20);
  Scene scene = given;
  scene.terrain.features.clear();
  const Model like = build(scene);  // lends the liquid's tables
  for (int row = 0; row < steps; ++row)
    for (int column = 0; column < steps; ++column) {
      LoaderCell cell;
      cell.pin_height = loader.min_pin_height + (loader.max_pin_height - loader.min_pin_height) * row / (steps - 1);
      cell.payload = loader.rated_payload * column / (steps - 1);
      scene.ballast.loader_pin_height = cell.pin_height;
      scene.ballast.loader_payload = cell.payload;
      const Model model = build(scene, &like);
      cell.first_lift_off = first_lift_off(model).slope;
      cell.slide = slide_slope(model);
      if (const auto worst = worst_heading(model, envelope(model, headings), model.start.heading))
        cell.worst_lift_off = worst->first_lift_off, cell.worst_heading = worst->heading;
      cell.mass = total_mass(model);
      cell.rear_axle = axle_share(model).rear;
      if (const auto load = loads_at(model, 0)) {
        const LoadCheck check = check_loads(scene, model, *load);
        if (check.axles[0].capacity > 0) cell.front_axle_used = check.axles[0].used;
        for (int i : {kFrontLeft, kFrontRight}) {
          const TyreCheck& tyre = check.tyres[static_cast<std::size_t>(i)];
          if (tyre.service && tyre.margin.capacity > 0) cell.front_used = std::max(cell.front_used, tyre.margin.used);
        }
      }
      cells.push_back(cell);
    }
  return cells;
}

}  // namespace sidehill
