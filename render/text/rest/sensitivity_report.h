// What one unit more of each datum does to the slope of first lift-off, in words and as JSON. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/sensitivity.h"

namespace sidehill::text {

// Of all data: key, unit, value, first_lift_off_deg_per_unit (null where a change makes no machine).
nlohmann::ordered_json sensitivity_json(const std::vector<Sensitivity>& all);

// Of those that move it at all, largest effect first.
std::string sensitivity_table(const std::vector<Sensitivity>& all, Units units = Units::si);

}  // namespace sidehill::text
