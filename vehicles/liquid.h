// What is pumped into tyres: density by strength and temperature, first ice and last liquid, and what each does to
// rims, people and ground. Knows no tyre, no file, no time.
#pragma once
#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "sim/base/enum_table.h"
#include "vehicles/own_medium.h"
#include "vehicles/solution.h"

namespace sidehill {

// Calcium chloride mixes are also named by the trade's measure: pounds of 77 % flake per US gallon of water.
enum class Medium {
  water,
  calcium_chloride_3_5,
  calcium_chloride_2,
  calcium_chloride_5,
  calcium_chloride,
  sodium_chloride,
  magnesium_chloride,
  ethylene_glycol,
  propylene_glycol,
  methanol,
  beet_by_product,
  polyurethane,
  own  // of a data sheet: its numbers are an OwnMedium's
};

// How hard it rusts bare steel at rim and valve, in a word. Source: the library's sentences (MediumInfo::corrosion).
enum class Rust { none, low, mild, strong, not_known };
inline constexpr std::array kRustWords{KeyOf<Rust>{Rust::none, "none"}, KeyOf<Rust>{Rust::low, "low"},
                                       KeyOf<Rust>{Rust::mild, "mild"}, KeyOf<Rust>{Rust::strong, "strong"},
                                       KeyOf<Rust>{Rust::not_known, "not known"}};
static_assert(is_whole(kRustWords, &KeyOf<Rust>::value));

struct MediumInfo {
  Medium medium = Medium::water;
  std::string_view key;           // in files: "water", "calcium_chloride_3_5"
  std::string_view name;          // for people
  std::optional<Solute> solute;   // what is dissolved in water; none = water, or sold ready to pump
  double mass_fraction = 0;       // usual strength: water-free solute over solution [-]
  bool named_mix = false;         // the strength is part of the name and cannot be chosen
  bool turns_with_wheel = false;  // cured to a solid: no surface, no sloshing
  double typical_fill = 0.75;     // liquid over cavity [-]
  std::string_view trade{};       // the trade's measure of a named mix: "3.5 lb/US gal"
  std::string_view caution;       // one sentence, the most important
  Rust rust = Rust::not_known;    // the same as `corrosion`, in a word
  std::string_view corrosion;     // what it does to rims and valves
  std::string_view toxicity;      // what it does to people and animals
  std::string_view spill;         // what to do when it leaks or is done with
  std::string_view tube;          // inner tube or not
  std::string_view source;        // of density and first ice
};

std::span<const MediumInfo> media();          // the library: all but `own`
std::span<const MediumInfo> media_choices();  // what a tyre may hold: the library and `own`, in the order of the enum
std::span<const std::string_view> medium_keys();  // of media_choices()
const MediumInfo& info(Medium medium);

// What lies in one tyre. `own` counts for Medium::own alone and must outlive the Mix; without it its numbers are not
// known (NaN). The functions below that take medium and concentration are the same for the library's media.
struct Mix {
  Medium medium = Medium::water;
  double concentration = 0;  // as in `strength`
  const OwnMedium* own = nullptr;
};

// For people: "water", a solution with the frost it stands: "calcium chloride, to -23 °C" (first ice in whole degrees,
// never colder than the first ice), the data sheet's name of an own medium. `unlike_others` also gives the trade's
// measure of a named mix, so that no two of the library have one name.
std::string medium_name(const Mix& mix, bool unlike_others = false);

// What it does to rims, and to people and animals: the library's words, or those of the data sheet.
Rust rust_of(const Mix& mix);  // of an own medium not known, whatever its sheet says
std::string_view corrosion_of(const Mix& mix);
std::string_view toxicity_of(const Mix& mix);

// Range of strengths a person may choose: {0, 0} where there is nothing to choose (water, named mixes, ready products).
struct StrengthRange {
  double min = 0, max = 0;
};
StrengthRange strength_range(Medium medium);

// Mass fraction that counts when `concentration` was asked for: the medium's usual one for 0 (and where there is
// nothing to choose), else the wish, clamped to the range.
double strength(Medium medium, double concentration);

// Density [kg/m3] at `temperature` [K]. `concentration` as in `strength`. Water 273 to 313 K, solutions from first ice
// to 313 K, clamped outside; beet by-product, polyurethane and an own medium one value each (see density_uncertainty).
double density(const Mix& mix, double temperature);
double density(Medium medium, double concentration, double temperature);
double density(Medium medium, double temperature);  // at the usual strength

// One standard deviation of density over density [-]. `concentration` as in `strength`. Water 0.1 % (what tap water
// carries; our estimate), solutions as solution_density_uncertainty, beet by-product and polyurethane by the range they
// are sold in (our estimate), own media 1 % (see own_medium.h).
double density_uncertainty(const Mix& mix);
double density_uncertainty(Medium medium, double concentration);

// Expansion of `volume` of liquid from one temperature to another, over the volume [-]; positive = grows. Of beet
// by-product, polyurethane and own media it is not known: 0.
double expansion(const Mix& mix, double from, double to);
double expansion(Medium medium, double concentration, double from, double to);

// False where density is one value for all temperatures, so that nothing is known of how the liquid grows or shrinks.
bool expansion_known(Medium medium);

// Both temperatures, because published "freezing points" mix them.
struct FreezingPoints {
  std::optional<double> slush_free;   // first ice below this [K]; none = nothing in it freezes
  double slush_free_uncertainty = 0;  // one standard deviation [K]
  std::optional<double> solid;        // nothing liquid is left below this [K]; none = not in reason, see note
  double solid_uncertainty = 0;       // [K]
  std::string_view note;              // what is known
  bool known = true;                  // false: whether and when it freezes is not known, `slush_free` is none
};
FreezingPoints freezing_points(const Mix& mix);
FreezingPoints freezing_points(Medium medium, double concentration);
double slush_free(Medium medium, double concentration);  // [K]; 0 K where nothing freezes

// Ice over the whole by mass at `temperature` [K], 0 to 1. Beet by-product, whose curve is not known: 0 or 0.5. An own
// medium: 0 above its first ice, 1 below its solid; nothing, as not known, between them and where they are not given.
std::optional<double> ice_share(const Mix& mix, double temperature);
double ice_share(Medium medium, double concentration, double temperature);

// Density of air-free water [kg/m3] at `temperature` [K], 273 to 313 K, clamped outside.
// Source: Kell 1975, J. Chem. Eng. Data 20(1):97, eq. 16, as in the CRC Handbook F-6, with the denominator
// 1 + 16.879850e-3 t (many copies print 16.897850e-3, which is wrong).
double water_density(double temperature);

// Mass fraction of salt when `flake` [kg] of product holding `purity` [-] of it is stirred into `water` [kg]; the rest
// of the product counts as water.
constexpr double mixed_mass_fraction(double flake, double purity, double water) {
  return purity * flake / (flake + water);
}

}  // namespace sidehill
