// Second step of make_machine: every number of the vehicle, measured or scaled from its class, with its origin.
#include "sim/own_machine/machine_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/base/plain_number.h"
#include "sim/scene/scene_fields.h"

namespace sidehill {
namespace {

double factor(ScalesBy by, const Scales& s) {
  switch (by) {
    case ScalesBy::nothing:
    case ScalesBy::never:
    case ScalesBy::tyre:
      return 1;
    case ScalesBy::mass:
      return s.mass;
    case ScalesBy::size:
      return s.size;
    case ScalesBy::length:
      return s.length;
    case ScalesBy::height:
      return s.height;
    case ScalesBy::front:
      return s.front;
    case ScalesBy::inertia:
      return s.mass * s.length * s.size;
    case ScalesBy::stop:
      return s.mass * s.size;
    case ScalesBy::loader_mass:
      return s.loader_mass;
    case ScalesBy::loader_length:
      return s.loader_length;
    case ScalesBy::loader_height:
      return s.loader_height;
  }
  return 1;
}

std::string how(ScalesBy by, const Scales& s) {
  const double f = factor(by, s);
  if (by == ScalesBy::nothing || std::abs(f - 1) < 5e-5) return "our estimate, as its class";
  const char* by_what = by == ScalesBy::mass || by == ScalesBy::loader_mass       ? "the mass"
                        : by == ScalesBy::size                                    ? "the cube root of the mass"
                        : by == ScalesBy::length || by == ScalesBy::loader_length ? "the wheelbase"
                        : by == ScalesBy::height || by == ScalesBy::loader_height ? "the rear tyres' radius"
                        : by == ScalesBy::front                                   ? "the front tyres' radius"
                        : by == ScalesBy::inertia                                 ? "mass times length times width"
                                                                                  : "mass times width";
  return fmt::format("our estimate, {} times that of its class, by {}", plain_number(f), by_what);
}

// Writes a datum that somebody said, and its origin.
struct Said {
  MadeMachine& made;
  void operator()(std::string_view key, double value, DatumFrom from, const std::string& words) const {
    Scene scene;
    scene.vehicle = made.vehicle;
    const Field& field = *find_field(std::string("vehicle.") + std::string(key));
    *std::get<NumberField>(field.kind).at(scene) = value;
    made.vehicle = scene.vehicle;
    for (DatumOrigin& origin : made.origins)
      if (std::string_view(origin.key).substr(8) == key) origin.from = from, origin.how = words, origin.tolerance = 0;
  }
  // What stands in the entry, straight.
  void direct(const std::optional<double>& said, std::string_view key, DatumFrom from = DatumFrom::measured) const {
    if (said) (*this)(key, *said, from, from == DatumFrom::plate ? "from the plate" : "measured by its owner");
  }
};

void tyre_origin(DatumOrigin& origin, const Tyre& tyre, const Tyre& like, bool read, bool pressed, bool front) {
  const std::string_view key = std::string_view(origin.key).substr(origin.key.find(".tyre.") + 6);
  const std::string size_key = front ? "front_tyre" : "rear_tyre",
                    pressure_key = front ? "front_pressure_kpa" : "rear_pressure_kpa";
  origin.entry_key = size_key;
  if (key == "free_radius_m" || key == "rim_radius_m" || key == "section_width_m") {
    origin.from = read ? DatumFrom::tyre_size : DatumFrom::estimated;
    origin.how = read ? "from the size on the sidewall; tyres of one size differ by 1 to 2 %"
                      : "our estimate, the class's tyre" +
                            std::string(tyre.free_radius == like.free_radius ? "" : " grown with the machine");
    if (key == "free_radius_m") origin.tolerance = (read ? 0.015 : 0.08) * tyre.free_radius;
  } else if (key == "pressure_kpa") {
    origin.entry_key = pressure_key;
    origin.from = pressed ? DatumFrom::measured : DatumFrom::estimated;
    origin.how = pressed ? "measured by its owner" : "our estimate, usual for the size";
    origin.tolerance = pressed ? 0 : 0.2e-3 * tyre.pressure;
  } else if (key == "vertical_stiffness_kn_per_m" || key == "lateral_stiffness_kn_per_m") {
    origin.entry_key = pressed ? size_key : pressure_key;
    origin.from = DatumFrom::derived;
    origin.how = key[0] == 'v' ? "worked out as an air spring from radius, width and pressure; our estimate"
                               : "0.6 of the vertical; our estimate";
    const double value = 1e-3 * (key[0] == 'v' ? tyre.vertical_stiffness : tyre.lateral_stiffness);
    origin.tolerance = (pressed && read ? 0.25 : 0.35) * value;
  } else {
    origin.entry_key.clear();
    origin.from = DatumFrom::derived;
    origin.how = "by the rules for all tyres here; our estimate";
  }
}

// Tracks as said: over the outside of the tyres a tape reads one section width more.
void set_tracks(const MachineEntry& e, const Vehicle& like, const Said& said, MadeMachine& made) {
  const bool outside = e.track_reading == TrackReading::over_outside;
  const char* words =
      outside ? "measured over the outside of the tyres, less one section width" : "measured by its owner";
  for (const bool front : {true, false}) {
    const double width = (front ? made.vehicle.front : made.vehicle.rear).tyre.section_width;
    const std::string name = front ? "front" : "rear";
    const auto& track = front ? e.front_track : e.rear_track;
    const auto& narrowest = front ? e.front_narrowest : e.rear_narrowest;
    const double less = outside ? width : 0;
    for (const auto& [datum, key] : {std::pair{&track, ".track_m"}, {&narrowest, ".narrowest_track_m"}}) {
      if (!*datum) continue;
      if (**datum - less > 0.05) {
        said(name + key, **datum - less, DatumFrom::measured, words);
        // The tyre's width is known to a few per cent only.
        if (outside && datum == &track)
          for (DatumOrigin& origin : made.origins)
            if (origin.key == "vehicle." + name + key) origin.tolerance = 0.03 * width;
      } else {
        made.checks.push_back(
            {name + (datum == &track ? "_track_m" : "_narrowest_m"), Severity::grave,
             fmt::format("{:g} over the outside leaves nothing between tyres {:.2f} m wide", **datum, width)});
      }
    }
  }
  // One track known: the other stands to it as in the class.
  const double both = like.front.track / like.rear.track;
  if (e.rear_track && !e.front_track) {
    made.vehicle.front.track = made.vehicle.rear.track * both;
    for (DatumOrigin& origin : made.origins)
      if (origin.key == "vehicle.front.track_m") origin.how = "our estimate, to the rear track as in its class";
  }
  if (e.front_track && !e.rear_track) {
    made.vehicle.rear.track = made.vehicle.front.track / both;
    for (DatumOrigin& origin : made.origins)
      if (origin.key == "vehicle.rear.track_m") origin.how = "our estimate, to the front track as in its class";
  }
}

void set_loader(const MachineEntry& e, const Scales& s, const Said& said, MadeMachine& made) {
  Loader& loader = made.vehicle.loader;
  said.direct(e.pivot_ahead, "loader.pivot_x_m");
  said.direct(e.pivot_height, "loader.pivot_z_m");
  said.direct(e.lift_height, "loader.max_pin_height_m", DatumFrom::plate);
  said.direct(e.payload, "loader.rated_payload_kg", DatumFrom::plate);
  said.direct(e.bucket_mass, "loader.bucket_mass_kg", DatumFrom::plate);
  said.direct(e.bucket_width, "loader.bucket_width_m");
  if (e.loader_mass) {
    const double mast = s.loader.mast_mass / std::max(1.0, s.loader.mast_mass + s.loader.boom_mass);
    said("loader.mast_mass_kg", mast * *e.loader_mass, DatumFrom::derived,
         "its share of the plate's mass, as in its class");
    said("loader.boom_mass_kg", (1 - mast) * *e.loader_mass, DatumFrom::derived,
         "its share of the plate's mass, as in its class");
  }
  if (e.boom) return said.direct(e.boom, "loader.boom_length_m");
  if (!e.pivot_height && !e.lift_height) return;
  // As steep at the top as the class's, and long enough to reach the ground.
  const double steep = std::clamp((s.loader.max_pin_height - s.loader.pivot_z) / s.loader.boom_length, 0.3, 0.95);
  const double up = (loader.max_pin_height - loader.pivot_z) / steep,
               down = (loader.pivot_z - loader.min_pin_height) / 0.95;
  if (std::max(up, down) > 0.3)
    said("loader.boom_length_m", std::max(up, down), DatumFrom::estimated,
         "our estimate, from pivot and lift height, as steep as its class");
  for (DatumOrigin& origin : made.origins)
    if (origin.key == "vehicle.loader.boom_length_m") origin.tolerance = 0.06 * loader.boom_length;
}

// Frame, seat and what goes with them.
void set_frame(const MachineEntry& e, const Vehicle& like, const Scales& s, const Said& said, MadeMachine& made) {
  ProtectiveFrame& frame = made.vehicle.frame;
  frame.kind = e.frame.value_or(like.frame.kind);
  if (frame.kind != FrameKind::none && like.frame.kind == FrameKind::none) {
    // The class has none to go by: as on a utility machine, from its rear tyres and its size.
    said("frame.top_height_m", 3.3 * made.vehicle.rear.tyre.free_radius, DatumFrom::estimated,
         "our estimate, 3.3 x the rear tyres' radius");
    said("frame.width_m", 1.1 * s.size, DatumFrom::estimated, "our estimate");
    made.vehicle.frame.x_front = std::max(made.vehicle.frame.x_front, made.vehicle.frame.x_rear + 0.3);
  }
  if (frame.kind != like.frame.kind) {
    frame.folded = false;
    made.vehicle.driver.belted = frame.kind != FrameKind::none;
    if (frame.kind == FrameKind::cab && frame.x_front <= frame.x_rear) frame.x_rear = frame.x_front - 1.3 * s.size;
  }
  said.direct(e.frame_height, "frame.top_height_m");
  said.direct(e.frame_width, "frame.width_m");
  if (e.seat_height)
    said("driver.z_m", *e.seat_height + 0.25, DatumFrom::derived, "0.25 m over the measured seat; our estimate");
  if (e.driver.value_or(0) > 30) said.direct(e.driver, "driver.mass_kg");
}

}  // namespace

void scale_parts(const MachineEntry& e, const Vehicle& like, const Scales& s, MadeMachine& made) {
  const Tyre front = made.vehicle.front.tyre, rear = made.vehicle.rear.tyre;
  Vehicle& v = made.vehicle;
  v = like;
  v.loader = s.loader;
  v.loader.fitted = e.loader.value_or(like.loader.fitted);
  v.front.tyre = front, v.rear.tyre = rear;
  v.front_drive = e.front_drive.value_or(like.front_drive);
  v.name = e.name.empty() ? like.name : e.name;
  v.note.clear();  // that of the class is not this machine's; make_machine writes its own
  // A maker's permission is never estimated; nor is a setting nobody read off.
  for (Axle* axle : {&v.front, &v.rear}) axle->capacity = axle->narrowest_track = axle->widest_track = 0;

  Scene scene;
  scene.vehicle = v;
  for (const Field& field : scene_fields()) {
    const auto* number = std::get_if<NumberField>(&field.kind);
    if (!number || !field.from_class) continue;
    DatumOrigin origin{std::string(field.key), DatumFrom::estimated, "", 0, ""};
    if (field.from_class->by == ScalesBy::tyre) {
      const bool at_front = field.key.starts_with("vehicle.front.");
      tyre_origin(origin, at_front ? front : rear, at_front ? like.front.tyre : like.rear.tyre,
                  !(at_front ? e.front_tyre : e.rear_tyre).empty(),
                  (at_front ? e.front_pressure : e.rear_pressure).has_value(), at_front);
    } else {
      const FromClass& rule = *field.from_class;
      const double f = factor(rule.by, s);
      set_file_value(*number, scene, f * file_value(*number, scene));
      origin.how = how(rule.by, s);
      origin.entry_key = rule.better;
      origin.tolerance = rule.share * std::abs(file_value(*number, scene));
      if (rule.by == ScalesBy::never) origin.from = DatumFrom::not_known, origin.how = "0 = not known: never estimated";
    }
    made.origins.push_back(std::move(origin));
  }
  v = scene.vehicle;

  const Said said{made};
  for (const bool at_front : {true, false}) {
    const Tyre& was = at_front ? like.front.tyre : like.rear.tyre;
    const Tyre& now = at_front ? front : rear;
    const double grown =
        now.free_radius * now.free_radius * now.section_width / (was.free_radius * was.free_radius * was.section_width);
    if (std::abs(grown - 1) < 1e-9) continue;
    said(at_front ? "front.wheel_mass_kg" : "rear.wheel_mass_kg",
         (at_front ? like.front : like.rear).wheel_mass * std::pow(grown, 0.84), DatumFrom::estimated,
         "our estimate, its class by (radius squared x width)^0.84");
  }
  for (DatumOrigin& origin : made.origins)
    if (origin.key.ends_with("wheel_mass_kg"))
      origin.tolerance = 0.15 * (origin.key.find("front") != std::string::npos ? v.front : v.rear).wheel_mass;
  said.direct(e.wheelbase, "wheelbase_m");
  said.direct(e.engine_power, "engine_power_kw", DatumFrom::plate);
  said.direct(e.front_capacity, "front.capacity_kg", DatumFrom::plate);
  said.direct(e.rear_capacity, "rear.capacity_kg", DatumFrom::plate);
  said.direct(e.front_mount, "front_mount.max_mass_kg", DatumFrom::plate);
  said.direct(e.rear_mount, "rear_mount.max_mass_kg", DatumFrom::plate);
  said.direct(e.wheel_mount, "max_wheel_weights_kg", DatumFrom::plate);
  said.direct(e.pin_height, "front_axle.pin_height_m");
  said.direct(e.nose, "chassis.length_ahead_m");
  said.direct(e.bonnet_height, "chassis.bonnet_height_m");
  said.direct(e.hitch_height, "hitch.z_m");
  if (e.hitch_behind) said("hitch.x_m", -*e.hitch_behind, DatumFrom::measured, "measured by its owner");
  set_tracks(e, like, said, made);
  if (e.swing) {
    const double sine = *e.swing / made.vehicle.front.track;
    if (sine < 0.8)
      said("front_axle.stop_angle_deg", std::asin(sine), DatumFrom::derived, "from the measured swing over the track");
    else
      made.checks.push_back(
          {"swing_m", Severity::grave,
           fmt::format("{:g} is more than the axle can swing on a track of {:.2f} m, allowed up to {:.2f} m", *e.swing,
                       made.vehicle.front.track, 0.8 * made.vehicle.front.track)});
  }
  if (made.vehicle.loader.fitted) set_loader(e, s, said, made);
  set_frame(e, like, s, said, made);
  if (made.vehicle.front_axle.kind != AxleKind::articulated)
    for (DatumOrigin& origin : made.origins)
      if (origin.key == "vehicle.front_axle.x_m" || origin.key == "vehicle.front_axle.joint_x_m") origin.tolerance = 0;
  if (!made.vehicle.loader.fitted)
    for (DatumOrigin& origin : made.origins)
      if (origin.key.starts_with("vehicle.loader")) origin.tolerance = 0, origin.how = "no loader fitted";
}

}  // namespace sidehill
