#include "sim/model/model.h"

#include <algorithm>
#include <cmath>

#include "sim/base/errors.h"
#include "sim/model/builder.h"
#include "sim/model/placed.h"
#include "sim/scene/scene.h"

namespace sidehill {
namespace {

MassProperties at_origin_of(const MassProperties& props, const Vec3& origin) {
  MassProperties shifted = props;
  shifted.com -= origin;
  return shifted;
}

int wheel_of(LedgerBody body) {
  for (int w = 0; w < kWheels; ++w)
    if (body == kWheelBodies[w]) return w;
  return -1;
}

// Ledger lines into bodies, places converted to V.
void collect_bodies(Model& m) {
  const Vec3 up(0, 0, m.wheels[kRearLeft].tyre.radius);
  MassProperties boom, bucket, rope_load, tank;
  m.chassis = m.axle = MassProperties{};
  for (WheelModel& wheel : m.wheels) {
    wheel.dry = MassProperties{};
    wheel.ice = false;
    wheel.turned = 0;
  }
  std::array<double, kWheels> liquid{};
  for (const LedgerLine& line : m.ledger) {
    const MassProperties props = at_origin_of(line.props, up);
    const int w = wheel_of(line.body);
    if (line.body == LedgerBody::chassis && line.liquid) tank = combine(tank, props);
    if (line.body == LedgerBody::chassis && !line.liquid) m.chassis = combine(m.chassis, props);
    if (line.body == LedgerBody::front_axle) m.axle = combine(m.axle, props);
    if (line.body == LedgerBody::boom) boom = combine(boom, props);
    if (line.body == LedgerBody::bucket && line.liquid) rope_load = combine(rope_load, props);
    if (line.body == LedgerBody::bucket && !line.liquid) bucket = combine(bucket, props);
    if (w < 0) continue;
    WheelModel& wheel = m.wheels[static_cast<std::size_t>(w)];
    wheel.ice = wheel.ice || line.ice;
    if (line.liquid)
      liquid[static_cast<std::size_t>(w)] += line.props.mass;
    else
      wheel.dry = combine(wheel.dry, at_origin_of(props, wheel.centre));
  }
  for (std::size_t i = 0; i < kWheels; ++i) m.wheels[i].liquid.mass = liquid[i];
  m.axle = at_origin_of(m.axle, m.pin);
  if (m.axle.mass == 0) m.axle.com = Vec3(0.0);
  m.loader.arms = at_origin_of(boom, m.loader.pivot);
  m.loader.bucket = at_origin_of(bucket, bucket_pin(m.loader, m.loader.angle));
  m.loader.boom = at_origin_of(combine(boom, bucket), m.loader.pivot);
  m.rope_load.mass = rope_load.mass;
  m.tank_liquid.mass = tank.mass;
}

}  // namespace

Vec3 rope_load_place(const HangingMass& load, const Pose& X_GV, const Vec3& down_G) {
  return X_GV * load.from + load.length * down_G;
}

Vec3 tank_liquid_place(const HangingMass& liquid, const Pose& X_GV, const Vec3& down_G) {
  const Vec3& axis = X_GV.R[0];
  const Vec3 across = down_G - glm::dot(down_G, axis) * axis;
  const double size = glm::length(across);
  return X_GV * liquid.from + (size > 1e-9 ? liquid.length / size : 0.0) * across;
}

Vec3 trailer_pull(const Model& model, const Mat3& R_GV, const Vec3& g_G) {
  if (!(model.trailer.mass > 0)) return Vec3(0.0);
  // Its own wheels bear the rest and hold it sideways; lengthwise the tractor holds it.
  const Vec3& forward = R_GV[0];
  const Vec3 along = glm::normalize(Vec3(forward.x, forward.y, 0) + Vec3(1e-12, 0, 0));
  const double borne = std::min(model.trailer.drawbar_load, model.trailer.mass);
  return (model.trailer.mass - borne) * glm::dot(g_G, along) * along + borne * g_G;
}

double total_mass(const Model& model) { return sum(model.ledger).mass; }

Vec3 centre_of_gravity(const Model& model) { return sum(model.ledger).com; }

namespace {

Model built(Builder& b) {
  const Scene& scene = b.scene;
  Model& m = b.model;
  const Vehicle& v = scene.vehicle;
  m.gravity = scene.settings.gravity;
  m.wheelbase = v.wheelbase;
  m.axle_kind = v.front_axle.kind;
  const bool articulated = m.axle_kind == AxleKind::articulated;
  m.pin = b.to_V({articulated ? v.front_axle.joint_x : v.wheelbase, 0, v.front_axle.pin_height});
  m.articulation = articulated ? scene.start.articulation : 0;
  m.hitch = b.to_V({v.hitch.x, 0, v.hitch.z});
  m.trailer = scene.ballast.trailer;
  m.drive = v.drive;
  m.engine_power = v.engine_power;
  m.can_drive_front = v.front_drive;
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
  return std::move(m);
}

}  // namespace

Model build(const Scene& scene, const Model* like) {
  Builder b(scene);
  b.like = like;
  return built(b);
}

Model build(const Scene& scene, std::span<const LiquidLump> lenders) {
  Builder b(scene);
  b.lenders = lenders;
  return built(b);
}

Model with_ledger(const Model& model, std::vector<LedgerLine> ledger) {
  Model other = model;
  other.ledger = std::move(ledger);
  collect_bodies(other);
  return other;
}

Model with_ice_at_the_bottom(const Model& model) {
  std::vector<LedgerLine> ledger = model.ledger;
  for (LedgerLine& line : ledger) line.ice = false;
  return with_ledger(model, std::move(ledger));
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
    wheel.tyre.pressure_offset = wheel.tyre.side_give_share = 0;
  }
  return rigid;
}

Model rigid_variant(const Model& model) {
  Model rigid = on_rigid_tyres(model);
  for (LedgerLine& line : rigid.ledger) line.liquid = line.ice = false;
  collect_bodies(rigid);
  rigid.stop_stiffness = std::max(rigid.stop_stiffness, 1e9);
  rigid.terrain.features.clear();
  return rigid;
}

}  // namespace sidehill
