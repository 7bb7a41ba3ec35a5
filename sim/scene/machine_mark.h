// By which a machine is known again: a number over what its maker built. Knows no physics.
#pragma once
#include <string>

#include "sim/scene/scene.h"

namespace sidehill {

// 16 hex digits (FNV-1a, 64 bits) over every datum of the vehicle that is not at its default, apart from its name and
// note and from what a plan may change: tyre pressures and tracks. Two machines that differ in a number differ in it.
std::string machine_mark(const Scene& scene);

// The scene's plan was made for another machine than the one in it; false where that is not known.
bool is_of_other_machine(const Scene& scene);

}  // namespace sidehill
