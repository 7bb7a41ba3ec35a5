// Any signal of a recording over time, as columns. Knows no window, no file.
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/motion/recording.h"

namespace sidehill::text {

// Names with their unit as suffix, in the order of the columns: "time_s", "roll_deg", "load_rear_left_n" ...
std::vector<std::string> signal_names();

// One line a stored state. `names`: which columns, time first anyway; empty = all. Throws InputError naming an unknown
// one.
std::string signals_csv(const Recording& recording, const std::vector<std::string>& names = {});

// Those columns of one state, by name.
std::vector<std::pair<std::string, double>> signals_of(const Model& model, const State& state,
                                                       const std::vector<std::string>& names = {});

// One of them as a line for a person: under its name and in its unit for SI, else in words and in the units asked for.
std::string signal_row(const std::string& name, double value, Units units = Units::si);

}  // namespace sidehill::text
