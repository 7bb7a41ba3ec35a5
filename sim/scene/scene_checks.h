// What single ranges cannot say: data of a scene that contradict each other. Knows no file, no physics beyond "this
// does not fit into that".
#pragma once
#include <optional>
#include <string>

#include "sim/scene/scene.h"

namespace sidehill {

struct Conflict {
  std::string key;      // of the datum to change
  std::string message;  // what is wrong and what is allowed, without the key
};

// The first contradiction, or nothing. Values are taken to be inside their ranges.
std::optional<Conflict> find_conflict(const Scene& scene);

}  // namespace sidehill
