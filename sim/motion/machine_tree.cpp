#include "sim/motion/machine_tree.h"

#include <algorithm>
#include <cmath>

#include "sim/base/errors.h"
#include "sim/scene/scene.h"

namespace sidehill {
namespace {

void refuse_rigid(const Model& model) {
  for (const WheelModel& wheel : model.wheels)
    if (wheel.tyre.rigid || wheel.tyre.laterally_rigid)
      throw InputError(
          "vehicle.rear.tyre.rigid = true: a rigid tyre is for the answer at rest; a moving machine needs rigid = "
          "false and laterally_rigid = false");
}

// A hinge needs inertia about its axis; wheels alone carry some, a beam most.
void refuse_massless_axle(const Model& model) {
  const MassProperties& axle = model.axle;
  double about_pin = axle.inertia[0][0] + axle.mass * (axle.com.y * axle.com.y + axle.com.z * axle.com.z);
  for (std::size_t i = 0; i < 2; ++i) {
    const Vec3 out = model.wheels[i].centre - model.pin;
    about_pin += model.wheels[i].dry.mass * glm::dot(out, out);
  }
  if (!(axle.mass > 0) || !(about_pin > 1))
    throw InputError(
        "vehicle.front_axle.mass_kg = 0: a pivoting axle without mass is for the answer at rest; a moving machine "
        "needs at least 1 kg");
}

// A fill as a pendulum about the axle that swings as fast as the liquid; about the other axes it is taken along by the
// tyre, with the inertia of where it lies.
MassProperties liquid_body(const LiquidLump& liquid) {
  const double spin = liquid.mass * std::max(liquid.gyration_squared - liquid.depth * liquid.depth, 1e-3);
  return {liquid.mass, Vec3(0, 0, -liquid.depth),
          Mat3(liquid.inertia[0][0], 0, 0, 0, spin, 0, 0, 0, liquid.inertia[2][2])};
}

bool round_about_y(const MassProperties& props) {
  return props.com.x == 0 && props.com.z == 0 && props.inertia[0][0] == props.inertia[2][2];
}

// Between two hinges at one place: no mass, and too little inertia to matter, but never none.
MassProperties joiner(double inertia) { return {0, Vec3(0.0), Mat3(inertia, 0, 0, 0, inertia, 0, 0, 0, inertia)}; }

int hang(Tree& tree, int parent, const Vec3& place, const Vec3& axis, const MassProperties& props, bool round = false) {
  tree.bodies.push_back({parent, place, axis, props, round});
  return static_cast<int>(tree.bodies.size()) - 1;
}

}  // namespace

MachineTree machine_tree(const Model& m) {
  refuse_rigid(m);
  const bool pivoting = m.axle_kind != AxleKind::fixed, articulated = m.axle_kind == AxleKind::articulated;
  if (pivoting) refuse_massless_axle(m);
  MassProperties base = m.chassis;
  if (!pivoting && m.axle.mass > 0) base = combine(base, {m.axle.mass, m.axle.com + m.pin, m.axle.inertia});
  if (!(base.mass > 0)) throw InputError("vehicle.chassis.mass_kg = 0: a moving machine needs a chassis with mass");
  if (!(std::min({base.inertia[0][0], base.inertia[1][1], base.inertia[2][2]}) > 1))
    throw InputError("vehicle.chassis.inertia_kgm2 = 0: a moving machine needs a moment of inertia about each axis");
  MachineTree out;
  Tree& tree = out.tree;
  tree.bodies.push_back({-1, Vec3(0.0), Vec3(0.0), base, false});
  if (pivoting && !articulated) out.axle = out.front = hang(tree, kChassis, m.pin, {1, 0, 0}, m.axle);
  if (articulated) {
    out.axle = hang(tree, kChassis, m.pin, {1, 0, 0}, joiner(1e-3 * m.axle.mass));
    out.front = hang(tree, out.axle, Vec3(0.0), {0, 0, 1}, m.axle);
  }
  for (std::size_t i = 0; i < kWheels; ++i) {
    const WheelModel& wheel = m.wheels[i];
    const int on = carrier(out, i);
    const Vec3 place = on == kChassis ? wheel.centre : wheel.centre - m.pin;
    if (wheel.dry.mass > 0) out.wheel[i] = hang(tree, on, place, {0, 1, 0}, wheel.dry, round_about_y(wheel.dry));
    if (wheel.liquid.mass > 0) out.liquid[i] = hang(tree, on, place, {0, 1, 0}, liquid_body(wheel.liquid));
  }
  const LoaderModel& loader = m.loader;
  const Vec3 to_pin = loader.length * Vec3(std::cos(loader.angle), 0, std::sin(loader.angle));
  if (loader.fitted && loader.boom.mass > 0) {
    const bool levelled =
        loader.parallel && loader.arms.mass > 0 && loader.bucket.mass > 0 && loader.bucket.inertia[1][1] > 1;
    out.boom = hang(tree, kChassis, loader.pivot, {0, -1, 0}, levelled ? loader.arms : loader.boom);
    if (levelled) out.bucket = hang(tree, out.boom, to_pin, {0, -1, 0}, loader.bucket);
  }
  if (m.rope_load.mass > 0 && out.boom >= 0) {
    const double swing = m.rope_load.mass * m.rope_load.length * m.rope_load.length;
    out.rope = hang(tree, out.boom, to_pin, {1, 0, 0}, joiner(1e-2 * swing));
    out.load = hang(tree, out.rope, Vec3(0.0), {0, 1, 0}, point_mass(m.rope_load.mass, {0, 0, -m.rope_load.length}));
  }
  if (m.tank_liquid.mass > 0) {
    const HangingMass& liquid = m.tank_liquid;
    const double own = liquid.mass * std::max(liquid.gyration_squared - liquid.length * liquid.length, 1e-3);
    out.tank = hang(tree, kChassis, liquid.from, {1, 0, 0},
                    {liquid.mass, Vec3(0, 0, -liquid.length), Mat3(own, 0, 0, 0, own, 0, 0, 0, own)});
  }
  return out;
}

double spin_inertia(const WheelModel& wheel) {
  const MassProperties& dry = wheel.dry;
  return dry.inertia[1][1] + dry.mass * (dry.com.x * dry.com.x + dry.com.z * dry.com.z);
}

const char* body_name(const MachineTree& machine, int body) {
  constexpr const char* kWheelNames[] = {"front left wheel", "front right wheel", "rear left wheel",
                                         "rear right wheel"};
  constexpr const char* kLiquidNames[] = {"liquid in the front left tyre", "liquid in the front right tyre",
                                          "liquid in the rear left tyre", "liquid in the rear right tyre"};
  if (body == kChassis) return "chassis";
  if (body == machine.axle) return "front axle";
  if (body == machine.front) return "front half";
  if (body == machine.boom) return "loader boom";
  if (body == machine.bucket) return "bucket";
  if (body == machine.rope || body == machine.load) return "load on the rope";
  if (body == machine.tank) return "liquid in the tank";
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (body == machine.wheel[i]) return kWheelNames[i];
    if (body == machine.liquid[i]) return kLiquidNames[i];
  }
  return "part";
}

}  // namespace sidehill
