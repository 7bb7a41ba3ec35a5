#include "sim/insight/loader_grid.h"

#include <algorithm>

#include "sim/job/ballast_formulas.h"
#include "sim/rest/mass_sums.h"
#include "sim/rest/statics.h"
#include "vehicles/loader_tool.h"

namespace sidehill {

namespace {

void add_counterweight(LoaderCell& cell, const Mount& mount, const Model& model) {
  AxleShare axles = axle_share(model);
  double load = 0, moment = 0;  // of the load, about the front axle
  for (const LedgerLine& line : model.ledger) {
    if (line.item != LedgerItem::payload && line.item != LedgerItem::rear_weights) continue;
    axles -= axle_share(line, model.wheelbase);
    if (line.item == LedgerItem::rear_weights) continue;
    load += line.props.mass;
    moment += line.props.mass * (line.props.com.x - model.wheelbase);
  }
  const double base = model.wheelbase, behind = -mount.x, ahead = load > 0 ? moment / load : 0;
  if (!(5 * (behind + base) - base > 0)) return;  // so far ahead that it only adds to the front
  cell.counterweight = loader_counterweight(axles.rear, axles.front, load, ahead, behind, base);
  cell.counterweight_front = axles.front + load * (1 + ahead / base) - *cell.counterweight * behind / base;
}

}  // namespace

std::vector<LoaderCell> loader_grid(const Scene& given, int steps, int headings) {
  std::vector<LoaderCell> cells;
  const Loader& loader = given.vehicle.loader;
  if (!loader.fitted) return cells;
  steps = std::clamp(steps, 2, 20);
  Scene scene = given;
  scene.terrain.features.clear();
  const Model like = build(scene);  // lends the liquid's tables
  const double lowest = std::min(lowest_pin_height(loader, scene.ballast), loader.max_pin_height);
  for (int row = 0; row < steps; ++row)
    for (int column = 0; column < steps; ++column) {
      LoaderCell cell;
      cell.pin_height = lowest + (loader.max_pin_height - lowest) * row / (steps - 1);
      cell.payload = loader.rated_payload * column / (steps - 1);
      scene.ballast.loader_pin_height = cell.pin_height;
      scene.ballast = with_load(scene.ballast, cell.payload);
      const Model model = build(scene, &like);
      cell.first_lift_off = first_lift_off(model).slope;
      cell.slide = slide_slope(model);
      if (const auto worst = worst_heading(model, envelope(model, headings), model.start.heading))
        cell.worst_lift_off = worst->first_lift_off, cell.worst_heading = worst->heading;
      cell.mass = total_mass(model);
      cell.rear_axle = axle_share(model).rear;
      add_counterweight(cell, scene.vehicle.rear_mount, model);
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
