// One height and load of the bucket in sentences: what gives way first, what is over a limit, which counterweight it
// needs. For the window's loader map; the table is loader_report's. Knows no window, no file.
#pragma once
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/loader_grid.h"

namespace sidehill::text {

// "slides", "a wheel lifts", "goes over"; "-" for nothing.
const char* cause_word(LoaderCause cause);

// Of the angle that comes first, once its interval is known; nullptr = not known yet, or nothing gives way.
const Interval* interval_of(const LoaderFirst& first, const LoaderDoubt* doubt);

// The worst first: what is not allowed, what has given way on the scene's slope, then the angles with their intervals
// (`doubt` nullptr: "interval not known yet"), loads and counterweight. A sentence each. `grave`: how many of the first
// are a limit that is passed.
struct LoaderCellWords {
  std::vector<std::string> lines;
  std::size_t grave = 0;
};
LoaderCellWords loader_cell_words(const Scene& scene, const LoaderCell& cell, const LoaderDoubt* doubt, Units units);

}  // namespace sidehill::text
