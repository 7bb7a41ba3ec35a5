#include "sim/rest/adhesion.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <glm/geometric.hpp>

#include "sim/base/closed_in.h"

namespace sidehill {

bool hold_within_adhesion(EquilibriumSystem& system, double use) {
  constexpr double kSpare = 1.05;  // all tyres at their limit would leave the balance no hold at all
  const Soil& soil = system.model->terrain.soil;
  if (soil.adhesion_unlimited || use > 1e6) return false;
  system.within_adhesion = true;
  system.grip = use >= 1 ? kSpare * use * soil.adhesion : 0;
  return true;
}

namespace {

// Of two braked wheels that alone keep the heading: what each holds lengthwise is given, and what is left of its
// adhesion is what both may hold across. Found by halving; endless where a wheel holds without load.
double use_of_pair(const std::array<double, 2>& load, const std::array<double, 2>& along, double across,
                   const Soil& soil) {
  double low = 0;
  for (std::size_t i = 0; i < 2; ++i) {
    if (std::abs(along[i]) > 0 && !(load[i] > 0)) return 1e9;
    if (load[i] > 0) low = std::max(low, std::abs(along[i]) / (soil.adhesion * load[i]));
  }
  const auto holds = [&](double use) {
    double room = 0;
    for (std::size_t i = 0; i < 2; ++i) {
      const double most = use * soil.adhesion * std::max(0.0, load[i]);
      room += std::sqrt(std::max(0.0, most * most - along[i] * along[i]));
    }
    return soil.adhesion_across_ratio * room >= std::abs(across);
  };
  if (holds(low)) return low;
  double high = std::max(2 * low, 1.0);
  while (!holds(high)) {
    if (high > 1e9) return 1e9;
    high *= 2;
  }
  return closed_in(low, high, 0, holds).second;
}

}  // namespace

double adhesion_use(const Rest& rest, const Model& model) {
  const Soil& soil = model.terrain.soil;
  double most = 0;
  const glm::dvec2 forward = glm::normalize(glm::dvec2(rest.X_GV.R[0]));  // wheels at rest stand straight
  for (std::size_t first : {std::size_t{0}, std::size_t{2}}) {
    double load = 0;
    glm::dvec2 held(0.0);
    if (first == kRearLeft && model.wheels[kFrontLeft].tyre.swivels) {
      const auto part = [&](std::size_t w) { return glm::dvec2(rest.force_G[w]); };
      const glm::dvec2 left = part(kRearLeft), right = part(kRearRight), both = left + right;
      const double across = forward.x * both.y - forward.y * both.x;
      return use_of_pair({rest.load[kRearLeft], rest.load[kRearRight]},
                         {glm::dot(forward, left), glm::dot(forward, right)}, across, soil);
    }
    for (std::size_t w = first; w < first + 2; ++w) {
      load += rest.load[w];
      held += glm::dvec2(rest.force_G[w]);
    }
    const double across = forward.x * held.y - forward.y * held.x;
    const double demand = std::hypot(glm::dot(forward, held), across / soil.adhesion_across_ratio);
    if (demand > 0) most = std::max(most, load > 0 ? demand / (soil.adhesion * load) : 1e9);
  }
  return most;
}

}  // namespace sidehill
