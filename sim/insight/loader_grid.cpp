#include "sim/insight/loader_grid.h"

#include <algorithm>
#include <utility>

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

Scene with_loader(const Scene& given, double pin_height, double payload) {
  Scene scene = given;
  scene.terrain.features.clear();
  scene.ballast.loader_pin_height = pin_height;
  scene.ballast = with_load(scene.ballast, payload);
  return scene;
}

LoaderAxes loader_axes(const Scene& scene, int steps) {
  LoaderAxes axes;
  const Loader& loader = scene.vehicle.loader;
  if (!loader.fitted) return axes;
  steps = std::clamp(steps, 2, 20);
  const double lowest = std::min(lowest_pin_height(loader, scene.ballast), loader.max_pin_height);
  for (int i = 0; i < steps; ++i) {
    axes.heights.push_back(lowest + (loader.max_pin_height - lowest) * i / (steps - 1));
    axes.loads.push_back(loader.rated_payload * i / (steps - 1));
  }
  return axes;
}

LoaderCell loader_cell(const Scene& given, const Model& like, double pin_height, double payload, int headings,
                       const std::stop_token& stop) {
  LoaderCell cell;
  cell.pin_height = pin_height;
  cell.payload = payload;
  const Scene scene = with_loader(given, pin_height, payload);
  const Model model = build(scene, &like);
  const StaticSolution statics = solve_statics(model, stop);
  cell.first_lift_off = statics.first_lift_off;
  cell.slide = statics.slide;
  cell.tip_over = statics.tip_over;
  if (const auto worst = worst_heading(model, envelope(model, headings, false, stop), model.start.heading, stop))
    cell.worst_lift_off = worst->first_lift_off, cell.worst_heading = worst->heading;
  cell.mass = total_mass(model);
  cell.rear_axle = axle_share(model).rear;
  add_counterweight(cell, scene.vehicle.rear_mount, model);
  if (const auto load = loads_at(model, 0, stop)) {
    const LoadCheck check = check_loads(scene, model, *load);
    if (check.axles[0].capacity > 0) cell.front_axle_used = check.axles[0].used;
    for (int i : {kFrontLeft, kFrontRight}) {
      const TyreCheck& tyre = check.tyres[static_cast<std::size_t>(i)];
      if (tyre.service && tyre.margin.capacity > 0) cell.front_used = std::max(cell.front_used, tyre.margin.used);
    }
  }
  return cell;
}

LoaderDoubt loader_doubt(const Scene& given, const Model& like, double pin_height, double payload,
                         const std::stop_token& stop) {
  const Scene scene = with_loader(given, pin_height, payload);
  const Model model = build(scene, &like);
  const Uncertainty all = uncertainty(scene, model, solve_statics(model, stop), stop);
  return {all.first_lift_off, all.slide, all.tip_over};
}

LoaderFirst first_to_give_way(const LoaderCell& cell) {
  LoaderFirst first;
  for (const auto& [cause, slope] : {std::pair{LoaderCause::slides, cell.slide},
                                     {LoaderCause::lifts, cell.first_lift_off},
                                     {LoaderCause::goes_over, cell.tip_over}})
    if (slope && (!first.slope || *slope < *first.slope)) first = {cause, slope};
  return first;
}

std::vector<LoaderCell> loader_grid(const Scene& scene, int steps, int headings) {
  std::vector<LoaderCell> cells;
  const LoaderAxes axes = loader_axes(scene, steps);
  if (axes.heights.empty()) return cells;
  Scene even = scene;
  even.terrain.features.clear();
  const Model like = build(even);
  for (double height : axes.heights)
    for (double load : axes.loads) cells.push_back(loader_cell(scene, like, height, load, headings));
  return cells;
}

}  // namespace sidehill
