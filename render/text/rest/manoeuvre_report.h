// A steady bend and braking, in words and as JSON. Knows no window, no file.
#pragma once
#include <string>

#include "render/text/rest/answer.h"

namespace sidehill {

void add_manoeuvres(nlohmann::ordered_json& json,
                    const Answer& answer);  // "manoeuvres"; an empty list if none is asked
// "turning left at 20 km/h in a bend of 6 m", "braking with 3.0 m/s2".
std::string manoeuvre_words(const ManoeuvreAnswer& manoeuvre, const Manoeuvre& asked);
std::string manoeuvres_table(const Answer& answer);  // empty if none is asked for

}  // namespace sidehill
