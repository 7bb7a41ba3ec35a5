// How much more than its load index a tyre may carry at a crawl, and how much less of it each tyre of a pair carries.
// Knows no machine, no file.
#pragma once
#include <string_view>

#include "vehicles/load_index.h"

namespace sidehill {

// What a tyre is there for.
enum class TyreUse {
  plain,                 // nothing of the below
  steering_with_loader,  // a ribbed front tyre (FRONT, F-1, F-2, F-3) on a machine with a front loader
  drive_low_torque,      // a drive tyre that pulls nothing
  drive_high_torque,     // a drive tyre that pulls for long
  improved_with_loader,  // IF or VF on a machine with a front loader
};

struct LoadMultiple {
  double factor = 1;              // of what the load index allows [-], >= 1
  double top_speed = 0;           // up to which it holds [m/s]; 0 = no multiple
  std::string_view use;           // in plain words; empty = no multiple, the index counts as marked
  std::string_view source;        // empty likewise
  std::string_view short_source;  // "the law"
};

constexpr double kSteepestForMultiples = 0.19739555984988075;  // 20 % [rad]

// The largest multiple that holds at `speed` [m/s] on a slope [rad]. None above a slope of 20 %: the law excludes
// hillside work beyond it for low torque, and here the others are left out with it. The pressure such a load asks for
// must come from the tyre's maker. Source: Regulation (EU) 2015/208 Annex XXX 2.2.6; the cross ply's from a maker's
// manual.
LoadMultiple load_multiple(TyreUse use, bool cross_ply, const Service& service, double speed, double slope);

// What each tyre carries of its single rating where `tyres` stand side by side on one hub [-]: 1, 0.88 of two, 0.82 of
// three or more. Source: tyre makers' data books.
double side_by_side(int tyres);

}  // namespace sidehill
