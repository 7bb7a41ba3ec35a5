#include "vehicles/load_multiple.h"

#include <algorithm>
#include <array>

namespace sidehill {
namespace {

constexpr double kMultipleKmh = 1 / 3.6;
constexpr std::string_view kLaw = "Regulation (EU) 2015/208 Annex XXX 2.2.6";

struct MultipleRow {
  TyreUse use;
  std::string_view symbol;  // empty = any
  double top_speed;         // [km/h]
  double factor;
  std::string_view words;
};
constexpr std::array<MultipleRow, 6> kRows{{
    {TyreUse::steering_with_loader, "", 10, 2.00, "steering tyre with a loader"},
    {TyreUse::drive_low_torque, "A8", 10, 1.70, "drive tyre, low torque"},
    {TyreUse::drive_low_torque, "D", 15, 1.55, "drive tyre, low torque"},
    {TyreUse::drive_high_torque, "A8", 8, 1.07, "drive tyre, high sustained torque"},
    {TyreUse::drive_high_torque, "D", 8, 1.15, "drive tyre, high sustained torque"},
    {TyreUse::improved_with_loader, "D", 10, 1.40, "IF or VF tyre with a loader"},
}};
constexpr double kCrossPly = 1.2, kCrossPlyBelow = 16;  // [km/h]

}  // namespace

LoadMultiple load_multiple(TyreUse use, bool cross_ply, const Service& service, double speed, double slope) {
  LoadMultiple most;
  // A hair of room, so that 20 % typed in degrees still counts as 20 %, and 10 km/h in metres per second as 10.
  if (slope > kSteepestForMultiples * (1 + 1e-3)) return most;
  if (speed > speed_symbol_speed(service.speed_symbol) * (1 + 1e-3)) return most;
  for (const MultipleRow& row : kRows)
    if (row.use == use && (row.symbol.empty() || row.symbol == service.speed_symbol) &&
        speed <= row.top_speed * kMultipleKmh * (1 + 1e-3) && row.factor > most.factor)
      most = {row.factor, row.top_speed * kMultipleKmh, row.words, kLaw, "the law"};
  if (cross_ply && speed < kCrossPlyBelow * kMultipleKmh && kCrossPly > most.factor)
    most = {kCrossPly, kCrossPlyBelow * kMultipleKmh, "cross ply tyre", "a maker's manual, utility tractor",
            "a maker's manual"};
  return most;
}

double side_by_side(int tyres) { return tyres <= 1 ? 1 : tyres == 2 ? 0.88 : 0.82; }

}  // namespace sidehill
