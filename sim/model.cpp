#include "sim/model.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/scene_file.h"
#include "vehicles/air_spring.h"
#include "vehicles/liquid.h"
#include "vehicles/slosh.h"

namespace sidehill {
namespace {

// Where the bucket's own mass and its load lie, from the bucket pin, bucket level. Our estimate for a general-purpose
// bucket.
const Vec3 kBucketCentre(0.3, 0, 0.05);
const Vec3 kPayloadCentre(0.4, 0, 0.15);
constexpr double kBoomCentre = 0.45;  // of the way from pivot to bucket pin

struct Builder {
  const Scene& scene;
  const Vehicle& vehicle;
  Model model;
  double rear_radius;

  explicit Builder(const Scene& s) : scene(s), vehicle(s.vehicle), rear_radius(s.vehicle.rear.tyre.free_radius) {}

  Vec3 to_V(const Vec3& place) const { return {place.x, place.y, place.z - rear_radius}; }

  void enter(std::string name, LedgerBody body, const MassProperties& props, bool liquid = false) {
    if (props.mass > 0) model.ledger.push_back({std::move(name), body, liquid, props});
  }
};

MassProperties at_origin_of(const MassProperties& props, const Vec3& origin) {
  MassProperties shifted = props;
  shifted.com -= origin;
  return shifted;
}

MassProperties wheel_properties(double mass, double spin_inertia, double radius, double width) {
  // A wheel's mass sits near its rim: radius of gyration 0.75 of the free radius (our estimate) unless the file says.
  const double spin = spin_inertia > 0 ? spin_inertia : mass * 0.5625 * radius * radius;
  const double across = mass > 0 ? 0.5 * spin + mass * width * width / 12 : 0;
  return {mass, Vec3(0.0), Mat3(across, 0, 0, 0, mass > 0 ? spin : 0, 0, 0, 0, across)};
}

void add_chassis(Builder& b) {
  const Vehicle& v = b.vehicle;
  const BallastPlan& plan = b.scene.ballast;
  const Vec3& i = v.chassis.inertia;
  b.enter("chassis, engine and rear axle", LedgerBody::chassis,
          {v.chassis.mass, v.chassis.centre_of_gravity, Mat3(i.x, 0, 0, 0, i.y, 0, 0, 0, i.z)});
  if (v.driver.on_seat)
    b.enter("driver", LedgerBody::chassis, solid_box(v.driver.mass, v.driver.place, {0.5, 0.45, 0.9}));
  b.enter("front weights", LedgerBody::chassis,
          solid_box(plan.front_weights, {v.front_mount.x, 0, v.front_mount.z}, {0.3, 0.7, 0.35}));
  b.enter("rear weights", LedgerBody::chassis,
          solid_box(plan.rear_weights, {v.rear_mount.x, 0, v.rear_mount.z}, {0.5, 0.9, 0.6}));
  if (v.loader.fitted)
    b.enter("loader mast", LedgerBody::chassis,
            solid_box(v.loader.mast_mass, {v.loader.pivot_x, 0, v.loader.pivot_z - 0.4}, {0.2, 1.0, 0.8}));
  const double beam = std::max(0.0, v.front.track - v.front.tyre.section_width);
  b.enter("front axle beam", LedgerBody::front_axle,
          solid_box(v.front_axle.mass, {v.wheelbase, 0, v.front_axle.z}, {0.2, beam, 0.2}));
}

void add_wheels(Builder& b) {
  static const char* const kNames[] = {"front left", "front right", "rear left", "rear right"};
  static const LedgerBody kBodies[] = {LedgerBody::front_left, LedgerBody::front_right, LedgerBody::rear_left,
                                       LedgerBody::rear_right};
  const Vehicle& v = b.vehicle;
  for (int w = 0; w < kWheels; ++w) {
    const Axle& axle = axle_of(v, w);
    const double side = is_left(w) ? 0.5 : -0.5;
    const Vec3 centre(is_front(w) ? v.wheelbase : 0.0, side * axle.track, axle.tyre.free_radius);
    WheelModel& wheel = b.model.wheels[static_cast<std::size_t>(w)];
    wheel.centre = b.to_V(centre);
    wheel.dry = wheel_properties(axle.wheel_mass, axle.spin_inertia, axle.tyre.free_radius, axle.tyre.section_width);
    MassProperties in_place = wheel.dry;
    in_place.com += centre;
    b.enter(fmt::format("{} wheel and tyre", kNames[w]), kBodies[w], in_place);
    const double iron = is_front(w) ? b.scene.ballast.front_wheel_weights : b.scene.ballast.rear_wheel_weights;
    if (iron > 0) {  // discs bolted inside the rim
      const double r = 0.75 * axle.tyre.rim_radius;
      const double spin = 0.5 * iron * r * r;
      const MassProperties discs{iron, Vec3(0.0), Mat3(0.5 * spin, 0, 0, 0, spin, 0, 0, 0, 0.5 * spin)};
      wheel.dry = combine(wheel.dry, discs);
      MassProperties placed = discs;
      placed.com += centre;
      b.enter(fmt::format("{} wheel weights", kNames[w]), kBodies[w], placed);
    }
    const TyreFill& fill = b.scene.ballast.fill[static_cast<std::size_t>(w)];
    if (fill.fill_fraction <= 0) continue;
    const Cavity cavity =
        cavity_of(axle.tyre.free_radius, axle.tyre.rim_radius, axle.tyre.section_width, axle.tyre.cavity_volume);
    if (info(fill.medium).turns_with_wheel) {  // cured to a solid: part of the wheel, its inertia that of a ring
      const double mass = cavity_volume(cavity) * fill.fill_fraction *
                          density(fill.medium, fill.concentration, b.scene.settings.temperature);
      const double spin = mass * liquid_gyration_squared(cavity, 1);
      const MassProperties ring{mass, Vec3(0.0), Mat3(0.5 * spin, 0, 0, 0, spin, 0, 0, 0, 0.5 * spin)};
      wheel.dry = combine(wheel.dry, ring);
      MassProperties placed = ring;
      placed.com += centre;
      b.enter(fmt::format("{} tyre: {} {:.0f} %", kNames[w], info(fill.medium).name, 100 * fill.fill_fraction),
              kBodies[w], placed);
      continue;
    }
    LiquidLump& liquid = wheel.liquid;
    liquid.mass = cavity_volume(cavity) * fill.fill_fraction *
                  density(fill.medium, fill.concentration, b.scene.settings.temperature);
    liquid.table = tabulate(cavity, fill.fill_fraction);
    liquid.depth = -lookup(liquid.table, 0).z;
    // As a pendulum it must swing as fast as the liquid does; brim-full nothing swings and only the inertia is left.
    const Slosh slosh = first_slosh(cavity, fill.fill_fraction);
    liquid.gyration_squared =
        slosh.lambda > 0 ? slosh.gyration_squared : liquid_gyration_squared(cavity, fill.fill_fraction);
    b.enter(fmt::format("{} tyre: {} {:.0f} %", kNames[w], info(fill.medium).name, 100 * fill.fill_fraction),
            kBodies[w], point_mass(liquid.mass, centre + Vec3(0, 0, -liquid.depth)), true);
  }
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
  b.enter("loader boom", LedgerBody::boom, bar);
  b.enter("bucket", LedgerBody::boom,
          solid_box(loader.bucket_mass, pin + kBucketCentre, {0.7, loader.bucket_width, 0.6}));
  b.enter("load in the bucket", LedgerBody::boom,
          solid_box(plan.loader_payload, pin + kPayloadCentre, {0.6, 0.9 * loader.bucket_width, 0.4}));
}

void add_point_masses(Builder& b) {
  static const LedgerBody kBodies[] = {LedgerBody::chassis, LedgerBody::front_axle, LedgerBody::boom};
  for (const PointMass& added : b.scene.ballast.point_masses) {
    if (added.on == Carrier::boom && !b.vehicle.loader.fitted)
      throw InputError("ballast.point_mass: on = \"boom\", but vehicle.loader.fitted = false");
    b.enter(added.name, kBodies[static_cast<int>(added.on)], point_mass(added.mass, added.place));
  }
}

// Ledger lines into bodies, places converted to V.
void collect_bodies(Builder& b) {
  Model& m = b.model;
  MassProperties boom;
  for (const LedgerLine& line : m.ledger) {
    MassProperties props = line.props;
    props.com = b.to_V(props.com);
    if (line.body == LedgerBody::chassis) m.chassis = combine(m.chassis, props);
    if (line.body == LedgerBody::front_axle) m.axle = combine(m.axle, props);
    if (line.body == LedgerBody::boom) boom = combine(boom, props);
  }
  m.axle = at_origin_of(m.axle, m.pin);
  if (m.axle.mass == 0) m.axle.com = Vec3(0.0);
  m.loader.boom = at_origin_of(boom, m.loader.pivot);
}

void set_tyre_laws(Builder& b) {
  Model& m = b.model;
  const double mass = total_mass(m);
  const double front_share = std::clamp(centre_of_gravity(m).x / m.wheelbase, 0.05, 0.95);
  for (int w = 0; w < kWheels; ++w) {
    const Tyre& tyre = axle_of(b.vehicle, w).tyre;
    WheelModel& wheel = m.wheels[static_cast<std::size_t>(w)];
    const double load = 0.5 * mass * m.gravity * (is_front(w) ? front_share : 1 - front_share);
    const Cavity cavity = cavity_of(tyre.free_radius, tyre.rim_radius, tyre.section_width, tyre.cavity_volume);
    const double fill = b.scene.ballast.fill[static_cast<std::size_t>(w)].fill_fraction;
    const double stiffening =
        stiffening_by_liquid(cavity_volume(cavity), fill, tyre.pressure, tyre.vertical_stiffness, load);
    TyreLaw& law = wheel.tyre;
    law.radius = tyre.free_radius;
    // A rigid tyre gives micrometres: small against the 3 mm of any measurement, large against rounding.
    constexpr double kRigid = 1e10;
    law.rigid = tyre.rigid;
    law.laterally_rigid = tyre.laterally_rigid;
    law.vertical_stiffness = tyre.rigid ? kRigid : tyre.vertical_stiffness * stiffening;
    law.lateral_stiffness = tyre.laterally_rigid ? kRigid : tyre.lateral_stiffness;
    law.longitudinal_stiffness = tyre.longitudinal_stiffness;
    law.reference_load = std::max(load, 1.0);
    law.vertical_damping = tyre.vertical_damping;
    law.lateral_damping = tyre.lateral_damping;
    law.relaxation = tyre.lateral_relaxation;
    law.pressure_offset = tyre.pressure_offset;
  }
}

// Corners of what would touch the ground once the machine lies down.
void add_hull(Builder& b) {
  const Vehicle& v = b.vehicle;
  const auto add = [&](double x, double y, double z, bool frame) {
    b.model.hull.push_back({b.to_V({x, y, z}), frame});
    b.model.hull.push_back({b.to_V({x, -y, z}), frame});
  };
  const Chassis& c = v.chassis;
  const double y = 0.5 * c.bonnet_width;
  add(c.length_ahead, y, c.bonnet_height, false);
  add(c.length_ahead, y, 0.55 * c.bonnet_height, false);
  add(0.35 * c.length_ahead, y, c.bonnet_height, false);
  add(-0.5, 0.3, v.rear.tyre.free_radius - 0.2, false);                   // hitch
  add(0, 0.5 * v.rear.track, 2 * v.rear.tyre.free_radius + 0.08, false);  // mudguards
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

void add_cautions(Builder& b) {
  const Vehicle& v = b.vehicle;
  const BallastPlan& plan = b.scene.ballast;
  auto& out = b.model.cautions;
  for (int w = 0; w < kWheels; ++w) {
    const TyreFill& fill = plan.fill[static_cast<std::size_t>(w)];
    if (fill.fill_fraction > 0.75 && !info(fill.medium).turns_with_wheel) {
      out.push_back("A tyre is filled above 75 %: an air cushion must stay, or the casing takes every shock.");
      break;
    }
  }
  for (int w = 0; w < kWheels; ++w) {
    const TyreFill& fill = plan.fill[static_cast<std::size_t>(w)];
    if (fill.fill_fraction > 0 && b.scene.settings.temperature < slush_free(fill.medium, fill.concentration)) {
      out.push_back(
          fmt::format("At {:.0f} C the {} in the tyres is not free of ice: a frozen lump turns with the wheel.",
                      b.scene.settings.temperature - 273.15, info(fill.medium).name));
      break;
    }
  }
  if (plan.front_weights > v.front_mount.max_mass)
    out.push_back(fmt::format("Front weights exceed the mount's {:.0f} kg.", v.front_mount.max_mass));
  if (plan.rear_weights > v.rear_mount.max_mass)
    out.push_back(fmt::format("Rear weights exceed the mount's {:.0f} kg.", v.rear_mount.max_mass));
  if (plan.rear_wheel_weights > v.max_wheel_weights)
    out.push_back(fmt::format("Rear wheel weights exceed the {:.0f} kg a wheel takes.", v.max_wheel_weights));
  if (v.loader.fitted && plan.loader_payload > v.loader.rated_payload)
    out.push_back(fmt::format("The bucket holds more than the loader's rated {:.0f} kg.", v.loader.rated_payload));
  if (v.loader.fitted && plan.loader_pin_height > v.loader.pivot_z)
    out.push_back("The bucket is raised above its pivot: carry it low whenever the machine moves.");
  if (v.frame.kind == FrameKind::none)
    out.push_back("No protective frame is fitted: a roll-over on this machine kills.");
  if (v.frame.kind == FrameKind::two_post && v.frame.folded) out.push_back("The frame is folded: it protects nobody.");
  if (v.frame.kind != FrameKind::none && !v.driver.belted)
    out.push_back("The driver is not belted: the frame only protects who stays inside it.");
}

}  // namespace

double total_mass(const Model& model) { return sum(model.ledger).mass; }

Vec3 centre_of_gravity(const Model& model) { return sum(model.ledger).com; }

Model build(const Scene& scene) {
  Builder b(scene);
  Model& m = b.model;
  const Vehicle& v = scene.vehicle;
  m.gravity = scene.settings.gravity;
  m.wheelbase = v.wheelbase;
  m.axle_kind = v.front_axle.kind;
  m.pin = b.to_V({v.wheelbase, 0, v.front_axle.pin_height});
  m.stop_angle = v.front_axle.stop_angle;
  m.stop_stiffness = v.front_axle.stop_stiffness;
  m.stop_damping = v.front_axle.stop_damping;
  m.terrain = scene.terrain;
  m.start = scene.start;
  m.programme = scene.programme;
  m.time_step = scene.settings.time_step;
  add_chassis(b);
  add_wheels(b);
  add_loader(b);
  add_point_masses(b);
  if (!(total_mass(m) > 1))
    throw InputError("vehicle.chassis.mass_kg = 0: the whole machine weighs nothing; it must weigh more than 1 kg");
  collect_bodies(b);
  set_tyre_laws(b);
  add_hull(b);
  add_cautions(b);
  return m;
}

Model rigid_variant(const Model& model) {
  Model rigid = model;
  for (WheelModel& wheel : rigid.wheels) {
    wheel.tyre.vertical_stiffness = wheel.tyre.lateral_stiffness = 1e10;
    wheel.tyre.rigid = wheel.tyre.laterally_rigid = true;
    wheel.tyre.pressure_offset = 0;
    if (wheel.liquid.mass > 0)
      wheel.dry = combine(wheel.dry, point_mass(wheel.liquid.mass, {0, 0, -wheel.liquid.depth}));
    wheel.liquid = LiquidLump{};
  }
  rigid.stop_stiffness = std::max(rigid.stop_stiffness, 1e9);
  rigid.terrain.features.clear();
  return rigid;
}

}  // namespace sidehill
