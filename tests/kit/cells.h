// Numbers in the rows of a table of check values, and a comparison relative to them.
#pragma once
#include <cmath>
#include <string>

#include "tests/kit/csv.h"
#include "tests/kit/near.h"

namespace sidehill {

inline double cell(const CsvRow& row, const std::string& name) { return std::stod(row.at(name)); }

inline void check_relative(double value, double expected, double by = 1e-5) {
  CHECK_NEAR(value, expected, by * std::abs(expected));
}

}  // namespace sidehill
