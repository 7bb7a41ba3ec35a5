// The rules for one set-up in its job, in words and as JSON, the worst first. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/job/rules.h"

namespace sidehill::text {

nlohmann::ordered_json ballast_json(const Scene& scene, const Model& model);
std::string ballast_table(const Scene& scene, const Model& model, Units units = Units::si);

// Rows alone, worst first; also for the comparison of set-ups.
nlohmann::ordered_json rules_json(const RuleReport& report, const Scene& scene);

}  // namespace sidehill::text
