#include "sim/rest/mass_sums.h"

#include <algorithm>

#include "sim/model/builder.h"
#include "sim/rest/statics.h"
#include "vehicles/tyre_cavity.h"

namespace sidehill {

std::array<double, kWheels> mass_in_wheels(const Model& model) {
  std::array<double, kWheels> mass{};
  for (std::size_t i = 0; i < kWheels; ++i) mass[i] = model.wheels[i].dry.mass + model.wheels[i].liquid.mass;
  return mass;
}

std::optional<PriceRange> cost_of_fill(const Scene& scene, std::size_t wheel) {
  const TyreFill& fill = scene.ballast.fill[wheel];
  const PriceRange price = price_of(scene.ballast, wheel);
  if (fill.fill_fraction <= 0 || !is_given(price)) return std::nullopt;
  return cost_of(price,
                 fill.fill_fraction * cavity_volume(cavity_of(axle_of(scene.vehicle, static_cast<int>(wheel)).tyre)));
}

std::optional<PriceRange> cost_of_fills(const Scene& scene) {
  std::optional<PriceRange> all;
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (scene.ballast.fill[i].fill_fraction <= 0) continue;
    const auto one = cost_of_fill(scene, i);
    if (!one) return std::nullopt;
    if (!all) all.emplace();
    all->low += one->low;
    all->high += one->high;
  }
  return all;
}

double fill_mass(const Model& model, bool front) {
  double mass = 0;
  for (const LedgerLine& line : model.ledger) {
    const bool in_front = line.body == LedgerBody::front_left || line.body == LedgerBody::front_right;
    if (line.item == LedgerItem::fill && in_front == front) mass += line.props.mass;
  }
  return mass;
}

AxleShare axle_share(const LedgerLine& line, double wheelbase) {
  const double front = line.props.mass * line.props.com.x / wheelbase;
  return {front, line.props.mass - front};
}

AxleShare drawbar_share(const Model& model) {
  if (!(model.trailer.mass > 0)) return {};
  const double on_hitch = std::min(model.trailer.drawbar_load, model.trailer.mass);
  const double front = on_hitch * model.hitch.x / model.wheelbase;
  return {front, on_hitch - front};
}

AxleShare axle_share(const Model& model) {
  AxleShare all = drawbar_share(model);
  for (const LedgerLine& line : model.ledger) {
    const AxleShare share = axle_share(line, model.wheelbase);
    all.front += share.front;
    all.rear += share.rear;
  }
  return all;
}

std::vector<MassCase> mass_cases(const Scene& scene, const Model& model, const std::stop_token& stop) {
  std::vector<LedgerLine> bare;
  for (const LedgerLine& line : model.ledger)
    if (line.item != LedgerItem::driver && line.item != LedgerItem::tank) bare.push_back(line);
  std::vector<MassCase> cases;
  for (const bool driver : {true, false})
    for (const bool full : {true, false}) {
      if (!full && scene.vehicle.tank.capacity == 0) continue;
      std::vector<LedgerLine> ledger = bare;
      if (driver) ledger.push_back(driver_line(scene.vehicle));
      if (full) ledger.push_back(tank_line(scene.vehicle, 1));
      Model other = with_ledger(model, std::move(ledger));
      other.terrain.features.clear();
      cases.push_back({driver, full, total_mass(other), centre_of_gravity(other), axle_share(other),
                       first_lift_off(other, stop).slope});
    }
  return cases;
}

}  // namespace sidehill
