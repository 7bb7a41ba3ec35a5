// Why the first wheel lifts where it does, in words and as JSON. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "sim/insight/answer.h"

namespace sidehill::text {

void add_breakdown(nlohmann::ordered_json& json, const Answer& answer);  // "breakdown"; null where there is none
std::string breakdown_table(const Answer& answer);

}  // namespace sidehill::text
