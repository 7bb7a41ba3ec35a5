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

// Of a plan file: that its machine is another one than the plan was made for, if so; and that all of this is of the
// machine as planned. Empty for any other scene.
std::vector<std::string> plan_cautions(const Scene& scene);
std::string other_machine_caution(const Scene& scene);  // the first of the two alone; empty if it is not so

}  // namespace sidehill::text
