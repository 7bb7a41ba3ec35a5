// What every medium would be in one tyre, side by side: a sheet of each. The words are render/text/fill's. Knows no
// scene, no machine, no terminal.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "sim/insight/fill_sheet.h"

namespace sidehill {

// As typed, in people's units.
struct MediaRequest {
  std::string tyre;                          // designation
  double fill = 0.75;                        // liquid over cavity [-]; foam fills the whole tyre
  double temperature_c = 10;                 // of liquid and air while filling [C]
  std::optional<double> coldest_c;           // of the winter to come [C]
  std::optional<double> cavity_l;            // inside volume from a data book [L]; default from the size
  OwnMedium own;                             // is among them if its density is given
  std::map<std::string, PriceRange> prices;  // by the medium's key [EUR/L]
};

// The library at its usual strengths, in its order, and the own medium last. Throws InputError that begins with "list:"
// and names what is wrong: a size, a medium or a number.
std::vector<FillSheet> media_in_tyre(const MediaRequest& request);

}  // namespace sidehill
