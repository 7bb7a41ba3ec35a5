// The command line of `sidehill fill`: flags into a request. Reads nothing else, prints nothing.
#pragma once
#include <CLI/CLI.hpp>
#include <string>

#include "sim/insight/fill_sheet.h"

namespace sidehill {

struct FillCommand {
  FillRequest request;
  std::string valve_clock, eur_per_l;  // as typed: "10:30", "0.2:0.6"
};

void add_fill_flags(CLI::App& sub, FillCommand& command);

// The whole request. Throws InputError for a clock or a price that is none; ranges are fill_sheet's to check.
FillRequest request_of(const FillCommand& command);

}  // namespace sidehill
