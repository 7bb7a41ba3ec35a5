#include "sim/own_machine/machine_entry.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <vector>

#include "sim/base/enum_table.h"
#include "sim/base/plain_number.h"
#include "sim/base/text_file.h"
#include "sim/scene/file_format.h"
#include "sim/scene/number_file.h"
#include "sim/scene/scene.h"

namespace sidehill {
namespace {

using E = MachineEntry;
using G = EntryGroup;

constexpr EntryField kFields[] = {
    {"engine_power_kw", "kW", "Engine power", "Rated power, from the plate or the papers.", G::plate, &E::engine_power,
     1e3, 3, 700},
    {"front_capacity_kg", "kg", "Front axle may carry", "Permitted front axle load, from the plate on the machine.",
     G::plate, &E::front_capacity, 1, 100, 30000},
    {"rear_capacity_kg", "kg", "Rear axle may carry", "Permitted rear axle load, from the plate on the machine.",
     G::plate, &E::rear_capacity, 1, 100, 30000},
    {"front_mount_kg", "kg", "Front weights it takes", "Largest mass of weights on the front bracket. 0 = no bracket.",
     G::plate, &E::front_mount, 1, 0, 5000},
    {"rear_mount_kg", "kg", "Rear weights it takes", "Largest mass of ballast on the rear linkage.", G::plate,
     &E::rear_mount, 1, 0, 10000},
    {"wheel_mount_kg", "kg", "Weights one rear wheel takes",
     "Largest mass of weights on one rear wheel. 0 = no place for them.", G::plate, &E::wheel_mount, 1, 0, 3000},

    {"mass_kg", "kg", "Whole machine",
     "All wheels on the weighbridge, level. Bucket empty, its pin knee-high (0.4 m), nothing on the rear linkage.",
     G::weighbridge, &E::mass, 1, 150, 30000},
    {"front_axle_kg", "kg", "Front axle",
     "Only the front wheels on the weighbridge; the rear wheels at the same height.", G::weighbridge, &E::front_axle, 1,
     20, 20000},
    {"rear_axle_kg", "kg", "Rear axle", "Only the rear wheels on the weighbridge; the front wheels at the same height.",
     G::weighbridge, &E::rear_axle, 1, 20, 20000},
    {"driver_kg", "kg", "Driver when weighed", "What the driver weighs; 0 = nobody sat there.", G::weighbridge,
     &E::driver, 1, 0, 250},
    {"fuel_percent", "%", "Fuel when weighed", "How full the tank was: 100 = full.", G::weighbridge, &E::fuel, 0.01, 0,
     100},
    {"front_liquid_kg", "kg", "Liquid in the front tyres", "In both together, from the bill of the filling.",
     G::weighbridge, &E::front_liquid, 1, 0, 5000},
    {"rear_liquid_kg", "kg", "Liquid in the rear tyres", "In both together, from the bill of the filling.",
     G::weighbridge, &E::rear_liquid, 1, 0, 8000},
    {"front_weights_kg", "kg", "Weights on front bracket", "Count the weights; each has its kilograms cast into it.",
     G::weighbridge, &E::front_weights, 1, 0, 5000, "front_iron_kg"},
    {"rear_weights_kg", "kg", "Weights on rear linkage",
     "Weights or a ballast box that hung there when it was weighed.", G::weighbridge, &E::rear_weights, 1, 0, 8000,
     "rear_iron_kg"},
    {"front_wheel_weights_kg", "kg", "Weights on each front wheel", "Cast discs on one wheel.", G::weighbridge,
     &E::front_wheel_weights, 1, 0, 2000, "front_wheel_iron_kg"},
    {"rear_wheel_weights_kg", "kg", "Weights on each rear wheel", "Cast discs on one wheel.", G::weighbridge,
     &E::rear_wheel_weights, 1, 0, 3000, "rear_wheel_iron_kg"},
    {"raised_by_m", "m", "Front raised by",
     "Second weighing: how far the front wheel centres are lifted, on stands, rear wheels on the weighbridge. Chock "
     "the wheels, nobody on or under the machine: `sidehill weigh --plan` explains it.",
     G::weighbridge, &E::raised_by, 1, 0.05, 2},
    {"raised_rear_kg", "kg", "Rear axle, front raised",
     "What the rear wheels weigh then. This gives the height of the centre of gravity.", G::weighbridge,
     &E::raised_rear, 1, 20, 30000},
    {"centre_height_m", "m", "Centre of gravity height",
     "Only if it is known: centre of gravity above the ground, as the machine "
     "stood on the weighbridge.",
     G::weighbridge, &E::centre_height, 1, 0.2, 3},

    {"wheelbase_m", "m", "Wheelbase", "From the front hub's centre to the rear hub's centre, wheels straight ahead.",
     G::tape, &E::wheelbase, 1, 0.6, 6},
    {"front_track_m", "m", "Front track", "Across the front tyres, at hub height. Say above how you read it.", G::tape,
     &E::front_track, 1, 0.4, 5},
    {"rear_track_m", "m", "Rear track", "Across the rear tyres, at hub height. Say above how you read it.", G::tape,
     &E::rear_track, 1, 0.4, 6},
    {"front_narrowest_m", "m", "Narrowest front track", "The narrowest setting of the front wheels, read the same way.",
     G::tape, &E::front_narrowest, 1, 0.4, 5},
    {"rear_narrowest_m", "m", "Narrowest rear track", "The narrowest setting of the rear wheels, read the same way.",
     G::tape, &E::rear_narrowest, 1, 0.4, 6},
    {"front_centre_m", "m", "Front wheel centre", "From the ground up to the middle of the front hub.", G::tape,
     &E::front_centre, 1, 0.12, 1.5},
    {"rear_centre_m", "m", "Rear wheel centre", "From the ground up to the middle of the rear hub.", G::tape,
     &E::rear_centre, 1, 0.15, 1.5},
    {"pin_height_m", "m", "Front axle pin", "From the ground up to the pin the front axle swings on.", G::tape,
     &E::pin_height, 1, 0.1, 2},
    {"swing_m", "m", "Front axle swing",
     "Jack up one front wheel until the axle meets its stop. Measure how much higher it is than the other wheel.",
     G::tape, &E::swing, 1, 0.02, 2},
    {"frame_height_m", "m", "Top of frame or cab", "From the ground to the highest point of the frame that is up.",
     G::tape, &E::frame_height, 1, 0.8, 4.5},
    {"frame_width_m", "m", "Width of frame or cab", "Across the top of the frame.", G::tape, &E::frame_width, 1, 0.3,
     3},
    {"seat_height_m", "m", "Seat", "From the ground to the seat cushion.", G::tape, &E::seat_height, 1, 0.3, 3},
    {"nose_m", "m", "Nose", "From the rear axle forward to the foremost point, without weights and loader.", G::tape,
     &E::nose, 1, 0.6, 8},
    {"bonnet_height_m", "m", "Top of the bonnet", "From the ground to the highest point of the bonnet.", G::tape,
     &E::bonnet_height, 1, 0.4, 3},
    {"hitch_behind_m", "m", "Hitch behind the axle", "From the rear axle back to where a drawbar pulls.", G::tape,
     &E::hitch_behind, 1, 0.1, 3},
    {"hitch_height_m", "m", "Hitch height", "From the ground up to where a drawbar pulls.", G::tape, &E::hitch_height,
     1, 0.1, 1.5},

    {"loader_pivot_ahead_m", "m", "Boom pivot ahead of rear axle", "Along the ground, rear axle to the boom's pivot.",
     G::loader, &E::pivot_ahead, 1, -2, 6},
    {"loader_pivot_height_m", "m", "Boom pivot height", "From the ground up to the boom's pivot.", G::loader,
     &E::pivot_height, 1, 0.4, 4},
    {"loader_boom_m", "m", "Boom length", "Straight from the boom's pivot to the pin the bucket turns on.", G::loader,
     &E::boom, 1, 0.5, 6},
    {"loader_lift_height_m", "m", "Lift height",
     "Highest place of the pin the bucket turns on; from the loader's plate.", G::loader, &E::lift_height, 1, 0.8, 7},
    {"loader_payload_kg", "kg", "Rated load", "The maker's figure at full height, from the loader's plate.", G::loader,
     &E::payload, 1, 20, 8000},
    {"loader_mass_kg", "kg", "Loader without bucket", "From the loader's plate: brackets, boom and rams.", G::loader,
     &E::loader_mass, 1, 20, 5000},
    {"bucket_mass_kg", "kg", "Empty bucket", "From its plate.", G::loader, &E::bucket_mass, 1, 5, 3000},
    {"bucket_width_m", "m", "Bucket width", "Across its cutting edge.", G::loader, &E::bucket_width, 1, 0.4, 5},

    {"front_pressure_kpa", "kPa", "Front pressure", "Cold, with a gauge on the valve.", G::tyres, &E::front_pressure,
     1e3, 30, 500},
    {"rear_pressure_kpa", "kPa", "Rear pressure", "Cold, with a gauge on the valve.", G::tyres, &E::rear_pressure, 1e3,
     30, 500},
};

constexpr std::string_view kYesNo[] = {"no", "yes"};
constexpr std::array kTracks{KeyOf<TrackReading>{TrackReading::between_middles, "between_middles"},
                             KeyOf<TrackReading>{TrackReading::over_outside, "over_outside"}};
static_assert(is_whole(kTracks, &KeyOf<TrackReading>::value));
const EntryWord kWords[] = {
    {"class",
     "generic machine that unknown values are estimated from, such as utility_75kw (`sidehill list machines`)",
     {}},
    {"name", "what you call your machine", {}},
    {"front_tyre", "front tyre size as on the sidewall, such as 13.6R24 121A8", {}},
    {"rear_tyre", "rear tyre size as on the sidewall, such as 18.4R34 144A8", {}},
    {"frame", "protective frame", keys_of<kFrameKinds>()},
    {"loader", "front loader fitted", kYesNo},
    {"front_drive", "the front axle can be driven", kYesNo},
    {"track_measured", "how the tracks were read", keys_of<kTracks>()},
};
constexpr std::size_t kMaxWord = 120;  // [bytes], as a vehicle's name

// The shortest decimal that comes back to this SI value.
std::string decimal(double si, double to_si) {
  for (int digits = 3; digits <= 17; ++digits) {
    const std::string text = plain_number(si / to_si, digits);
    if (std::strtod(text.c_str(), nullptr) * to_si == si) return text;
  }
  return fmt::format("{:.17g}", si / to_si);
}

template <class T>
bool set_choice(std::optional<T>& member, std::span<const std::string_view> choices, std::string_view text) {
  if (text.empty()) return member.reset(), true;
  const auto at = std::ranges::find(choices, text);
  if (at == choices.end()) return false;
  member = static_cast<T>(at - choices.begin());
  return true;
}

}  // namespace

std::span<const EntryField> entry_fields() { return kFields; }

const EntryField* find_entry_field(std::string_view key) {
  const auto at = std::ranges::find(kFields, key, &EntryField::key);
  return at == std::end(kFields) ? nullptr : at;
}

std::span<const EntryWord> entry_words() { return kWords; }

std::string entry_word(const MachineEntry& entry, std::string_view key) {
  const auto yes_no = [](std::optional<bool> said) { return said ? std::string(kYesNo[*said ? 1 : 0]) : ""; };
  if (key == "class") return entry.machine_class;
  if (key == "name") return entry.name;
  if (key == "front_tyre") return entry.front_tyre;
  if (key == "rear_tyre") return entry.rear_tyre;
  if (key == "frame") return entry.frame ? std::string(kFrameKinds[static_cast<std::size_t>(*entry.frame)].key) : "";
  if (key == "loader") return yes_no(entry.loader);
  if (key == "front_drive") return yes_no(entry.front_drive);
  if (key == "track_measured") return std::string(kTracks[static_cast<std::size_t>(entry.track_reading)].key);
  return {};
}

bool set_entry_word(MachineEntry& entry, std::string_view key, std::string_view text) {
  if (text.size() > kMaxWord) return false;
  if (key == "class") return entry.machine_class = text, true;
  if (key == "name") return entry.name = text, true;
  if (key == "front_tyre") return entry.front_tyre = text, true;
  if (key == "rear_tyre") return entry.rear_tyre = text, true;
  if (key == "frame") return set_choice(entry.frame, keys_of<kFrameKinds>(), text);
  if (key == "loader") return set_choice(entry.loader, kYesNo, text);
  if (key == "front_drive") return set_choice(entry.front_drive, kYesNo, text);
  if (key != "track_measured") return false;
  std::optional<TrackReading> reading;
  if (!set_choice(reading, keys_of<kTracks>(), text)) return false;
  entry.track_reading = reading.value_or(TrackReading::between_middles);
  return true;
}

std::string allowed(const EntryField& field) {
  return fmt::format("allowed {:g} to {:g} {}", field.min, field.max, field.unit);
}

MachineEntry parse_entry(std::string_view text, const std::filesystem::path& path) {
  std::vector<EntryKey> keys;
  for (const EntryWord& word : kWords)
    keys.push_back({.key = word.key, .help = word.help, .needed = false, .max_length = kMaxWord});
  for (const EntryField& field : kFields)
    keys.push_back({.key = field.key,
                    .kind = EntryKind::number,
                    .help = field.how,
                    .needed = false,
                    .min = field.min,
                    .max = field.max,
                    .unit = field.unit,
                    .old_key = field.old_key});
  const std::vector<EntryValue> said = read_entries(text, path.string(), keys);
  MachineEntry entry;
  for (std::size_t i = 0; i < std::size(kWords); ++i) {
    const EntryValue& word = said[i];
    if (!word.given || set_entry_word(entry, kWords[i].key, word.text)) continue;
    std::string choices;
    for (const std::string_view choice : kWords[i].choices)
      choices += (choices.empty() ? "" : ", ") + std::string(choice);
    refuse_number(path.string(), word.line, kWords[i].key,
                  fmt::format("\"{}\" is not known, allowed {}", word.text.substr(0, 40), choices));
  }
  for (std::size_t i = 0; i < std::size(kFields); ++i)
    if (const EntryValue& number = said[std::size(kWords) + i]; number.given)
      entry.*kFields[i].at = number.number * kFields[i].to_si;
  return entry;
}

MachineEntry load_entry(const std::filesystem::path& path) { return parse_entry(read_text(path), path); }

std::string write_entry(const MachineEntry& entry) {
  std::string text =
      "# What is known about a machine: `sidehill machine --entry FILE` makes a machine of it.\n" + format_line();
  for (const EntryWord& word : kWords)
    if (const std::string said = entry_word(entry, word.key); !said.empty())
      text += fmt::format("{} = {}\n", word.key, in_quotes(said));
  for (const EntryField& field : kFields)
    if (const auto& said = entry.*field.at)
      text += fmt::format("{} = {}  # {}\n", field.key, decimal(*said, field.to_si), field.label);
  return text;
}

}  // namespace sidehill
