#include "sim/scene/scene_fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <vector>

#include "sim/base/key_units.h"
#include "sim/scene/scene_lists.h"
#include "sim/scene/spelling.h"

namespace sidehill {
namespace {

template <class T>
FieldOf<T> number(std::string_view key, double* (*at)(T&), double min, double max, std::string_view help,
                  bool primary = false) {
  const KeyUnit unit = key_unit(key);
  return {key, unit.name, help, NumberFieldOf<T>{at, unit.to_si, unit.offset, min, max}, primary};
}
template <class T>
FieldOf<T> flag(std::string_view key, bool* (*at)(T&), std::string_view help) {
  return {key, "", help, FlagFieldOf<T>{at}};
}
template <class T>
FieldOf<T> text(std::string_view key, std::string* (*at)(T&), std::size_t max_length, std::string_view help) {
  return {key, "", help, TextFieldOf<T>{at, max_length}};
}
template <class T>
FieldOf<T> choice(std::string_view key, int (*get)(const T&), void (*set)(T&, int),
                  std::span<const std::string_view> choices, std::string_view help) {
  return {key, "", help, ChoiceFieldOf<T>{get, set, choices}};
}

std::span<const std::string_view> medium_keys() {
  static const std::vector<std::string_view> keys = [] {
    std::vector<std::string_view> result;
    for (const MediumInfo& medium : media()) result.push_back(medium.key);
    return result;
  }();
  return keys;
}
int medium_index(Medium medium) {
  const auto all = media();
  const auto at = std::ranges::find(all, medium, &MediumInfo::medium);
  return at == all.end() ? 0 : static_cast<int>(at - all.begin());
}

constexpr double kBig = 1e9;  // stiffness of what counts as rigid [kN/m]

// Local shorthand, undefined below: the accessor of a Scene's member, and of an enumeration.
#define AT(member) +[](Scene& s) { return &s.member; }
#define ENUM(T, Type, member) \
  [](const T& s) { return static_cast<int>(s.member); }, [](T& s, int i) { s.member = static_cast<Type>(i); }
#define AXLE_FIELDS(axle)                                                                                              \
  number("vehicle." #axle ".track_m", AT(vehicle.axle.track), 0.2, 8, "between the tyres' mid-planes", true),          \
      number("vehicle." #axle ".narrowest_track_m", AT(vehicle.axle.narrowest_track), 0, 8,                            \
             "narrowest setting of an adjustable track; 0 = not adjustable, or not known"),                            \
      number("vehicle." #axle ".dual_spacing_m", AT(vehicle.axle.dual_spacing), 0, 2,                                  \
             "dual wheels: outer tyre's mid-plane beyond the inner one's; 0 = single wheels"),                         \
      number("vehicle." #axle ".wheel_mass_kg", AT(vehicle.axle.wheel_mass), 0, 3000,                                  \
             "tyre and rim, each, without ballast"),                                                                   \
      number("vehicle." #axle ".spin_inertia_kgm2", AT(vehicle.axle.spin_inertia), 0, 5000,                            \
             "inertia of one wheel about its axle; 0 = from its mass and radius"),                                     \
      number("vehicle." #axle ".capacity_kg", AT(vehicle.axle.capacity), 0, 50000,                                     \
             "what the maker lets this axle carry; 0 = not known"),                                                    \
      text("vehicle." #axle ".tyre.size", AT(vehicle.axle.tyre.size), 60, "designation as on the sidewall"),           \
      number("vehicle." #axle ".tyre.free_radius_m", AT(vehicle.axle.tyre.free_radius), 0.1, 2,                        \
             "overall radius, inflated, without load"),                                                                \
      number("vehicle." #axle ".tyre.rim_radius_m", AT(vehicle.axle.tyre.rim_radius), 0.03, 1.5,                       \
             "where the bead sits; less than the free radius"),                                                        \
      number("vehicle." #axle ".tyre.section_width_m", AT(vehicle.axle.tyre.section_width), 0.01, 2,                   \
             "inflated width"),                                                                                        \
      number("vehicle." #axle ".tyre.cavity_volume_l", AT(vehicle.axle.tyre.cavity_volume), 0, 5000,                   \
             "inside volume from a data book; 0 = from the dimensions"),                                               \
      number("vehicle." #axle ".tyre.pressure_kpa", AT(vehicle.axle.tyre.pressure), 10, 600, "cold inflation, gauge"), \
      number("vehicle." #axle ".tyre.vertical_stiffness_kn_per_m", AT(vehicle.axle.tyre.vertical_stiffness), 1, kBig,  \
             "per tyre, air only, at the pressure given"),                                                             \
      number("vehicle." #axle ".tyre.lateral_stiffness_kn_per_m", AT(vehicle.axle.tyre.lateral_stiffness), 1, kBig,    \
             "per tyre"),                                                                                              \
      number("vehicle." #axle ".tyre.longitudinal_stiffness_kn_per_m", AT(vehicle.axle.tyre.longitudinal_stiffness),   \
             1, kBig, "per tyre at its level-ground load"),                                                            \
      number("vehicle." #axle ".tyre.vertical_damping_kns_per_m", AT(vehicle.axle.tyre.vertical_damping), 0, 1e4,      \
             "per tyre"),                                                                                              \
      number("vehicle." #axle ".tyre.lateral_damping_kns_per_m", AT(vehicle.axle.tyre.lateral_damping), 0, 1e4,        \
             "per tyre, lengthwise too"),                                                                              \
      number("vehicle." #axle ".tyre.lateral_relaxation_m", AT(vehicle.axle.tyre.lateral_relaxation), 0.01, 10,        \
             "rolling distance over which side force builds up"),                                                      \
      number("vehicle." #axle ".tyre.pressure_offset_m", AT(vehicle.axle.tyre.pressure_offset), 0, 0.5,                \
             "how far a leaning tyre's pressure moves to its downhill edge, by the lean alone"),                       \
      number("vehicle." #axle ".tyre.side_give_share", AT(vehicle.axle.tyre.side_give_share), 0, 1,                    \
             "where the load acts as the tyre bends sideways: 0 under the disc, 1 under the tread"),                   \
      flag("vehicle." #axle ".tyre.rigid", AT(vehicle.axle.tyre.rigid), "no vertical give (at rest only)"),            \
      flag("vehicle." #axle ".tyre.laterally_rigid", AT(vehicle.axle.tyre.laterally_rigid),                            \
           "no sideways give (at rest only)"),                                                                         \
      text("vehicle." #axle ".tyre.service", AT(vehicle.axle.tyre.service), 20,                                        \
           "load index and speed symbol from the sidewall, such as 146A8; empty = the mark behind the size, else "     \
           "typical of the size"),                                                                                     \
      number("vehicle." #axle ".tyre.reference_pressure_kpa", AT(vehicle.axle.tyre.reference_pressure), 0, 1000,       \
             "gauge pressure for which the load index is given; 0 = typical of the size")
#define FILL_FIELDS(name, wheel)                                                                                     \
  choice<Scene>(                                                                                                     \
      "ballast." name ".medium", [](const Scene& s) { return medium_index(s.ballast.fill[wheel].medium); },          \
      [](Scene& s, int i) { s.ballast.fill[wheel].medium = media()[static_cast<std::size_t>(i)].medium; },           \
      medium_keys(), "what is in this tyre"),                                                                        \
      number("ballast." name ".fill_fraction", AT(ballast.fill[wheel].fill_fraction), 0, 1,                          \
             "volume of liquid over the inside volume of the inflated, unloaded tyre; 0.75 is about rim-top level"), \
      number("ballast." name ".concentration", AT(ballast.fill[wheel].concentration), 0, 0.6,                        \
             "mass of dissolved matter over mass of the solution; 0 = the medium's usual strength"),                 \
      number("ballast." name ".price_low_eur_per_l", AT(ballast.fill[wheel].price.low), 0, 100,                      \
             "lowest price of this filling; 0 = our estimate"),                                                      \
      number("ballast." name ".price_high_eur_per_l", AT(ballast.fill[wheel].price.high), 0, 100,                    \
             "highest price of this filling; 0 = our estimate")

std::vector<Field> make_scene_fields() {
  return {
      text("title", AT(title), 120, "what the scene is called"),
      text("note", AT(note), 4000, "what it is for, in plain words"),

      text("vehicle.name", AT(vehicle.name), 120, "class of machine, in plain words"),
      text("vehicle.note", AT(vehicle.note), 4000, "where its numbers come from"),
      number("vehicle.engine_power_kw", AT(vehicle.engine_power), 1, 1000, "rated power"),
      flag("vehicle.front_drive", AT(vehicle.front_drive),
           "the front axle can be driven (programme.front_drive says whether it is)"),
      number("vehicle.wheelbase_m", AT(vehicle.wheelbase), 0.5, 10, "between the axles"),
      number("vehicle.max_wheel_weights_kg", AT(vehicle.max_wheel_weights), 0, 5000,
             "weights each rear wheel may carry; 0 = no such place"),

      number("vehicle.drive.clutch_capacity", AT(vehicle.drive.clutch_capacity), 0.5, 5,
             "largest torque through the clutch, divided by the engine's torque at rated power"),
      number("vehicle.drive.braking_m_per_s2", AT(vehicle.drive.braking), 0, 12,
             "deceleration at full pedal if the grip is enough; the brakes act on the rear wheels"),
      number("vehicle.drive.most_steer_deg", AT(vehicle.drive.most_steer), 1, 75,
             "largest angle of the front wheels, or of an articulated machine's joint"),
      number("vehicle.hitch.x_m", AT(vehicle.hitch.x), -8, 2, "where a drawbar or rope pulls; behind is negative"),
      number("vehicle.hitch.z_m", AT(vehicle.hitch.z), 0.05, 4, "where a drawbar or rope pulls, above ground"),

      number("vehicle.chassis.mass_kg", AT(vehicle.chassis.mass), 1, 50000,
             "without front axle beam, wheels, loader, driver and ballast"),
      number("vehicle.chassis.centre_of_gravity_x_m", AT(vehicle.chassis.centre_of_gravity.x), -5, 10,
             "centre of gravity of the chassis, ahead of the rear axle"),
      number("vehicle.chassis.centre_of_gravity_y_m", AT(vehicle.chassis.centre_of_gravity.y), -2, 2,
             "centre of gravity of the chassis, to the left of the middle"),
      number("vehicle.chassis.centre_of_gravity_z_m", AT(vehicle.chassis.centre_of_gravity.z), 0.05, 5,
             "centre of gravity of the chassis, above level ground on undeflected tyres"),
      number("vehicle.chassis.roll_inertia_kgm2", AT(vehicle.chassis.inertia.x), 0, 1e6,
             "inertia of the chassis about its own centre of gravity, lengthwise axis"),
      number("vehicle.chassis.pitch_inertia_kgm2", AT(vehicle.chassis.inertia.y), 0, 1e6,
             "the same about the crosswise axis"),
      number("vehicle.chassis.yaw_inertia_kgm2", AT(vehicle.chassis.inertia.z), 0, 1e6,
             "the same about the upright axis"),
      number("vehicle.chassis.length_ahead_m", AT(vehicle.chassis.length_ahead), 0.1, 10,
             "nose, ahead of the rear axle"),
      number("vehicle.chassis.bonnet_height_m", AT(vehicle.chassis.bonnet_height), 0.2, 5, "top of the bonnet"),
      number("vehicle.chassis.bonnet_width_m", AT(vehicle.chassis.bonnet_width), 0.1, 4, "width of the bonnet"),

      choice<Scene>("vehicle.front_axle.kind", ENUM(Scene, AxleKind, vehicle.front_axle.kind), keys_of<kAxleKinds>(),
                    "pivoting on its pin, fixed to the chassis, or the front half of an articulated machine"),
      number("vehicle.front_axle.mass_kg", AT(vehicle.front_axle.mass), 0, 5000,
             "beam without wheels; articulated: the whole front half"),
      number("vehicle.front_axle.x_m", AT(vehicle.front_axle.x), 0, 10,
             "articulated only: that half's centre of mass, ahead of the rear axle; 0 = above the front wheels"),
      number("vehicle.front_axle.joint_x_m", AT(vehicle.front_axle.joint_x), 0, 10,
             "articulated only: the joint, ahead of the rear axle"),
      number("vehicle.front_axle.z_m", AT(vehicle.front_axle.z), 0, 3, "height of the beam's centre of mass"),
      number("vehicle.front_axle.pin_height_m", AT(vehicle.front_axle.pin_height), 0.05, 3,
             "pivot pin above the front contact line"),
      number("vehicle.front_axle.stop_angle_deg", AT(vehicle.front_axle.stop_angle), 0.1, 60,
             "joint angle at which the axle meets its stop, either way"),
      number("vehicle.front_axle.stop_stiffness_knm_per_rad", AT(vehicle.front_axle.stop_stiffness), 1, kBig,
             "of stop and beam"),
      number("vehicle.front_axle.stop_damping_knms_per_rad", AT(vehicle.front_axle.stop_damping), 0, 1e4,
             "of stop and beam"),

      AXLE_FIELDS(front),
      AXLE_FIELDS(rear),

      choice<Scene>("vehicle.frame.kind", ENUM(Scene, FrameKind, vehicle.frame.kind), keys_of<kFrameKinds>(),
                    "protective frame"),
      flag("vehicle.frame.folded", AT(vehicle.frame.folded), "a two-post frame folded down; it then protects nobody"),
      number("vehicle.frame.top_height_m", AT(vehicle.frame.top_height), 0.2, 6, "above ground"),
      number("vehicle.frame.width_m", AT(vehicle.frame.width), 0.1, 5, "at the top"),
      number("vehicle.frame.x_front_m", AT(vehicle.frame.x_front), -5, 10,
             "front posts of a cab, or the posts of a two-post frame, ahead of the rear axle"),
      number("vehicle.frame.x_rear_m", AT(vehicle.frame.x_rear), -5, 10, "rear posts of a cab, ahead of the rear axle"),

      flag("vehicle.driver.on_seat", AT(vehicle.driver.on_seat), "the driver's mass is on the machine"),
      number("vehicle.driver.mass_kg", AT(vehicle.driver.mass), 0, 300, "of the driver"),
      number("vehicle.driver.x_m", AT(vehicle.driver.place.x), -5, 10, "centre of mass, ahead of the rear axle"),
      number("vehicle.driver.y_m", AT(vehicle.driver.place.y), -3, 3, "centre of mass, to the left"),
      number("vehicle.driver.z_m", AT(vehicle.driver.place.z), 0, 6, "centre of mass, above ground, seated"),
      flag("vehicle.driver.belted", AT(vehicle.driver.belted), "seat belt on"),

      number("vehicle.tank.capacity_l", AT(vehicle.tank.capacity), 0, 20000, "fuel or what else it carries; 0 = none"),
      number("vehicle.tank.density_kg_per_m3", AT(vehicle.tank.density), 500, 2500, "density of what is in the tank"),
      number("vehicle.tank.x_m", AT(vehicle.tank.place.x), -5, 10, "centre of the tank, ahead of the rear axle"),
      number("vehicle.tank.y_m", AT(vehicle.tank.place.y), -3, 3, "centre of the tank, to the left"),
      number("vehicle.tank.z_m", AT(vehicle.tank.place.z), 0, 6, "centre of the tank, above ground"),
      number("vehicle.tank.radius_m", AT(vehicle.tank.radius), 0, 2,
             "radius of a round tank lying lengthwise, whose liquid moves to the low side; 0 = it stays"),

      flag("vehicle.loader.fitted", AT(vehicle.loader.fitted), "the machine carries a front loader"),
      number("vehicle.loader.pivot_x_m", AT(vehicle.loader.pivot_x), -3, 8, "boom pivot, ahead of the rear axle"),
      number("vehicle.loader.pivot_z_m", AT(vehicle.loader.pivot_z), 0.2, 5, "boom pivot, above ground"),
      number("vehicle.loader.boom_length_m", AT(vehicle.loader.boom_length), 0.3, 8, "pivot to bucket pin, straight"),
      number("vehicle.loader.mast_mass_kg", AT(vehicle.loader.mast_mass), 0, 5000, "brackets bolted to the chassis"),
      number("vehicle.loader.boom_mass_kg", AT(vehicle.loader.boom_mass), 0, 5000, "boom and rams"),
      number("vehicle.loader.bucket_mass_kg", AT(vehicle.loader.bucket_mass), 0, 5000, "empty bucket"),
      number("vehicle.loader.bucket_width_m", AT(vehicle.loader.bucket_width), 0.2, 6, "width of the bucket"),
      number("vehicle.loader.min_pin_height_m", AT(vehicle.loader.min_pin_height), 0, 8, "lowest bucket pin"),
      number("vehicle.loader.max_pin_height_m", AT(vehicle.loader.max_pin_height), 0, 8, "highest bucket pin"),
      number("vehicle.loader.rated_payload_kg", AT(vehicle.loader.rated_payload), 0, 20000,
             "the maker's figure at full height"),
      number("vehicle.loader.lift_speed_m_per_s", AT(vehicle.loader.lift_speed), 0.01, 5, "bucket pin, up or down"),
      flag("vehicle.loader.parallel", AT(vehicle.loader.parallel),
           "a linkage keeps the bucket level as the boom turns"),

      number("vehicle.front_mount.x_m", AT(vehicle.front_mount.x), -2, 12, "centre of the front weights"),
      number("vehicle.front_mount.z_m", AT(vehicle.front_mount.z), 0, 4, "centre of the front weights, above ground"),
      number("vehicle.front_mount.max_mass_kg", AT(vehicle.front_mount.max_mass), 0, 20000, "0 = no such place"),
      number("vehicle.rear_mount.x_m", AT(vehicle.rear_mount.x), -8, 2,
             "centre of the rear weights; behind is negative"),
      number("vehicle.rear_mount.z_m", AT(vehicle.rear_mount.z), 0, 4, "centre of the rear weights, above ground"),
      number("vehicle.rear_mount.max_mass_kg", AT(vehicle.rear_mount.max_mass), 0, 20000, "0 = no such place"),

      FILL_FIELDS("front_left", kFrontLeft),
      FILL_FIELDS("front_right", kFrontRight),
      FILL_FIELDS("rear_left", kRearLeft),
      FILL_FIELDS("rear_right", kRearRight),
      number("ballast.front_weights_kg", AT(ballast.front_weights), 0, 20000, "weights on the front mount", true),
      number("ballast.rear_weights_kg", AT(ballast.rear_weights), 0, 20000, "weights or box on the rear hitch", true),
      number("ballast.front_wheel_weights_kg", AT(ballast.front_wheel_weights), 0, 5000, "weights on each front wheel"),
      number("ballast.rear_wheel_weights_kg", AT(ballast.rear_wheel_weights), 0, 5000, "weights on each rear wheel"),
      number("ballast.loader_pin_height_m", AT(ballast.loader_pin_height), 0, 8, "bucket pin above ground", true),
      number("ballast.loader_payload_kg", AT(ballast.loader_payload), 0, 20000, "load in the bucket", true),
      number("ballast.tank_fraction", AT(ballast.tank_fraction), 0, 1, "share of the tank that is full"),
      number("ballast.hanging_mass_kg", AT(ballast.hanging_mass), 0, 20000, "load on a rope from the bucket pin"),
      number("ballast.hanging_rope_m", AT(ballast.hanging_rope), 0.1, 6, "bucket pin to the centre of what hangs"),
      number("ballast.implement.mass_kg", AT(ballast.implement.mass), 0, 20000,
             "mounted on the rear linkage; 0 = none"),
      number("ballast.implement.x_m", AT(ballast.implement.x), -8, 2, "its centre of mass; behind is negative"),
      number("ballast.implement.z_m", AT(ballast.implement.z), 0, 5, "its centre of mass above ground, as carried"),
      number("ballast.implement.width_m", AT(ballast.implement.width), 0.2, 12, "its width (inertia, ground contact)"),
      number("ballast.trailer.mass_kg", AT(ballast.trailer.mass), 0, 60000, "trailer and load, on the hitch; 0 = none"),
      number("ballast.trailer.drawbar_load_kg", AT(ballast.trailer.drawbar_load), 0, 10000,
             "the part of this mass that rests on the hitch"),
      number("ballast.trailer.braked", AT(ballast.trailer.braked), 0, 1,
             "how far the trailer's own brakes follow the pedal; 0 = unbraked"),

      number("terrain.slope_deg", AT(terrain.slope), 0, 60, "angle of the even slope, which rises to the north", true),
      text("terrain.soil.name", AT(terrain.soil.name), 120, "what the ground is, in plain words"),
      flag("terrain.soil.adhesion_unlimited", AT(terrain.soil.adhesion_unlimited),
           "wheels never slide (to compare with rigid calculations)"),
      number("terrain.soil.adhesion", AT(terrain.soil.adhesion), 0.01, 3,
             "peak tangential force over normal load, along the way a wheel rolls"),
      number("terrain.soil.adhesion_across_ratio", AT(terrain.soil.adhesion_across_ratio), 0.2, 3,
             "peak across the way a wheel rolls, over that along it; 1 = the same both ways"),
      number("terrain.soil.rolling_resistance", AT(terrain.soil.rolling_resistance), 0, 1,
             "rolling resistance force over normal load"),

      number("start.heading_deg", AT(start.heading), -180, 180,
             "0 = facing uphill, positive to the left; -90 = across, downhill to the right", true),
      number("start.articulation_deg", AT(start.articulation), -60, 60,
             "articulated only: front half turned about the joint, left positive"),
      number("start.x_m", AT(start.x), -1e4, 1e4, "middle of the rear axle, along the contour"),
      number("start.y_m", AT(start.y), -1e4, 1e4, "middle of the rear axle, up the slope"),

      number("programme.duration_s", AT(programme.duration), 0.1, 600, "how long the run lasts"),
      number("programme.drop_height_m", AT(programme.drop_height), 0, 5,
             "height above the ground from which it is dropped; 0: it starts at rest, if it can rest"),
      number("programme.speed_kmh", AT(programme.speed), 0, 50,
             "forward speed the driver wants; 0 = parked, rear wheels held"),
      number("programme.drive_from_s", AT(programme.drive_from), 0, 600, "when it starts to drive"),
      number("programme.tilt_rate_deg_per_s", AT(programme.tilt_rate), 0, 10,
             "rate at which the whole ground tilts further"),

      flag("programme.front_drive", AT(programme.front_drive), "front drive in from the start"),
      number("manoeuvre.speed_kmh", AT(manoeuvre.speed), 0, 80, "speed in a steady bend, for the answer at rest"),
      number("manoeuvre.turn_radius_m", AT(manoeuvre.turn_radius), 0, 1000,
             "radius of that bend, tried to the left and to the right; 0 = none"),
      number("manoeuvre.braking_m_per_s2", AT(manoeuvre.braking), 0, 12,
             "deceleration along the heading, for the answer at rest; 0 = none"),

      number("settings.gravity_m_per_s2", AT(settings.gravity), 0.1, 30, "standard gravity is 9.80665"),
      number("settings.temperature_c", AT(settings.temperature), -40, 60, "temperature of liquids and air now"),
      number("settings.filling_temperature_c", AT(settings.filling_temperature), -40, 60,
             "temperature at which the tyres were filled and pumped up"),
      number("settings.time_step_s", AT(settings.time_step), 1e-5, 0.005, "time step of a run"),
      choice<Scene>(
          "settings.engine", ENUM(Scene, Engine, settings.engine), keys_of<kEngines>(),
          "what moves the bodies in a run: the Bullet physics engine, or our own faster step of the same rule"),
  };
}
#undef AT
#undef AXLE_FIELDS
#undef FILL_FIELDS

#define OF(T, member) +[](T& s) { return &s.member; }
std::vector<FieldOf<Feature>> make_feature_fields() {
  return {
      text("name", OF(Feature, name), 120, "shown on the ground; may be empty"),
      choice<Feature>("kind", ENUM(Feature, FeatureKind, kind), keys_of<kFeatureKinds>(),
                      "what sticks out of or sinks into the slope"),
      number("x_m", OF(Feature, x), -1e4, 1e4, "centre, along the contour"),
      number("y_m", OF(Feature, y), -1e4, 1e4, "centre, up the slope"),
      number("angle_deg", OF(Feature, angle), -360, 360, "long side turned from the contour, anticlockwise"),
      number("length_m", OF(Feature, length), 0.05, 200,
             "extent in the direction of driving over it; diameter of hole and stump"),
      number("width_m", OF(Feature, width), 0.05, 200, "extent along the ridge line; rough: along y"),
      number("height_m", OF(Feature, height), 0, 5, "height, or depth of ditch and hole"),
      {"seed", "", "rough only: picks the strip", CountFieldOf<Feature>{OF(Feature, seed)}},
  };
}
std::vector<FieldOf<PointMass>> make_point_mass_fields() {
  return {
      text("name", OF(PointMass, name), 120, "what it is, for the list of masses"),
      choice<PointMass>("on", ENUM(PointMass, Carrier, on), keys_of<kCarriers>(), "what it is bolted to"),
      number("mass_kg", OF(PointMass, mass), 0, 20000, "its mass"),
      number("x_m", OF(PointMass, place.x), -20, 20, "ahead of the rear axle"),
      number("y_m", OF(PointMass, place.y), -10, 10, "to the left of the middle"),
      number("z_m", OF(PointMass, place.z), 0, 10, "above level ground on undeflected tyres"),
  };
}
std::vector<FieldOf<Action>> make_action_fields() {
  return {
      choice<Action>("what", ENUM(Action, Deed, what), keys_of<kDeeds>(),
                     "drive and drop_clutch (speed), coast, brake (pedal), curve (radius), line, loader (pin height), "
                     "front_drive (pedal 0 = out), stuck, tie (rope)"),
      number("at_s", OF(Action, at), 0, 600, "from this moment on"),
      number("speed_kmh", OF(Action, speed), -20, 50, "speed the driver wants; negative = backwards"),
      number("radius_m", OF(Action, radius), -1000, 1000, "radius of a bend, left positive; 0 = wheels straight"),
      number("pedal", OF(Action, pedal), 0, 1, "how far the brake pedal is down"),
      number("pin_height_m", OF(Action, pin_height), 0, 8, "height of the bucket pin, reached at the loader's speed"),
      number("rope_m", OF(Action, rope), 0, 100, "stake behind the hitch, at ground height; the rope is just taut"),
  };
}
std::vector<FieldOf<Tolerance>> make_tolerance_fields() {
  return {
      text("key", OF(Tolerance, key), 120, "a number's key; an alias such as ballast.rear.fill_fraction changes both"),
      number("value", OF(Tolerance, value), 0, 1e12, "+- in the key's unit, two standard deviations"),
  };
}
std::vector<FieldOf<Expect>> make_expect_fields() {
  return {
      text("quantity", OF(Expect, quantity), 120, "a key of the JSON answer; list entries such as wheel_load_n[2]"),
      {"value", "", "what it must be, in the quantity's unit, or \"never\"", AnswerFieldOf<Expect>{OF(Expect, value)}},
      number("tolerance", OF(Expect, tolerance), 0, 1e12, "absolute, in the quantity's unit"),
      text("source", OF(Expect, source), 1000, "where the value comes from"),
  };
}
#undef OF
#undef ENUM

}  // namespace

std::span<const Field> scene_fields() {
  static const std::vector<Field> fields = make_scene_fields();
  return fields;
}
std::span<const FieldOf<Feature>> feature_fields() {
  static const std::vector<FieldOf<Feature>> fields = make_feature_fields();
  return fields;
}
std::span<const FieldOf<PointMass>> point_mass_fields() {
  static const std::vector<FieldOf<PointMass>> fields = make_point_mass_fields();
  return fields;
}
std::span<const FieldOf<Action>> action_fields() {
  static const std::vector<FieldOf<Action>> fields = make_action_fields();
  return fields;
}
std::span<const FieldOf<Tolerance>> tolerance_fields() {
  static const std::vector<FieldOf<Tolerance>> fields = make_tolerance_fields();
  return fields;
}
std::span<const FieldOf<Expect>> expect_fields() {
  static const std::vector<FieldOf<Expect>> fields = make_expect_fields();
  return fields;
}

const Field* find_field(std::string_view key) {
  const auto fields = scene_fields();
  const auto at = std::ranges::find(fields, key, &Field::key);
  return at == fields.end() ? nullptr : &*at;
}

std::span<const Alias> scene_aliases() {
  static constexpr Alias kAliases[] = {
      {"ballast.front.medium", {"ballast.front_left.medium", "ballast.front_right.medium"}, "both front tyres"},
      {"ballast.front.fill_fraction",
       {"ballast.front_left.fill_fraction", "ballast.front_right.fill_fraction"},
       "both front tyres"},
      {"ballast.rear.medium", {"ballast.rear_left.medium", "ballast.rear_right.medium"}, "both rear tyres"},
      {"ballast.rear.fill_fraction",
       {"ballast.rear_left.fill_fraction", "ballast.rear_right.fill_fraction"},
       "both rear tyres"},
      {"ballast.front.concentration",
       {"ballast.front_left.concentration", "ballast.front_right.concentration"},
       "both front tyres"},
      {"ballast.rear.concentration",
       {"ballast.rear_left.concentration", "ballast.rear_right.concentration"},
       "both rear tyres"},
      {"ballast.front.price_low_eur_per_l",
       {"ballast.front_left.price_low_eur_per_l", "ballast.front_right.price_low_eur_per_l"},
       "both front tyres"},
      {"ballast.front.price_high_eur_per_l",
       {"ballast.front_left.price_high_eur_per_l", "ballast.front_right.price_high_eur_per_l"},
       "both front tyres"},
      {"ballast.rear.price_low_eur_per_l",
       {"ballast.rear_left.price_low_eur_per_l", "ballast.rear_right.price_low_eur_per_l"},
       "both rear tyres"},
      {"ballast.rear.price_high_eur_per_l",
       {"ballast.rear_left.price_high_eur_per_l", "ballast.rear_right.price_high_eur_per_l"},
       "both rear tyres"},
  };
  return kAliases;
}

std::vector<const Field*> targets_of(std::string_view key) {
  std::vector<const Field*> targets;
  const auto consider = [&](std::string_view name) {
    const Field* field = find_field(name);
    if (field && std::holds_alternative<NumberField>(field->kind)) targets.push_back(field);
  };
  consider(key);
  for (const Alias& alias : scene_aliases())
    if (alias.key == key)
      for (std::string_view target : alias.targets) consider(target);
  return targets;
}

template <class T>
std::string allowed(const FieldOf<T>& field) {
  const std::string unit = field.unit.empty() ? std::string() : fmt::format(" {}", field.unit);
  if (const auto* n = std::get_if<NumberFieldOf<T>>(&field.kind))
    return fmt::format("{:g} to {:g}{}", n->min, n->max, unit);
  if (std::holds_alternative<FlagFieldOf<T>>(field.kind)) return "true or false";
  if (const auto* t = std::get_if<TextFieldOf<T>>(&field.kind))
    return fmt::format("text of up to {} letters", t->max_length);
  if (const auto* c = std::get_if<ChoiceFieldOf<T>>(&field.kind)) {
    std::string list;
    for (std::string_view choice : c->choices) list += (list.empty() ? "one of " : ", ") + std::string(choice);
    return list;
  }
  if (std::holds_alternative<CountFieldOf<T>>(field.kind)) return "a whole number, 0 to 4294967295";
  return "a number or \"never\"";
}
template std::string allowed(const FieldOf<Scene>&);
template std::string allowed(const FieldOf<Feature>&);
template std::string allowed(const FieldOf<PointMass>&);
template std::string allowed(const FieldOf<Action>&);
template std::string allowed(const FieldOf<Tolerance>&);
template std::string allowed(const FieldOf<Expect>&);

std::string allowed_without_numbers(std::string_view key) {
  const auto words_of = [](const auto& field) -> std::string {
    const std::size_t kind = field.kind.index();  // in the order of FieldOf: number, flag, text, choice, count, answer
    return kind >= 1 && kind <= 3 ? allowed(field) : std::string();
  };
  if (key == "vehicle_file") return "a machine's name";
  for (const Alias& alias : scene_aliases())
    if (alias.key == key) key = alias.targets[0];
  if (const Field* field = find_field(key)) return words_of(*field);
  const std::size_t open = key.find('['), close = key.find("].");
  if (open == key.npos || close == key.npos || close < open) return {};
  const std::string_view list = key.substr(0, open), last = key.substr(close + 2);
  std::string words;
  with_list(list, [&](const auto& known) {
    for (const auto& field : known.fields())
      if (field.key == last) words = words_of(field);
  });
  return words;
}

std::string nearest_key(std::string_view wrong_key) {
  std::vector<std::string> keys = {"vehicle_file"};
  const auto take = [&](std::string_view list, const auto& fields) {
    for (const auto& field : fields) keys.push_back(std::string(list) + std::string(field.key));
  };
  take("", scene_fields());
  take("", scene_aliases());
  for_each_list([&](const auto& list) { take(std::string(list.name) + "[].", list.fields()); });
  // A key without its unit is the commonest slip: the right one goes on where the wrong one stops.
  for (const std::string& key : keys)
    if (!wrong_key.empty() && key.starts_with(std::string(wrong_key) + "_")) return key;
  const std::string near = nearest_word(wrong_key, keys);
  if (!near.empty() || wrong_key.empty() || wrong_key.find('.') != wrong_key.npos) return near;
  // Then one without its table, "slope" or "slope_deg", if there is only one such.
  std::vector<std::string> ends;
  for (const std::string& key : keys) {
    const std::string_view last = std::string_view(key).substr(key.rfind('.') + 1);
    if (last == wrong_key || last.starts_with(std::string(wrong_key) + "_")) ends.push_back(key);
  }
  return ends.size() == 1 ? ends.front() : std::string();
}

}  // namespace sidehill
