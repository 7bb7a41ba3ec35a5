// Holds a scene against the answers it says it must give ([[expect]] in its file). Knows no window.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "sim/scene/scene.h"

namespace sidehill::text {

struct Held {
  Expect expect;
  bool holds = false;
  std::string found;  // what the answer gives, as text
};

// Every expectation of the scene, in order: a number within its tolerance, "never" where the answer is null. Solves the
// scene (and runs it if a quantity asks for it: outcome, final). Throws InputError for an impossible machine, and for
// a quantity that the answer does not have.
std::vector<Held> held_against(const Scene& scene);

}  // namespace sidehill::text
