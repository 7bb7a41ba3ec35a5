// Wheels, what is in their tyres, and the laws the tyres follow (see builder.h).
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/model/builder.h"
#include "vehicles/air_spring.h"
#include "vehicles/slosh.h"
#include "vehicles/tyre_cavity.h"
#include "vehicles/winter.h"

namespace sidehill {
namespace {

MassProperties placed(MassProperties props, const Vec3& centre) {
  props.com += centre;
  return props;
}

MassProperties disc(double mass, double spin_inertia, double across) {
  return {mass, Vec3(0.0), Mat3(across, 0, 0, 0, spin_inertia, 0, 0, 0, across)};
}

MassProperties wheel_properties(double mass, double spin_inertia, double radius, double width) {
  if (!(mass > 0)) return {};
  // A wheel's mass sits near its rim: radius of gyration 0.75 of the free radius (our estimate) unless the file says.
  const double spin = spin_inertia > 0 ? spin_inertia : mass * 0.5625 * radius * radius;
  return disc(mass, spin, 0.5 * spin + mass * width * width / 12);
}

// The fill as it lies in the upright wheel, about the wheel centre: H of vehicles/cavity.
MassProperties lying(const Cavity& cavity, double fill_fraction, double mass) {
  const LiquidBody body = liquid_body(cavity, fill_fraction, {0, 0, -1});
  return {mass, body.centroid, mass * body.inertia};
}

LiquidLump liquid_lump(const Cavity& cavity, double fill_fraction, const MassProperties& props) {
  LiquidLump lump;
  lump.mass = props.mass;
  lump.inertia = props.inertia;
  lump.cavity = cavity;
  lump.fill = fill_fraction;
  lump.table = tabulate(cavity, fill_fraction);
  lump.depth = -lookup(lump.table, 0).z;
  // As a pendulum it must swing as fast as the liquid does; brim-full nothing swings and only the inertia is left.
  const Slosh slosh = first_slosh(cavity, fill_fraction);
  lump.gyration_squared = slosh.lambda > 0 ? slosh.gyration_squared : liquid_gyration_squared(cavity, fill_fraction);
  return lump;
}

std::string fill_name(const Builder& b, int w, const char* how) {
  const auto i = static_cast<std::size_t>(w);
  return fmt::format("{} tyre: {}{} {:.0f} %", kWheelWords[i].name, how, medium_name(mix_of(b.scene.ballast, i)),
                     100 * b.scene.ballast.fill[i].fill_fraction);
}

bool same_room(const LiquidLump& lump, const Cavity& cavity, double fill_fraction) {
  const Cavity& c = lump.cavity;
  return lump.mass > 0 && lump.fill == fill_fraction && c.inner_radius == cavity.inner_radius &&
         c.outer_radius == cavity.outer_radius && c.width == cavity.width && c.shape == cavity.shape;
}

void add_fill(Builder& b, int w, const Vec3& centre) {
  const auto i = static_cast<std::size_t>(w);
  const TyreFill& fill = b.scene.ballast.fill[i];
  if (fill.fill_fraction <= 0) return;
  const Mix mix = mix_of(b.scene.ballast, i);
  WheelModel& wheel = b.model.wheels[i];
  const Settings& settings = b.scene.settings;
  const Cavity cavity = cavity_of(axle_of(b.vehicle, w).tyre);
  const double mass = cavity_volume(cavity) * fill.fill_fraction * density(mix, settings.filling_temperature);
  if (info(fill.medium).turns_with_wheel) {  // cured to a solid: part of the wheel, its inertia that of a ring
    const MassProperties body = lying(cavity, 1, mass);
    const MassProperties ring = {mass, Vec3(0.0), body.inertia};
    wheel.dry = combine(wheel.dry, ring);
    b.enter(fill_name(b, w, ""), LedgerItem::fill, kWheelBodies[w], placed(ring, centre));
    return;
  }
  const double now = fill_now(b.scene.ballast, i, settings);
  const MassProperties props = lying(cavity, now, mass);
  if (winter(mix, settings.temperature).frost == Frost::solid) {
    // Frozen where it lay: from now on it turns with the wheel, its weight out of the middle.
    wheel.dry = combine(wheel.dry, props);
    b.enter({fill_name(b, w, "frozen "), LedgerItem::fill, kWheelBodies[w], false, placed(props, centre), true});
    return;
  }
  // Left and right are usually alike, and so is the model this one is like: calculate once.
  const LiquidLump* lender = nullptr;
  if (same_room(b.model.wheels[i ^ 1].liquid, cavity, now)) lender = &b.model.wheels[i ^ 1].liquid;
  for (std::size_t k = 0; b.like && !lender && k < kWheels; ++k)
    if (same_room(b.like->wheels[k].liquid, cavity, now)) lender = &b.like->wheels[k].liquid;
  for (std::size_t k = 0; k < b.lenders.size() && !lender; ++k)
    if (same_room(b.lenders[k], cavity, now)) lender = &b.lenders[k];
  if (lender) {
    wheel.liquid = *lender;
    wheel.liquid.mass = props.mass;
    wheel.liquid.inertia = props.inertia;
  } else {
    wheel.liquid = liquid_lump(cavity, now, props);
  }
  b.enter(fill_name(b, w, ""), LedgerItem::fill, kWheelBodies[w], placed(props, centre), true);
}

}  // namespace

double fill_now(const BallastPlan& plan, std::size_t wheel, const Settings& settings) {
  const TyreFill& fill = plan.fill[wheel];
  if (fill.fill_fraction <= 0 || info(fill.medium).turns_with_wheel) return fill.fill_fraction;
  const double grown = expansion(mix_of(plan, wheel), settings.filling_temperature, settings.temperature);
  return std::clamp(fill.fill_fraction * (1 + grown), 0.0, 1.0);
}

void add_wheels(Builder& b) {
  const Vehicle& v = b.vehicle;
  for (int w = 0; w < kWheels; ++w) {
    const Axle& axle = axle_of(v, w);
    const double side = is_left(w) ? 0.5 : -0.5;
    const Vec3 centre(is_front(w) ? v.wheelbase : 0.0, side * axle.track, axle.tyre.free_radius);
    WheelModel& wheel = b.model.wheels[static_cast<std::size_t>(w)];
    wheel.centre = b.to_V(centre);
    wheel.on_axle = is_front(w);
    wheel.steered = is_front(w) && v.front_axle.kind != AxleKind::articulated && !v.front_axle.casters;
    wheel.braked = !is_front(w);
    wheel.dry = wheel_properties(axle.wheel_mass, axle.spin_inertia, axle.tyre.free_radius, axle.tyre.section_width);
    b.enter(fmt::format("{} wheel and tyre", kWheelWords[static_cast<std::size_t>(w)].name), LedgerItem::machine,
            kWheelBodies[w], placed(wheel.dry, centre));
    if (axle.dual_spacing > 0) {  // the outer tyre of a pair, on the same hub
      wheel.dual = axle.dual_spacing;
      MassProperties outer = wheel.dry;
      outer.com.y = is_left(w) ? axle.dual_spacing : -axle.dual_spacing;
      b.enter(fmt::format("{} outer wheel and tyre", kWheelWords[static_cast<std::size_t>(w)].name),
              LedgerItem::machine, kWheelBodies[w], placed(outer, centre));
      wheel.dry = combine(wheel.dry, outer);
    }
    const double weights = is_front(w) ? b.scene.ballast.front_wheel_weights : b.scene.ballast.rear_wheel_weights;
    if (weights > 0) {  // discs bolted inside the rim
      const double r = 0.75 * axle.tyre.rim_radius, spin = 0.5 * weights * r * r;
      const MassProperties discs = disc(weights, spin, 0.5 * spin);
      wheel.dry = combine(wheel.dry, discs);
      b.enter(fmt::format("{} wheel weights", kWheelWords[static_cast<std::size_t>(w)].name), LedgerItem::wheel_weights,
              kWheelBodies[w], placed(discs, centre));
    }
    add_fill(b, w, centre);
  }
}

void set_tyre_laws(Builder& b) {
  Model& m = b.model;
  const Settings& settings = b.scene.settings;
  const double mass = total_mass(m);
  const double front_share = std::clamp(centre_of_gravity(m).x / m.wheelbase, 0.05, 0.95);
  for (int w = 0; w < kWheels; ++w) {
    const Tyre& tyre = axle_of(b.vehicle, w).tyre;
    const TyreFill& fill = b.scene.ballast.fill[static_cast<std::size_t>(w)];
    const double tyres = axle_of(b.vehicle, w).dual_spacing > 0 ? 4 : 2;  // on the axle
    const double load = mass * m.gravity * (is_front(w) ? front_share : 1 - front_share) / tyres;
    TyreLaw& law = m.wheels[static_cast<std::size_t>(w)].tyre;
    law.radius = tyre.free_radius;
    law.rim_height = tyre.free_radius - tyre.rim_radius;
    // A rigid tyre gives micrometres: small against the 3 mm of any measurement, large against rounding. A tyre said to
    // be harder still counts as rigid: its load would be all rounding. On features it gives a tenth of a millimetre, so
    // that it has a footprint; lift-off is then within 0.005 deg of the rigid one.
    const double hardest = m.terrain.features.empty() ? 1e10 : 1e8;
    law.swivels = is_front(w) && b.vehicle.front_axle.casters;
    law.rigid = tyre.rigid;
    law.laterally_rigid = tyre.laterally_rigid;
    law.pressure =
        pressure_with_liquid(cavity_volume(cavity_of(tyre)), mix_of(b.scene.ballast, static_cast<std::size_t>(w)),
                             fill.fill_fraction, tyre.pressure, settings.filling_temperature, settings.temperature);
    const TyreStiffness stiffness =
        stiffness_now(tyre, fill, fill_now(b.scene.ballast, static_cast<std::size_t>(w), settings), law.pressure, load);
    law.vertical_stiffness = tyre.rigid ? hardest : stiffness.value;
    law.vertical_stiffness_uncertainty = tyre.rigid ? 0 : stiffness.uncertainty;
    law.lateral_stiffness = tyre.laterally_rigid ? hardest : std::min(tyre.lateral_stiffness, hardest);
    law.longitudinal_stiffness = tyre.longitudinal_stiffness;
    law.reference_load = std::max(load, 1.0);
    law.vertical_damping = tyre.vertical_damping;
    law.lateral_damping = tyre.lateral_damping;
    law.relaxation = tyre.lateral_relaxation;
    law.pressure_offset = tyre.pressure_offset;
    law.side_give_share = tyre.side_give_share;
  }
}

}  // namespace sidehill
