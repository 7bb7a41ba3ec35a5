// What a made machine answers, how far that may be off, and what to measure next.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/insight/uncertainty.h"
#include "sim/own_machine/made_machine.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_fields.h"

namespace sidehill {
namespace {

std::string sentence_for(std::string_view entry_key, std::string_view label, double effect) {
  const std::string worth = fmt::format(": not knowing it moves first lift-off by up to {:.1f}°", effect / kDegree);
  if (entry_key == "raised_rear_kg")
    return "Weigh it with the front raised, for the height of its centre of gravity" + worth;
  if (entry_key == "front_axle_kg") return "Weigh the axles one by one" + worth;
  if (entry_key == "mass_kg") return "Weigh the whole machine" + worth;
  if (entry_key == "front_tyre" || entry_key == "rear_tyre")
    return fmt::format("Read the {} tyre size off the sidewall{}", entry_key.substr(0, entry_key.find('_')), worth);
  return std::string(label) + worth;
}

// Entry data that stand in the vehicle as they are: the vehicle's key.
struct Same {
  std::string_view entry_key, key;
};
constexpr Same kSame[] = {
    {"engine_power_kw", "engine_power_kw"},
    {"front_mount_kg", "front_mount.max_mass_kg"},
    {"rear_mount_kg", "rear_mount.max_mass_kg"},
    {"wheel_mount_kg", "max_wheel_weights_kg"},
    {"wheelbase_m", "wheelbase_m"},
    {"front_track_m", "front.track_m"},
    {"rear_track_m", "rear.track_m"},
    {"pin_height_m", "front_axle.pin_height_m"},
    {"frame_height_m", "frame.top_height_m"},
    {"frame_width_m", "frame.width_m"},
    {"nose_m", "chassis.length_ahead_m"},
    {"bonnet_height_m", "chassis.bonnet_height_m"},
    {"hitch_height_m", "hitch.z_m"},
    {"loader_pivot_ahead_m", "loader.pivot_x_m"},
    {"loader_pivot_height_m", "loader.pivot_z_m"},
    {"loader_boom_m", "loader.boom_length_m"},
    {"loader_lift_height_m", "loader.max_pin_height_m"},
    {"loader_payload_kg", "loader.rated_payload_kg"},
    {"bucket_mass_kg", "loader.bucket_mass_kg"},
    {"bucket_width_m", "loader.bucket_width_m"},
    {"front_pressure_kpa", "front.tyre.pressure_kpa"},
    {"rear_pressure_kpa", "rear.tyre.pressure_kpa"},
};

double tolerance_of(const MadeMachine& made, std::string_view key) {
  const DatumOrigin* origin = origin_of(made, key);
  if (!origin) return 0;
  return origin->tolerance * std::get<NumberField>(find_field(key)->kind).to_si;
}

}  // namespace

std::optional<EntryEstimate> estimate_for(const MadeMachine& made, std::string_view key) {
  const Vehicle& v = made.vehicle;
  if (made.origins.empty()) return std::nullopt;
  if (v.frame.kind == FrameKind::none && key.starts_with("frame_")) return std::nullopt;
  if (!v.loader.fitted && (key.starts_with("loader_") || key.starts_with("bucket_"))) return std::nullopt;
  for (const Same& same : kSame)
    if (same.entry_key == key) {
      const std::string whole = "vehicle." + std::string(same.key);
      Scene scene;
      scene.vehicle = v;
      const double value = *std::get<NumberField>(find_field(whole)->kind).at(scene);
      return EntryEstimate{value, tolerance_of(made, whole)};
    }
  if (key == "loader_mass_kg")
    return EntryEstimate{v.loader.mast_mass + v.loader.boom_mass,
                         std::hypot(tolerance_of(made, "vehicle.loader.mast_mass_kg"),
                                    tolerance_of(made, "vehicle.loader.boom_mass_kg"))};
  if (key == "swing_m")
    return EntryEstimate{v.front.track * std::sin(v.front_axle.stop_angle),
                         v.front.track * tolerance_of(made, "vehicle.front_axle.stop_angle_deg")};
  if (key == "hitch_behind_m") return EntryEstimate{-v.hitch.x, 0};
  if (key == "seat_height_m") return EntryEstimate{v.driver.place.z - 0.25, tolerance_of(made, "vehicle.driver.z_m")};
  return std::nullopt;
}

MachineAnswer answer_of(const MadeMachine& made) {
  const Scene scene = scene_of(made);
  const Model model = build(scene);
  const StaticSolution statics = solve_statics(model);
  MachineAnswer out;
  out.first_lift_off = statics.first_lift_off;
  const Uncertainty doubt = uncertainty(scene, model, statics);
  if (out.first_lift_off && doubt.first_lift_off)
    out.low = doubt.first_lift_off->low, out.high = doubt.first_lift_off->high;
  for (const Doubt& one : doubt.doubts) {
    const DatumOrigin* origin = origin_of(made, one.key);
    if (!origin || origin->entry_key.empty() || origin->tolerance == 0) continue;
    if (origin->from == DatumFrom::measured || origin->from == DatumFrom::plate) continue;
    // Dimensions from a size are as good as it gets; what a raised weighing left open as well.
    if (origin->from == DatumFrom::tyre_size || origin->how.starts_with("from the weighing")) continue;
    const double effect = std::max(-one.low, one.high);
    const auto same = std::ranges::find(out.next, origin->entry_key, &MeasureNext::entry_key);
    if (same != out.next.end())
      same->effect = std::hypot(same->effect, effect);
    else
      out.next.push_back({origin->entry_key, effect, ""});
  }
  std::erase_if(out.next, [](const MeasureNext& next) { return !(next.effect > 0.05 * kDegree); });
  std::ranges::stable_sort(out.next, std::greater{}, &MeasureNext::effect);
  for (MeasureNext& next : out.next) {
    const EntryField* field = find_entry_field(next.entry_key);
    next.sentence = sentence_for(next.entry_key, field ? field->label : next.entry_key, next.effect);
  }
  return out;
}

}  // namespace sidehill
