#include "render/screen/under_way.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

namespace sidehill {
namespace {

Mat3 turn_about_x(double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  return Mat3(Vec3(1, 0, 0), Vec3(0, c, s), Vec3(0, -s, c));
}

struct Sum {
  double mass = 0;
  Vec3 moment{0.0};
  void add(double m, Vec3 place) {
    mass += m;
    moment += m * place;
  }
  Vec3 centre() const { return moment / mass; }
};

// Angle by which `load` at `place` can turn about the line from `a` to `b` before it meets that line. The machine is to
// the left of the line, seen from above: positive while the load points inside.
double angle_about(Vec3 a, Vec3 b, Vec3 place, Vec3 load) {
  const Vec3 along = glm::normalize(b - a);
  const auto across = [&](Vec3 v) { return v - along * glm::dot(v, along); };
  const Vec3 to_line = across(a - place), turning = across(load);
  return std::atan2(glm::dot(glm::cross(to_line, turning), along), glm::dot(to_line, turning));
}

}  // namespace

std::optional<double> angle_left(const Model& model, const State& state) {
  if (state.hull_touches) return std::nullopt;  // it lies: there is nothing left to say
  Vec3 force{0.0};
  for (const WheelState& wheel : state.wheels) force += wheel.force_G;
  const double weight = total_mass(model) * model.gravity;
  if (!(glm::length(force) > 0.05 * weight)) return std::nullopt;

  // What stands on the support lines: without the front axle while that can swing.
  const bool swings = model.axle_kind == AxleKind::pivoting && !state.on_stop;
  Sum body;
  body.add(model.chassis.mass, state.X_GV * model.chassis.com);
  if (model.loader.fitted && model.loader.boom.mass > 0) {
    // The boom's masses turn with it about the pivot; `boom` is given at the model's own angle.
    const double turn = state.boom_angle - model.loader.angle;
    const Vec3 p = model.loader.boom.com;
    const Vec3 turned(p.x * std::cos(turn) - p.z * std::sin(turn), p.y, p.x * std::sin(turn) + p.z * std::cos(turn));
    body.add(model.loader.boom.mass, state.X_GV * (model.loader.pivot + turned));
  }
  const Mat3 R_VA = turn_about_x(state.axle_angle);
  for (int i = 0; i < kWheels; ++i) {
    if (swings && is_front(i)) continue;
    const WheelModel& wheel = model.wheels[static_cast<std::size_t>(i)];
    const WheelState& now = state.wheels[static_cast<std::size_t>(i)];
    const bool on_axle = is_front(i) && model.axle_kind == AxleKind::pivoting;
    if (wheel.dry.mass > 0) {
      const Vec3 com = about_y(now.spin_angle) * wheel.dry.com;
      body.add(wheel.dry.mass, now.centre_G + state.X_GV.R * (on_axle ? R_VA * com : com));
    }
    if (wheel.liquid.mass > 0) body.add(wheel.liquid.mass, now.liquid_G);
  }
  if (!swings && model.axle.mass > 0) body.add(model.axle.mass, state.X_GV * (model.pin + R_VA * model.axle.com));

  const Vec3 load = -force;
  const Vec3 pin = state.X_GV * model.pin;
  const auto contact = [&](int wheel) { return state.wheels[static_cast<std::size_t>(wheel)].contact_G; };
  // Anticlockwise seen from above. Sideways the body turns alone while the front axle swings; fore and aft everything
  // goes.
  double least = angle_about(swings ? pin : contact(kFrontLeft), contact(kRearLeft), body.centre(), load);
  least = std::min(least, angle_about(contact(kRearRight), swings ? pin : contact(kFrontRight), body.centre(), load));
  least = std::min(least, angle_about(contact(kRearLeft), contact(kRearRight), state.centre_of_gravity_G, load));
  least = std::min(least, angle_about(contact(kFrontRight), contact(kFrontLeft), state.centre_of_gravity_G, load));
  if (!std::isfinite(least)) return std::nullopt;
  return least;
}

}  // namespace sidehill
