// Until when a run that goes over could have been saved, as text and as JSON. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "sim/insight/rescue.h"

namespace sidehill::text {

// How each act ends, and until when it must have begun; empty if nothing was needed.
std::string rescue_table(const Rescues& rescues);

// Times in seconds; null: not even from the first moment tried.
nlohmann::ordered_json rescue_json(const Rescues& rescues);

}  // namespace sidehill::text
