// How the ground moves under tyres whose grip is used up, from two states a moment apart. Knows States only; no engine.
#pragma once
#include <vector>

#include "sim/motion/state.h"

namespace sidehill {

// Of the tyre's tread over the ground under one wheel.
struct Slip {
  double along = 0;   // the hub's speed less the tread's, forward positive: negative where the wheel spins [m/s]
  double across = 0;  // to the left positive [m/s]
  double hub = 0;     // the hub's own speed forward [m/s]
};
Slip slip_of(const State& before, const State& now, std::size_t wheel);

// Every loaded wheel of one axle has used up its grip. Front wheels that roll freely say nothing about the rear ones.
bool an_axle_slides(const State& state);

// How far the machine has slid between two states [m], >= 0: while every loaded wheel of an axle slides, how far the
// ground took these tyres sideways, and lengthwise further than they rolled; the mean of the axle, and the larger of
// the two axles. Wheels that spin where they are, or while it drives on, do not count: that is no way it slides.
double slid_between(const State& before, const State& now);

// Likewise over a run, from a time on [s].
double slid_distance(const std::vector<State>& states, double from = 0);

}  // namespace sidehill
