// Where a frozen fill harms most: turned with its wheel to where the first wheel lifts soonest. Knows no file, no time.
#pragma once
#include <array>
#include <optional>
#include <stop_token>

#include "sim/model/model.h"

namespace sidehill {

// The same machine with the wheels that hold ice turned about their axles since it froze, both of an axle alike: front,
// rear, rolling forward positive [rad]. Statics leaves the ice of this machine where it is.
Model with_ice_turned(const Model& model, const std::array<double, 2>& turned);

// The same machine with its ice turned to where the first wheel lifts soonest at the model's heading; nothing for a
// machine without ice or with ice turned already. Each load is mean + a cos + b sin of the turn, so that three places
// of an axle's ice give the worst one in closed form. That is repeated at the slope of first lift-off, and at last done
// with that slope itself. Source: derived here; held against 36 places round the wheel in tests/sim/rest/ice_test.cpp.
std::optional<Model> with_ice_at_its_worst(const Model& model, const std::stop_token& stop = {});

// The same at one slope [rad]: where the least of the four loads is least.
std::optional<Model> with_ice_at_its_worst_at(const Model& model, double slope, const std::stop_token& stop = {});

}  // namespace sidehill
