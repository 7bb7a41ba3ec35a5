// The few set-ups of a plan as a table and as JSON. Knows no file, no window.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/plan/plan.h"

namespace sidehill::text {

std::string plan_table(const Plan& plan, Units units = Units::si);
nlohmann::ordered_json plan_json(const Plan& plan);

}  // namespace sidehill::text
