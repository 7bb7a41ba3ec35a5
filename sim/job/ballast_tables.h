// Published recommendations as tables: mass per power, share on the front axle. Each row as its source prints it, our
// conversion beside it. Knows no machine.
#pragma once
#include <span>
#include <string_view>

#include "sim/scene/job.h"

namespace sidehill {

enum class PowerBasis { engine, pto, not_said };

// What part of the engine's rated power reaches the power take-off [-]. Source: University of Arizona Cooperative
// Extension, Agricultural Machinery Management.
constexpr double kPtoOfEngine = 0.9;

struct MassPerPower {
  double low = 0, high = 0;  // [kg/W]; 0 = open to that side
  PowerBasis basis = PowerBasis::engine;
  double from = 0, to = 0;   // working speed [m/s]; 0 = open
  bool only_heavy = false;   // asked for heavy pulls alone
  bool front_drive = false;  // asked of machines with a driven front axle alone
  std::string_view when;     // as printed
  std::string_view source{};
  bool practice = false;  // nobody signs it
};
std::span<const MassPerPower> mass_per_power_table();

enum class DriveKind { any, two_wheel, front_assist, articulated };

struct FrontShare {
  DriveKind drive = DriveKind::any;
  bool towed = true, mounted = true;  // for which hitch it is asked
  double low = 0, high = 0;           // of the tractor's mass on the front axle [-]
  std::string_view when{};
  std::string_view source{};
};
std::span<const FrontShare> front_share_table();

}  // namespace sidehill
