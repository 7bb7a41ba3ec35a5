#include "sim/own_machine/weighed_machine.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>

#include "sim/base/errors.h"
#include "sim/model/model.h"
#include "sim/rest/mass_sums.h"
#include "sim/rest/statics.h"

namespace sidehill {
namespace {

constexpr double kLeastChassis = 0.2;  // of what was weighed: less is no tractor, but a slip in what was on it

struct Axles {
  double front = 0, rear = 0;
};

// How far the wheel centres stand below those of unloaded tyres, level [m].
Axles sinks(const Vehicle& v, const Weighing& w) {
  return {v.front.tyre.free_radius - w.front_radius, v.rear.tyre.free_radius - w.rear_radius};
}

void set_tolerance(std::vector<Tolerance>& list, const char* key, double value) {
  std::erase_if(list, [&](const Tolerance& one) { return one.key == key; });
  list.push_back({key, value});
}

}  // namespace

Weighing weighing_before(const Scene& given) {
  Scene scene = given;
  scene.terrain.features.clear();
  const Model model = build(scene);
  const Vehicle& v = scene.vehicle;
  Weighing w;
  w.wheelbase = model.wheelbase;
  w.front_track = v.front.track, w.rear_track = v.rear.track;
  w.front_radius = v.front.tyre.free_radius, w.rear_radius = v.rear.tyre.free_radius;
  if (const auto load = loads_at(model, 0)) {
    const auto sunk = [&](int left) {
      const auto i = static_cast<std::size_t>(left);
      const double stiffness = model.wheels[i].tyre.vertical_stiffness;
      return stiffness > 0 ? ((*load)[i] + (*load)[i + 1]) / 2 / stiffness : 0.0;
    };
    w.front_radius -= sunk(kFrontLeft), w.rear_radius -= sunk(kRearLeft);
  }
  const auto depth = [&](bool front) {
    const Tyre& tyre = front ? v.front.tyre : v.rear.tyre;
    const auto& fill = scene.ballast.fill;
    const double part =
        (fill[front ? kFrontLeft : kRearLeft].fill_fraction + fill[front ? kFrontRight : kRearRight].fill_fraction) / 2;
    return part > 0 ? liquid_in_tyre(tyre.free_radius, tyre.rim_radius, tyre.section_width, part, 1000).depth : 0.0;
  };
  w.front_liquid = fill_mass(model, true), w.rear_liquid = fill_mass(model, false);
  w.front_liquid_depth = depth(true), w.rear_liquid_depth = depth(false);
  return w;
}

Scene with_weighing(Scene scene, const WeighingSheet& sheet) {
  if (scene.vehicle.front_axle.kind == AxleKind::articulated)
    throw InputError(
        "vehicle.front_axle.kind: a hinged machine has two halves, and one weighing cannot tell them apart");
  if (scene.ballast.trailer.mass > 0)
    throw InputError("ballast.trailer.mass_kg: a trailer hangs on the machine, allowed 0 for a weighing");
  const Weighing& w = sheet.weighing;
  scene.vehicle.wheelbase = w.wheelbase;
  const Model model = build(scene);
  const WeighedCentre found = centre_of_gravity_of(w);
  const WeighingError error = error_of(w, sheet.tolerance);
  Chassis& chassis = scene.vehicle.chassis;
  double others = -chassis.mass;
  Vec3 moment = -chassis.mass * chassis.centre_of_gravity;
  for (const LedgerLine& line : model.ledger) {
    others += line.props.mass;
    moment += line.props.mass * line.props.com;
  }
  const double rest = found.mass - others;
  if (!(rest > kLeastChassis * found.mass))
    throw InputError(fmt::format(
        "weighed: {:.0f} kg, of which the scene says {:.0f} kg are driver, tank, wheels, liquid, weights, loader and "
        "load: that leaves too little for the machine; say in the scene what was on it when it was weighed",
        found.mass, others));
  // The ledger's heights are those of unloaded tyres.
  const Axles sunk = sinks(scene.vehicle, w);
  const double z = found.z + sunk.rear + (sunk.front - sunk.rear) * found.x / w.wheelbase;
  Vec3 centre = (found.mass * Vec3{found.x, found.y.value_or(0), z} - moment) / rest;
  if (!found.y) centre.y = chassis.centre_of_gravity.y;  // not weighed: as it was
  chassis.inertia *= rest / chassis.mass;
  chassis.mass = rest;
  chassis.centre_of_gravity = centre;
  const double lever = found.mass / rest;
  set_tolerance(scene.tolerances, "vehicle.chassis.mass_kg", error.mass);
  set_tolerance(scene.tolerances, "vehicle.chassis.centre_of_gravity_x_m", lever * error.centre.x);
  set_tolerance(scene.tolerances, "vehicle.chassis.centre_of_gravity_z_m", lever * error.centre.z);
  if (found.y) set_tolerance(scene.tolerances, "vehicle.chassis.centre_of_gravity_y_m", lever * error.centre.y);
  scene.vehicle_file.clear();  // it is no machine of a file any more
  return scene;
}

}  // namespace sidehill
