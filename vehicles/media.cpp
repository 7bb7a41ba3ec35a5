// The list of tyre media in words and default numbers. Typical strengths are our estimates; sentences are
// short because they stand on a screen. Frames, files and time: none.
#include <array>

#include "sim/base/enum_table.h"
#include "vehicles/liquid.h"

namespace sidehill {
namespace {

constexpr double kPoundsPerGallon = 8.345;  // water at 4 deg C [lb/US gal]
constexpr double kFlake = 0.77;             // calcium chloride in flake [-]
constexpr double by_the_gallon(double pounds) { return mixed_mass_fraction(pounds, kFlake, kPoundsPerGallon); }

constexpr std::string_view kCalciumCaution =
    "Calcium chloride rusts rims (use a tube) and burns plants and eyes where it leaks; stir flake into water, never "
    "water onto flake.";
constexpr std::string_view kCalciumCorrosion =
    "Strongly corrosive to bare steel, worst where air meets liquid; wash rim and valve with fresh water after any "
    "leak.";
constexpr std::string_view kCalciumToxicity =
    "Irritates eyes and skin, gets hot when dissolved; wear goggles and gloves.";
constexpr std::string_view kCalciumSpill =
    "Kills plants and salts the ground; dilute with much water on hard standing, keep it out of drains, hand old brine "
    "to "
    "a disposal firm.";
constexpr std::string_view kCalciumTube = "Use an inner tube, or keep the whole rim wet: fill to the rim top.";
constexpr std::string_view kSalt =
    "density and first ice: Melinder 2010; uncertainty: how far the VDI Heat Atlas and Lange's Handbook differ";
constexpr std::string_view kGlycol =
    "density and first ice: Melinder 2010; uncertainty: how far the ASHRAE handbook differs";
constexpr std::string_view kMethanol =
    "density and first ice: Melinder 2010; uncertainty: how far the VDI Heat Atlas differs, of first ice our estimate";
constexpr std::string_view kCalcium =
    "density and first ice: Melinder 2010; uncertainty: how far the VDI Heat Atlas differs, of first ice from 15 to 25 "
    "% "
    "our estimate";
constexpr std::string_view kCalciumMix =
    "density and first ice: Melinder 2010; uncertainty: how far the VDI Heat Atlas differs, of first ice from 15 to 25 "
    "% "
    "our estimate; mix: 0.77 x flake over flake and water by mass";

constexpr MediumInfo calcium_chloride(Medium medium, std::string_view key, std::string_view name, double mass_fraction,
                                      std::string_view trade = {}) {
  const bool named_mix = !trade.empty();
  return {medium,
          key,
          name,
          Solute::calcium_chloride,
          mass_fraction,
          named_mix,
          false,
          0.75,
          trade,
          kCalciumCaution,
          Rust::strong,
          kCalciumCorrosion,
          kCalciumToxicity,
          kCalciumSpill,
          kCalciumTube,
          named_mix ? kCalciumMix : kCalcium};
}

constexpr std::array<MediumInfo, 13> kMedia{{
    {Medium::water,
     "water",
     "water",
     std::nullopt,
     0,
     false,
     false,
     0.75,
     {},
     "Water freezes at 0 deg C and can burst the tyre or split the rim; drain it or use a salt mix before frost.",
     Rust::mild,
     "Mild: bare steel rusts where air meets water; an inhibitor helps.",
     "None.",
     "None if it is clean; what comes out of an old tyre may hold rust and rubber dirt.",
     "Not needed.",
     "density: Kell 1975"},
    calcium_chloride(Medium::calcium_chloride_3_5, "calcium_chloride_3_5", "calcium chloride, 3.5 lb/US gal",
                     by_the_gallon(3.5), "3.5 lb/US gal"),
    calcium_chloride(Medium::calcium_chloride_2, "calcium_chloride_2", "calcium chloride, 2 lb/US gal",
                     by_the_gallon(2), "2 lb/US gal"),
    calcium_chloride(Medium::calcium_chloride_5, "calcium_chloride_5", "calcium chloride, 5 lb/US gal",
                     by_the_gallon(5), "5 lb/US gal"),
    calcium_chloride(Medium::calcium_chloride, "calcium_chloride", "calcium chloride", by_the_gallon(3.5)),
    {Medium::sodium_chloride,
     "sodium_chloride",
     "sodium chloride brine",
     Solute::sodium_chloride,
     0.20,
     false,
     false,
     0.75,
     {},
     "Common salt rusts rims as fast as calcium chloride and protects only to about -20 deg C.",
     Rust::strong,
     "Strongly corrosive to bare steel; wash off any leak.",
     "Harmless to touch; animals that drink brine fall ill.",
     "Kills plants and spoils soil and wells; keep it out of drains and ditches.",
     "Use an inner tube, or keep the whole rim wet: fill to the rim top.",
     kSalt},
    {Medium::magnesium_chloride,
     "magnesium_chloride",
     "magnesium chloride",
     Solute::magnesium_chloride,
     0.20,
     false,
     false,
     0.75,
     {},
     "Magnesium chloride attacks steel and concrete; protects only to about -30 deg C, stronger is no colder.",
     Rust::strong,
     "Corrosive to bare steel and aluminium, somewhat slower than calcium chloride.",
     "Irritates eyes; low hazard to skin.",
     "Kills plants in quantity and attacks concrete; flush hard standing with much water, keep it out of drains.",
     "Use an inner tube, or keep the whole rim wet: fill to the rim top.",
     kSalt},
    {Medium::ethylene_glycol,
     "ethylene_glycol",
     "ethylene glycol and water",
     Solute::ethylene_glycol,
     0.40,
     false,
     false,
     0.75,
     {},
     "Ethylene glycol is poisonous and tastes sweet: a leak kills dogs, cats and livestock.",
     Rust::low,
     "Low with inhibitor; plain glycol turns acid with age.",
     "Poisonous when swallowed, by people and animals alike; lock it away.",
     "Never on the ground or into a drain; soak up, collect, hand to a disposal firm.",
     "Not needed.",
     kGlycol},
    {Medium::propylene_glycol,
     "propylene_glycol",
     "propylene glycol and water",
     Solute::propylene_glycol,
     0.40,
     false,
     false,
     0.75,
     {},
     "Propylene glycol is hardly heavier than water and thick in the cold: it protects from frost, it adds little "
     "weight.",
     Rust::low,
     "Low with inhibitor.",
     "Low; still not for drinking.",
     "Breaks down in soil but takes the oxygen from a stream; collect it.",
     "Not needed.",
     kGlycol},
    {Medium::methanol,
     "methanol",
     "methanol and water",
     Solute::methanol,
     0.30,
     false,
     false,
     0.75,
     {},
     "Methanol burns with a flame nobody sees, its vapour in the tyre can explode under welding or heat, and it blinds "
     "and kills when swallowed; it is lighter than water.",
     Rust::low,
     "Low on steel; attacks aluminium and some rubber.",
     "Poisonous by mouth, by vapour and through the skin.",
     "Fire danger: no flame, no spark, air the place; collect, hand to a disposal firm.",
     "Not needed; ask the tyre's maker whether its rubber stands it.",
     kMethanol},
    {Medium::beet_by_product,
     "beet_by_product",
     "beet by-product",
     std::nullopt,
     0,
     false,
     false,
     0.75,
     {},
     "Beet by-product is sticky and strengths differ: ask for density and freezing point of the delivery.",
     Rust::low,
     "Low; does not rust rims.",
     "None known; it is made of sugar beet.",
     "Feeds plants but takes the oxygen from a stream; keep it out of drains and ponds.",
     "Not needed.",
     "density 1282 to 1318 kg/m3 as sold; first ice about -39 C: typical, our estimate"},
    {Medium::polyurethane,
     "polyurethane",
     "polyurethane foam fill",
     std::nullopt,
     0,
     false,
     true,
     1.0,
     {},
     "A foam-filled tyre has no air to let out and no spring to speak of: it stiffens the ride, cannot be aired down "
     "and "
     "is cut off the rim when it is worn out.",
     Rust::none,
     "None.",
     "The two liquids irritate lungs and skin until they have cured: a workshop's job.",
     "Cured foam is plastic waste and goes with the tyre.",
     "Not used: the foam fills the tyre.",
     "density 950 to 1050 kg/m3 as sold: range found, middle taken"},
    {Medium::own,
     "own",
     "own medium",
     std::nullopt,
     0,
     false,
     false,
     0.75,
     {},
     "This medium is not in the library: its numbers are those of its data sheet as typed in, and nothing checks them.",
     Rust::not_known,
     "Not known: it is not on the data sheet as typed in. Ask the seller.",
     "Not known: it is not on the data sheet as typed in. Ask for the safety data sheet.",
     "Not known: catch what leaks, keep it out of drains and ask the seller.",
     "Not known: ask the seller whether the rim needs one.",
     "density and freezing: the data sheet, as typed in; uncertainty: our estimate"},
}};
static_assert(is_whole(kMedia, &MediumInfo::medium));
constexpr auto kKeys = [] {
  std::array<std::string_view, kMedia.size()> keys{};
  for (std::size_t i = 0; i < keys.size(); ++i) keys[i] = kMedia[i].key;
  return keys;
}();
static_assert(kMedia.back().medium == Medium::own);

}  // namespace

std::span<const MediumInfo> media() { return std::span(kMedia).first(kMedia.size() - 1); }
std::span<const MediumInfo> media_choices() { return kMedia; }
std::span<const std::string_view> medium_keys() { return kKeys; }

}  // namespace sidehill
