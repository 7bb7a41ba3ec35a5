#include "sim/plan/plan_front.h"

#include <algorithm>
#include <numeric>

namespace sidehill {

bool beats(const PlanCosts& a, const PlanCosts& b) {
  bool better = false;
  for (std::size_t i = 0; i < kPlanGoals; ++i) {
    if (a[i] > b[i]) return false;
    better = better || a[i] < b[i];
  }
  return better;
}

std::vector<std::size_t> front_of(const std::vector<PlanCosts>& plans) {
  // In this order a plan can be beaten only by one before it.
  std::vector<std::size_t> order(plans.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) { return plans[a] < plans[b]; });
  std::vector<std::size_t> front;
  for (const std::size_t one : order) {
    const bool out = std::ranges::any_of(
        front, [&](std::size_t other) { return beats(plans[other], plans[one]) || plans[other] == plans[one]; });
    if (!out) front.push_back(one);
  }
  std::ranges::sort(front);
  return front;
}

}  // namespace sidehill
