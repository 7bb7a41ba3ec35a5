// The calculation of continuous rolling and of the lateral stability test as text for an engineer and as JSON. Knows no
// file, no formula.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/codes/continuous_rolling.h"
#include "sim/codes/lateral_stability.h"

namespace sidehill::text {

struct RollingReport {
  std::string name;  // what the tractor is called: its file
  RollingTractor tractor;
  RollingAnswer rolling;
  LateralStability stability;
};

// Both calculations. Needs data without a conflict (find_rolling_conflict).
RollingReport rolling_report(std::string name, const RollingTractor& tractor);

// Data, lateral stability, the rolling stage by stage, verdict, cautions, source.
std::string rolling_table(const RollingReport& report, Units units = Units::si);

// velocities_rad_s: O0..O9 of each printed block (none if not feasible); verdict: continues, stops or not_feasible.
nlohmann::ordered_json to_json(const RollingReport& report);

}  // namespace sidehill::text
