// What is not known of the frost in the tyres. Knows no time, no file.
#pragma once
#include "sim/scene/scene.h"

namespace sidehill {

// An own medium without a first ice lies in a tyre, and it is colder than when the tyre was filled: whether it is ice
// is not known. At the filling's temperature it was liquid, or it could not have been pumped.
bool frost_not_known(const Scene& scene, std::size_t wheel);
bool frost_not_known(const Scene& scene);  // in any of the tyres

}  // namespace sidehill
