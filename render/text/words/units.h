// The units people read: SI's or the customary ones of the United States, for any quantity of ours, there and back, and
// the same for the number behind a file's key. A person has one unit of weight: kg, kN or lb, for masses, loads and
// their limits alike. Knows no scene, no ImGui, no file.
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "render/namespaces.h"
#include "sim/base/key_units.h"

namespace sidehill::text {

enum class Units {
  si,  // weights in kg, a load as the mass that weighs as much at standard gravity
  kn,  // the same with weights in kN, a mass as what it weighs there
  us
};
constexpr bool is_metric(Units units) { return units != Units::us; }
// For who fills a tyre: a meter and scales show litres and kg, whatever loads are read in.
constexpr Units on_scales(Units units) { return units == Units::kn ? Units::si : units; }

// The unit a quantity is read in: number shown = SI value * factor + offset.
// Source of the US factors: NIST SP 811 (2008) appendix B.8; pound, inch, gallon (231 cubic inches) and mile exact,
// horsepower 550 ft lbf/s. Angles are read in degrees in both.
struct ShownUnit {
  std::string_view name;  // "kg", "°"; empty for a pure number
  double factor = 1, offset = 0;
  int digits = 0;  // after the point, enough for what is known
};
ShownUnit shown_unit(Quantity quantity, Units units);

// "4 310 kg", "9,502 lb", "1.42 m", "4 ft 7.9 in", "12.3°"; "-" for what is not a finite number, "never" for nothing.
std::string shown(Quantity quantity, std::optional<double> si, Units units);
// The same with as many digits as the caller knows it by: `digits` after the point of the SI unit, and in US units as
// many as say as much; lengths in inches. "24.5 kg", "54.0 lb"; "-" for what is not finite.
std::string measured(Quantity quantity, double si, int digits, Units units);
// A number without its unit, its thousands set apart in US units alone, as it stands beside one of `measured`: "1,200".
std::string number_in(double value, int digits, Units units);
int read_digits(Quantity quantity, int digits, Units units);  // how many those are
// A difference of two such values, with its sign and without the unit's offset: "+120 kg", "-3.9 in", "0.0°".
std::string shown_change(Quantity quantity, double si, Units units);
// Of two numbers shown beside it: what is between them as they are shown.
std::string shown_change(Quantity quantity, double from, double to, Units units);
// Where a value may lie: "2.1° to 3.5°", "10.9 to 11.5 kN", with as many digits as it takes to see that the two sides
// differ; without a high side "2.1° or more"; "-" for what is not finite.
std::string shown_interval(Quantity quantity, double low, std::optional<double> high, Units units);
// The same of a difference: signs, and no offset of the unit; without a low side "+2.1° or less", with neither "not
// known".
std::string shown_change_interval(Quantity quantity, std::optional<double> low, std::optional<double> high,
                                  Units units);

// A number as it stands in a file (unit by the suffix of its key) and as a person types it.
struct TypedUnit {
  Quantity quantity = Quantity::number;
  std::string unit;                 // "in", "°"; may be empty
  double factor = 1, offset = 0;    // shown = file's * factor + offset
  int digits = 2;                   // after the point
  std::string_view suffix;          // of the key, with its underscore: "_m"; empty if it has none
  double to_si = 1, si_offset = 0;  // SI = file's * to_si + si_offset
  double shown(double file_value) const { return file_value * factor + offset; }
  double file(double shown_value) const { return (shown_value - offset) / factor; }
};
// `key` may be of any datum or answer. A length of up to `most` = 10 m is a measure of a machine and typed in inches, a
// longer one is ground and typed in feet. Shares ("..._fraction") are typed in per cent. A key without a known suffix
// is a pure number.
TypedUnit typed_unit(std::string_view key, Units units, double most = 0);

// "rear track", "front tyre pressure", "start x": the key without its first part, unless only one would be left, and
// without its unit.
std::string key_words(std::string_view key);
// A key in degrees that is a slope of ground; and its number as typed, "40", with its per cent: "40° = 84 %".
bool is_slope(std::string_view key);
std::string slope_as_typed(const std::string& number);

// Of "terrain.slope_deg=40", as the command line has it, "terrain slope 40° = 84 %". What is no number stays as it was
// typed.
std::string change_words(std::string_view change);

// The next handy step - 1, 2 or 5 times a power of ten - for a slider whose step is `file_step` in the file's unit, in
// the unit shown. Unchanged in SI.
double typed_step(const TypedUnit& unit, double file_step, Units units);

// "2.45", "1710": up to `digits` after the point, no idle zeros.
std::string trimmed_number(double value, int digits);

// Of a unit as files and tables name it ("kN/m", "m2"): the name read in, and number read = file's * factor + offset.
// Angles, times and what is not known stay as they are.
struct ReadUnit {
  std::string name;
  double factor = 1, offset = 0;
};
// `key` of the datum, where it is known: the density of a bale is read in another unit than that of a liquid.
ReadUnit read_unit(std::string_view name, Units units, std::string_view key = {});

// Measures in a sentence of ours - masses, lengths, areas, forces, pressures, speeds, volumes, densities, energies,
// temperatures, also "7 to 27 kPa" and "2.5 +-0.3 kg" - into pounds, inches (from 5 m on feet), psi, mph, gallons,
// degrees F; and the words "litres" and "kilograms". As many digits as there were. Tyre sizes, per cent and whatever
// else stands there are left as they are.
std::string in_us_units(const std::string& sentence);
// The same of masses alone, into kN.
std::string in_kilonewtons(const std::string& sentence);
// The sentence as it is for SI, else in the units asked for.
std::string read_in(const std::string& sentence, Units units);

const char* units_name(Units units);   // "Metric, weights in kg", "US (ft, lb, psi)"
const char* weight_unit(Units units);  // "kg", "kN", "lb"

}  // namespace sidehill::text
