#include "sim/motion/under_way.h"

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <glm/geometric.hpp>

#include "sim/base/attitude.h"
#include "sim/model/placed.h"

namespace sidehill {
namespace {

// What would go over: everything, or all but the front axle with its wheels. In G, each part about its own place now.
MassProperties lump_now(const Model& m, const State& s, bool with_axle) {
  LooseParts loose;
  loose.rope_load_G = s.hanging_G;
  loose.tank_liquid_G = s.tank_G;
  loose.boom_turned = s.boom_angle - m.loader.angle;
  PlacedMachine at = placed(m, s.X_GV, s.axle_angle, s.articulation);
  for (std::size_t i = 0; i < kWheels; ++i) {
    loose.liquid_G[i] = s.wheels[i].liquid_G;
    loose.turned[i] = s.wheels[i].spin_angle;
    at.X_GH[i].p = s.wheels[i].centre_G;
  }
  return lump_of(m, at, loose, with_axle);
}

// Lines and lumps a machine could go over now.
struct Supports {
  std::array<std::array<Vec3, 2>, 4> lines;  // order of enum TipLine, clockwise seen from above
  MassProperties all, side;                  // of front and rear line; of left and right
};

std::optional<Supports> supports(const Model& model, const State& state, Vec3& load) {
  if (state.hull_touches) return std::nullopt;  // it lies: there is nothing left to say
  Vec3 force{0.0};
  for (const WheelState& wheel : state.wheels) force += wheel.force_G;
  if (!(glm::length(force) > 0.05 * total_mass(model) * model.gravity)) return std::nullopt;
  load = -force;
  // What stands on the side lines: without the front axle while that can swing.
  const bool swings = model.axle_kind != AxleKind::fixed && !state.on_stop;
  Supports out;
  out.all = lump_now(model, state, true);
  out.side = swings ? lump_now(model, state, false) : out.all;
  const Vec3 pin = state.X_GV * model.pin;
  const auto contact = [&](int wheel) { return state.wheels[static_cast<std::size_t>(wheel)].contact_G; };
  const Vec3 front_left = swings ? pin : contact(kFrontLeft), front_right = swings ? pin : contact(kFrontRight);
  out.lines[static_cast<std::size_t>(TipLine::rear)] = {contact(kRearRight), contact(kRearLeft)};
  out.lines[static_cast<std::size_t>(TipLine::left)] = {contact(kRearLeft), front_left};
  out.lines[static_cast<std::size_t>(TipLine::front)] = {contact(kFrontLeft), contact(kFrontRight)};
  out.lines[static_cast<std::size_t>(TipLine::right)] = {front_right, contact(kRearRight)};
  return out;
}

bool sideways(std::size_t line) {
  return line == static_cast<std::size_t>(TipLine::left) || line == static_cast<std::size_t>(TipLine::right);
}

}  // namespace

std::optional<double> angle_left(const Model& model, const State& state) {
  Vec3 load;
  const auto there = supports(model, state, load);
  if (!there) return std::nullopt;
  double least = 1e9;
  for (std::size_t i = 0; i < 4; ++i) {
    const Vec3 centre = sideways(i) ? there->side.com : state.centre_of_gravity_G;
    // What pulls at the hitch is in the load; here it is also where it pulls.
    const Vec3 moment = glm::cross(state.hitch_G - centre, state.hitch_force_G);
    least = std::min(least, force_angle(there->lines[i][0], there->lines[i][1], centre, load, moment).angle);
  }
  if (!std::isfinite(least)) return std::nullopt;
  return least;
}

double time_to_line(const Toppling& body) {
  const double climb = body.barrier / (1 - std::cos(body.angle));
  const auto slowness = [&](double left) {
    const double climbed = climb * (std::cos(left) - std::cos(body.angle)) - body.pulls * (body.angle - left);
    return 1 / std::sqrt(2 * std::max(body.moving - climbed, 1e-12) / body.inertia);
  };
  // Adaptive: with little energy left over, nearly all of the time is spent next to the line.
  constexpr unsigned kHalvings = 15;
  return boost::math::quadrature::gauss_kronrod<double, 31>::integrate(slowness, 0.0, body.angle, kHalvings, 1e-9);
}

std::optional<Remaining> remaining(const Model& model, const State& state) {
  Vec3 load;
  const auto there = supports(model, state, load);
  if (!there) return std::nullopt;
  const Vec3 gravity = model.gravity * down_G(state.slope);
  std::optional<Remaining> nearest;
  for (std::size_t i = 0; i < 4; ++i) {
    const MassProperties& lump = sideways(i) ? there->side : there->all;
    const LineMeasure at = about_line(there->lines[i][0], there->lines[i][1], lump, gravity);
    if (!(at.inertia > 0)) continue;
    const double turning = -glm::dot(state.w_G, at.axis);  // over the line positive
    Remaining here;
    here.line = static_cast<TipLine>(i);
    here.over = at.angle <= 0;
    const double moving = turning > 0 ? 0.5 * at.inertia * turning * turning : 0;
    // A pull at the hitch helps it over, or holds it, as it pulls now.
    const double pulls = -glm::dot(at.axis, glm::cross(state.hitch_G - there->lines[i][0], state.hitch_force_G));
    here.energy = here.over ? -moving : at.energy - pulls * at.angle - moving;
    if (here.over) here.time = 0;
    if (!here.over && here.energy < 0) {
      here.time = time_to_line({at.angle, at.inertia, at.energy, moving, pulls});
    }
    if (!nearest || here.energy < nearest->energy) nearest = here;
  }
  return nearest;
}

LeastMargins least_margins(const Model& model, const std::vector<State>& states, double from, double until) {
  LeastMargins least;
  for (const State& state : states) {
    if (state.time < from - 1e-9) continue;
    if (state.time > until) break;
    const auto angle = angle_left(model, state);
    const auto left = remaining(model, state);
    if (left && left->over) break;  // from here on there is none
    if (angle && (!least.angle || *angle < *least.angle)) least.angle = angle, least.angle_at = state.time;
    if (!left || (least.energy && left->energy >= *least.energy)) continue;
    least.energy = left->energy;
    least.energy_at = state.time;
    least.line = left->line;
  }
  return least;
}

}  // namespace sidehill
