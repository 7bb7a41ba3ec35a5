// What a plan file remembers beside the machine as planned: what the plan is called, when and for which machine it was
// made, how the machine stood before, and the log of what has been done since. And who a printed page is for. Plain
// data; knows no file format, no clock.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "sim/base/enum_table.h"

namespace sidehill {

// Dates are texts such as "2026-11-28" (ISO 8601): their order is that of the calendar; empty = not given.

// One value of the machine before anything was done.
struct PlanBefore {
  std::string key;    // of a datum that the plan changes
  std::string value;  // as a file has it, words in quotes
};

// Where on the machine. Weights on wheels are those of both wheels of the axle together.
enum class LogPlace {
  front_left,
  front_right,
  rear_left,
  rear_right,
  front_axle,
  rear_axle,
  front_weights,
  rear_weights,
  front_wheel_weights,
  rear_wheel_weights,
  machine,
};
struct LogPlaceWords {
  LogPlace value;
  std::string_view key;
  std::string_view name;  // in a sentence
};
inline constexpr std::array kLogPlaces{
    LogPlaceWords{LogPlace::front_left, "front_left", "front left tyre"},
    LogPlaceWords{LogPlace::front_right, "front_right", "front right tyre"},
    LogPlaceWords{LogPlace::rear_left, "rear_left", "rear left tyre"},
    LogPlaceWords{LogPlace::rear_right, "rear_right", "rear right tyre"},
    LogPlaceWords{LogPlace::front_axle, "front_axle", "front axle"},
    LogPlaceWords{LogPlace::rear_axle, "rear_axle", "rear axle"},
    LogPlaceWords{LogPlace::front_weights, "front_weights", "front weights"},
    LogPlaceWords{LogPlace::rear_weights, "rear_weights", "rear weights"},
    LogPlaceWords{LogPlace::front_wheel_weights, "front_wheel_weights", "front wheel weights"},
    LogPlaceWords{LogPlace::rear_wheel_weights, "rear_wheel_weights", "rear wheel weights"},
    LogPlaceWords{LogPlace::machine, "machine", "whole machine"},
};
static_assert(is_whole(kLogPlaces, &LogPlaceWords::value));

enum class LogWhat {
  filled,        // liquid pumped in: litres or kilograms of it
  drained,       // liquid let out; without a number all of it
  fitted,        // weights put on
  taken_off,     // weights taken off; without a number all of them
  pressure_set,  //
  track_set,     //
  checked,       // looked at; numbers are what was found
};
inline constexpr std::array kLogWhats{
    KeyOf<LogWhat>{LogWhat::filled, "filled"},
    KeyOf<LogWhat>{LogWhat::drained, "drained"},
    KeyOf<LogWhat>{LogWhat::fitted, "fitted"},
    KeyOf<LogWhat>{LogWhat::taken_off, "taken_off"},
    KeyOf<LogWhat>{LogWhat::pressure_set, "pressure_set"},
    KeyOf<LogWhat>{LogWhat::track_set, "track_set"},
    KeyOf<LogWhat>{LogWhat::checked, "checked"},
};
static_assert(is_whole(kLogWhats, &KeyOf<LogWhat>::value));

struct LogEntry {
  std::string date;
  std::string who;
  LogPlace place = LogPlace::machine;
  LogWhat what = LogWhat::checked;
  std::optional<double> volume;         // pumped in, let out, or found [m3]
  std::optional<double> mass;           // of weights, or of the liquid [kg]
  std::optional<double> pressure;       // gauge [Pa]
  std::optional<double> track;          // [m]
  std::string medium;                   // what was pumped in, a key or a name with its frost; empty = what is in it
  std::optional<double> concentration;  // what is dissolved, over solution by mass [-]
  std::string next_check;               // a date
  std::string note;
  unsigned line = 0;  // of its file, for messages; 0 = it stands in none
};

struct PlanRecord {
  std::string name;          // of the set-up
  std::string made;          // a date; empty = the scene is no plan file
  std::string machine_mark;  // of the machine it was made for (sim/scene/machine_mark.h); empty = not known
  std::vector<PlanBefore> before;
  std::vector<LogEntry> log;  // in the order of what was done
};

// Who a page is for, as its owner says it; each may be empty.
struct PageRecord {
  std::string machine_number;  // of the plate
  std::string owner;
  std::string place;
  std::string asked_by;
  std::string date;
};

}  // namespace sidehill
