#include "sim/load_check.h"

#include "vehicles/tyre_library.h"

namespace sidehill {
namespace {

constexpr double kReferencePressure = 1.6e5;  // of the star-marked radials most common behind; our estimate [Pa]

TyreCheck check_tyre(const Tyre& tyre, double load, double pressure, double speed) {
  TyreCheck check;
  const LibraryTyre* known = find_tyre(tyre.size);
  if (!tyre.service.empty()) {
    check.service = parse_service(tyre.service);
    check.typical = false;
  } else if (is_tyre_size(tyre.size) && parse_tyre_size(tyre.size).service) {
    check.service = parse_tyre_size(tyre.size).service;
    check.typical = false;
  } else if (known) {
    check.service = parse_service(known->service);
  }
  check.margin.load = load;
  if (!check.service) return check;
  check.at_index = load_margin(load, *check.service, speed).capacity;
  const double reference = tyre.reference_pressure > 0 ? tyre.reference_pressure
                           : known                     ? known->reference_pressure
                                                       : kReferencePressure;
  check.margin = load_margin(load, rule_of_thumb_load(pressure, check.at_index, reference));
  return check;
}

}  // namespace

LoadCheck check_loads(const Scene& scene, const Model& model, const std::array<double, kWheels>& load) {
  LoadCheck check;
  check.speed = scene.programme.speed;
  for (std::size_t i = 0; i < kWheels; ++i)
    check.tyres[i] = check_tyre(axle_of(scene.vehicle, static_cast<int>(i)).tyre, load[i] / scene.settings.gravity,
                                model.wheels[i].tyre.pressure, check.speed);
  for (std::size_t axle = 0; axle < 2; ++axle)
    check.axles[axle] = load_margin((load[2 * axle] + load[2 * axle + 1]) / scene.settings.gravity,
                                    axle == 0 ? scene.vehicle.front.capacity : scene.vehicle.rear.capacity);
  return check;
}

}  // namespace sidehill
