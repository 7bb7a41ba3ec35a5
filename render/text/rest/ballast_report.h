// The ballast rules for one machine, in words and as JSON. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "sim/insight/ballast_rules.h"

namespace sidehill::text {

nlohmann::ordered_json ballast_json(const Scene& scene, const Model& model);
std::string ballast_table(const Scene& scene, const Model& model);

}  // namespace sidehill::text
