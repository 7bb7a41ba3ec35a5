// The machine as it is now, from a plan file: as it stood before, and what its log says has been done since. And what
// is left to do to have it as planned. Knows no words, no clock: today is given.
#pragma once
#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/scene/scene.h"

namespace sidehill {

// What lies in one tyre, and how far it is pumped up.
struct TyreState {
  Medium medium = Medium::water;
  double concentration = 0;  // as TyreFill
  double volume = 0;         // of liquid [m3]
  double pressure = 0;       // gauge [Pa]
};

// What a log can change.
struct LoggedState {
  std::array<TyreState, kWheels> tyres;
  std::array<double, 4> weights{};  // in the order of WeightPlace; on wheels of both wheels of the axle together [kg]
  std::array<double, 2> track{};    // front, rear [m]
  std::array<bool, 2> planned_wheels{true, true};  // front, rear: the wheels of the plan are on; else those before it
};

LoggedState state_of(const Scene& scene);
double room_of_tyre(const Scene& scene, std::size_t wheel);  // [m3]

// How far the machine may be from its plan and still count as planned: nobody pumps to the litre. Our choice.
inline constexpr double kVolumeSlack = 0.002, kVolumeSlackShare = 0.02;  // [m3], of the planned volume; the greater
inline constexpr double kMassSlack = 0.5;                                // [kg]
inline constexpr double kPressureSlack = 5e3;                            // [Pa]
inline constexpr double kTrackSlack = 0.01;                              // [m]

// What is not as planned.
enum class LogLack { volume, medium, weights, pressure, track, wheels };
struct LogStep {
  LogPlace place = LogPlace::machine;
  LogLack lack = LogLack::volume;
  double now = 0, planned = 0;  // SI; of `medium` the volumes; of `wheels` 0 and 1
  TyreState in;                 // of a tyre: what is in it
  TyreFill wanted;              // and what is to be in it
};

// A place to be looked at again.
struct LogCheck {
  LogPlace place = LogPlace::machine;
  std::string on;        // a date
  bool overdue = false;  // it lies before today
};

struct LogAnswer {
  bool other_machine = false;           // it was made for another machine than the one in its file
  LoggedState before, now, planned;     //
  std::vector<LogStep> left;            // to do; tyres with liquid first, in the order of LogPlace
  std::vector<LogCheck> checks;         // the earliest first
  std::array<bool, 2> uneven_pressure;  // front, rear: left and right tyre of the axle are not pumped up alike
  Scene machine;                        // as it is now, as a scene: no plan, no log in it
};

// The machine before anything was done: the scene with the values of plan.before. `name` is what messages call its
// file. Throws InputError, file:line, for a value that cannot be.
Scene before_plan(const Scene& scene, const std::string& name);

// The wheels that a plan puts on an axle hold the same tyres as those before it: only their number changes, or nothing.
bool keeps_its_tyres(const Scene& scene, const std::string& name, bool front);

// What a plan file keeps so that `before_plan` gives `before` back from `planned`: every datum of ballast and vehicle
// in which the two differ.
std::vector<PlanBefore> differences(const Scene& before, const Scene& planned);

// Throws InputError: no plan file; and with file:line an entry dated after `today` or before the one above it or before
// the plan was made, a next check before its own date, numbers that its place or what was done does not take or that
// are missing, more drained or taken off than was in or on, more liquid than the tyre has room for, another liquid than
// the one that is in it. One pressure an axle is all the model knows: where the two tyres differ, `machine` has the
// lower one, which carries less.
LogAnswer read_log(const Scene& scene, const std::string& name, const std::string& today);

// Throws InputError where this file is a plan file with a log, which writing over it would lose.
void refuse_to_lose_log(const std::filesystem::path& file);

// `entry` as a table [[plan.log]] of a file.
std::string entry_text(const LogEntry& entry);

}  // namespace sidehill
