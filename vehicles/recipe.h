// What to stir together for a filling: kilograms of product and litres of water for a wanted volume and strength.
// Knows no tyre, no file, no time.
#pragma once
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "vehicles/liquid.h"

namespace sidehill {

// How a medium is bought. Purities are typical; the bag's label counts.
struct Product {
  Medium medium;
  std::string_view key;   // "flake_77"
  std::string_view name;  // for people
  double purity;          // water-free solute over product by mass [-]; the rest counts as water
  double density;         // of a liquid product at 20 deg C [kg/m3]; 0 = a solid, weighed
};
std::span<const Product> products(Medium medium);  // the usual one first; empty where nothing is mixed

struct Recipe {
  double mass_fraction = 0;   // of the mix [-]
  double volume = 0;          // of the mix at `temperature` [m3]
  double mass = 0;            // of the mix [kg]
  double product_mass = 0;    // [kg]
  double product_volume = 0;  // of a liquid product at 20 deg C [m3]; 0 for solids
  double water_mass = 0;      // [kg]
  double water_volume = 0;    // at `temperature` [m3]
  double swelling = 0;     // volume of the mix minus water and liquid product poured together [m3]; negative = shrinks
  double temperature = 0;  // [K]
  std::optional<double> slush_free, solid;  // [K]
  std::string_view order;                   // what goes into what; empty where nothing is mixed
};

// For a finished `volume` [m3] at `temperature` [K]. `concentration` as in `strength`; `product` one of
// products(medium), nullptr = the usual one. Volume below 0 counts as 0. A ready product or plain water needs no
// mixing: its own mass, water only for water. Source: conservation of mass with the densities of vehicles/liquid.
Recipe recipe_for_volume(const Mix& mix, double volume, double temperature, const Product* product = nullptr);
Recipe recipe_for_volume(Medium medium, double concentration, double volume, double temperature,
                         const Product* product = nullptr);

// The strength that keeps a mix free of ice down to `coldest` [K] with `reserve` [K] in hand. Nothing if this medium
// cannot; 0 ("as it comes") where there is nothing to choose and it holds anyway.
std::optional<double> concentration_for_cold(Medium medium, double coldest, double reserve = 0);

// "calcium chloride, to -24 °C", with or without comma and unit, taken apart: the name, and the frost [C] if there is
// one.
struct NameAndFrost {
  std::string name;
  std::optional<double> celsius;
};
NameAndFrost without_frost(const std::string& typed);

// What a medium's name for people asks for, as medium_name has it or as it may be typed: "calcium chloride, to -24 C",
// "propylene glycol to -15 °C", "beet by-product". A name of the library is that medium at its usual strength; any
// other frost is the strength whose first ice lies there; a key of the library may stand before it as well. Nothing
// where it is no such name. Capital letters, commas and the degree's sign do not matter.
struct NamedMix {
  Medium medium = Medium::water;
  std::optional<double> concentration;  // as in `strength`; nothing: it stands no such frost at any strength
  double coldest = 0;                   // first ice of the strongest of it [K]; 0 where there is nothing to choose
};
std::optional<NamedMix> mix_named(const std::string& name);

}  // namespace sidehill
