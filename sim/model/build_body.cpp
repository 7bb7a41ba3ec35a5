// Chassis, loader, added masses and hull of a Model (see builder.h).
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/model/builder.h"
#include "sim/model/placed.h"
#include "sim/scene/scene.h"
#include "vehicles/loader_tool.h"
#include "vehicles/slosh.h"

namespace sidehill {
namespace {

constexpr double kBoomCentre = 0.45;  // of the way from pivot to bucket pin

}  // namespace

LedgerLine driver_line(const Vehicle& v) {
  return {"driver", LedgerItem::driver, LedgerBody::chassis, false,
          solid_box(v.driver.mass, v.driver.place, {0.5, 0.45, 0.9})};
}

// The liquid of a round tank as it lies on level ground; nothing moves in a full or an empty one.
HangingMass tank_liquid(const Tank& tank, double fraction) {
  HangingMass out;
  if (!(tank.radius > 0) || !(tank.capacity > 0) || !(fraction > 0) || !(fraction < 1)) return out;
  const Cavity cavity{0, tank.radius, tank.capacity / (kPi * tank.radius * tank.radius), SectionShape::rectangle};
  const Slosh slosh = first_slosh(cavity, fraction);
  if (!(slosh.lambda > 0)) return out;
  out.length = -liquid_place(cavity, fraction, 0).z;
  out.gyration_squared = slosh.gyration_squared;
  return out;
}

LedgerLine tank_line(const Vehicle& v, double fraction) {
  const double hanging = tank_liquid(v.tank, fraction).length;
  return {fmt::format("tank, {:.0f} % full", 100 * fraction), LedgerItem::tank, LedgerBody::chassis, hanging > 0,
          point_mass(v.tank.capacity * fraction * v.tank.density, v.tank.place - Vec3(0, 0, hanging))};
}

void add_chassis(Builder& b) {
  const Vehicle& v = b.vehicle;
  const BallastPlan& plan = b.scene.ballast;
  const Vec3& i = v.chassis.inertia;
  b.enter("chassis, engine and rear axle", LedgerItem::machine, LedgerBody::chassis,
          {v.chassis.mass, v.chassis.centre_of_gravity, Mat3(i.x, 0, 0, 0, i.y, 0, 0, 0, i.z)});
  if (v.driver.on_seat) b.enter(driver_line(v));
  b.enter(tank_line(v, plan.tank_fraction));
  b.model.tank_liquid = tank_liquid(v.tank, plan.tank_fraction);
  b.model.tank_liquid.from = b.to_V(v.tank.place);
  const Implement& implement = plan.implement;
  b.enter("mounted implement", LedgerItem::added, LedgerBody::chassis,
          solid_box(implement.mass, {implement.x, 0, implement.z}, {0.8, 0.9 * implement.width, 0.7}));
  const bool articulated = v.front_axle.kind == AxleKind::articulated;
  const LedgerBody nose = articulated ? LedgerBody::front_axle : LedgerBody::chassis;
  b.enter("front weights", LedgerItem::front_weights, nose,
          solid_box(plan.front_weights, {v.front_mount.x, 0, v.front_mount.z}, {0.3, 0.7, 0.35}));
  b.enter("rear weights", LedgerItem::rear_weights, LedgerBody::chassis,
          solid_box(plan.rear_weights, {v.rear_mount.x, 0, v.rear_mount.z}, {0.5, 0.9, 0.6}));
  if (v.loader.fitted)
    b.enter("loader mast", LedgerItem::loader, LedgerBody::chassis,
            solid_box(v.loader.mast_mass, {v.loader.pivot_x, 0, v.loader.pivot_z - 0.4}, {0.2, 1.0, 0.8}));
  if (articulated) {
    const double x = v.front_axle.x > 0 ? v.front_axle.x : v.wheelbase;
    b.enter("front half", LedgerItem::machine, LedgerBody::front_axle,
            solid_box(v.front_axle.mass, {x, 0, v.front_axle.z}, {1.6, 1.0, 0.9}));
    return;
  }
  const double beam = std::max(0.0, v.front.track - v.front.tyre.section_width);
  b.enter("front axle beam", LedgerItem::machine, LedgerBody::front_axle,
          solid_box(v.front_axle.mass, {v.wheelbase, 0, v.front_axle.z}, {0.2, beam, 0.2}));
}

void add_loader(Builder& b) {
  const Loader& loader = b.vehicle.loader;
  if (!loader.fitted) return;
  const BallastPlan& plan = b.scene.ballast;
  LoaderModel& out = b.model.loader;
  const auto angle_of = [&](double pin_height, const char* key) {
    const double sine = (pin_height - loader.pivot_z) / loader.boom_length;
    if (!(std::abs(sine) < 0.999))
      throw InputError(
          fmt::format("{} = {:.3g}: the boom ({:.3g} m from a pivot at {:.3g} m) reaches {:.3g} to {:.3g} m", key,
                      pin_height, loader.boom_length, loader.pivot_z, loader.pivot_z - 0.999 * loader.boom_length,
                      loader.pivot_z + 0.999 * loader.boom_length));
    return std::asin(sine);
  };
  out.fitted = true;
  const Vec3 pivot(loader.pivot_x, 0, loader.pivot_z);
  out.pivot = b.to_V(pivot);
  out.length = loader.boom_length;
  out.min_angle = angle_of(loader.min_pin_height, "vehicle.loader.min_pin_height_m");
  out.max_angle = angle_of(loader.max_pin_height, "vehicle.loader.max_pin_height_m");
  if (plan.loader_pin_height < loader.min_pin_height - 1e-9 || plan.loader_pin_height > loader.max_pin_height + 1e-9)
    throw InputError(fmt::format("ballast.loader_pin_height_m = {:.3g}: this loader works from {:.3g} to {:.3g} m",
                                 plan.loader_pin_height, loader.min_pin_height, loader.max_pin_height));
  out.angle = angle_of(plan.loader_pin_height, "ballast.loader_pin_height_m");
  out.lift_rate = loader.lift_speed / loader.boom_length;
  const Vec3 along(std::cos(out.angle), 0, std::sin(out.angle));
  const Vec3 pin = pivot + loader.boom_length * along;
  const MassProperties bar{loader.boom_mass, pivot + kBoomCentre * loader.boom_length * along,
                           [&] {  // two slender arms, 1 m apart
                             const double l = loader.boom_mass * loader.boom_length * loader.boom_length / 12,
                                          w = loader.boom_mass * 0.25;
                             const Mat3 in_boom(w, 0, 0, 0, l, 0, 0, 0, l + w);
                             const Mat3 turn(along.x, 0, along.z, 0, 1, 0, -along.z, 0, along.x);
                             return turn * in_boom * glm::transpose(turn);
                           }()};
  b.enter("loader boom", LedgerItem::loader, LedgerBody::boom, bar);
  out.parallel = loader.parallel;
  out.load_from_pin = load_from_pin(plan);
  out.carries = "load " + std::string(words_of(plan.loader_tool).where);
  const auto on_pin = [&](MassProperties props) {
    props.com += pin;
    return props;
  };
  b.enter(std::string(words_of(plan.loader_tool).name), LedgerItem::loader, LedgerBody::bucket,
          on_pin(tool_props(loader, plan)));
  b.enter(load_words(plan), LedgerItem::payload, LedgerBody::bucket, on_pin(load_props(loader, plan)));
  b.model.rope_load.from = b.to_V(pin);
  b.model.rope_load.length = plan.hanging_rope;
  b.enter("load on the rope", LedgerItem::payload, LedgerBody::bucket,
          point_mass(plan.hanging_mass, pin - Vec3(0, 0, plan.hanging_rope)), true);
}

void add_point_masses(Builder& b) {
  static const LedgerBody kBodies[] = {LedgerBody::chassis, LedgerBody::front_axle, LedgerBody::boom};
  for (const PointMass& added : b.scene.ballast.point_masses) {
    if (added.on == Carrier::boom && !b.vehicle.loader.fitted)
      throw InputError("ballast.point_mass: on = \"boom\", but vehicle.loader.fitted = false");
    b.enter(added.name, LedgerItem::added, kBodies[static_cast<int>(added.on)], point_mass(added.mass, added.place));
  }
}

// Corners of what would touch the ground once the machine lies down.
void add_hull(Builder& b) {
  const Vehicle& v = b.vehicle;
  const bool articulated = v.front_axle.kind == AxleKind::articulated;
  const auto add = [&](double x, double y, double z, bool frame) {
    const HullPart on = articulated && x > v.front_axle.joint_x ? HullPart::front_half : HullPart::chassis;
    b.model.hull.push_back({b.to_V({x, y, z}), frame, on});
    b.model.hull.push_back({b.to_V({x, -y, z}), frame, on});
  };
  const Chassis& c = v.chassis;
  const double y = 0.5 * c.bonnet_width;
  add(c.length_ahead, y, c.bonnet_height, false);
  add(c.length_ahead, y, 0.55 * c.bonnet_height, false);
  add(0.35 * c.length_ahead, y, c.bonnet_height, false);
  add(-0.5, 0.3, v.rear.tyre.free_radius - 0.2, false);                   // hitch
  add(0, 0.5 * v.rear.track, 2 * v.rear.tyre.free_radius + 0.08, false);  // mudguards
  const Implement& implement = b.scene.ballast.implement;
  if (implement.mass > 0) add(implement.x - 0.4, 0.5 * implement.width, implement.z - 0.3, false);
  if (v.loader.fitted) {
    // Cutting edge and back of the bucket, or of what is in its place, level at the loader's set height; corners of
    // what lies on it.
    const LoaderModel& loader = b.model.loader;
    const BallastPlan& plan = b.scene.ballast;
    const Vec3 pin = bucket_pin(loader, loader.angle);
    const ToolMeasures& tool = tool_measures(plan.loader_tool);
    const double half = 0.5 * (tool.size.y * v.loader.bucket_width);
    for (const double aside : {half, -half}) {
      b.model.hull.push_back({pin + Vec3(tool.tip, aside, tool.under), false, HullPart::bucket});
      b.model.hull.push_back({pin + Vec3(0.0, aside, tool.under), false, HullPart::bucket});
    }
    if (has_bale(plan.bale)) {
      const LoadBox box = bale_box(plan);
      for (const double x : {box.low.x, box.high.x})
        for (const double aside : {box.low.y, box.high.y})
          b.model.hull.push_back({pin + Vec3(x, aside, box.low.z), false, HullPart::bucket});
    }
  }
  const ProtectiveFrame& f = v.frame;
  if (f.kind == FrameKind::cab) {
    add(f.x_front, 0.5 * f.width, f.top_height, true);
    add(f.x_rear, 0.5 * f.width, f.top_height, true);
    add(f.x_rear, 0.5 * f.width, 0.5 * (f.top_height + c.bonnet_height), true);
  } else if (f.kind == FrameKind::two_post && !f.folded) {
    add(f.x_front, 0.5 * f.width, f.top_height, true);
    add(f.x_front, 0.5 * f.width, 0.5 * (f.top_height + c.bonnet_height), true);
  } else if (f.kind == FrameKind::two_post) {  // folded back, level with the hinge
    add(f.x_front - 0.5, 0.5 * f.width, 0.6 * f.top_height, true);
  }
}

}  // namespace sidehill
