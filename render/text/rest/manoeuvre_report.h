// A steady bend and braking, in words and as JSON. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/answer.h"

namespace sidehill::text {

void add_manoeuvres(nlohmann::ordered_json& json,
                    const Answer& answer);  // "manoeuvres"; an empty list if none is asked
const char* key_of(ManoeuvreKind kind);     // "turning_left", as JSON has it
// "turning left at 20 km/h in a bend of 6 m", "braking with 3.0 m/s2".
std::string manoeuvre_words(ManoeuvreKind kind, const Manoeuvre& asked);
// "bend of 6 m at 20 km/h, braking with 3.0 m/s2": all that is asked for; empty if nothing is.
std::string asked_manoeuvres(const Manoeuvre& asked);
// A row of heads, then one for each bend and braking; empty if none is asked for.
std::vector<std::vector<std::string>> manoeuvre_rows(const Answer& answer, Units units = Units::si);
inline constexpr const char* kUnderWayTitle = "Under way, steadily";
inline constexpr const char* kUnderWayLimits =
    "No bump, no jerk at the wheel, no sway: less than half of that speed is prudent on real ground.";
std::string manoeuvres_table(const Answer& answer, Units units = Units::si);  // empty if none is asked for

}  // namespace sidehill::text
