// What the marks behind a tyre's size mean: load index to kilograms, speed symbol to km/h, and what cold, warmth and
// load do to the pressure. Knows no size, no machine, no file.
#pragma once
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace sidehill {

constexpr int kMaxLoadIndex = 200;
constexpr double kStandardAtmosphere = 101325;  // [Pa]

// Load a tyre may carry at the speed of its symbol and its reference pressure [kg]. `index` 0 to kMaxLoadIndex,
// otherwise std::invalid_argument. Source: the load index table of ISO 4223-1 as carried by public tables (0 to 52 and
// above 180 recalled).
double load_index_mass(int index);

// Smallest index whose load is at least `mass` [kg]; nothing above the table's end or for a mass that is not a number.
std::optional<int> load_index_for(double mass);

struct SpeedSymbol {
  std::string_view symbol;  // upper case: "A8", "D"
  double speed;             // [m/s]
};
std::span<const SpeedSymbol> speed_symbols();  // slowest first

// Highest speed for a symbol [m/s], upper or lower case; otherwise std::invalid_argument naming the symbols there are.
// Source: speed category symbols of ISO 4223-1 / UN R106 (A8 40, B 50, D 65 km/h), recalled.
double speed_symbol_speed(std::string_view symbol);

// A service description such as "145D" or "155A8/152B": what may be carried, and how fast.
struct Service {
  int load_index = 0;
  std::string speed_symbol;
};

// Reads "145D" or "155A8/152B" (the first counts). Otherwise std::invalid_argument with one line.
Service parse_service(std::string_view text);

// One tyre's load against what it may carry.
struct LoadMargin {
  double load = 0;      // [kg]
  double capacity = 0;  // [kg]; 0 = faster than the symbol allows, nothing may be carried
  double margin = 0;    // capacity - load [kg], negative = overloaded
  double used = 0;      // load / capacity [-]; infinite if capacity is 0 and there is load
};

// `load` on one tyre [kg] at `speed` [m/s]. At or under the symbol's speed the index counts as marked: makers allow
// more at a crawl, but their tables differ, so none is used here. Throws as load_index_mass and speed_symbol_speed.
LoadMargin load_margin(double load, const Service& service, double speed);
LoadMargin load_margin(double load, double capacity);  // against any capacity [kg], as of an axle

// Never for a signed answer: load a tyre carries at another pressure, and pressure for another load, by
// P = Pmax (L / Lmax)^1.25. `reference_mass` [kg] at `reference_pressure`, gauge [Pa]; the result never exceeds the
// reference (no credit for pumping harder). Bad input (not above 0) gives 0.
// Source: rule of thumb of the agronomy press; the maker's table decides.
double rule_of_thumb_load(double pressure, double reference_mass, double reference_pressure);
// Nothing if the load is above the reference: no pressure is right then.
std::optional<double> rule_of_thumb_pressure(double mass, double reference_mass, double reference_pressure);

// Gauge pressure [Pa] once the air in a tyre set to `pressure` (gauge, [Pa]) at `set_temperature` is at `temperature`
// [K]. `air_volume_ratio` = air's room now / then (liquid expands and the air gives way: below 1). Never under
// -atmosphere. Source: ideal gas on absolute pressures.
double pressure_at_temperature(double pressure, double set_temperature, double temperature, double air_volume_ratio = 1,
                               double atmosphere = kStandardAtmosphere);

// Air pressure outside [Pa] at `altitude` above the sea [m], -500 to 11000, clamped. Source: ISO 2533 standard
// atmosphere.
double atmosphere_at(double altitude);

}  // namespace sidehill
