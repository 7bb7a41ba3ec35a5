// How much of what the job hangs on the machine the scene has on it. Slopes and wheel loads are of the scene's machine
// alone. Knows no words.
#pragma once
#include "sim/scene/scene.h"

namespace sidehill {

enum class ImplementHere { all, part, none };

// `all` also where the job hangs nothing on. On a drawbar the job knows the part that rests on it alone: any trailer of
// the scene counts as all of it. Mounted, 95 % of its mass is all of it: our choice.
ImplementHere implement_here(const Scene& scene);

}  // namespace sidehill
