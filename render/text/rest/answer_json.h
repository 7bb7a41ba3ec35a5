// The answer at rest as JSON and as CSV: what `solve` gives to other programs. Computes nothing. Knows no window, no
// file.
#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "render/namespaces.h"
#include "sim/insight/answer.h"

namespace sidehill::text {

// Keys with a human's unit as suffix; "never" and "not there" are null. `with_envelope` adds the margin by heading.
nlohmann::ordered_json to_json(const Answer& answer, bool with_envelope = false);

// Columns heading_deg, first_lift_off_deg, tip_over_deg, margin_deg, wheel; empty where no wheel lifts.
std::string envelope_csv(const Answer& answer);

const char* wheel_key(int wheel);          // "rear_left"; "none" for -1
const char* to_string(RestStatus status);  // "stands"

// A finite number, or null.
nlohmann::ordered_json number_or_null(std::optional<double> value, double unit = 1);
nlohmann::ordered_json place(const Vec3& p);  // [x, y, z]

}  // namespace sidehill::text
