// What a wheel does to the soil below it, in words and as JSON. Knows no window and no file.
#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/job/soil_stress.h"

namespace sidehill::text {

struct SoilQuestion {
  SoilWheel wheel;
  bool recommended_given = true;  // false: `wheel.recommended` is the air pressure, for want of a better
  double concentration = 5;       // 3 to 6 [-]
  std::optional<double> depth;    // [m]; nothing: at 15, 30 and 50 cm
};

// The table, the worst fact first.
std::string soil_table(const SoilQuestion& asked, Units units = Units::si);
// Keys in docs/json.md, "soil".
nlohmann::ordered_json soil_json(const SoilQuestion& asked);

}  // namespace sidehill::text
