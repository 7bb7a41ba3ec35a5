// How much liquid a tyre holds at most. Knows nothing else.
#pragma once

namespace sidehill {

// Part of a tyre's room that liquid may take: some air has to carry the load [-]. Source: the most that a maker allows,
// tests/data/filling_sheet_items.csv.
inline constexpr double kMostLiquid = 0.90;

}  // namespace sidehill
