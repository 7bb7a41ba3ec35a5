#include "render/screen/scene3d/drawing_parts.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/scene3d/machine_mesh.h"
#include "sim/base/constants.h"
#include "sim/model/placed.h"
#include "vehicles/loader_tool.h"
#include "vehicles/tyre_cavity.h"

namespace sidehill::screen {
namespace {

// How weights are divided for the eye. Typical sizes; our choice.
constexpr double kPlateMass = 45, kDiscMass = 65;            // [kg]
constexpr double kCrateDensity = 600;                        // a pallet of goods [kg/m3]
constexpr double kBlockDensity = 3000, kCastDensity = 7200;  // block of concrete and scrap; cast weights [kg/m3]

Mat3 nose_up(double angle) { return about_y(-angle); }

// Axes with y along the axle and x as far forward as it can be.
Mat3 wheel_axes(Vec3 axle, Vec3 forward) {
  Vec3 x = forward - glm::dot(forward, axle) * axle;
  if (glm::length(x) < 1e-6) x = glm::cross(axle, Vec3(0, 0, 1));
  x = glm::normalize(x);
  return Mat3(x, axle, glm::cross(x, axle));
}

// Pose whose x axis runs from one place to another.
Pose along(Vec3 from, Vec3 to) {
  Vec3 x = to - from;
  x = glm::length(x) > 1e-6 ? glm::normalize(x) : Vec3(1, 0, 0);
  const Vec3 aside = glm::normalize(glm::cross(std::abs(x.z) < 0.9 ? Vec3(0, 0, 1) : Vec3(0, 1, 0), x));
  return {Mat3(x, aside, glm::cross(x, aside)), from};
}

// `dual`: of the outer tyre of a pair, that far out along the axle.
Squash squash_of(const Model& model, const State& state, int wheel, const Mat3& R, double dual = 0) {
  WheelState w = state.wheels[static_cast<std::size_t>(wheel)];
  const double radius = model.wheels[static_cast<std::size_t>(wheel)].tyre.radius;
  if (model.wheels[static_cast<std::size_t>(wheel)].dual > 0) {
    // The pair's contact lies where both together press; each tyre stands on the ground below itself.
    w.contact_G += glm::dot(w.centre_G - w.contact_G, w.axle_G) * w.axle_G + dual * w.axle_G;
    w.contact_G.z = ground_at(model.terrain, {w.contact_G.x, w.contact_G.y}).height;
    w.centre_G += dual * w.axle_G;
  }
  const Vec3 n_G = ground_at(model.terrain, {w.contact_G.x, w.contact_G.y}).normal;
  Vec3 down = -(n_G - glm::dot(n_G, w.axle_G) * w.axle_G);
  const double length = glm::length(down);
  Squash squash{R * w.centre_G, R * w.axle_G, R * w.contact_G, R * n_G, 0};
  if (length > 1e-6)
    squash.deflection =
        std::clamp(glm::dot(w.contact_G - (w.centre_G + radius * down / length), n_G), 0.0, 0.35 * radius);
  if (!(w.load > 0)) squash.deflection = 0;
  return squash;
}

BodyShape body_shape(const Vehicle& v) {
  const double up = v.rear.tyre.free_radius;  // from the measuring frame to V
  BodyShape s;
  s.wheelbase = v.wheelbase;
  s.rear_track = v.rear.track;
  s.rear_tyre = tyre_measures(v, kRearLeft);
  s.front_tyre = tyre_measures(v, kFrontLeft);
  s.nose_x = v.chassis.length_ahead;
  s.bonnet_top = v.chassis.bonnet_height - up;
  s.bonnet_width = v.chassis.bonnet_width;
  s.pin_z = v.front_axle.pin_height - up;
  s.frame = v.frame.kind;
  s.frame_folded = v.frame.folded;
  s.frame_top = v.frame.top_height - up;
  s.frame_width = v.frame.width;
  s.frame_x_front = v.frame.x_front;
  s.frame_x_rear = v.frame.x_rear;
  s.seat = v.driver.place - Vec3(0, 0, up);
  return s;
}

void add_wheels(Drawing& drawing, const Scene& scene, const Model& model, const State& state, const Overlays& overlays,
                const Pose& X_WV, const Mat3& R) {
  const Vehicle& v = scene.vehicle;
  // Front mudguards belong to the larger machines, which have a cab and front-wheel drive: our choice, no datum. They
  // weigh nothing by themselves (the front axle's mass has them).
  const bool guards = v.frame.kind == FrameKind::cab && v.front_drive && model.axle_kind != AxleKind::articulated;
  for (int i = 0; i < kWheels; ++i) {
    const WheelState& w = state.wheels[static_cast<std::size_t>(i)];
    const TyreFill& fill = scene.ballast.fill[static_cast<std::size_t>(i)];
    const TyreMeasures tyre = tyre_measures(v, i);
    const Squash squash = squash_of(model, state, i, R);
    const Mat3 still = wheel_axes(squash.axle, X_WV.R[0]);
    const Pose X_WH{still * about_y(w.spin_angle), squash.centre};
    drawing.contacts.push_back(squash.contact);
    // Only where there is something to see behind it is the sidewall of glass: an empty tyre looks like a tyre.
    const bool open = overlays.see_through_tyres && fill.fill_fraction > 1e-3;
    drawing.parts.push_back({WheelShape{tyre, is_left(i), open}, X_WH, squash});
    if (open) drawing.parts.push_back({SidewallShape{tyre, is_left(i)}, X_WH, squash});
    const double dual = model.wheels[static_cast<std::size_t>(i)].dual;
    if (dual > 0) {
      const double out = is_left(i) ? dual : -dual;
      const Squash outer = squash_of(model, state, i, R, out);
      const Pose X_WO{X_WH.R, outer.centre};
      drawing.contacts.push_back(outer.contact);
      drawing.parts.push_back({WheelShape{tyre, is_left(i), false}, X_WO, outer});
      drawing.parts.push_back(
          {BarShape{to_2_cm(dual), 0.55 * tyre.rim_radius, false}, along(squash.centre, outer.centre), {}});
    }
    const double weights = is_front(i) ? scene.ballast.front_wheel_weights : scene.ballast.rear_wheel_weights;
    if (weights > 0) {
      const int discs = std::clamp(static_cast<int>(std::lround(weights / kDiscMass)), 1, 8);
      drawing.parts.push_back({WheelWeightShape{tyre, is_left(i), discs}, X_WH, {}});
    }
    if (guards && is_front(i)) drawing.parts.push_back({FrontGuardShape{tyre, is_left(i)}, {still, squash.centre}, {}});
    if (open) {
      const Tyre& t = axle_of(v, i).tyre;
      const Cavity cavity = cavity_of(t);
      LiquidPart liquid;
      // Kept inside the carcass that is drawn; the level is the true one.
      liquid.shape = {cavity.inner_radius, std::min(cavity.outer_radius, 0.91 * t.free_radius),
                      std::min(cavity.width, 0.88 * tyre.width)};
      liquid.X_WP = {still, squash.centre};
      liquid.squash = squash;
      liquid.medium = fill.medium;
      // In the wheel plane the liquid hangs where its centroid says (it may swing); along the axle its surface is level
      // in the world.
      const WheelModel& wheel = model.wheels[static_cast<std::size_t>(i)];
      const bool solid = wheel.liquid.mass == 0;
      liquid.frozen = solid && fill.medium != Medium::polyurethane;
      // Ice keeps the surface it froze with: on level ground, straight along the axle.
      const double along = liquid.frozen ? 0 : std::clamp(squash.axle.z, -1.0, 1.0);
      Vec3 hangs = solid && glm::length(wheel.dry.com) > 1e-6 ? X_WH.R * wheel.dry.com : R * w.liquid_G - squash.centre;
      hangs -= glm::dot(hangs, squash.axle) * squash.axle;
      if (glm::length(hangs) < 1e-4) hangs = Vec3(0, 0, -1) + along * squash.axle;
      if (glm::length(hangs) < 1e-9) hangs = -still[2];
      liquid.up = glm::normalize(-std::sqrt(1 - along * along) * glm::normalize(hangs) + along * squash.axle);
      liquid.level = liquid_place(cavity, std::min(fill.fill_fraction, 1.0), std::asin(std::abs(along))).level;
      drawing.liquids.push_back(liquid);
    }
  }
}

// As they lie on the tool, one part each.
void add_bales(Drawing& drawing, const BallastPlan& plan, const Pose& X_WP) {
  const bool round = plan.bale.diameter > 0;
  const Vec3 one = bale_size(plan);
  const LoadBox box = bale_box(plan);
  const Vec3 step = round ? Vec3(0, one.y, 0) : Vec3(0, 0, one.z);
  const bool along = plan.loader_tool == LoaderTool::bale_spike;
  const BaleShape shape{round, round ? Vec3(plan.bale.length, plan.bale.diameter, plan.bale.diameter) : one};
  const Mat3 turned = round && !along ? about_z(kPi / 2) : Mat3(1);
  for (int i = 0; i < static_cast<int>(std::lround(plan.bale.count)); ++i)
    drawing.parts.push_back({shape, X_WP * Pose{turned, box.low + one / 2.0 + static_cast<double>(i) * step}, {}});
}

constexpr double kHolds = 0.7071;  // cosine of 45 deg: a bucket that leans more has lost its load. Our estimate

// What has fallen out of the bucket lies below it. (The run keeps the mass in the bucket: it is drawn where it would
// be.)
void add_spilled(Drawing& drawing, const Model& model, const State& state, const Vec3& from_W, double mass) {
  constexpr double kEarthDensity = 1500;                            // loose, our choice [kg/m3]
  const double radius = std::cbrt(6 * mass / kEarthDensity / kPi);  // of a cone half as high
  const Mat3 R = R_WG(state.slope);
  const Vec3 from_G = glm::transpose(R) * from_W;
  const GroundPoint ground = ground_at(model.terrain, {from_G.x, from_G.y});
  drawing.parts.push_back(
      {MoundShape{std::round(20 * radius) / 20}, {R, R * Vec3(from_G.x, from_G.y, ground.height)}, {}});
}

void add_loader(Drawing& drawing, const Scene& scene, const Model& model, const State& state, const Pose& X_WV) {
  const Loader& loader = scene.vehicle.loader;
  const double half_gap =
      std::max(std::min(scene.vehicle.chassis.bonnet_width / 2 + 0.17, loader.bucket_width / 2 - 0.15), 0.2);
  const LoaderMastShape mast{model.loader.pivot, half_gap,
                             scene.vehicle.front_axle.pin_height + 0.12 - scene.vehicle.rear.tyre.free_radius};
  const LoaderBoomShape boom{loader.boom_length, half_gap};
  drawing.parts.push_back({mast, X_WV, {}});
  const Pose X_VB{nose_up(state.boom_angle), model.loader.pivot};
  drawing.parts.push_back({boom, X_WV * X_VB, {}});
  const glm::dvec2 m = ram_on_mast(mast), b = ram_on_boom(boom);
  for (const double side : {-1.0, 1.0}) {
    const Vec3 from = model.loader.pivot + Vec3(m.x, side * half_gap, m.y), to = X_VB * Vec3(b.x, side * half_gap, b.y);
    const double length = glm::length(to - from);
    if (length < 0.05) continue;
    const Pose X_VR{nose_up(std::atan2(to.z - from.z, to.x - from.x)), from};
    drawing.parts.push_back({RamShape{to_2_cm(length), 0.045}, X_WV * X_VR, {}});
  }
  // The bucket is carried level, tipped back a little so that it keeps its load.
  const BallastPlan& plan = scene.ballast;
  const bool bucket = plan.loader_tool == LoaderTool::bucket;
  constexpr double kCarried = 0.16;
  const Pose X_VP{nose_up(state.bucket_angle), X_VB * Vec3(loader.boom_length, 0, 0)};
  const Pose X_VK{nose_up((bucket ? kCarried : 0) + state.bucket_angle), X_VP.p};
  if (bucket)
    drawing.parts.push_back({BucketShape{loader.bucket_width}, X_WV * X_VK, {}});
  else
    drawing.parts.push_back({ToolShape{plan.loader_tool, loader.bucket_width}, X_WV * X_VK, {}});
  if (has_bale(plan.bale)) {
    add_bales(drawing, plan, X_WV * X_VP);
  } else if (plan.loader_payload > 0 && !bucket) {
    // A block with its centre where the load's is.
    const double edge = std::clamp(std::cbrt(plan.loader_payload / kCrateDensity), 0.2, 1.2);
    const Vec3 place = load_from_pin(plan);
    drawing.parts.push_back({MassShape{std::round(edge * 50) / 50}, X_WV * X_VP * Pose{Mat3(1), place}, {}});
  } else if (plan.loader_payload > 0 && (X_WV * X_VK).R[2].z < kHolds) {
    add_spilled(drawing, model, state, X_WV * X_VK * Vec3(0.5, 0, 0), plan.loader_payload);
  } else if (plan.loader_payload > 0) {
    const double fullness = scene.ballast.loader_payload / std::max(loader.rated_payload, 1.0);
    drawing.parts.push_back(
        {HeapShape{loader.bucket_width, std::clamp(std::round(fullness * 40) / 40, 0.05, 1.2)}, X_WV * X_VK, {}});
  }
}

void add_weights(Drawing& drawing, const Scene& scene, const Model& model, const State& state, const Pose& X_WV,
                 const Pose& X_WA) {
  const Vehicle& v = scene.vehicle;
  const Vec3 up(0, 0, v.rear.tyre.free_radius);
  const BallastPlan& plan = scene.ballast;
  // On an articulated machine they turn with the front half.
  const Pose on_nose = v.front_axle.kind == AxleKind::articulated ? Pose{X_WA.R, X_WA * Vec3(-model.pin)} : X_WV;
  if (plan.front_weights > 0) {
    const Vec3 place = Vec3(v.front_mount.x, 0, v.front_mount.z) - up;
    const int plates = std::clamp(static_cast<int>(std::lround(plan.front_weights / kPlateMass)), 1, 24);
    drawing.parts.push_back(
        {FrontPlatesShape{plates, std::max(v.front_mount.x - 0.13 - v.chassis.length_ahead + 0.25, 0.0)},
         {on_nose.R, on_nose * place},
         {}});
  }
  if (plan.rear_weights > 0) {
    const Vec3 place = Vec3(v.rear_mount.x, 0, v.rear_mount.z) - up;
    const double width = 0.95, side = std::sqrt(plan.rear_weights / kBlockDensity / width);
    const Vec3 size{std::clamp(0.85 * side, 0.08, 1.2), width, std::clamp(side / 0.85, 0.08, 1.4)};
    drawing.parts.push_back(
        {RearBlockShape{size, std::clamp(-v.rear_mount.x - size.x / 2 - 0.25, 0.05, 1.5)}, {X_WV.R, X_WV * place}, {}});
  }
  for (const PointMass& mass : plan.point_masses) {
    if (!(mass.mass > 0)) continue;
    const MassShape shape{std::clamp(std::cbrt(mass.mass / kCastDensity), 0.08, 1.0)};
    const Vec3 place = mass.place - up;  // in V as measured
    Pose X_WP{X_WV.R, X_WV * place};
    if (mass.on == Carrier::front_axle) X_WP = {X_WA.R, X_WA * (place - model.pin)};
    if (mass.on == Carrier::boom) {
      const Pose X_VT{nose_up(state.boom_angle - model.loader.angle), model.loader.pivot};
      X_WP = X_WV * X_VT * Pose{Mat3(1), place - model.loader.pivot};
    }
    drawing.parts.push_back({shape, X_WP, {}});
  }
}

void add_rope(Drawing& drawing, const Vec3& from_W, const Vec3& to_W) {
  const double length = glm::length(to_W - from_W);
  if (length > 0.02) drawing.parts.push_back({BarShape{to_2_cm(length), 0.014, true}, along(from_W, to_W), {}});
}

// On a rope from the bucket pin, wherever it has swung to.
void add_hanging(Drawing& drawing, const Scene& scene, const Model& model, const State& state, const Pose& X_WV,
                 const Mat3& R) {
  if (!(model.rope_load.mass > 0) || !model.loader.fitted) return;
  constexpr double kHungDensity = 2400;  // a block of concrete; our choice [kg/m3]
  const Vec3 pin = X_WV * (bucket_pin(model.loader, state.boom_angle));
  const Vec3 load = R * state.hanging_G;
  const double edge = std::clamp(std::cbrt(scene.ballast.hanging_mass / kHungDensity), 0.1, 1.8);
  Pose X_WL = along(load, pin);
  add_rope(drawing, pin, load);
  X_WL.R = Mat3(X_WL.R[1], X_WL.R[2], X_WL.R[0]);  // upright along the rope
  drawing.parts.push_back({MassShape{std::round(edge * 100) / 100}, X_WL, {}});
}

void add_trailer(Drawing& drawing, const Scene& scene, const Model& model, const State& state) {
  if (!(scene.ballast.trailer.mass > 0)) return;
  const CartPlace cart = cart_place(scene, model, state);
  const Pose X_WT = X_WG(state.slope) * cart.X_GT;
  drawing.parts.push_back({TrailerShape{cart.size, cart.radius, cart.hitch}, X_WT, {}});
  // Turned as far as the tractor has rolled.
  const double rolled = (state.wheels[kRearLeft].spin_angle + state.wheels[kRearRight].spin_angle) / 2 *
                        model.wheels[kRearLeft].tyre.radius / cart.radius;
  const TyreMeasures tyre{cart.radius, 0.55 * cart.radius, 0.36 * cart.size, true};
  for (const bool left : {true, false}) {
    const Vec3 at(0, (left ? 1 : -1) * 1.02 * cart.size, 0);
    drawing.parts.push_back({WheelShape{tyre, left, false}, X_WT * Pose{about_y(rolled), at}, {}});
    drawing.contacts.push_back(X_WT * (at - Vec3(0, 0, cart.radius)));
  }
}

void add_carried(Drawing& drawing, const Scene& scene, const Model& model, const State& state, const Pose& X_WV,
                 const Mat3& R) {
  const Vec3 up(0, 0, scene.vehicle.rear.tyre.free_radius);
  const Implement& implement = scene.ballast.implement;
  if (implement.mass > 0) {
    const double arms = implement.x < -0.6 ? std::clamp(-implement.x - 0.55, 0.05, 3.0) : 0;
    drawing.parts.push_back(
        {ImplementShape{implement.width, arms}, X_WV * Pose{Mat3(1), Vec3(implement.x, 0, implement.z) - up}, {}});
  }
  const Tank& tank = scene.vehicle.tank;
  if (tank.radius > 0 && tank.capacity > 0) {
    const double length = tank.capacity / (kPi * tank.radius * tank.radius);
    drawing.parts.push_back(
        {TankShape{tank.radius, std::clamp(length, 0.1, 8.0)}, X_WV * Pose{Mat3(1), tank.place - up}, {}});
  }
  add_hanging(drawing, scene, model, state, X_WV, R);
  add_trailer(drawing, scene, model, state);
  if (const std::optional<Vec3> stake_G = stake_of(scene, model, state)) {
    const Vec3 foot = R * *stake_G, head = foot + R * Vec3(0, 0, 0.06);
    drawing.parts.push_back({StakeShape{}, {R, foot}, {}});
    add_rope(drawing, X_WV * model.hitch, head);
  }
}

}  // namespace

double to_2_cm(double length) { return std::round(length * 50) / 50; }

Pose X_WG(double slope) { return {R_WG(slope), Vec3(0)}; }

TyreMeasures tyre_measures(const Vehicle& vehicle, int wheel) {
  const Tyre& tyre = axle_of(vehicle, wheel).tyre;
  return {tyre.free_radius, tyre.rim_radius, tyre.section_width, is_front(wheel) && !vehicle.front_drive};
}

void add_machine(Drawing& drawing, const Scene& scene, const Model& model, const State& state,
                 const Overlays& overlays) {
  const Vehicle& v = scene.vehicle;
  const Mat3 R = R_WG(state.slope);
  const Pose X_WV = X_WG(state.slope) * state.X_GV;
  const Pose X_VA{about_x(state.axle_angle) * about_z(state.articulation), model.pin};
  const Pose X_WA = X_WV * X_VA;

  BodyShape body = body_shape(v);
  const bool articulated = model.axle_kind == AxleKind::articulated;
  if (articulated) {  // the half ahead of the joint turns with the front wheels
    body.joint_x = v.front_axle.joint_x;
    body.part = Bodywork::front_half;
    drawing.parts.push_back({body, X_WA * Pose{Mat3(1), -model.pin}, {}});
    body.part = Bodywork::rear_half;
  }
  drawing.parts.push_back({body, X_WV, {}});
  if (body.frame == FrameKind::cab) drawing.parts.push_back({CabGlassShape{body}, X_WV, {}});
  if (overlays.driver && v.driver.on_seat) drawing.parts.push_back({DriverShape{body.seat, v.driver.belted}, X_WV, {}});
  drawing.parts.push_back({FrontAxleShape{v.front.track, v.front.tyre.free_radius - v.front_axle.pin_height,
                                          tyre_measures(v, kFrontLeft), v.front_drive},
                           X_WA * Pose{Mat3(1), Vec3(articulated ? v.wheelbase - model.pin.x : 0, 0, 0)},
                           {}});
  if (v.loader.fitted) add_loader(drawing, scene, model, state, X_WV);
  add_wheels(drawing, scene, model, state, overlays, X_WV, R);
  add_weights(drawing, scene, model, state, X_WV, X_WA);
  add_carried(drawing, scene, model, state, X_WV, R);

  add_extent(drawing, scene, model, state, X_WV);
}

}  // namespace sidehill::screen
