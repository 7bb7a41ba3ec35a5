// Slip, pull, fuel and soil of a set-up in its job, in words and as JSON, each number with its formula. Knows no
// window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/job/at_work.h"

namespace sidehill::text {

// What is worst of it, a sentence each: it cannot pull that, an axle lifts, not known on mud, the engine cannot. Empty
// where nothing is.
std::vector<std::string> work_warnings(const WorkAnswer& work, const Scene& scene, Units units);

// Empty without a job.
std::string work_table(const WorkAnswer& work, const SoilAnswer& soil, const Scene& scene, Units units);

nlohmann::ordered_json work_json(const WorkAnswer& work);
nlohmann::ordered_json soil_json(const SoilAnswer& soil);

}  // namespace sidehill::text
