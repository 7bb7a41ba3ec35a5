// The filling's answer for other programs. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>

#include "render/namespaces.h"
#include "sim/insight/fill_sheet.h"

namespace sidehill::text {

// Units in the key's suffix, null for "never" and "not known". Levels are of an upright, jacked tyre: level_m over the
// wheel's centre, level_over_rim_m over the rim's lowest point, level_over_ground_m, wetted_height_m over the cavity's
// lowest point. `recipe` and `total` are for all tyres, everything else for one.
nlohmann::ordered_json to_json(const FillSheet& sheet);

}  // namespace sidehill::text
