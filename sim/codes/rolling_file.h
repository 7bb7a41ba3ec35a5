// Reads the data of a rolling test (TOML with the published symbols as keys, all at the top level). Knows no physics.
//
#pragma once
#include <filesystem>
#include <span>
#include <string_view>

#include "sim/codes/continuous_rolling.h"

namespace sidehill {

// One datum of the file: the published symbol, unit and range; all 17 are needed.
struct RollingField {
  std::string_view key;   // "H1"
  std::string_view unit;  // as published: m, rad, kg, kg m2
  std::string_view help;  // one line
  double RollingTractor::*member;
  double min, max;  // both allowed
};
std::span<const RollingField> rolling_fields();

// Throws InputError (sim/base/errors.h) as one line: "file:line: key: what is wrong, what is allowed"; also for data
// that contradict each other (find_rolling_conflict).
RollingTractor load_rolling_tractor(const std::filesystem::path& path);
RollingTractor parse_rolling_tractor(std::string_view text, const std::filesystem::path& name);

}  // namespace sidehill
