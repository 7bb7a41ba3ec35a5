// Third step of make_machine: mass and place of the chassis, so that the whole machine weighs what was weighed, where
// it was weighed. Source: sums of mass and moment.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/model/model.h"
#include "sim/own_machine/machine_parts.h"
#include "sim/own_machine/weighing.h"
#include "sim/scene/scene.h"
#include "sim/scene/scene_fields.h"
#include "vehicles/tyre_cavity.h"

namespace sidehill {
namespace {

// Of an estimated height of the centre of gravity [-]. Taken from any of the class machines for any other (but the
// narrow orchard one, which carries its weight higher over its tyres), first lift-off stays within what this makes of
// it: tests/sim/own_machine/made_machine_test.cpp.
constexpr double kHeightDoubt = 0.08;
// A cab in place of a two-post frame lifts the whole centre by this [-]: a twelfth of the mass, half as high again; our
// estimate.
constexpr double kCab = 0.04;

// Masses and moments about the origin of the measuring frame.
struct Sum {
  double mass = 0, x = 0, z = 0;
  void add(double m, double at_x, double at_z) { mass += m, x += m * at_x, z += m * at_z; }
  Sum less(const Sum& o) const { return {mass - o.mass, x - o.x, z - o.z}; }
};

// The machine's own lines but for the parts to be found: chassis, or both halves of an articulated machine.
struct Others {
  Sum machine;  // beam and wheels
  Sum on;       // all that was on it when it was weighed
};

bool is_body(const LedgerLine& line) {
  return line.item == LedgerItem::machine &&
         (line.name == "chassis, engine and rear axle" || line.name == "front half");
}

TyreLiquid liquid_of(double both, const Tyre& tyre) {
  if (!(both > 0)) return {};
  const double full = liquid_in_tyre(tyre.free_radius, tyre.rim_radius, tyre.section_width, 1, 1000).mass;
  if (!(full > 0)) return {both, 0};
  const double fill = std::clamp(both / 2 / full, 0.0, 1.0);
  return {both, liquid_in_tyre(tyre.free_radius, tyre.rim_radius, tyre.section_width, fill, 1000).depth};
}

Others others_of(const MachineEntry& e, const Vehicle& v) {
  Scene scene;
  scene.vehicle = v;
  scene.vehicle.driver.on_seat = e.driver.value_or(0) > 0;
  scene.vehicle.driver.mass = e.driver.value_or(0);
  scene.ballast.tank_fraction = e.fuel.value_or(kFuelUnsaid);
  scene.ballast.front_weights = e.front_weights.value_or(0);
  scene.ballast.rear_weights = e.rear_weights.value_or(0);
  scene.ballast.front_wheel_weights = e.front_wheel_weights.value_or(0);
  scene.ballast.rear_wheel_weights = e.rear_wheel_weights.value_or(0);
  if (v.loader.fitted)
    scene.ballast.loader_pin_height =
        std::clamp(kKneeHigh, v.loader.min_pin_height, std::max(v.loader.min_pin_height, v.loader.max_pin_height));
  Others out;
  for (const LedgerLine& line : build(scene).ledger) {
    if (is_body(line)) continue;
    (line.item == LedgerItem::machine ? out.machine : out.on).add(line.props.mass, line.props.com.x, line.props.com.z);
  }
  const double front = e.front_liquid.value_or(0), rear = e.rear_liquid.value_or(0);
  out.on.add(front, v.wheelbase, v.front.tyre.free_radius - liquid_of(front, v.front.tyre).depth);
  out.on.add(rear, 0, v.rear.tyre.free_radius - liquid_of(rear, v.rear.tyre).depth);
  return out;
}

// What may be in the rear tyres unsaid and unseen [kg]: three quarters of water in both, our estimate of a usual
// filling. Whoever weighs sees cast weights: they are asked for, but add no doubt.
double unsaid_liquid(const MachineEntry& e, const Tyre& rear) {
  constexpr double kUsualFill = 0.75, kWater = 1000;  // [kg/m3]
  return e.front_liquid || e.rear_liquid ? 0 : 2 * kUsualFill * kWater * cavity_volume(cavity_of(rear));
}

double stands_at(const Tyre& tyre, double axle_load, const std::optional<double>& measured) {
  return measured.value_or(tyre.free_radius - 0.5 * axle_load * kStandardGravity / tyre.vertical_stiffness);
}

// Height of the whole as weighed, on unloaded tyres, and its doubt [m].
struct Height {
  std::optional<double> z;
  double doubt = 0;
  const char* how = "";
};

Height height_of(const MachineEntry& e, const Vehicle& v, const Scales& s, double mass, double x, MadeMachine& made) {
  Height out;
  if (!e.centre_height && !e.raised_by && !e.raised_rear) return out;
  const double front = s.front_load.value_or(mass * x / v.wheelbase), rear = mass - front;
  const double front_stands = stands_at(v.front.tyre, front, e.front_centre),
               rear_stands = stands_at(v.rear.tyre, rear, e.rear_centre);
  std::optional<double> level;
  if (e.centre_height) {
    level = e.centre_height;
    out.doubt = 0.03, out.how = "from the height its owner gave for the whole machine";
  } else if (!e.raised_by || !e.raised_rear) {
    made.checks.push_back({e.raised_by ? "raised_rear_kg" : "raised_by_m", Severity::mild,
                           "missing: a raised weighing needs both, so the height of the weight stays an estimate"});
  } else if (!s.front_load || !s.rear_load) {
    made.checks.push_back({"front_axle_kg", Severity::mild,
                           "missing: a raised weighing needs both axles weighed level, so the height of the weight "
                           "stays an estimate"});
  } else {
    Weighing w;
    w.wheelbase = v.wheelbase;
    w.front_radius = front_stands, w.rear_radius = rear_stands;
    w.front = *s.front_load, w.rear = *s.rear_load;
    w.front_raised = true;
    w.height = *e.raised_by, w.rear_then = e.raised_rear;
    w.front_liquid = e.front_liquid.value_or(0), w.rear_liquid = e.rear_liquid.value_or(0);
    w.front_liquid_depth = liquid_of(w.front_liquid, v.front.tyre).depth;
    w.rear_liquid_depth = liquid_of(w.rear_liquid, v.rear.tyre).depth;
    if (const auto conflict = find_weighing_conflict(w)) {
      made.checks.push_back(
          {conflict->key.starts_with("raise_") ? "raised_by_m" : "raised_rear_kg", Severity::grave, conflict->message});
      return out;
    }
    level = centre_of_gravity_of(w).z;
    out.doubt = std::hypot(error_of(w, {}).centre.z, e.front_centre && e.rear_centre ? 0 : 0.01);
    out.how = "from the weighing with the front raised";
    if (out.doubt > 0.12 * *level)
      made.checks.push_back(
          {"raised_by_m", Severity::mild,
           fmt::format("so little that the height of its weight is known to +-{:.2f} m only: raise it "
                       "higher, within what is safe",
                       out.doubt)});
  }
  if (!level) return out;
  const double front_sinks = v.front.tyre.free_radius - front_stands,
               rear_sinks = v.rear.tyre.free_radius - rear_stands;
  out.z = *level + rear_sinks + (front_sinks - rear_sinks) * x / v.wheelbase;
  return out;
}

void note(MadeMachine& made, std::string_view key, DatumFrom from, const std::string& how, double tolerance) {
  for (DatumOrigin& origin : made.origins)
    if (origin.key == key) origin.from = from, origin.how = how, origin.tolerance = tolerance;
}

// Both halves of an articulated machine share what is left by where it balances; heights move together.
void share_halves(Vehicle& v, const Sum& rest, bool balanced, double z, MadeMachine& made) {
  const double rear_x = v.chassis.centre_of_gravity.x, front_x = v.front_axle.x > 0 ? v.front_axle.x : v.wheelbase;
  const double was = v.chassis.mass + v.front_axle.mass, share = v.front_axle.mass / was;
  double front = rest.mass * share;
  if (balanced) {
    front = (rest.x - rest.mass * rear_x) / (front_x - rear_x);
    if (!(front > 0.1 * rest.mass && front < 0.9 * rest.mass)) {
      made.checks.push_back({"front_axle_kg", Severity::grave,
                             "leaves one half of the machine next to nothing: check which axle is which"});
      front = rest.mass * share;
    }
  }
  v.chassis.mass = rest.mass - front;
  v.front_axle.mass = front;
  const double now = (v.chassis.mass * v.chassis.centre_of_gravity.z + front * v.front_axle.z) / rest.mass;
  v.chassis.centre_of_gravity.z *= z / now;
  v.front_axle.z *= z / now;
}

}  // namespace

void place_masses(const MachineEntry& e, const Vehicle& like, const Scales& s, MadeMachine& made) {
  Vehicle& v = made.vehicle;
  Others others;
  try {
    others = others_of(e, v);
  } catch (const InputError& error) {  // a boom that cannot reach, said before anything is weighed
    const std::string message = error.what();
    const DatumOrigin* at = origin_of(made, message.substr(0, message.find_first_of(" :")));
    made.checks.push_back({at ? at->entry_key : "", Severity::grave, message});
    return;
  }
  const bool articulated = v.front_axle.kind == AxleKind::articulated;
  const Sum apart{others.machine.mass + others.on.mass, others.machine.x + others.on.x, others.machine.z + others.on.z};
  const bool weighed = s.mass_known && s.weighed;
  const double whole = weighed ? *s.weighed : s.class_mass * s.mass + others.on.mass;
  const double rest = whole - apart.mass;
  if (!(rest > 0.25 * (whole - others.on.mass)) || !(v.wheelbase > 0)) {
    made.checks.push_back({weighed ? "mass_kg" : "rear_tyre", Severity::grave,
                           fmt::format("wheels, axle and what was on it ({:.0f} kg) leave {:.0f} kg for the rest: too "
                                       "little of {:.0f} kg",
                                       apart.mass, rest, whole)});
    return;
  }
  // Lengthwise: from the axle loads, else the share usual in the class.
  const bool balanced = weighed && s.front_load && s.rear_load;
  const double bare = rest + others.machine.mass;
  const double bare_x = s.class_front_share * v.wheelbase * bare;
  const double whole_x = balanced ? *s.front_load * v.wheelbase : bare_x + others.on.x;
  // Upright: weighed raised, given, or from the class.
  const Height height = height_of(e, v, s, whole, whole_x / whole, made);
  double frame = 1;
  if (v.frame.kind != like.frame.kind) {
    if (v.frame.kind == FrameKind::cab) frame += kCab;
    if (like.frame.kind == FrameKind::cab) frame -= kCab;
  }
  const double bare_z = s.class_centre_height * s.height * frame * bare;
  const double whole_z = height.z ? *height.z * whole : bare_z + others.on.z;
  const double x = (whole_x - apart.x) / rest, z = (whole_z - apart.z) / rest;

  const double was = v.chassis.mass;
  if (articulated) {
    share_halves(v, {rest, x * rest, z * rest}, balanced, z, made);
  } else {
    v.chassis.mass = rest;
    v.chassis.centre_of_gravity.x = x;
    v.chassis.centre_of_gravity.z = z;
  }
  if (was > 0) v.chassis.inertia *= v.chassis.mass / was;

  const std::string mass_key = "vehicle.chassis.mass_kg", x_key = "vehicle.chassis.centre_of_gravity_x_m",
                    z_key = "vehicle.chassis.centre_of_gravity_z_m";
  const double lever = whole / rest;
  if (weighed) {
    const double unsaid = unsaid_liquid(e, v.rear.tyre);
    note(made, mass_key, DatumFrom::derived, "what was weighed, less all that is named apart",
         std::max(10.0, 0.01 * whole) + (e.driver ? 0 : 85) + (e.fuel ? 0 : 0.4 * v.tank.capacity * v.tank.density) +
             unsaid);
    if (unsaid > 0)  // stating it helps more than weighing again
      for (DatumOrigin& origin : made.origins)
        if (origin.key == mass_key) origin.entry_key = "rear_liquid_kg";
  } else {
    note(made, mass_key, DatumFrom::estimated,
         e.engine_power ? "our estimate, as many kg per kW as its class"
         : e.wheelbase  ? "our estimate, its class by the cube of the wheelbase"
                        : "our estimate, as its class",
         (e.engine_power ? 0.2 : 0.3) * rest);
  }
  if (balanced)
    note(made, x_key, DatumFrom::derived, "from the axle loads, less all that is named apart",
         lever * std::max(0.01, 0.005 * v.wheelbase));
  else
    note(made, x_key, DatumFrom::estimated, "our estimate, so that the axles share as in its class",
         0.05 * v.wheelbase * lever);
  if (height.z)
    note(made, z_key, DatumFrom::derived, height.how, lever * height.doubt);
  else
    note(made, z_key, DatumFrom::estimated,
         fmt::format("our estimate, whole machine {:.2f} m by its class and rear tyres, +-8 %; weigh it raised",
                     bare_z / bare),
         kHeightDoubt * bare_z / rest);
  if (articulated)
    note(made, "vehicle.front_axle.mass_kg", DatumFrom::derived, "shared with the rear half by the axle loads",
         0.05 * v.front_axle.mass);

  const Sum found{bare, whole_x - others.on.x, whole_z - others.on.z};
  made.mass = bare;
  made.weighed_front_share = found.x / bare / v.wheelbase;
  made.centre_height = found.z / bare;
}

}  // namespace sidehill
