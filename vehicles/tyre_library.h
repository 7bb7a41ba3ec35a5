// A starting library of common sizes, for lists, hints and first guesses. Data only; a machine file's own numbers win.
#pragma once
#include <span>
#include <string_view>

#include "vehicles/tyre_size.h"
#include "vehicles/vehicle.h"

namespace sidehill {

struct LibraryTyre {
  std::string_view designation;   // "18.4R38"
  std::string_view service;       // typical load index and speed symbol; the sidewall decides
  double overall_diameter = 0;    // design value [m]
  double section_width = 0;       // design value [m]
  double rim_diameter = 0;        // nominal [m]
  double reference_pressure = 0;  // cold gauge, at which the load index holds, typical [Pa]
  double field_pressure = 0;      // cold gauge, typical in use [Pa]
  std::string_view use;           // where it is found, in a few words
};

std::span<const LibraryTyre> tyre_library();  // narrow and small first, then by width

// The entry for a designation; behind the size may stand what parse_tyre_size allows. "18.4-38" also finds "18.4R38"
// (same room inside), an IF or VF tyre its standard sister (another load: take the index from the sidewall). nullptr if
// the size is not in the library or no size at all.
const LibraryTyre* find_tyre(std::string_view designation);
const LibraryTyre* find_tyre(const TyreSize& size);

// Cold gauge pressure at which its load index holds, given or typical of its size [Pa]; 0 = not known.
double rated_pressure(const Tyre& tyre);

// Stiffness of a tyre standing on air, an air spring of its outer curvature: 2 pi p sqrt(R w / 2) [N/m], from cold
// gauge pressure [Pa], free radius and section width [m]. Source: our estimate; makers' deflections differ by +-25 %.
double estimated_vertical_stiffness(double pressure, double free_radius, double section_width);

// A whole tyre from its size alone, at a cold gauge pressure [Pa]; 0 = the library's, else 120 kPa. Dimensions from the
// library where it knows the size, cavity from tyre_cavity_volume, lateral stiffness 0.6 and longitudinal 0.9 of
// vertical, damping 11.5 ms and 8.5 ms of vertical, relaxation 0.9 radius. Throws as parse_tyre_size. Source: our
// estimates, the same as in the machine files.
Tyre tyre_of_size(std::string_view designation, double pressure = 0);

}  // namespace sidehill
