// Lists of tolerances: which of them belong to the machine, and whose word counts. Knows no file.
#pragma once
#include <string_view>
#include <vector>

#include "sim/scene/scene.h"

namespace sidehill {

bool has_tolerance(const std::vector<Tolerance>& list, std::string_view key);

// Takes every tolerance of the machine's numbers ("vehicle...") off the list: the machine goes.
void forget_machine(std::vector<Tolerance>& list);

// The scene's own tolerances first, then those of the machine whose keys the scene does not name.
std::vector<Tolerance> over_machines(std::vector<Tolerance> own, const std::vector<Tolerance>& of_machine);

}  // namespace sidehill
