// Height and load of the bucket together, in words and as JSON. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/loader_grid.h"

namespace sidehill::text {

nlohmann::ordered_json loader_json(const Scene& scene, const std::vector<LoaderCell>& cells);
std::string loader_table(const Scene& scene, const std::vector<LoaderCell>& cells, Units units = Units::si);

// Where the load lies and what a loader's answer leaves out, in a sentence or two.
std::string what_loader_tells(const BallastPlan& plan);

// Front axle and tyres within their load, and the rear axle with its fifth of the mass. Source: EN 12525 + A2.
bool load_allowed(const LoaderCell& cell);

}  // namespace sidehill::text
