// Which plans are worth choosing: those that no other plan beats in everything. Knows no machine.
#pragma once
#include <array>
#include <cstddef>
#include <vector>

#include "sim/base/enum_table.h"

namespace sidehill {

// What plans are traded off by; less is better in each. A goal that is not known is 0 in every plan.
enum class PlanGoal { stability, slip, fuel, soil, cost, effort };
inline constexpr std::size_t kPlanGoals = count_of<PlanGoal>();
using PlanCosts = std::array<double, kPlanGoals>;

// As good in everything and better in something.
bool beats(const PlanCosts& a, const PlanCosts& b);

// Places of those that none beats, of several alike the first; in the order of the list. Source: its definition, by
// comparing pairs.
std::vector<std::size_t> front_of(const std::vector<PlanCosts>& plans);

}  // namespace sidehill
