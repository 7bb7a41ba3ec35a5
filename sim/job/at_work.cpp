#include "sim/job/at_work.h"

#include <algorithm>
#include <cmath>

#include "sim/scene/scene.h"

namespace sidehill {
namespace {

int tyres_on(const Axle& axle) { return axle.dual_spacing > 0 ? 4 : 2; }

PullAxle axle_at_work(const Axle& axle, const TyreLaw& law, bool radial, double load, bool driven) {
  PullAxle out;
  out.load = load;
  out.tyres = tyres_on(axle);
  out.tyre.width = axle.tyre.section_width;
  out.tyre.diameter = 2 * axle.tyre.free_radius;
  out.tyre.section_height = axle.tyre.free_radius - axle.tyre.rim_radius;
  out.tyre.deflection = law.rigid || !(law.vertical_stiffness > 0) ? 0 : load / out.tyres / law.vertical_stiffness;
  out.set = radial ? TyreSet::radial : TyreSet::bias;
  out.driven = driven;
  return out;
}

// Torque over the driven wheels, at the speed over the ground. Source: traction.h, of both axles.
double power_at_wheels(const PullTractor& tractor, const PullGround& ground, const PullAnswer& answer, double speed) {
  const auto of_axle = [&](const PullAxle& axle, double load, double mobility, double slip) {
    if (!axle.driven || !(slip < 1)) return 0.0;
    const WheelTraction wheel =
        ground.rolling ? road_traction(axle.set, mobility, *ground.rolling) : wheel_traction(axle.set, mobility);
    return gross_ratio(wheel, slip) * load * speed / (1 - slip);
  };
  return of_axle(tractor.front, answer.front_load, answer.front_mobility, answer.front_slip) +
         of_axle(tractor.rear, answer.rear_load, answer.rear_mobility, answer.rear_slip);
}

struct AtSlope {
  const Scene& scene;
  const Model& model;
  const RuleReport& rules;
  PullGround ground;

  PullTractor tractor(double slope) const {
    const double g = model.gravity, mass = rules.axles.front + rules.axles.rear;
    const double moved = mass * g * std::sin(slope) * centre_of_gravity(model).z / model.wheelbase;
    PullTractor out;
    const Vehicle& v = scene.vehicle;
    // The tyres' deflection is that of the level.
    const bool front_driven = v.front_drive && !ground.rolling;  // nobody drives the front axle on a hard road
    out.front = axle_at_work(v.front, model.wheels[kFrontLeft].tyre, rules.loads.tyres[kFrontLeft].radial,
                             rules.axles.front * g, front_driven);
    out.rear = axle_at_work(v.rear, model.wheels[kRearLeft].tyre, rules.loads.tyres[kRearLeft].radial,
                            rules.axles.rear * g, true);
    out.front.load = out.front.load * std::cos(slope) - moved;
    out.rear.load = out.rear.load * std::cos(slope) + moved;
    out.wheelbase = model.wheelbase;
    out.hitch_height = v.hitch.z;
    out.front_lead = front_driven ? kFrontLead : 0;
    return out;
  }

  PullAtWork pulling(double slope) const {
    const double g = model.gravity, mass = rules.axles.front + rules.axles.rear;
    PullAtWork out;
    out.slope = slope;
    out.of_weight = mass * g * std::sin(slope);
    out.asked = scene.job.pull + out.of_weight;
    PullTractor machine = tractor(slope);
    // What the weight moves between the axles is in their loads already; only the implement's pull moves more.
    machine.hitch_height = out.asked > 0 ? scene.vehicle.hitch.z * scene.job.pull / out.asked : 0;
    out.answer = pull_answer(machine, ground, out.asked);
    if (machine.front.load > 0 && machine.rear.load > 0) {
      PullTractor most = machine;
      most.hitch_height = slope > 0 ? 0 : scene.vehicle.hitch.z;
      if (const auto all = greatest_pull(most, ground); all && *all >= out.of_weight) out.most = *all - out.of_weight;
    }
    if (out.answer.kind == PullKind::pulls || out.answer.kind == PullKind::needs_no_drive)
      out.axle_power = power_at_wheels(machine, ground, out.answer, scene.job.working_speed);
    return out;
  }
};

double ballast_of(const Model& model) {
  double mass = 0;
  for (const LedgerLine& line : model.ledger)
    if (line.item == LedgerItem::fill || line.item == LedgerItem::front_weights ||
        line.item == LedgerItem::rear_weights || line.item == LedgerItem::wheel_weights)
      mass += line.props.mass;
  return mass;
}

void add_fuel(WorkAnswer& out, const Scene& scene, const Model& model, const RuleReport& rules) {
  const Job& job = scene.job;
  const double rated_pto = kPtoOfEngine * rules.power / 1e3;  // [kW]
  out.ballast = ballast_of(model);
  if (!(rated_pto > 0)) return;
  const auto litres = [&](double at_wheels) -> std::optional<double> {
    const double share = at_wheels / kDriveEfficiency / rules.power;
    if (!(share <= 1)) return std::nullopt;
    return fuel_rate_per_rated_power(share, 0) * rated_pto;
  };
  constexpr double kHour = 3600;
  if (out.known && job.working_speed > 0 && out.level.axle_power > 0) {
    out.load_share = out.level.axle_power / kDriveEfficiency / rules.power;
    out.work_rate = litres(out.level.axle_power);
    if (out.work_rate) out.work_year = *out.work_rate * job.working_time / kHour;
    const PullAnswer& a = out.level.answer;
    const double loads = a.front_load + a.rear_load;
    const double gross = out.level.axle_power / job.working_speed;
    const double rolling = out.road ? kRoadRolling : std::max(0.0, (gross - out.level.asked) / loads);
    out.ballast_year +=
        rolling_cost(out.ballast, rolling, job.working_speed).litres_per_hour * job.working_time / kHour;
  }
  if (job.road_speed > 0) {
    const double mass = rules.axles.front + rules.axles.rear;
    out.road_rate = litres(mass * model.gravity * kRoadRolling * job.road_speed);
    if (out.road_rate) out.road_year = *out.road_rate * job.road_time / kHour;
    out.ballast_year += rolling_cost(out.ballast, kRoadRolling, job.road_speed).litres_per_hour * job.road_time / kHour;
  }
}

}  // namespace

WorkAnswer at_work(const Scene& scene, const Model& model, const RuleReport& rules) {
  const Job& job = scene.job;
  WorkAnswer out;
  constexpr SoilClass kClass[] = {SoilClass::hard,   SoilClass::hard, SoilClass::firm,
                                  SoilClass::tilled, SoilClass::soft, SoilClass::mud};
  const std::optional<double> of_class = cone_index_of(kClass[static_cast<int>(job.ground)]);
  out.cone_index = job.cone_index > 0 ? job.cone_index : of_class.value_or(0);
  out.known = out.cone_index > 0;
  out.road = job.ground == JobGround::road;
  out.pull_known = job.pull > 0;
  AtSlope at{scene, model, rules, {out.cone_index, out.road ? std::optional(kRoadRolling) : std::nullopt}};
  if (out.known && rules.axles.front > 0 && rules.axles.rear > 0) {
    out.level = at.pulling(0);
    if (job.slope > 0 && job.headings != JobHeadings::across) out.uphill = at.pulling(job.slope);
    const PullTractor machine = at.tractor(0);
    out.ranges_front = ranges_left(machine.front.tyre, machine.front.load / machine.front.tyres);
    out.ranges_rear = ranges_left(machine.rear.tyre, machine.rear.load / machine.rear.tyres);
  }
  const Soil& soil = scene.terrain.soil;
  if (job.slope > 0 && job.headings != JobHeadings::up_and_down && !soil.adhesion_unlimited && soil.adhesion > 0) {
    out.side_use = std::tan(job.slope) / soil.adhesion;
    out.left_lengthwise = *out.side_use < 1 ? std::sqrt(1 - *out.side_use * *out.side_use) : 0;
  }
  add_fuel(out, scene, model, rules);
  return out;
}

SoilAnswer soil_under(const Scene& scene, const Model& model, const RuleReport& rules) {
  const Job& job = scene.job;
  SoilAnswer out;
  const bool soft =
      job.wet || job.ground == JobGround::tilled || job.ground == JobGround::soft || job.ground == JobGround::mud;
  out.concentration = soft ? 6 : job.ground == JobGround::firm ? 5 : 4;
  for (const std::size_t axle : {std::size_t{0}, std::size_t{1}}) {
    const std::size_t left = 2 * axle;
    const auto& tyres = rules.loads.tyres;
    const TyreCheck& fuller = tyres[left].margin.load >= tyres[left + 1].margin.load ? tyres[left] : tyres[left + 1];
    const Tyre& tyre = (axle == 0 ? scene.vehicle.front : scene.vehicle.rear).tyre;
    SoilUnder& under = out.axles[axle];
    under.wheel.width = tyre.section_width;
    under.wheel.diameter = 2 * tyre.free_radius;
    under.wheel.pressure = under.wheel.recommended = model.wheels[left].tyre.pressure;
    const double mass = fuller.margin.load / fuller.tyres;
    under.wheel.load = mass * model.gravity;
    if (fuller.service && fuller.at_index > 0) {
      const double reference = fuller.reference_pressure, most = fuller.at_index * fuller.multiple.factor;
      if (reference > 0)
        if (const auto asked = rule_of_thumb_pressure(mass, most, reference)) {
          under.wheel.recommended = std::max(*asked, kLeastPressure);
          under.recommended_known = true;
        }
    }
    under.field = stress_field(under.wheel);
    under.by_circle = under.field.range != StressRange::within && under.field.range != StressRange::no_patch;
    for (std::size_t i = 0; i < kSoilDepths.size(); ++i)
      under.stress[i] = under.by_circle ? stress_below_circle(under.field.patch.mean, under.wheel.load,
                                                              out.concentration, kSoilDepths[i])
                                        : stress_below(under.field, out.concentration, kSoilDepths[i]);
    under.cautions = stress_cautions(under.wheel, under.field);
  }
  return out;
}

}  // namespace sidehill
