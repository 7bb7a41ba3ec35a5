// The front of random plans against its definition.
#include "sim/plan/plan_front.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

using namespace sidehill;

TEST_CASE("the front holds no plan that another beats, misses none, and of several alike keeps the first") {
  std::mt19937 random(5);
  for (int round = 0; round < 300; ++round) {
    std::vector<PlanCosts> plans(1 + random() % 40);
    for (PlanCosts& plan : plans)
      for (double& cost : plan) cost = static_cast<double>(random() % static_cast<unsigned>(round % 5 + 1));
    const std::vector<std::size_t> front = front_of(plans);
    CHECK(std::ranges::is_sorted(front));
    for (std::size_t i = 0; i < plans.size(); ++i) {
      bool beaten = false;
      for (std::size_t k = 0; k < plans.size(); ++k) {
        bool as_good = true, better = false;
        for (std::size_t g = 0; g < kPlanGoals; ++g) {
          as_good = as_good && plans[k][g] <= plans[i][g];
          better = better || plans[k][g] < plans[i][g];
        }
        beaten = beaten || (as_good && (better || k < i));
      }
      CHECK(beaten == (std::ranges::find(front, i) == front.end()));
    }
  }
  CHECK(front_of({}).empty());
}
