// Every kilogram, what stands on tyres and axles, and what is in the tyres: the parts of an answer that need no slope.
// Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/answer.h"

namespace sidehill::text {

void add_masses(nlohmann::ordered_json& json, const Answer& answer);  // ledger, sums, driver and tank
void add_tyres(nlohmann::ordered_json& json,
               const Answer& answer);  // pressure, stiffness, loads against capacity, cost

std::string masses_table(const Answer& answer, Units units = Units::si);
// Of the level if it does not rest here; empty if it has no balance there either.
std::string loads_table(const Answer& answer, Units units = Units::si);
// How a tyre's limit came about beyond its index: a multiple at a crawl, a pair. Empty where the index counts as
// marked.
std::string rating_words(const TyreCheck& tyre);
std::string tyres_table(const Answer& answer, Units units = Units::si);  // empty without a fill
std::string damage_text(const Answer& answer,
                        Units units = Units::si);  // what a puncture and the like would do; empty without a fill

}  // namespace sidehill::text
