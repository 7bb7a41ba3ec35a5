// The starting library (see tyre_library.h).
//
// Dimensions: design values of UN R106 as recalled for inch sizes, computed from the designation for metric ones (tyres
// on sale differ by 1 to 2 %). Load indices and pressures: typical of the size as recalled, ours; several exist for
// most sizes. Nothing here replaces the sidewall and the maker's table.
#include "vehicles/tyre_library.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <vector>

#include "sim/base/constants.h"

namespace sidehill {
namespace {

constexpr double kDefaultPressure = 1.2e5;

// Sizes in millimetres and inches, pressures in kPa, as people write them.
constexpr LibraryTyre inch(std::string_view name, std::string_view service, double diameter_mm, double width_mm,
                           double rim_in, double reference_kpa, double field_kpa, std::string_view use) {
  return {name, service, diameter_mm * 1e-3, width_mm * 1e-3, rim_in * kInch, reference_kpa * 1e3, field_kpa * 1e3,
          use};
}
constexpr LibraryTyre metric(std::string_view name, std::string_view service, double width_mm, double aspect,
                             double rim_in, double reference_kpa, double field_kpa, std::string_view use) {
  const double rim = rim_in * kInch;
  return {name,
          service,
          rim + 2 * aspect / 100 * width_mm * 1e-3,
          width_mm * 1e-3,
          rim,
          reference_kpa * 1e3,
          field_kpa * 1e3,
          use};
}

constexpr std::array kLibrary{
    inch("23x8.50-12", "80A6", 584, 216, 12, 150, 120, "garden and compact, front"),
    inch("6.00-16", "88A6", 735, 152, 16, 325, 220, "small two-wheel drive, front"),
    inch("7-16", "90A6", 737, 178, 16, 250, 210, "compact four-wheel drive, front"),
    inch("7.50-16", "100A6", 805, 190, 16, 325, 220, "two-wheel drive, front"),
    inch("7.50-18", "102A6", 857, 190, 18, 325, 220, "two-wheel drive, front"),
    inch("10.00-16", "114A6", 887, 254, 16, 300, 220, "large two-wheel drive, front"),
    inch("11L-15", "109A8", 787, 279, 15, 250, 220, "two-wheel drive front, implements"),
    metric("10.0/75-15.3", "123A8", 254, 75, 15.3, 370, 300, "trailers and implements"),
    inch("9.5-24", "107A8", 1050, 241, 24, 210, 160, "small tractors, rear"),
    inch("11.2-24", "114A8", 1105, 284, 24, 160, 140, "compact rear, narrow front"),
    inch("12.4R24", "119A8", 1160, 315, 24, 160, 140, "four-wheel drive, front"),
    inch("13.6R24", "121A8", 1210, 345, 24, 160, 140, "four-wheel drive, front"),
    inch("13.6R28", "123A8", 1310, 345, 28, 160, 130, "small tractors, rear"),
    inch("13.6R38", "128A8", 1565, 345, 38, 160, 130, "row crop, rear"),
    inch("14.9R24", "126A8", 1265, 378, 24, 160, 130, "four-wheel drive, front"),
    inch("14.9R28", "128A8", 1365, 378, 28, 160, 130, "utility, rear"),
    inch("16.9R24", "134A8", 1335, 429, 24, 160, 130, "loaders, front"),
    inch("16.9R28", "136A8", 1435, 429, 28, 160, 120, "utility, rear; large front"),
    inch("16.9R30", "137A8", 1485, 429, 30, 160, 120, "utility, rear"),
    inch("16.9R34", "139A8", 1585, 429, 34, 160, 120, "utility, rear"),
    inch("18.4R30", "142A8", 1550, 467, 30, 160, 120, "utility, rear"),
    inch("18.4R34", "144A8", 1650, 467, 34, 160, 120, "utility, rear"),
    inch("18.4R38", "146A8", 1755, 467, 38, 160, 120, "middle class, rear"),
    inch("20.8R38", "153A8", 1835, 528, 38, 160, 120, "row crop, rear"),
    inch("20.8R42", "155A8", 1935, 528, 42, 160, 120, "row crop, rear"),
    inch("23.1-26", "150A8", 1605, 587, 26, 140, 120, "harvesters, wet land"),
    inch("28L-26", "157A8", 1607, 711, 26, 140, 120, "harvesters, flotation"),
    inch("30.5L-32", "163A8", 1820, 775, 32, 140, 120, "harvesters, flotation"),
    metric("280/70R16", "112A8", 280, 70, 16, 240, 180, "orchard, front"),
    metric("360/70R24", "122A8", 360, 70, 24, 160, 140, "orchard, rear; utility front"),
    metric("380/70R28", "127D", 380, 70, 28, 160, 130, "front"),
    metric("420/70R28", "133D", 420, 70, 28, 160, 130, "front"),
    metric("420/85R28", "139A8", 420, 85, 28, 160, 120, "row crop, front"),
    metric("480/65R28", "136D", 480, 65, 28, 160, 120, "front"),
    metric("480/70R34", "143D", 480, 70, 34, 160, 120, "utility, rear"),
    metric("480/70R38", "145D", 480, 70, 38, 160, 120, "middle class, rear"),
    metric("520/70R38", "150D", 520, 70, 38, 160, 120, "middle class, rear"),
    metric("520/85R42", "157A8", 520, 85, 42, 160, 110, "row crop, rear"),
    metric("540/65R28", "142D", 540, 65, 28, 160, 120, "front"),
    metric("600/65R38", "153D", 600, 65, 38, 160, 110, "large, rear"),
    metric("650/65R38", "157D", 650, 65, 38, 160, 110, "large, rear"),
    metric("650/65R42", "158D", 650, 65, 42, 160, 110, "large, rear"),
    metric("710/70R42", "173D", 710, 70, 42, 160, 100, "large, rear"),
    metric("600/50-22.5", "159A8", 600, 50, 22.5, 240, 180, "trailers, flotation"),
    metric("750/65R26", "166A8", 750, 65, 26, 200, 140, "harvesters, flotation"),
};

bool same_numbers(const TyreSize& a, const TyreSize& b) {
  const auto near = [](double x, double y) { return std::abs(x - y) < 1e-6; };
  return a.series == b.series && near(a.section_width, b.section_width) && near(a.rim_diameter, b.rim_diameter) &&
         near(a.overall_diameter, b.overall_diameter);
}

std::vector<TyreSize> library_sizes() {
  std::vector<TyreSize> sizes;
  for (const LibraryTyre& tyre : kLibrary) sizes.push_back(parse_tyre_size(tyre.designation));
  return sizes;
}

}  // namespace

std::span<const LibraryTyre> tyre_library() { return kLibrary; }

const LibraryTyre* find_tyre(std::string_view designation) {
  const std::optional<TyreSize> wanted = read_tyre_size(designation);
  return wanted ? find_tyre(*wanted) : nullptr;
}

const LibraryTyre* find_tyre(const TyreSize& size) {
  static const std::vector<TyreSize> kSizes = library_sizes();  // to read a designation takes some 10 us
  const auto found = std::ranges::find_if(kSizes, [&](const TyreSize& one) { return same_numbers(one, size); });
  return found == kSizes.end() ? nullptr : &kLibrary[static_cast<std::size_t>(found - kSizes.begin())];
}

double rated_pressure(const Tyre& tyre) {
  if (tyre.reference_pressure > 0) return tyre.reference_pressure;
  const LibraryTyre* known = find_tyre(tyre.size);
  return known ? known->reference_pressure : 0;
}

double estimated_vertical_stiffness(double pressure, double free_radius, double section_width) {
  if (!(pressure > 0) || !(free_radius > 0) || !(section_width > 0)) return 0;
  return kTwoPi * pressure * std::sqrt(free_radius * section_width / 2);
}

Tyre tyre_of_size(std::string_view designation, double pressure) {
  const TyreSize size = parse_tyre_size(designation);
  const LibraryTyre* known = find_tyre(designation);
  Tyre tyre;
  tyre.size = size.designation;
  tyre.free_radius = (known ? known->overall_diameter : size.overall_diameter) / 2;
  tyre.rim_radius = size.rim_diameter / 2;
  tyre.section_width = known ? known->section_width : size.section_width;
  tyre.cavity_volume = size.cavity_volume;
  tyre.pressure = pressure > 0 ? pressure : known ? known->field_pressure : kDefaultPressure;
  tyre.vertical_stiffness = estimated_vertical_stiffness(tyre.pressure, tyre.free_radius, tyre.section_width);
  tyre.lateral_stiffness = 0.6 * tyre.vertical_stiffness;
  tyre.longitudinal_stiffness = 0.9 * tyre.vertical_stiffness;
  tyre.vertical_damping = 0.0115 * tyre.vertical_stiffness;
  tyre.lateral_damping = 0.0085 * tyre.vertical_stiffness;
  tyre.lateral_relaxation = 0.9 * tyre.free_radius;
  return tyre;
}

}  // namespace sidehill
