// What happens when a filled tyre is damaged, in plain paragraphs. Words only: no number here enters an answer. Knows
// no machine, no file, no time.
#pragma once
#include <string_view>
#include <vector>

#include "vehicles/liquid.h"

namespace sidehill {

// The paragraphs that bear on a tyre filled so, most urgent first, a few sentences each; empty for a tyre on air.
// A puncture, what runs out of it and inner tubes bear on any liquid, foam on a cured filling. `fill_fraction` of
// liquid over cavity [-]; what is no number or not above 0 counts as air. Source: derived from where the liquid lies
// and what drives it out; practice with tubes is common practice.
std::vector<std::string_view> damage_notes(Medium medium, double fill_fraction);

// The work after a puncture in one line, for a table. Source: as above.
std::string_view repair_work(Medium medium);

}  // namespace sidehill
