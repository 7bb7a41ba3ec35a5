// What an owner can find out about a machine from its plate, a weighbridge and a tape measure: every datum once, each
// optional. The same list serves the form, the command line and the entry file. Knows no Vehicle's insides
// (made_machine makes one), no screen.
#pragma once
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "vehicles/vehicle.h"

namespace sidehill {

// How the tracks were read off the tape.
enum class TrackReading { between_middles, over_outside };

struct MachineEntry {
  std::string machine_class = "utility_75kw";  // which generic machine stands in for what is not known: a name as in a
                                               // scene's vehicle_file
  std::string name;                            // the owner's; empty = the class's
  std::string front_tyre, rear_tyre;           // as on the sidewall; empty = not read
  std::optional<FrameKind> frame;              // none = as the class
  std::optional<bool> loader;                  // fitted; none = as the class
  std::optional<bool> front_drive;             // front axle can be driven; none = as the class
  TrackReading track_reading = TrackReading::between_middles;  // of all four tracks below

  // From its plate and papers.
  std::optional<double> engine_power;                   // [W]
  std::optional<double> front_capacity, rear_capacity;  // what the maker lets an axle carry [kg]
  std::optional<double> front_mount, rear_mount;        // weights the mounts take [kg]
  std::optional<double> wheel_mount;                    // weights one rear wheel takes [kg]

  // From the weighbridge; what was on the machine then.
  std::optional<double> mass, front_axle, rear_axle;              // as it stood there, level [kg]
  std::optional<double> driver;                                   // on the seat; 0 = nobody [kg]
  std::optional<double> fuel;                                     // of the tank that was full [-]
  std::optional<double> front_liquid, rear_liquid;                // in both tyres of an axle [kg]
  std::optional<double> front_weights, rear_weights;              // on the mounts [kg]
  std::optional<double> front_wheel_weights, rear_wheel_weights;  // on each wheel [kg]
  std::optional<double> raised_by;                                // front wheel centres, second weighing [m]
  std::optional<double> raised_rear;                              // rear axle then [kg]
  std::optional<double> centre_height;                            // of the whole as weighed, if somebody found it [m]

  // With a tape measure.
  std::optional<double> wheelbase, front_track, rear_track;  // [m]
  std::optional<double> front_narrowest, rear_narrowest;     // narrowest settings of the tracks [m]
  std::optional<double> front_centre, rear_centre;           // wheel centre over the ground, loaded [m]
  std::optional<double> pin_height;                          // front axle's pivot pin over the ground [m]
  std::optional<double> swing;                               // one front wheel over the other, axle on its stop [m]
  std::optional<double> frame_height, frame_width;           // [m]
  std::optional<double> seat_height;                         // [m]
  std::optional<double> nose, bonnet_height;                 // nose ahead of the rear axle; top of the bonnet [m]
  std::optional<double> hitch_behind, hitch_height;          // behind the rear axle; over the ground [m]

  // The loader, from its plate and with the tape.
  std::optional<double> pivot_ahead, pivot_height;          // boom pivot [m]
  std::optional<double> boom, lift_height;                  // pivot to bucket pin; highest bucket pin [m]
  std::optional<double> payload, loader_mass, bucket_mass;  // rated; without bucket; empty bucket [kg]
  std::optional<double> bucket_width;                       // [m]

  std::optional<double> front_pressure, rear_pressure;  // cold, gauge [Pa]
};

enum class EntryGroup { plate, weighbridge, tape, loader, tyres };

struct EntryField {
  std::string_view key;    // "front_track_m": its suffix is the file's unit
  std::string_view unit;   // the same for people
  std::string_view label;  // "Front track"
  std::string_view how;    // how to find it out, one or two short sentences
  EntryGroup group = EntryGroup::plate;
  std::optional<double> MachineEntry::*at = nullptr;
  double to_si = 1;               // si = file value * to_si
  double min = 0, max = 0;        // in the file's unit, both allowed
  std::string_view old_key = {};  // earlier name, still read, never written; empty = none
};
std::span<const EntryField> entry_fields();
const EntryField* find_entry_field(std::string_view key);  // nullptr if there is none

// The entry's words: key and what is allowed. "class", "name", "front_tyre", "rear_tyre", "frame", "loader",
// "front_drive", "track_measured".
struct EntryWord {
  std::string_view key;
  std::string_view help;
  std::span<const std::string_view> choices;  // empty = any text
};
std::span<const EntryWord> entry_words();

// The word as a file has it; empty where nothing was said.
std::string entry_word(const MachineEntry& entry, std::string_view key);
// Sets one; an empty text takes it back. False if `text` is none of the choices or there is no such key.
bool set_entry_word(MachineEntry& entry, std::string_view key, std::string_view text);

// "allowed 0.3 to 4 m"
std::string allowed(const EntryField& field);

// An entry kept in a file (TOML, all at the top level). Throws InputError (sim/base/errors.h) as one line.
MachineEntry parse_entry(std::string_view text, const std::filesystem::path& name);
MachineEntry load_entry(const std::filesystem::path& path);
std::string write_entry(const MachineEntry& entry);  // only what was said; reads back to the same entry

}  // namespace sidehill
