// What one driven wheel can pull, in words and as JSON. Knows no window and no file.
#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/job/traction.h"

namespace sidehill::text {

// A wheel on its ground, as asked.
struct GripQuestion {
  TyreSet set = TyreSet::bias;
  double slip = 0.1;              // 0 to below 1 [-]
  double mobility = 0;            // Bn [-]
  std::optional<double> load;     // of this wheel [N]; nothing: only the mobility number is known
  std::optional<TyreShape> tyre;  // with the load
};

// The table, the worst fact first.
std::string grip_table(const GripQuestion& asked, Units units = Units::si);
// Keys in docs/json.md, "grip".
nlohmann::ordered_json grip_json(const GripQuestion& asked);

}  // namespace sidehill::text
