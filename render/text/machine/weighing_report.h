// A weighing's result with its error, and how to weigh safely, in words and as JSON. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <span>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/own_machine/weighing_file.h"

namespace sidehill::text {

nlohmann::ordered_json weighing_json(const WeighingSheet& sheet);
std::string weighing_table(const WeighingSheet& sheet, Units units = Units::si);

// How to weigh, safely: two steps before, measuring, weighing level, three of raising and weighing raised, and after.
// In SI: read_in() turns them.
std::span<const char* const> weighing_steps();
const char* weighing_danger();  // what a raised machine does to people, before anybody raises it
// What is doubtful of a sheet though its sums can be done, and where the method holds; a sentence each, in SI.
std::vector<std::string> weighing_cautions(const WeighingSheet& sheet);

// Step by step; with a sheet also how far to raise for the height to be known to 20 and 50 mm.
std::string weighing_plan(const WeighingSheet* sheet, Units units = Units::si);

}  // namespace sidehill::text
