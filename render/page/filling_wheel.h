// A wheel seen from its side with the liquid in it: where the valve stands and which heights to measure with a ruler.
// Knows the filling; no drawing library.
#pragma once
#include "render/namespaces.h"
#include "render/page/sheet.h"
#include "render/text/words/units.h"
#include "sim/insight/fill_of_scene.h"

namespace sidehill::page {

// Where the wheel stands on a sheet of that size [pt]: its centre, its outer radius, and points a metre.
struct WheelOnSheet {
  PagePoint centre;
  double radius = 0, scale = 0;
  double level_at(double y) const { return (centre.y - y) / scale; }  // over the wheel centre [m]
  double y_at(double level) const { return centre.y - level * scale; }
};
double sheet_height(double radius);  // of a sheet whose height is what gives the wheel this radius [pt]
WheelOnSheet wheel_on_sheet(const AxleFilling& filling, double width, double height);

// On air it is drawn empty, without rulers; foam fills it whole and has no valve to turn. No wider than `width`, no
// higher than `height` [pt].
PageSheet filling_wheel(const AxleFilling& filling, Units units, double width, double height);

}  // namespace sidehill::page
