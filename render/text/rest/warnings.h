// What of an answer a person must know before anything else: overloads, bends that lift a wheel, ice in the tyres.
// Knows no window, no file.
#pragma once
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "sim/insight/answer.h"

namespace sidehill::text {

// Tyres and axles over what they may carry, one sentence each, the certain ones first; every sentence says whether its
// load is of the level or of the slope.
std::vector<std::string> overload_warnings(const LoadCheck& loads);

// Tyres whose rating is not known, one sentence an axle.
std::vector<std::string> unknown_ratings(const LoadCheck& loads);

// Gravest first: bends and braking that lift a wheel here, ice, overloads (of the level, where it does not rest here),
// bends and braking that slide, ratings not known, and where ice was taken to lie.
std::vector<std::string> warnings(const Answer& answer);

// True if a bend or braking asked for lifts a wheel on this slope.

}  // namespace sidehill::text
