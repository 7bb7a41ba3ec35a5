#include "sim/motion/slip.h"

#include <algorithm>
#include <cmath>

namespace sidehill {

Slip slip_of(const State& before, const State& now, std::size_t wheel) {
  const double step = now.time - before.time;
  const WheelState &was = before.wheels[wheel], &is = now.wheels[wheel];
  const Vec3 spoke = is.centre_G - is.contact_G;
  const double radius = glm::length(spoke);
  if (!(step > 0) || !(radius > 0)) return {};
  const Vec3 forward = glm::cross(is.axle_G, spoke / radius);
  if (!(glm::length(forward) > 1e-6)) return {};  // the wheel lies flat
  const Vec3 ahead = glm::normalize(forward), left = glm::cross(spoke / radius, ahead);
  const Vec3 hub = (is.centre_G - was.centre_G) / step;
  const double rolls = glm::dot(is.axle_G - was.axle_G, spoke / radius) / step;  // the hub's turning about `ahead`
  Slip slip;
  slip.hub = glm::dot(hub, ahead);
  slip.along = slip.hub - (is.spin_rate + glm::dot(now.w_G, is.axle_G)) * radius;
  slip.across = glm::dot(hub, left) + rolls * radius;
  return slip;
}

bool an_axle_slides(const State& state) {
  for (std::size_t axle = 0; axle < 2; ++axle) {
    bool loaded = false, slides = true;
    for (std::size_t i : {2 * axle, 2 * axle + 1}) {
      if (!(state.wheels[i].load > 0)) continue;
      loaded = true;
      slides = slides && state.wheels[i].sliding;
    }
    if (loaded && slides) return true;
  }
  return false;
}

double slid_between(const State& before, const State& now) {
  if (!an_axle_slides(now)) return 0;
  double most = 0;
  for (std::size_t axle = 0; axle < 2; ++axle) {
    int loaded = 0;
    bool slides = true;
    double taken = 0;
    for (std::size_t i : {2 * axle, 2 * axle + 1}) {
      const WheelState& wheel = now.wheels[i];
      if (!(wheel.load > 0)) continue;
      ++loaded;
      slides = slides && wheel.sliding;
      const Slip slip = slip_of(before, now, i);
      const double along = slip.along * slip.hub > 0 ? std::min(std::abs(slip.along), std::abs(slip.hub)) : 0.0;
      taken += std::hypot(along, slip.across);
    }
    if (loaded > 0 && slides) most = std::max(most, taken / loaded);
  }
  return most * (now.time - before.time);
}

double slid_distance(const std::vector<State>& states, double from) {
  double far = 0;
  for (std::size_t i = 1; i < states.size(); ++i)
    if (states[i - 1].time >= from) far += slid_between(states[i - 1], states[i]);
  return far;
}

}  // namespace sidehill
