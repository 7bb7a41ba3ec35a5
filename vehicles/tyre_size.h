// What a tyre's size designation says: section, rim, overall diameter, room inside. Knows no file, no machine, no
// medium; a machine's own numbers, where somebody measured them, count for more.
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "vehicles/load_index.h"

namespace sidehill {

enum class SizeSeries {
  drive,         // inches: 18.4-38, 18.4R38, 14.9/13-28 (the second number is the older width, of no effect here)
  narrow_front,  // inches with two decimals: 7.50-16
  low_section,   // inches with L: 11L-15, 28L-26; and sizes on the tenth-inch rims of the same kind: 18.4-16.1
  aspect,        // width and aspect: 480/70R38, IF and VF, 600/50-22.5, 10.0/75-15.3
  diameter,      // overall diameter first: 23x8.50-12
};

enum class Flexion { standard, improved, very_high };  // none, IF, VF

struct TyreSize {
  std::string designation;  // tidy, without what stands behind it: "VF480/70R38"
  SizeSeries series = SizeSeries::drive;
  bool radial = false;
  Flexion flexion = Flexion::standard;
  double section_width = 0;     // nominal [m]
  double measured_width = 0;    // on its rim, inflated, no load [m]; narrow fronts measure 2 to 13 % more than nominal
  double overall_diameter = 0;  // inflated, no load, nominal [m]; tyres differ by 1 to 2 %
  double rim_diameter = 0;      // nominal [m]
  double cavity_volume = 0;     // inside volume [m3], see tyre_cavity_volume
  double volume_uncertainty = 0;   // of cavity_volume, one standard deviation over the value [-]
  std::optional<Service> service;  // load index and speed symbol, if they stood behind the size
};

// Reads "18.4-38", "480/70R38 145D", "IF 710/70 R42 176A8/173B TL", "23x8.50-12 4PR". Lower case and blanks are
// allowed; of a double service description the first counts. Anything else: std::invalid_argument with one line that
// quotes it, names what it resembles and lists the forms. Source: forms and nominal diameters as in UN R106 par. 2
// and 6.2 (diameter = rim + 2 x width x aspect); heights of inch sections over their width are fitted to design
// dimensions as recalled (within 1.5 % in diameter for drive tyres).
TyreSize parse_tyre_size(std::string_view text);

// The same; none where parse_tyre_size would throw.
std::optional<TyreSize> read_tyre_size(std::string_view text);
bool is_tyre_size(std::string_view text);

// Inside volume [m3] from outside dimensions [m] as they measure: a ring from the rim to under the tread, as wide as
// the section without its walls, times section_fullness. Tread and walls by series: lugs of a drive tyre are deeper
// than the ribs of a front tyre. Zero if the numbers make no ring. Source: geometry; tread depths as recalled from US
// design standards, walls our estimate; one number fitted to half of a printed US fill chart, see
// tests/vehicles/tyre_size_test.cpp for how well it holds.
double tyre_cavity_volume(SizeSeries series, double section_width, double overall_diameter, double rim_diameter);

// Area of a section's inside over that of the rectangle around it [-], by section height over width. A section as high
// as wide stands round on a narrow rim: pi/4. A flatter one has straighter walls on a wider rim and is fuller, at most
// 0.90. Source: our estimate, slope fitted as said above.
double section_fullness(double aspect);

// A designation that exists and looks like `text`, for an error message; empty if nothing does.
std::string resembling_tyre_size(std::string_view text);

}  // namespace sidehill
