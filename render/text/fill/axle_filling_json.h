// The filling sheet for other programs: the numbers and sentences that stand on its page, in SI. Knows no page, no
// file.
#pragma once
#include <nlohmann/json.hpp>
#include <span>

#include "render/namespaces.h"
#include "sim/insight/fill_of_scene.h"

namespace sidehill::text {

// One entry for each axle; units in the key's suffix, null for "not known" and "does not apply". `fill` is the answer
// of the verb fill. At least one filling.
nlohmann::ordered_json axle_fillings_json(std::span<const AxleFilling> fillings);

}  // namespace sidehill::text
