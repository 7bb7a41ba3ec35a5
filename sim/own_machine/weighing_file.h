// Reads a weighing from a file (TOML, plain numbers). Knows no physics.
#pragma once
#include <filesystem>
#include <span>
#include <string_view>

#include "sim/own_machine/weighing.h"
#include "sim/scene/number_file.h"

namespace sidehill {

struct WeighingSheet {
  Weighing weighing;
  WeighingTolerance tolerance;
};

std::span<const NumberKey> weighing_keys();

// Throws InputError (sim/base/errors.h) as one line, also for data that contradict each other.
WeighingSheet parse_weighing(std::string_view text, const std::filesystem::path& name);
WeighingSheet load_weighing(const std::filesystem::path& path);

}  // namespace sidehill
