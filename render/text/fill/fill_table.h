// The answer about a filling as a page of text for a person with a hose in hand.
#pragma once
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/fill_sheet.h"

namespace sidehill::text {

// Litres and kilograms first, then how far to fill, what the gauge shows, frost, what to mix, handling, damage,
// cautions. What was not asked for and cannot be used is left out.
std::string fill_table(const FillSheet& sheet, Units units = Units::si);

}  // namespace sidehill::text
