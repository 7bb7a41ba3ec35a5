#include "sim/model.h"

#include <algorithm>

#include "sim/builder.h"
#include "sim/scene_file.h"

namespace sidehill {
namespace {

MassProperties at_origin_of(const MassProperties& props, const Vec3& origin) {
  MassProperties shifted = props;
  shifted.com -= origin;
  return shifted;
}

int wheel_of(LedgerBody body) {
  constexpr LedgerBody kBodies[] = {LedgerBody::front_left, LedgerBody::front_right, LedgerBody::rear_left,
                                    LedgerBody::rear_right};
  for (int w = 0; w < kWheels; ++w)
    if (body == kBodies[w]) return w;
  return -1;
}

// Ledger lines into bodies, places converted to V.
void collect_bodies(Model& m) {
  const Vec3 up(0, 0, m.wheels[kRearLeft].tyre.radius);
  MassProperties boom;
  m.chassis = m.axle = MassProperties{};
  for (WheelModel& wheel : m.wheels) wheel.dry = MassProperties{};
  std::array<double, kWheels> liquid{};
  for (const LedgerLine& line : m.ledger) {
    const MassProperties props = at_origin_of(line.props, up);
    const int w = wheel_of(line.body);
    if (line.body == LedgerBody::chassis) m.chassis = combine(m.chassis, props);
    if (line.body == LedgerBody::front_axle) m.axle = combine(m.axle, props);
    if (line.body == LedgerBody::boom) boom = combine(boom, props);
    if (w < 0) continue;
    WheelModel& wheel = m.wheels[static_cast<std::size_t>(w)];
    if (line.liquid)
      liquid[static_cast<std::size_t>(w)] += line.props.mass;
    else
      wheel.dry = combine(wheel.dry, at_origin_of(props, wheel.centre));
  }
  for (std::size_t i = 0; i < kWheels; ++i) m.wheels[i].liquid.mass = liquid[i];
  m.axle = at_origin_of(m.axle, m.pin);
  if (m.axle.mass == 0) m.axle.com = Vec3(0.0);
  m.loader.boom = at_origin_of(boom, m.loader.pivot);
}

}  // namespace

double total_mass(const Model& model) { return sum(model.ledger).mass; }

Vec3 centre_of_gravity(const Model& model) { return sum(model.ledger).com; }

Model build(const Scene& scene, const Model* like) {
  Builder b(scene);
  b.like = like;
  Model& m = b.model;
  const Vehicle& v = scene.vehicle;
  m.gravity = scene.settings.gravity;
  m.wheelbase = v.wheelbase;
  m.axle_kind = v.front_axle.kind;
  m.pin = b.to_V({v.wheelbase, 0, v.front_axle.pin_height});
  const auto spare = [](const Axle& axle) {
    return axle.narrowest_track > 0 ? std::max(0.0, axle.track - axle.narrowest_track) : 0.0;
  };
  m.track_to_spare = {spare(v.front), spare(v.rear)};
  m.stop_angle = v.front_axle.stop_angle;
  m.stop_stiffness = v.front_axle.stop_stiffness;
  m.stop_damping = v.front_axle.stop_damping;
  m.terrain = scene.terrain;
  m.start = scene.start;
  m.programme = scene.programme;
  m.time_step = scene.settings.time_step;
  m.engine = scene.settings.engine;
  add_chassis(b);
  add_wheels(b);
  add_loader(b);
  add_point_masses(b);
  if (!(total_mass(m) > 1))
    throw InputError("vehicle.chassis.mass_kg = 0: the whole machine weighs nothing; it must weigh more than 1 kg");
  set_tyre_laws(b);
  collect_bodies(m);
  add_hull(b);
  add_cautions(b);
  return m;
}

Model with_ledger(const Model& model, std::vector<LedgerLine> ledger) {
  Model other = model;
  other.ledger = std::move(ledger);
  collect_bodies(other);
  return other;
}

std::optional<Model> with_ice_on_top(const Model& model) {
  std::vector<LedgerLine> ledger = model.ledger;
  bool any = false;
  for (LedgerLine& line : ledger) {
    const int w = wheel_of(line.body);
    if (line.item != LedgerItem::fill || line.liquid || w < 0) continue;
    const double hub = model.wheels[static_cast<std::size_t>(w)].centre.z + model.wheels[kRearLeft].tyre.radius;
    const double below = hub - line.props.com.z;
    if (below < 1e-3) continue;  // foam fills the whole tyre
    line.props.com.z = hub + below;
    any = true;
  }
  return any ? std::optional(with_ledger(model, std::move(ledger))) : std::nullopt;
}

Model on_narrowest_tracks(const Model& model) {
  Model narrow = model;
  for (int w = 0; w < kWheels; ++w) {
    const double in = (is_left(w) ? -0.5 : 0.5) * model.track_to_spare[is_front(w) ? 0U : 1U];
    narrow.wheels[static_cast<std::size_t>(w)].centre.y += in;
    for (LedgerLine& line : narrow.ledger)
      if (wheel_of(line.body) == w) line.props.com.y += in;
  }
  narrow.track_to_spare = {};
  collect_bodies(narrow);
  return narrow;
}

Model on_rigid_tyres(const Model& model) {
  Model rigid = model;
  for (WheelModel& wheel : rigid.wheels) {
    wheel.tyre.vertical_stiffness = wheel.tyre.lateral_stiffness = 1e10;
    wheel.tyre.vertical_stiffness_uncertainty = 0;
    wheel.tyre.rigid = wheel.tyre.laterally_rigid = true;
    wheel.tyre.pressure_offset = 0;
  }
  return rigid;
}

Model rigid_variant(const Model& model) {
  Model rigid = on_rigid_tyres(model);
  for (LedgerLine& line : rigid.ledger) line.liquid = false;
  collect_bodies(rigid);
  rigid.stop_stiffness = std::max(rigid.stop_stiffness, 1e9);
  rigid.terrain.features.clear();
  return rigid;
}

}  // namespace sidehill
