// The filling of one axle of a scene, for whoever has to pump it in: what `fill` says of its tyre, and what else of the
// scene bears on the work. Knows no words, no file.
#pragma once
#include <array>
#include <optional>
#include <vector>

#include "sim/insight/fill_sheet.h"
#include "sim/insight/job_slope.h"
#include "sim/job/rules.h"
#include "sim/scene/scene.h"
#include "vehicles/fill_limit.h"

namespace sidehill {

// What makers' manuals, data books and rules ask of the work, as published; they differ, so several stand side by side.
// Source: tests/data/filling_sheet_items.csv, item by item.
namespace filling_rule {
inline constexpr double kValveLevel = 0.75, kNeverOver = kMostLiquid, kRadialRear = 0.40, kForest = 0.50;  // [-]
inline constexpr double kMixingHeat = 47;  // a 30 % calcium chloride mix gets warmer by about so much [K]
inline constexpr double kRinse = 5 * 60, kRinseLong = 15 * 60;  // an eye: tractor manuals; a chemical supplier [s]
inline constexpr double kBeadSeating = 35 * 6894.757293168;     // never over it [Pa]
inline constexpr double kExtraLiquid = 14e3, kExtraFurrow = 28e3, kExtraLoader = 30e3;  // more air [Pa]
inline constexpr double kSlowest = 30 / 3.6, kSlow = 32 / 3.6;                          // fastest with liquid [m/s]
inline constexpr double kRimStep = 0.305, kRimPressure = 3.5e3;  // [m] of rim diameter, [Pa] for each
}  // namespace filling_rule

// A tyre of it holds liquid; one filled with foam alone or on air holds none.
bool has_liquid(const Scene& scene, std::size_t wheel);
bool has_liquid_on(const Scene& scene, bool front);

// What `fill` is asked for that tyre, from the scene: size, measures and pressure of the machine's own tyre; medium,
// strength, fraction and price of the ballast; the filling temperature; the job's coldest night where there is a job
// and it is colder; `load` [kg], if it is above 0; two tyres. Throws InputError naming the key where such a filling
// cannot be pumped.
FillRequest fill_request(const Scene& scene, std::size_t wheel, double load);

// What one tyre holds today.
struct TyreHolds {
  TyreFill fill;
  double volume = 0;  // [m3]
};

struct AxleFilling {
  bool front = false;
  std::size_t wheel = kRearLeft;   // the fuller tyre, the left one of equals: both are to be filled as it is
  FillSheet sheet;                 // of that tyre, for both
  std::optional<FillSheet> other;  // of the other tyre; none where it is alike, on air, or filled with foam
  bool alike = true;               // left and right hold the same, within what the rules allow
  std::array<double, 2> fill{};    // of the left and the right tyre as the scene has them [-]
  std::optional<double> coldest;   // of the job [K]; none: not known, there is no job
  Tyre tyre;                       // of the machine
  bool dual = false;               // two tyres side by side: the inner one holds the liquid
  std::optional<std::array<TyreHolds, 2>>
      today;                          // the left and the right one, by the log of a plan file; none: not said
  RuleReport rules;                   // of the whole machine
  std::optional<JobSlope> job_slope;  // of the whole machine; none without a job or a slope in it
  Scene scene;
};

// The axles that are to hold liquid, front first, as for empty tyres. Throws InputError as fill_request, and for an
// impossible machine.
std::vector<AxleFilling> axle_fillings(const Scene& scene);

// One axle, also where its tyres are on air (a fill of 0 then) or hold foam; `rules` as rules_on gives them of this
// scene. Without `job_slope`: that takes longer. Throws InputError as fill_request.
AxleFilling axle_filling(const Scene& scene, const RuleReport& rules, bool front);

// The rows of `rules` that bear on this axle's filling, in their order.
std::vector<RuleAnswer> rules_of(const AxleFilling& filling, RuleId id);

// What a gauge with the valve at the top is short of the liquid below it, by the makers' rule of thumb for this rim
// [Pa]: 3.5 kPa for each 305 mm of its diameter. Source: a maker's manual, utility; a maker's manual, compact.
double pressure_by_rim(const AxleFilling& filling);

// The warm end of what is known of first ice [K]: two standard deviations above it. None where nothing in it freezes or
// that is not known (`freezing.known`).
std::optional<double> frost_limit(const FillSheet& sheet);

}  // namespace sidehill
