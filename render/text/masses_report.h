// Every kilogram, what stands on tyres and axles, and what is in the tyres: the parts of an answer that need no slope.
// Knows no window, no file.
#pragma once
#include <string>

#include "render/text/answer.h"

namespace sidehill {

void add_masses(nlohmann::ordered_json& json, const Answer& answer);  // ledger, sums, driver and tank
void add_tyres(nlohmann::ordered_json& json,
               const Answer& answer);  // pressure, stiffness, loads against capacity, cost

std::string masses_table(const Answer& answer);
std::string loads_table(const Answer& answer);  // empty if it does not rest here
std::string tyres_table(const Answer& answer);  // empty without a fill
std::string damage_text(const Answer& answer);  // what a puncture and the like would do; empty without a fill

}  // namespace sidehill
