// A whole machine made of what its owner found out, the rest scaled from a generic machine of its class; and, for every
// number, where it comes from and how far it may be off. Knows no screen.
// Scaling, all our estimates: heights go with the rear tyres' radius, lengths with the wheelbase, widths with the cube
// root of the mass, masses of parts with the whole mass, a wheel's mass with (radius squared x width)^0.84 (fitted to
// the wheels of the class machines, within 15 %), inertia with mass x length x width. From one class machine to the
// next these hold within about 8 % for lengths (tests/sim/own_machine/made_machine_test.cpp measures it).
#pragma once
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "sim/own_machine/machine_entry.h"
#include "sim/scene/scene.h"

namespace sidehill {

enum class DatumFrom { measured, plate, tyre_size, derived, estimated, not_known };

// Where one number of the vehicle comes from.
struct DatumOrigin {
  std::string key;  // "vehicle.rear.track_m"
  DatumFrom from = DatumFrom::estimated;
  std::string how;        // one line, in plain words
  double tolerance = 0;   // +- at two standard deviations, in the key's unit; 0 = as any measured datum of its kind
  std::string entry_key;  // what to measure to know it better, "rear_track_m"; empty = nothing in the entry says it
};

enum class Severity { mild, grave };  // grave: no machine can be made, or none that is meant

struct EntryCheck {
  std::string key;  // of the entry; "" = the whole
  Severity severity = Severity::mild;
  std::string sentence;  // plain, without the key
};

struct MadeMachine {
  Vehicle vehicle;                    // as well as it is known; only to be used if `usable`
  std::vector<DatumOrigin> origins;   // every number of the vehicle, in the order of the file
  std::vector<EntryCheck> checks;     // grave first
  std::vector<Tolerance> tolerances;  // of what is not measured, as a scene takes them
  double mass = 0;                    // unladen: without driver, fuel, loader and ballast [kg]
  double weighed_front_share = 0;     // of the unladen mass, on the front axle [-]
  double centre_height = 0;           // of the unladen mass, over the ground on unloaded tyres [m]
  bool usable = false;                // it builds, and nothing grave was found
};

// Pure. `like` = the generic machine of the entry's class. Never throws: what is wrong stands in the checks.
MadeMachine make_machine(const MachineEntry& entry, const Vehicle& like);
// The same, its class read from the machine files as seen from `folder`.
MadeMachine make_machine(const MachineEntry& entry, const std::filesystem::path& folder = ".");

// First grave check as one line, "rear_track_m: 0.4 is ..."; empty if there is none.
std::string first_grave(const MadeMachine& made);

// The origin of a key; nullptr if it has none.
const DatumOrigin* origin_of(const MadeMachine& made, std::string_view key);
std::string_view word_for(DatumFrom from);  // "measured", "from the plate", "estimated" ...

// What stands in for a datum of the entry that was not said: its value as the owner would find it and how far that may
// be off [SI]; none where nothing stands in.
struct EntryEstimate {
  double value = 0;
  double tolerance = 0;  // +- at two standard deviations; 0 = moves nothing at rest, or nobody knows
};
std::optional<EntryEstimate> estimate_for(const MadeMachine& made, std::string_view entry_key);

// The machine across an even slope, downhill to the right, driver on, tank full, air in its tyres, bucket empty and low
// (0.4 m); grip without limit.
Scene scene_of(const MadeMachine& made);

// A scene with this machine in place of the one there, spelled out: its uncertainties are the scene's, and what it
// cannot carry or do (a load without a loader, weights without a mount, a driven front axle it has not) is taken off.
Scene with_machine(Scene scene, const MadeMachine& made);
// The same with a machine of which nothing more is known than these tolerances of its data.
Scene with_vehicle(Scene scene, const Vehicle& vehicle, std::span<const Tolerance> tolerances = {});

// What most deserves to be measured next.
struct MeasureNext {
  std::string entry_key;
  double effect = 0;     // of its not being known, on first lift-off, +- at two standard deviations [rad]
  std::string sentence;  // "Front axle pin: ..."
};
struct MachineAnswer {
  std::optional<double> first_lift_off;  // [rad]; none = never
  double low = 0, high = 0;              // nineteen times in twenty [rad]
  std::vector<MeasureNext> next;         // largest first, none under 0.05 deg
};
// Some hundred answers at rest: about 0.1 s. The machine must be usable. Throws InputError if it cannot be answered.
MachineAnswer answer_of(const MadeMachine& made);

// A machine file (vehicles/*.toml) whose comments say where each number comes from; sim/scene/scene_file.h load_vehicle
// reads it back bit for bit.
std::string write_machine(const MadeMachine& made, const MachineEntry& entry);
// Throws InputError for a name that no machine may be saved under: not in .toml, or a class that came with the program.
void check_machine_name(const std::filesystem::path& path);
// Writes it. Throws InputError: a machine that is not usable, a name not ending in .toml, a class machine that came
// with the program, a place that cannot be written.
void save_machine(const MadeMachine& made, const MachineEntry& entry, const std::filesystem::path& path);

}  // namespace sidehill
