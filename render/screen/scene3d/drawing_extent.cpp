// How far the machine of a Drawing reaches, and what cameras go by.
#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/scene3d/drawing_parts.h"
#include "render/text/words/ground_words.h"
#include "sim/base/constants.h"
#include "sim/model/placed.h"
#include "vehicles/loader_tool.h"

namespace sidehill::screen {
namespace {

// Corners of a machine without its loader's arms, in V.
std::vector<Vec3> box_corners(const Scene& scene) {
  const Vehicle& v = scene.vehicle;
  const double back = -std::max(v.rear.tyre.free_radius, scene.ballast.rear_weights > 0 ? -v.rear_mount.x + 0.3 : 0.0);
  const double ahead = std::max(v.chassis.length_ahead, scene.ballast.front_weights > 0 ? v.front_mount.x + 0.2 : 0.0);
  const double head = v.driver.on_seat ? v.driver.place.z + 0.75 : 0;  // of the driver, over their centre
  const double high =
      std::max({v.chassis.bonnet_height, v.frame.kind == FrameKind::none ? 0.0 : v.frame.top_height, head});
  const auto across = [](const Axle& axle) {
    return (axle.track + axle.tyre.section_width) / 2 + std::max(axle.dual_spacing, 0.0);
  };
  const double half_width = std::max(across(v.rear), across(v.front));
  const double down = -v.rear.tyre.free_radius;
  std::vector<Vec3> places;
  for (const double y : {-half_width, half_width})
    for (const double x : {back, ahead})
      for (const double z : {down, down + high}) places.emplace_back(x, y, z);
  if (const Implement& implement = scene.ballast.implement; implement.mass > 0)
    for (const double y : {-implement.width / 2, implement.width / 2})
      places.emplace_back(implement.x - 0.4, y, implement.z - v.rear.tyre.free_radius);
  return places;
}

void add_loader_corners(std::vector<Vec3>& places, const Scene& scene, const Model& model, double boom_angle) {
  const Loader& loader = scene.vehicle.loader;
  const Vec3 pin = bucket_pin(model.loader, boom_angle);
  for (const double y : {-loader.bucket_width / 2, loader.bucket_width / 2})
    for (const Vec3& p : {Vec3(0.85, y, 0), Vec3(0.1, y, 0.6)}) places.push_back(pin + p);
  if (!has_bale(scene.ballast.bale)) return;
  const LoadBox box = bale_box(scene.ballast);
  for (const double x : {box.low.x, box.high.x})
    for (const double y : {box.low.y, box.high.y})
      for (const double z : {box.low.z, box.high.z}) places.push_back(pin + Vec3(x, y, z));
}

// In W.
std::vector<Vec3> cart_corners(const Scene& scene, const Model& model, const State& state) {
  std::vector<Vec3> corners;
  if (!(scene.ballast.trailer.mass > 0)) return corners;
  const CartPlace cart = cart_place(scene, model, state);
  const Pose X_WT = X_WG(state.slope) * cart.X_GT;
  for (const double y : {-cart.size, cart.size}) {
    corners.push_back(X_WT * Vec3(-1.9 * cart.size, y, -cart.radius));
    corners.push_back(X_WT * Vec3(-1.9 * cart.size, y, cart.radius + 0.8 * cart.size));
  }
  return corners;
}

// Obstacles near the machine and the ground that the scene's own view is to show, in W.
void add_wanted(Drawing& drawing, const Scene& scene, const Model& model, const State& state, const Pose& X_WS) {
  constexpr double kNearby = 12, kHalf = 2.0;  // of an obstacle that is larger its nearest part is enough [m]
  const Mat3 R = R_WG(state.slope);
  const Vec3 stand_G = glm::transpose(R) * drawing.stand;
  if (scene.view.obstacles) {
    for (const Feature& feature : model.terrain.features) {
      const Vec3 middle(feature.x, feature.y, 0);
      if (feature.kind == FeatureKind::rough || glm::length(middle - stand_G) > kNearby) continue;
      const double half = std::min(kHalf, feature.length / 2), half_width = std::min(kHalf, feature.width / 2);
      const Mat3 turned = about_z(feature.angle);
      for (const double s : {-1.0, 1.0}) {
        drawing.wanted.push_back(R * (middle + turned * Vec3(s * half, 0, 0)));
        drawing.wanted.push_back(R * (middle + turned * Vec3(0, s * (is_round(feature) ? half : half_width), 0)));
      }
    }
    if (const std::optional<Vec3> stake_G = stake_of(scene, model, state))
      if (glm::length(*stake_G - stand_G) < kNearby) drawing.wanted.push_back(R * *stake_G + Vec3(0, 0, 0.6));
  }
  const Vehicle& v = scene.vehicle;
  const double nose = v.chassis.length_ahead, tail = -v.rear.tyre.free_radius, down = -v.rear.tyre.free_radius;
  if (scene.view.ahead > 0) drawing.wanted.push_back(X_WS * Vec3(nose + scene.view.ahead, 0, down));
  if (scene.view.behind > 0) drawing.wanted.push_back(X_WS * Vec3(tail - scene.view.behind, 0, down));
}

}  // namespace

CartPlace cart_place(const Scene& scene, const Model& model, const State& state) {
  CartPlace cart;
  cart.size = std::round(20 * std::clamp(std::cbrt(scene.ballast.trailer.mass / 6000), 0.55, 1.4)) / 20;
  cart.radius = 0.48 * cart.size;
  const Vec3 hitch = state.X_GV * model.hitch;
  Vec3 forward(state.X_GV.R[0].x, state.X_GV.R[0].y, 0);
  forward = glm::length(forward) > 1e-3 ? glm::normalize(forward) : Vec3(1, 0, 0);
  const Vec3 axle = hitch - 2.9 * cart.size * forward;
  const GroundPoint ground = ground_at(model.terrain, {axle.x, axle.y});
  const Vec3 up = glm::normalize(ground.normal);
  forward = glm::normalize(forward - glm::dot(forward, up) * up);
  cart.X_GT = {Mat3(forward, glm::cross(up, forward), up), Vec3(axle.x, axle.y, ground.height) + cart.radius * up};
  const Vec3 eye = inverse(cart.X_GT) * hitch;
  cart.hitch = {to_2_cm(eye.x), to_2_cm(eye.z)};
  return cart;
}

std::optional<Vec3> stake_of(const Scene& scene, const Model& model, const State& state) {
  if (state.tied) return state.stake_G;
  // A machine that stands until it is tied stands where it will be tied (sim/motion/machine_forces). After the moment
  // of tying it is tied or has been let go.
  for (const Action& action : scene.programme.actions) {
    if (action.what == ActionKind::drive || action.what == ActionKind::drop_clutch) return {};
    if (action.what != ActionKind::tie) continue;
    if (scene.programme.speed != 0 || state.time > action.at + 0.05) return {};
    Vec3 forward(state.X_GV.R[0].x, state.X_GV.R[0].y, 0);
    if (glm::length(forward) < 1e-3) return {};
    const Vec3 at = state.X_GV * model.hitch - action.rope * glm::normalize(forward);
    return Vec3(at.x, at.y, ground_at(model.terrain, {at.x, at.y}).height);
  }
  return {};
}

void add_extent(Drawing& drawing, const Scene& scene, const Model& model, const State& state, const Pose& X_WV) {
  const Vehicle& v = scene.vehicle;
  std::vector<Vec3> places = box_corners(scene);  // in V
  if (v.loader.fitted) add_loader_corners(places, scene, model, state.boom_angle);
  const Pose X_VW = inverse(X_WV);
  const std::vector<Vec3> cart = cart_corners(scene, model, state);
  for (const Vec3& p : cart) places.push_back(X_VW * p);
  Vec3 low = places.front(), top = low;
  for (const Vec3& p : places) {
    low = glm::min(low, p);
    top = glm::max(top, p);
    drawing.extent.push_back(X_WV * p);
  }
  drawing.focus = X_WV * ((low + top) / 2.0);
  drawing.size = 0;
  for (const Vec3& p : drawing.extent) drawing.size = std::max(drawing.size, glm::length(p - drawing.focus));

  // The same machine standing square on the even slope, its tyres as they are without load.
  const Vec3 nose_G = state.X_GV.R[0], middle_G = state.X_GV * Vec3(v.wheelbase / 2, 0, 0);
  const double turned = std::hypot(nose_G.x, nose_G.y) > 1e-3 ? std::atan2(nose_G.y, nose_G.x) : 0;
  const Mat3 R = R_WG(state.slope), R_WS = R * about_z(turned);
  drawing.stand = R * Vec3(middle_G.x, middle_G.y, 0);
  drawing.heading = std::atan2(R_WS[0].y, R_WS[0].x);
  const Pose X_WS{R_WS, drawing.stand + R_WS * Vec3(-v.wheelbase / 2, 0, v.rear.tyre.free_radius)};
  std::vector<Vec3> held = box_corners(scene);
  if (v.loader.fitted) add_loader_corners(held, scene, model, model.loader.min_angle);
  if (v.loader.fitted)
    for (const double y : {-v.loader.bucket_width / 2, v.loader.bucket_width / 2})
      held.push_back(bucket_pin(model.loader, model.loader.max_angle) + Vec3(0.4, y, 0));
  for (const Vec3& p : held) drawing.held.push_back(X_WS * p);
  drawing.held.insert(drawing.held.end(), cart.begin(), cart.end());
  drawing.view = scene.view;
  add_wanted(drawing, scene, model, state, X_WS);
}

}  // namespace sidehill::screen
