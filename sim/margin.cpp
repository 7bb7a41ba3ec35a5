#include "sim/margin.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

namespace sidehill {
namespace {

Vec3 square_to(const Vec3& v, const Vec3& axis) { return v - glm::dot(v, axis) * axis; }

// All lumps of the machine as it rests, in G; with the front axle and its wheels, or without.
MassProperties lump_of(const Model& m, const Rest& rest, bool with_axle) {
  const Pose X_GA = rest.X_GV * Pose{about_x(rest.axle_angle), m.pin};
  MassProperties all;
  const auto add = [&](const MassProperties& props, const Pose& X_GB) {
    if (props.mass > 0) all = combine(all, moved(props, X_GB));
  };
  add(m.chassis, rest.X_GV);
  if (m.loader.fitted) add(m.loader.boom, rest.X_GV * Pose{Mat3(1.0), m.loader.pivot});
  if (with_axle) add(m.axle, X_GA);
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (i < 2 && !with_axle) continue;
    const WheelModel& wheel = m.wheels[i];
    add(wheel.dry, i < 2 ? X_GA * Pose{Mat3(1.0), wheel.centre - m.pin} : rest.X_GV * Pose{Mat3(1.0), wheel.centre});
    // The liquid stays level: it goes along as a point.
    if (wheel.liquid.mass > 0) add(point_mass(wheel.liquid.mass, rest.liquid_G[i]), Pose{});
  }
  return all;
}

}  // namespace

LineMeasure about_line(const Vec3& from, const Vec3& to, const MassProperties& lump, const Vec3& gravity) {
  LineMeasure out;
  const double length = glm::length(to - from), pull = glm::length(gravity);
  if (!(length > 1e-9) || !(pull > 0)) return out;
  const Vec3 axis = (to - from) / length;
  const Vec3 arm = square_to(to - lump.com, axis);          // from the centre of gravity to the line
  const Vec3 force = square_to(lump.mass * gravity, axis);  // the part that can turn it
  const double reach = glm::length(arm), push = glm::length(force);
  if (!(reach > 1e-9) || !(push > 0)) return out;
  const double inside = glm::dot(glm::cross(arm, force), axis) < 0 ? 1 : -1;
  out.angle = inside * std::acos(std::clamp(glm::dot(arm, force) / (reach * push), -1.0, 1.0));
  out.angle_by_force = out.angle * lump.mass * pull;
  const double distance = glm::length(arm - glm::dot(arm, force) / (push * push) * force);
  out.plumb_line = inside * distance;
  out.angle_by_moment = out.angle * distance * push;
  // About an axis that is not level only the part of gravity square to it is climbed against.
  out.energy = out.angle > 0 ? reach * push * (1 - std::cos(out.angle)) : 0;
  out.energy_height = out.energy / (lump.mass * pull);
  const double inertia = glm::dot(axis, lump.inertia * axis) + lump.mass * reach * reach;
  out.critical_rate = std::sqrt(2 * out.energy / inertia);
  return out;
}

double load_transfer(double left, double right) {
  const double all = left + right;
  return all > 0 ? (right - left) / all : 0;
}

Measures measures(const Model& model, const Rest& rest) {
  Measures out;
  const bool swings = model.axle_kind == AxleKind::pivoting && std::abs(rest.axle_angle) < model.stop_angle;
  const MassProperties all = lump_of(model, rest, true), side = swings ? lump_of(model, rest, false) : all;
  const Vec3 gravity(0, -model.gravity * std::sin(rest.slope), -model.gravity * std::cos(rest.slope));
  const Vec3 pin = rest.X_GV * model.pin;
  const auto& c = rest.contact_G;
  out.lines[static_cast<std::size_t>(TipLine::rear)] = about_line(c[kRearRight], c[kRearLeft], all, gravity);
  out.lines[static_cast<std::size_t>(TipLine::left)] =
      about_line(c[kRearLeft], swings ? pin : c[kFrontLeft], side, gravity);
  out.lines[static_cast<std::size_t>(TipLine::front)] = about_line(c[kFrontLeft], c[kFrontRight], all, gravity);
  out.lines[static_cast<std::size_t>(TipLine::right)] =
      about_line(swings ? pin : c[kFrontRight], c[kRearRight], side, gravity);
  for (std::size_t i = 0; i < 4; ++i)
    if (out.lines[i].energy < out.lines[static_cast<std::size_t>(out.nearest)].energy)
      out.nearest = static_cast<TipLine>(i);
  out.front_transfer = load_transfer(rest.load[0], rest.load[1]);
  out.rear_transfer = load_transfer(rest.load[2], rest.load[3]);
  out.whole_transfer = load_transfer(rest.load[0] + rest.load[2], rest.load[1] + rest.load[3]);
  return out;
}

}  // namespace sidehill
