// Fourth step of make_machine: what a person at the machine would shake the head at. Ratios are our estimates from the
// class machines and common practice.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "sim/own_machine/machine_parts.h"
#include "sim/scene/scene_fields.h"
#include "vehicles/load_index.h"
#include "vehicles/tyre_library.h"
#include "vehicles/tyre_size.h"

namespace sidehill {
namespace {

constexpr double kLeastPerKilowatt = 30, kMostPerKilowatt = 110;  // unladen [kg/kW], usual of tractors

struct Checks {
  std::vector<EntryCheck>& list;
  void mild(std::string_view key, std::string text) const {
    list.push_back({std::string(key), Severity::mild, std::move(text)});
  }
  void grave(std::string_view key, std::string text) const {
    list.push_back({std::string(key), Severity::grave, std::move(text)});
  }
};

// What both tyres of an axle may carry at their size's index [kg]; 0 = not known.
double tyres_carry(const Tyre& tyre) {
  try {
    if (!tyre.service.empty()) return 2 * load_index_mass(parse_service(tyre.service).load_index);
    if (const LibraryTyre* known = find_tyre(tyre.size))
      return 2 * load_index_mass(parse_service(known->service).load_index);
  } catch (const std::invalid_argument&) {  // a service that cannot be read is refused elsewhere
  }
  return 0;
}

void check_axle(const Checks& c, const MachineEntry& e, const Vehicle& v, bool front) {
  const Axle& axle = front ? v.front : v.rear;
  const std::string name = front ? "front" : "rear";
  const auto& load = front ? e.front_axle : e.rear_axle;
  if (axle.track <= axle.tyre.section_width)
    c.grave(name + "_track_m",
            fmt::format("puts the {} tyres, {:.2f} m wide each, into one another at {:.2f} m between "
                        "their middles",
                        name, axle.tyre.section_width, axle.track));
  if (axle.narrowest_track > axle.track + 1e-9)
    c.grave(name + "_narrowest_m",
            fmt::format("is wider than the track as it stands, {:.2f} m between the middles", axle.track));
  if (axle.track > v.wheelbase * 1.6 || axle.track < 0.3 * v.wheelbase)
    c.mild(name + "_track_m",
           fmt::format("is unusual on a wheelbase of {:.2f} m: metres, and across the tyres?", v.wheelbase));
  if (load) {
    const double carry = tyres_carry(axle.tyre);
    if (carry > 0 && *load > carry)
      c.mild(name + "_axle_kg",
             fmt::format("is over the {:.0f} kg that two {} tyres may carry: check size and pressure, "
                         "then take weight off",
                         carry, axle.tyre.size));
    if (axle.capacity > 0 && *load > axle.capacity)
      c.mild(name + "_axle_kg", fmt::format("is over the {:.0f} kg its plate permits: take weight off", axle.capacity));
  }
  if (const auto& stands = front ? e.front_centre : e.rear_centre) {
    const double ratio = *stands / axle.tyre.free_radius;
    if (ratio > 1.02 || ratio < 0.82)
      c.mild(name + "_centre_m",
             fmt::format("does not go with the tyre, whose radius is {:.2f} m unloaded: check its size",
                         axle.tyre.free_radius));
  }
}

}  // namespace

void check_sense(const MachineEntry& e, const Vehicle& like, MadeMachine& made) {
  const Vehicle& v = made.vehicle;
  const Checks c{made.checks};
  check_axle(c, e, v, true);
  check_axle(c, e, v, false);
  if (v.front.tyre.free_radius + v.rear.tyre.free_radius >= v.wheelbase)
    c.grave(e.wheelbase || (e.front_tyre.empty() && e.rear_tyre.empty()) ? "wheelbase_m" : "rear_tyre",
            fmt::format("leaves no room: tyres of {:.2f} and {:.2f} m radius touch on a wheelbase of {:.2f} m",
                        v.front.tyre.free_radius, v.rear.tyre.free_radius, v.wheelbase));
  if (v.front.tyre.free_radius > 1.15 * v.rear.tyre.free_radius)
    c.mild("front_tyre", "is larger than the rear tyre: are they the right way round?");
  const double per_kilowatt = made.mass / (1e-3 * v.engine_power);
  if (made.mass > 0 && e.engine_power && (per_kilowatt < kLeastPerKilowatt || per_kilowatt > kMostPerKilowatt))
    c.mild("engine_power_kw",
           fmt::format("with {:.0f} kg makes {:.0f} kg per kW, usual are {:.0f} to {:.0f}: kW or horsepower?",
                       made.mass, per_kilowatt, kLeastPerKilowatt, kMostPerKilowatt));
  const double share = made.weighed_front_share;
  if (made.mass > 0 && (share < 0.02 || share > 0.95))
    c.grave("front_axle_kg",
            fmt::format("puts {:.0f} % of the bare machine on the front axle: its weight would lie outside "
                        "the wheels",
                        100 * share));
  else if (made.mass > 0 && v.front_axle.kind != AxleKind::articulated && (share < 0.22 || share > 0.6))
    c.mild("front_axle_kg",
           fmt::format("puts {:.0f} % of the bare machine on the front axle, usual are 25 to 55 %: are the "
                       "axles the right way round?",
                       100 * share));
  const double usual = like.rear.tyre.free_radius > 0 ? made.centre_height / v.rear.tyre.free_radius : 1;
  if (made.mass > 0 && (usual < 0.45 || usual > 2.2))
    c.grave(e.centre_height ? "centre_height_m" : "raised_rear_kg",
            fmt::format("puts the bare machine's centre of gravity {:.2f} m up on rear tyres of {:.2f} m radius: check "
                        "the weighing",
                        made.centre_height, v.rear.tyre.free_radius));
  else if (made.mass > 0 && (usual < 0.8 || usual > 1.65))
    c.mild(
        e.centre_height ? "centre_height_m" : "raised_rear_kg",
        fmt::format("puts the bare machine's centre of gravity {:.2f} m up, unusual on rear tyres of {:.2f} m radius",
                    made.centre_height, v.rear.tyre.free_radius));
  const double class_power = like.engine_power;
  if (e.engine_power && (*e.engine_power > 2.5 * class_power || *e.engine_power < 0.4 * class_power))
    c.mild("class", fmt::format("is far from {:.0f} kW: a class nearer to your machine estimates better",
                                1e-3 * *e.engine_power));
  if (!e.mass && !e.front_axle && !e.rear_axle)
    c.mild("mass_kg", "not weighed: every mass is an estimate");
  else {
    if (!e.driver) c.mild("driver_kg", "not said: taken as nobody on the seat");
    if (!e.fuel && v.tank.capacity > 0) c.mild("fuel_percent", "not said: taken as half full");
    if (!e.front_liquid && !e.rear_liquid)
      c.mild("rear_liquid_kg",
             "missing: was there liquid in the tyres while it was weighed? Then say how much; else it is counted twice "
             "once you fill them here. 0 = none");
    if (!e.front_weights && !e.rear_weights && !e.front_wheel_weights && !e.rear_wheel_weights)
      c.mild("front_weights_kg",
             "missing: were there weights on it while it was weighed? Then say how much and where; else it is counted "
             "twice once you add it here. 0 = none");
    if (!e.front_axle && !e.rear_axle) c.mild("front_axle_kg", "not weighed: the axles share as in the class");
  }
  if (v.loader.fitted && e.payload && made.mass > 0 && *e.payload > made.mass)
    c.mild("loader_payload_kg", "is more than the machine weighs: check the loader's plate");
  if (v.frame.kind == FrameKind::none)
    c.mild("frame", "none: nothing protects you when it rolls over. Have one fitted before you work on a slope.");
  if (e.frame_height && e.seat_height && *e.frame_height < *e.seat_height + 0.9)
    c.mild("frame_height_m", "is less than 0.9 m over the seat: a frame folded down protects nobody");
  for (const DatumOrigin& origin : made.origins)
    if (origin.key == "vehicle.front_axle.pin_height_m" && origin.from == DatumFrom::measured &&
        (v.front_axle.pin_height > 2 * v.front.tyre.free_radius))
      c.mild("pin_height_m", "is higher than the front tyres are tall: the pin is under the front axle's middle");
}

}  // namespace sidehill
