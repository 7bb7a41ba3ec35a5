#include "sim/model/placed.h"

#include <cmath>

namespace sidehill {
namespace {

PlacedMachine placed_with(const Model& model, const Pose& X_GV, const Mat3& R_VA) {
  PlacedMachine at;
  at.X_GV = X_GV;
  at.X_GA = X_GV * Pose{R_VA, model.pin};
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& wheel = model.wheels[i];
    at.X_GH[i] =
        wheel.on_axle ? Pose{at.X_GA.R, at.X_GA * (wheel.centre - model.pin)} : Pose{X_GV.R, X_GV * wheel.centre};
  }
  return at;
}

}  // namespace

PlacedMachine placed(const Model& model, const Pose& X_GV, double axle_angle) {
  return placed_with(model, X_GV, axle_turn(model, axle_angle));
}

PlacedMachine placed(const Model& model, const Pose& X_GV, double axle_angle, double articulation) {
  return placed_with(model, X_GV, about_x(axle_angle) * about_z(articulation));
}

MassProperties lump_of(const Model& model, const PlacedMachine& at, const LooseParts& loose, bool with_axle) {
  MassProperties all;
  const auto add = [&](const MassProperties& props, const Pose& X_GB) {
    if (props.mass > 0) all = combine(all, moved(props, X_GB));
  };
  add(model.chassis, at.X_GV);
  if (model.loader.fitted)  // `boom` is given at the model's own angle and turns about the pivot
    add(model.loader.boom, at.X_GV * Pose{about_y(-loose.boom_turned), model.loader.pivot});
  if (with_axle) add(model.axle, at.X_GA);
  add(point_mass(model.rope_load.mass, loose.rope_load_G), Pose{});
  add(point_mass(model.tank_liquid.mass, loose.tank_liquid_G), Pose{});
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& wheel = model.wheels[i];
    if (wheel.on_axle && !with_axle) continue;
    add(wheel.dry, {at.X_GH[i].R * about_y(loose.turned[i]), at.X_GH[i].p});
    add(point_mass(wheel.liquid.mass, loose.liquid_G[i]), Pose{});
  }
  return all;
}

double beyond_stop(const Model& model, double axle_angle) {
  if (model.axle_kind == AxleKind::fixed || std::abs(axle_angle) <= model.stop_angle) return 0;
  return std::copysign(std::abs(axle_angle) - model.stop_angle, axle_angle);
}

Vec3 bucket_pin(const LoaderModel& loader, double boom_angle) {
  return loader.pivot + loader.length * Vec3(std::cos(boom_angle), 0, std::sin(boom_angle));
}

}  // namespace sidehill
