// A wheel seen from its side with the liquid in it: where the valve stands and which heights to measure with a ruler.
// Knows the filling; no drawing library.
#pragma once
#include "render/namespaces.h"
#include "render/page/sheet.h"
#include "render/text/words/units.h"
#include "sim/insight/fill_of_scene.h"

namespace sidehill::page {

// No wider than `width`, no higher than `height` [pt].
PageSheet filling_wheel(const AxleFilling& filling, Units units, double width, double height);

}  // namespace sidehill::page
