// What of an answer a person must be told before anything else: overloads, bends that lift a wheel, ice in the tyres.
// Knows no window, no file.
#pragma once
#include <string>
#include <vector>

#include "render/text/answer.h"

namespace sidehill {

// Tyres and axles over what they may carry, one sentence each.
std::vector<std::string> overload_warnings(const LoadCheck& loads);

// Overloads here, bends and braking that lift or slide the machine here, frozen fills turned to where they harm most.
std::vector<std::string> warnings(const Answer& answer);

// True if a bend or braking asked for lifts a wheel on this slope.
bool lifts_under_way(const ManoeuvreAnswer& m);

}  // namespace sidehill
