#include "sim/rest/margin.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

#include "sim/base/attitude.h"
#include "sim/model/placed.h"
#include "sim/rest/equilibrium.h"

namespace sidehill {
namespace {

Vec3 square_to(const Vec3& v, const Vec3& axis) { return v - glm::dot(v, axis) * axis; }

// All lumps of the machine as it rests, in G; with the front axle and its wheels, or without.
MassProperties lump_at_rest(const Model& m, const Rest& rest, bool with_axle) {
  const Vec3 down = down_G(rest.slope);
  LooseParts loose;
  loose.rope_load_G = rope_load_place(m.rope_load, rest.X_GV, down);
  loose.tank_liquid_G = tank_liquid_place(m.tank_liquid, rest.X_GV, down);
  loose.liquid_G = rest.liquid_G;
  for (std::size_t i = 0; i < kWheels; ++i) loose.turned[i] = rest.turned[i] - m.wheels[i].turned;
  return lump_of(m, placed(m, rest.X_GV, rest.axle_angle), loose, with_axle);
}

}  // namespace

ForceAngle force_angle(const Vec3& from, const Vec3& to, const Vec3& centre, const Vec3& force, const Vec3& moment) {
  ForceAngle out;
  const double length = glm::length(to - from);
  if (!(length > 1e-9)) return out;
  const Vec3 axis = (to - from) / length;
  const Vec3 l = square_to(to - centre, axis);  // from the centre to the line
  const double reach = glm::length(l);
  if (!(reach > 1e-9)) return out;
  const Vec3 couple = glm::cross(l / reach, glm::dot(moment, axis) * axis) / reach;
  const Vec3 f = square_to(force, axis) + couple;
  const double push = glm::length(f);
  if (!(push > 0)) return out;
  const double across = glm::dot(glm::cross(l, f), axis) / push;  // arm, negative while it holds the body down
  out.angle = std::atan2(-across, glm::dot(l, f) / push);         // keeps its digits where the cosine has none
  out.by_force = out.angle * glm::length(force);
  out.by_moment = out.angle * std::abs(across) * push;
  out.arm = -across;
  return out;
}

LineMeasure about_line(const Vec3& from, const Vec3& to, const MassProperties& lump, const Vec3& gravity) {
  LineMeasure out;
  const double length = glm::length(to - from), pull = glm::length(gravity);
  if (!(length > 1e-9) || !(pull > 0) || !(lump.mass > 0)) return out;
  const ForceAngle at = force_angle(from, to, lump.com, lump.mass * gravity);
  out.angle = at.angle;
  out.angle_by_force = at.by_force;
  out.angle_by_moment = at.by_moment;
  out.plumb_line = at.arm;
  const Vec3 axis = out.axis = (to - from) / length;
  const double reach = glm::length(square_to(to - lump.com, axis));
  // About an axis that is not level only the part of gravity square to it is climbed against.
  const double push = lump.mass * glm::length(square_to(gravity, axis)), half = std::sin(0.5 * out.angle);
  out.energy = out.angle > 0 ? reach * push * 2 * half * half : 0;
  out.energy_height = out.energy / (lump.mass * pull);
  out.inertia = glm::dot(axis, lump.inertia * axis) + lump.mass * reach * reach;
  out.critical_rate = out.inertia > 0 ? std::sqrt(2 * out.energy / out.inertia) : 0;
  return out;
}

double load_transfer(double left, double right) {
  const double all = left + right;
  return all > 0 ? (right - left) / all : 0;
}

namespace {

// Rigid tyres are springs of 1e10 N/m: what they give, some micrometres, would stand in the seventh digit.
Rest without_give(const Model& m, const EquilibriumSystem& system, const Rest& rest) {
  for (std::size_t i = 0; i < kWheels; ++i)
    if (!m.wheels[i].tyre.rigid || !m.wheels[i].tyre.laterally_rigid || !(rest.load[i] > 0)) return rest;
  if (!m.terrain.features.empty() || beyond_stop(m, rest.axle_angle) != 0) return rest;
  TrialPose trial = start_trial(system);
  trial.slope = rest.slope;
  Rest out = rest_of(system, trial);
  out.load = rest.load;
  out.turned = rest.turned;
  return out;
}

// The same line with a steady force on the hitch besides.
void pulled(LineMeasure& line, const Vec3& from, const Vec3& to, const MassProperties& lump, const Vec3& gravity,
            const Vec3& hitch, const Vec3& force) {
  if (!(line.inertia > 0)) return;
  const ForceAngle at =
      force_angle(from, to, lump.com, lump.mass * gravity + force, glm::cross(hitch - lump.com, force));
  const double over = -glm::dot(line.axis, glm::cross(hitch - from, force));  // helps it over
  line.energy = std::max(0.0, line.energy - over * line.angle);
  line.energy_height = line.energy / (lump.mass * glm::length(gravity));
  line.critical_rate = std::sqrt(2 * line.energy / line.inertia);
  line.angle = at.angle;
  line.angle_by_force = at.by_force;
  line.angle_by_moment = at.by_moment;
  line.plumb_line = at.arm;
}

}  // namespace

Measures measures(const Model& model, const Rest& rest_there) {
  const EquilibriumSystem system = make_system(model);
  const Rest rest = without_give(model, system, rest_there);
  Measures out;
  const bool swings = model.axle_kind != AxleKind::fixed && beyond_stop(model, rest.axle_angle) == 0;
  const MassProperties all = lump_at_rest(model, rest, true), side = swings ? lump_at_rest(model, rest, false) : all;
  const Vec3 gravity = system.inertial_G + model.gravity * down_G(rest.slope);
  const Vec3 pin = rest.X_GV * model.pin;
  // Corners clockwise seen from above; line i of enum TipLine runs from corner i to the next.
  constexpr std::size_t kCorners[] = {kRearRight, kRearLeft, kFrontLeft, kFrontRight};
  const auto loaded = [&](std::size_t corner, std::size_t onward) {
    for (int k = 0; k < 3 && !(rest.load[kCorners[corner]] > 0); ++k) corner = (corner + onward) % 4;
    return rest.contact_G[kCorners[corner]];
  };
  for (std::size_t i = 0; i < 4; ++i) {
    const auto line = static_cast<TipLine>(i);
    const bool by_pin = swings && (line == TipLine::left || line == TipLine::right);
    const Vec3 from = by_pin && line == TipLine::right ? pin : loaded(i, 3);
    const Vec3 to = by_pin && line == TipLine::left ? pin : loaded((i + 1) % 4, 1);
    const MassProperties& lump = by_pin ? side : all;
    out.lines[i] = about_line(from, to, lump, gravity);
    if (model.trailer.mass > 0)
      pulled(out.lines[i], from, to, lump, gravity, rest.X_GV * model.hitch, trailer_pull(model, rest.X_GV.R, gravity));
  }
  for (std::size_t i = 0; i < 4; ++i)
    if (out.lines[i].energy < out.lines[static_cast<std::size_t>(out.nearest)].energy)
      out.nearest = static_cast<TipLine>(i);
  out.front_transfer = load_transfer(rest.load[0], rest.load[1]);
  out.rear_transfer = load_transfer(rest.load[2], rest.load[3]);
  out.whole_transfer = load_transfer(rest.load[0] + rest.load[2], rest.load[1] + rest.load[3]);
  return out;
}

}  // namespace sidehill
