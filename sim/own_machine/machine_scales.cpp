// First step of make_machine: how large and how heavy the machine is against its class, and its tyres.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "sim/model/model.h"
#include "sim/own_machine/machine_parts.h"
#include "sim/scene/scene.h"
#include "vehicles/tyre_library.h"
#include "vehicles/tyre_size.h"

namespace sidehill {
namespace {

// A utility machine, for a loader where the class has none: Loader's own defaults belong to it.
constexpr double kUtilityMass = 3850, kUtilityWheelbase = 2.45, kUtilityRadius = 0.825;

struct Whole {
  double mass = 0, height = 0, front_share = 0;
};

// The bare machine as it stands in the class file.
Whole unladen(const Vehicle& like) {
  Scene scene;
  scene.vehicle = like;
  scene.vehicle.loader.fitted = false;
  Whole out;
  for (const LedgerLine& line : build(scene).ledger) {
    if (line.item != LedgerItem::machine) continue;
    out.mass += line.props.mass;
    out.height += line.props.mass * line.props.com.z;
    out.front_share += line.props.mass * line.props.com.x / like.wheelbase;
  }
  out.height /= out.mass;
  out.front_share /= out.mass;
  return out;
}

// One axle's tyre: from what stands on the sidewall, else the class's, grown with the machine. True if it was read.
bool make_tyre(const std::string& said, const char* key, std::optional<double> pressure, const Tyre& like, double size,
               Tyre& tyre, MadeMachine& made) {
  tyre = like;
  bool read = false;
  if (!said.empty()) {
    try {
      const TyreSize parsed = parse_tyre_size(said);
      const auto of_class = read_tyre_size(like.size);
      const bool same = of_class && of_class->designation == parsed.designation;
      if (!same) {
        tyre = tyre_of_size(said);
        tyre.cavity_volume = 0;  // from the dimensions, as in the class files
      }
      tyre.service =
          parsed.service ? fmt::format("{}{}", parsed.service->load_index, parsed.service->speed_symbol) : "";
      read = true;
    } catch (const std::invalid_argument& error) {
      made.checks.push_back({key, Severity::grave, error.what()});
    }
  }
  if (!read) tyre.service.clear();                           // the mark of the class is nobody's sidewall
  const bool as_class = !read && std::abs(size - 1) < 0.04;  // then the class's own size is the likeliest
  if (!read && !as_class) {
    tyre.size = "not read";
    tyre.free_radius *= size, tyre.rim_radius *= size, tyre.section_width *= size;
    tyre.cavity_volume = 0;
  }
  if (pressure) tyre.pressure = *pressure;
  const bool same_air = tyre.pressure == like.pressure && tyre.free_radius == like.free_radius &&
                        tyre.section_width == like.section_width;
  if (!same_air) {  // the rules of vehicles/tyre_library.h
    tyre.vertical_stiffness = estimated_vertical_stiffness(tyre.pressure, tyre.free_radius, tyre.section_width);
    tyre.lateral_stiffness = 0.6 * tyre.vertical_stiffness;
    tyre.longitudinal_stiffness = 0.9 * tyre.vertical_stiffness;
    tyre.vertical_damping = 0.0115 * tyre.vertical_stiffness;
    tyre.lateral_damping = 0.0085 * tyre.vertical_stiffness;
    tyre.lateral_relaxation = 0.9 * tyre.free_radius;
  }
  return read;
}

// Axle loads and total, made to agree or said not to.
void read_weights(const MachineEntry& e, Scales& s, MadeMachine& made) {
  s.front_load = e.front_axle, s.rear_load = e.rear_axle;
  if (e.front_axle && e.rear_axle) {
    s.weighed = *e.front_axle + *e.rear_axle;
    if (e.mass) {
      const double off = *s.weighed - *e.mass;
      if (std::abs(off) > std::max(30.0, 0.015 * *e.mass))
        made.checks.push_back({"mass_kg", std::abs(off) > 0.05 * *e.mass ? Severity::grave : Severity::mild,
                               fmt::format("the axles add up to {:.0f} kg, {:.0f} kg {} than the whole: weigh again, "
                                           "level, nothing changed between",
                                           *s.weighed, std::abs(off), off > 0 ? "more" : "less")});
    }
  } else if (e.mass) {
    s.weighed = e.mass;
    if (e.front_axle) s.rear_load = *e.mass - *e.front_axle;
    if (e.rear_axle) s.front_load = *e.mass - *e.rear_axle;
    for (const auto& [load, key] : {std::pair{s.front_load, "rear_axle_kg"}, {s.rear_load, "front_axle_kg"}})
      if (load && *load < 0.03 * *e.mass) {
        made.checks.push_back(
            {key, Severity::grave, fmt::format("leaves {:.0f} kg of the whole for the other axle", *load)});
        s.front_load.reset(), s.rear_load.reset();
        break;
      }
  }
}

}  // namespace

Scales scales_of(const MachineEntry& e, const Vehicle& like, MadeMachine& made) {
  Scales s;
  const Whole whole = unladen(like);
  s.class_mass = whole.mass, s.class_centre_height = whole.height, s.class_front_share = whole.front_share;
  read_weights(e, s, made);
  // One axle alone: the other by the class's share.
  if (!s.weighed && (s.front_load || s.rear_load)) {
    s.weighed = s.front_load ? *s.front_load / s.class_front_share : *s.rear_load / (1 - s.class_front_share);
    made.checks.push_back({s.front_load ? "rear_axle_kg" : "front_axle_kg", Severity::mild,
                           "not weighed: taken from the share that is usual in the class"});
    s.front_load.reset(), s.rear_load.reset();
  }

  const bool fitted = e.loader.value_or(like.loader.fitted);
  const bool own = like.loader.fitted;
  s.loader = own ? like.loader : Loader{};
  const double loader_of = own ? whole.mass : kUtilityMass;
  const double loader_share = fitted ? (s.loader.mast_mass + s.loader.boom_mass) / loader_of : 0,
               bucket_share = fitted ? s.loader.bucket_mass / loader_of : 0,
               fuel_share = like.tank.capacity * like.tank.density * e.fuel.value_or(kFuelUnsaid) / whole.mass;
  if (s.weighed) {
    const double on = e.driver.value_or(0) + e.front_liquid.value_or(0) + e.rear_liquid.value_or(0) +
                      e.front_weights.value_or(0) + e.rear_weights.value_or(0) + 2 * e.front_wheel_weights.value_or(0) +
                      2 * e.rear_wheel_weights.value_or(0) +
                      (fitted ? e.loader_mass.value_or(0) + e.bucket_mass.value_or(0) : 0);
    const double shares = (e.loader_mass ? 0 : loader_share) + (e.bucket_mass ? 0 : bucket_share) + fuel_share;
    const double bare = (*s.weighed - on) / (1 + shares);
    if (bare < 0.3 * *s.weighed) {
      made.checks.push_back(
          {e.mass ? "mass_kg" : "front_axle_kg", Severity::grave,
           fmt::format("what was on it ({:.0f} kg) leaves too little of the {:.0f} kg weighed for the "
                       "machine itself",
                       on, *s.weighed)});
    } else {
      s.mass = bare / whole.mass;
      s.mass_known = true;
    }
  }
  if (!s.mass_known) {
    if (e.engine_power)
      s.mass = *e.engine_power / like.engine_power;
    else if (e.wheelbase)
      s.mass = std::pow(*e.wheelbase / like.wheelbase, 3);
  }
  s.mass = std::clamp(s.mass, 0.05, 20.0);
  s.size = std::cbrt(s.mass);
  Vehicle& v = made.vehicle;
  const bool front =
      make_tyre(e.front_tyre, "front_tyre", e.front_pressure, like.front.tyre, s.size, v.front.tyre, made);
  const bool rear = make_tyre(e.rear_tyre, "rear_tyre", e.rear_pressure, like.rear.tyre, s.size, v.rear.tyre, made);
  s.front = v.front.tyre.free_radius / like.front.tyre.free_radius;
  s.height = v.rear.tyre.free_radius / like.rear.tyre.free_radius;
  if (!front && rear && e.front_tyre.empty() && !s.mass_known) s.front = s.height;
  s.length = e.wheelbase ? *e.wheelbase / like.wheelbase : s.size;
  s.loader_mass = s.mass * whole.mass / loader_of;
  s.loader_length = s.length * (own ? 1 : like.wheelbase / kUtilityWheelbase);
  s.loader_height = s.height * (own ? 1 : like.rear.tyre.free_radius / kUtilityRadius);
  return s;
}

}  // namespace sidehill
