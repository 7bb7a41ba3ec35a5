// Stability measures in words and as JSON. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/answer.h"

namespace sidehill::text {

void add_measures(nlohmann::ordered_json& json, const Answer& answer);      // "measures"; null if it does not rest here
std::string measures_table(const Answer& answer, Units units = Units::si);  // empty if it does not rest here

}  // namespace sidehill::text
