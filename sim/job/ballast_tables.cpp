#include "sim/job/ballast_tables.h"

#include <array>

namespace sidehill {
namespace {

constexpr double kPound = 0.45359237;               // [kg]
constexpr double kHorsepower = 745.69987158227022;  // 550 ft lbf/s [W]
constexpr double kMetricHorsepower = 735.49875;     // [W]
constexpr double lb_per_hp(double value) { return value * kPound / kHorsepower; }
constexpr double kg_per_ps(double value) { return value / kMetricHorsepower; }
constexpr double kmh(double value) { return value / 3.6; }

}  // namespace

std::span<const MassPerPower> mass_per_power_table() {
  static constexpr auto kRows = std::to_array<MassPerPower>({
      {.low = kg_per_ps(49),
       .only_heavy = true,
       .when = "49 kg a metric horsepower, heavy work",
       .source = "common practice, no source",
       .practice = true},
      {.low = lb_per_hp(140),
       .basis = PowerBasis::pto,
       .to = kmh(7.2),
       .when = "140 lb a PTO horsepower, 7.2 km/h and slower",
       .source = "a maker's manual, row-crop"},
      {.low = kg_per_ps(50),
       .basis = PowerBasis::not_said,
       .from = kmh(7.2),
       .to = kmh(8.7),
       .when = "50 kg a metric horsepower, 7.2 to 8.7 km/h",
       .source = "a maker's manual, row-crop"},
      {.low = lb_per_hp(120),
       .basis = PowerBasis::pto,
       .from = kmh(8.7),
       .when = "120 lb a PTO horsepower, 8.7 km/h and faster",
       .source = "a maker's manual, row-crop"},
      {.low = lb_per_hp(130),
       .basis = PowerBasis::pto,
       .front_drive = true,
       .when = "130 lb a PTO horsepower, driven front axle",
       .source = "tyre trade, farm press"},
      {.low = lb_per_hp(120),
       .basis = PowerBasis::not_said,
       .front_drive = true,
       .when = "120 lb a horsepower, average pulling, driven front axle",
       .source = "farm press, November 2016"},
      {.low = lb_per_hp(100),
       .basis = PowerBasis::not_said,
       .from = kmh(8.9),
       .when = "100 lb a horsepower, the low end, 5.5 mph and faster",
       .source = "farm press"},
      {.high = lb_per_hp(125),
       .basis = PowerBasis::engine,
       .when = "at most 125 lb a horsepower, large machines",
       .source = "a maker's manual, row-crop"},
  });
  return kRows;
}

std::span<const FrontShare> front_share_table() {
  static constexpr auto kRows = std::to_array<FrontShare>({
      {DriveKind::two_wheel, true, false, 0.25, 0.25, "two-wheel drive, towed", "Wisconsin Extension, at second hand"},
      {DriveKind::two_wheel, false, true, 0.35, 0.35, "two-wheel drive, mounted",
       "Wisconsin Extension, at second hand"},
      {DriveKind::articulated, true, true, 0.60, 0.60, "articulated, any hitch", "Wisconsin Extension, at second hand"},
      {DriveKind::articulated, true, true, 0.55, 0.60, "four-wheel drive, hitch", "a maker's manual, row-crop"},
      {DriveKind::front_assist, false, true, 0.40, 0.40, "driven front axle, three-point hitch", "farm press"},
      {DriveKind::front_assist, true, true, 0.30, 0.35, "driven front axle without suspension, any hitch",
       "farm press"},
      {DriveKind::any, true, true, 0.40, 0.45, "standard tractor, a guide", "BLT Wieselburg (Handler)"},
  });
  return kRows;
}

}  // namespace sidehill
