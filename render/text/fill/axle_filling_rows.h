// All that is known of the filling of an axle as rows of a name and words, in the order in which an owner asks: how
// much, how far, what the gauge shows, frost, what to mix, and what the liquid does. Knows no page, no window, no file.
#pragma once
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/fill_of_scene.h"

namespace sidehill::text {

struct FillingRow {
  std::string key;     // "litres", "gauge_top": one word for each row
  std::string name;    // "Litres, each tyre"
  std::string value;   // "310 L (279 to 341 L)"; may be a sentence
  bool grave = false;  // frozen solid, or another reason not to fill
};

// Of an axle on air the first row says so, and the rows of the liquid are left out; so are those of the valve for foam.
std::vector<FillingRow> filling_rows(const AxleFilling& filling, Units units);

}  // namespace sidehill::text
