// A weighing's result with its error, and how to weigh safely, in words and as JSON. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/own_machine/weighing_file.h"

namespace sidehill::text {

nlohmann::ordered_json weighing_json(const WeighingSheet& sheet);
std::string weighing_table(const WeighingSheet& sheet, Units units = Units::si);

// Step by step; with a sheet also how far to raise for the height to be known to 20 and 50 mm.
std::string weighing_plan(const WeighingSheet* sheet, Units units = Units::si);

}  // namespace sidehill::text
